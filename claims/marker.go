package claims

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
	"example.com/gainsay/vdo/signal"
)

// markerReader reads what a record says of its marker: words, or the name of a
// file beside the record.
type markerReader struct {
	rec   *record.Record
	files fs.FS
	errs  record.Errors
	aside record.Errors // what is named and does not cost the record
}

func (m *markerReader) fail(at record.Place, key string, cause error, wrong, want string) {
	m.errs = append(m.errs, &record.Error{At: at, Key: key, Wrong: wrong, Want: want, Err: cause})
}

// answer gives what one plug answered. What it sets aside is not the cable's, or
// is the other plug's.
func (m *markerReader) answer(words record.Stated[record.Pasted], plug vdo.Plug, key string) Answer {
	if !words.Known {
		return Answer{}
	}
	res, ok := m.read(words, key)
	if !ok {
		return Answer{}
	}
	var a Answer
	var identity []uint32 // without its header
	for _, msg := range res.Messages {
		if len(msg.Others) > 0 {
			m.fail(words.Value.Place(msg.From.Line, msg.From.Column), key, record.ErrValue,
				fmt.Sprintf("this can be read in two ways: as %s, and as %s", msg.ReadAs, msg.Others[0].ReadAs),
				"'gainsay decode' shows both; write the words themselves, 8 hex digits each")
			continue
		}
		if msg.Plug == vdo.PlugUnknown {
			msg.Plug = plug
		}
		if msg.Plug != plug {
			res.Skipped = append(res.Skipped, paste.Skipped{From: msg.From, To: msg.To, Why: "an answer of the " + msg.Plug.String() + " plug"})
			m.otherPlug(words, key, msg)
			continue
		}
		if msg.Revision == vdo.RevisionUnknown {
			msg.Revision, _ = record.ParseRevision(m.rec.Marker.Revision.Value)
		}
		r := vdo.Decode(msg.Words, msg.Context())
		a.Messages, a.Replies = append(a.Messages, msg), append(a.Replies, r)
		if !r.Identity() {
			continue
		}
		objects := msg.Words
		if !msg.Headerless {
			objects = objects[1:]
		}
		if a.Identified && !slices.Equal(objects, identity) {
			m.fail(m.place(words, msg), key, record.ErrValue, m.within(words, msg)+"a second, unlike answer to Discover Identity", "keep the answer of this cable alone")
			continue
		}
		if !a.Identified {
			a.Identity, a.Identified, identity = r, true, objects
		}
	}
	if len(a.Replies) == 0 && len(m.errs) == 0 {
		at, only := words.Value.Place(1, 1), "nothing"
		if len(res.Skipped) > 0 {
			aside := res.Skipped[0]
			at, only = words.Value.Place(aside.From.Line, aside.From.Column), aside.Why
		}
		m.fail(at, key, record.ErrValue, "there is no answer of this plug here, only "+only,
			"paste the answer, or write asked: true where nothing answered")
	}
	a.Summary = vdo.Summarize(a.Replies...)
	return a
}

// otherPlug names an answer of the other plug, unless the record names that plug's too.
func (m *markerReader) otherPlug(words record.Stated[record.Pasted], key string, msg paste.Message) {
	other, named := "far", m.rec.Marker.Far.Known
	if msg.Plug == vdo.PlugNear {
		other, named = "near", m.rec.Marker.Near.Known || m.rec.Marker.Turned.Known
	}
	if named || key == "marker.turned" {
		return
	}
	m.aside = append(m.aside, &record.Error{At: m.place(words, msg), Key: key, Wrong: m.within(words, msg) + "an answer of the " + other + " plug, which does not count here",
		Want: "give the text under " + other + " too, or take the answer out", Err: record.ErrValue})
}

// place is where a message stands in the record: of a file, where it is named.
func (m *markerReader) place(words record.Stated[record.Pasted], msg paste.Message) record.Place {
	if isFileName(words) {
		return words.Value.Place(1, 1)
	}
	return words.Value.Place(msg.From.Line, msg.From.Column)
}

// within says where in a file a message stands; nothing where it stands in the record.
func (m *markerReader) within(words record.Stated[record.Pasted], msg paste.Message) string {
	switch {
	case !isFileName(words):
		return ""
	case msg.From.Line == 0: // a capture
		return fmt.Sprintf("%q: ", strings.TrimSpace(words.Value.Text))
	}
	return fmt.Sprintf("%q: line %d, column %d: ", strings.TrimSpace(words.Value.Text), msg.From.Line, msg.From.Column)
}

// isFileName reports whether the words are the name of a file beside the record.
func isFileName(words record.Stated[record.Pasted]) bool {
	return fileName().MatchString(strings.TrimSpace(words.Value.Text))
}

// read gives the messages of pasted words or of the file they name.
func (m *markerReader) read(words record.Stated[record.Pasted], key string) (paste.Result, bool) {
	if name := strings.TrimSpace(words.Value.Text); fileName().MatchString(name) {
		res, broken, err := m.readFile(name)
		for _, b := range broken {
			m.aside = append(m.aside, &record.Error{At: words.Value.Place(1, 1), Key: key, Wrong: fmt.Sprintf("%q: %v", name, b), Want: "the rest of the capture counts", Err: b})
		}
		if err != nil {
			m.fail(words.Value.Place(1, 1), key, err, fmt.Sprintf("%q: %v", name, err), "name a capture beside the record, or paste the words")
			return paste.Result{}, false
		}
		return res, true
	}
	res, err := paste.Read(words.Value.Text)
	var bad paste.Errors
	if errors.As(err, &bad) {
		for _, e := range bad {
			wrong := e.Wrong
			if e.Token != "" {
				wrong = fmt.Sprintf("%q: %s", e.Token, e.Wrong)
			}
			m.fail(words.Value.Place(e.At.Line, e.At.Column), key, e, wrong, e.Want)
		}
		return res, false
	}
	return res, true
}

// fileName tells the name of a file from words: one token with an ending.
var fileName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[^\s"\x60{}\[\],;]+\.[A-Za-z][A-Za-z0-9]{1,4}$`) })

// ErrNoFiles says that a record names a file where none can be read.
var ErrNoFiles = errors.New("a file can be named only in a record that is a file itself")

var errNotFile = errors.New("not a file")

// readFile reads a capture: of the CC line where it is a value change dump or
// nothing else fits, else any text that decode reads.
func (m *markerReader) readFile(name string) (res paste.Result, broken []error, err error) {
	if m.files == nil {
		return res, nil, ErrNoFiles
	}
	name = path.Clean(name)
	// The kind is asked first: to open a pipe would wait for its writer.
	info, err := fs.Stat(m.files, name)
	if err == nil && !info.Mode().IsRegular() {
		return res, nil, errNotFile
	}
	var f fs.File
	if err == nil {
		f, err = m.files.Open(name)
	}
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return res, nil, err
	}
	defer f.Close()
	if strings.EqualFold(path.Ext(name), ".vcd") {
		return readCapture(f)
	}
	text, err := io.ReadAll(io.LimitReader(f, paste.MaxText+1))
	if err != nil {
		return res, nil, err
	}
	if res, err = paste.Read(string(text)); err == nil {
		return res, nil, nil
	}
	if wire, broken, werr := readCapture(bytes.NewReader(text)); werr == nil {
		return wire, broken, nil
	}
	return res, nil, err
}

// readCapture gives the messages of a capture of the CC line. A packet that did
// not arrive whole is left out and named; where there is no other message, the error is
// that of the first.
func readCapture(r io.Reader) (res paste.Result, broken []error, err error) {
	for p, err := range signal.Read(r, signal.Options{}) {
		switch {
		case err != nil:
			broken = append(broken, err)
		case p.Set.Reset():
			res.Skipped = append(res.Skipped, paste.Skipped{Why: p.Set.String()})
		default:
			item := paste.FromFrame(p.Message, p.Plug(), fmt.Sprintf("capture of the CC line, %.1f kbps", p.BitRate/1e3))
			if item.Skipped != nil {
				res.Skipped = append(res.Skipped, *item.Skipped)
			} else {
				res.Messages = append(res.Messages, *item.Message)
			}
		}
	}
	if len(res.Messages) == 0 && len(broken) > 0 {
		return res, nil, broken[0]
	}
	return res, broken, nil
}
