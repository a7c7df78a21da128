package record

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
)

// Read reads every record of a stream: YAML documents, JSON values or JSON
// Lines. A document that cannot be read gives Errors in its place and does not
// cost the others. An error of the reader itself ends the stream. One document
// is held in memory at a time.
//
// The stream is JSON where the name ends in .json, .jsonl or .ndjson, or where
// another name than .yaml or .yml begins with an object in braces and quotes;
// else it is YAML.
func Read(r io.Reader, name string) iter.Seq2[*Record, error] {
	return func(yield func(*Record, error) bool) {
		for d, err := range Documents(r, name) {
			var rec *Record
			if err == nil {
				rec, err = d.Record()
			}
			if rec == nil && err == nil {
				continue
			}
			if !yield(rec, err) {
				return
			}
		}
	}
}

// Document is the text of one record, cut from a stream and not yet read.
type Document struct {
	chunk
	tree func(chunk, *nodes) (*node, Errors)
}

// Documents cuts a stream into the documents that [Read] reads, with the same
// errors for those that cannot be cut out: an Errors, or an error of the reader.
// Each stands for itself: documents may be kept, and read on other goroutines.
func Documents(r io.Reader, name string) iter.Seq2[Document, error] {
	return func(yield func(Document, error) bool) {
		br := bufio.NewReaderSize(r, 64<<10)
		split, tree := splitYAML, chunk.yamlTree
		if isJSON(br, name) {
			split, tree = splitJSON, chunk.jsonTree
		}
		for c, err := range split(br, name) {
			var es Errors
			if !yield(Document{c, tree}, err) || err != nil && !errors.As(err, &es) {
				return
			}
		}
	}
}

// Len is the length of the document in bytes.
func (d Document) Len() int { return len(d.text) }

// rooms are for the trees of documents that are being read.
var rooms = sync.Pool{New: func() any { return new(nodes) }}

// Record reads the document. An empty one is nil without an error; the error is an
// [Errors].
func (d Document) Record() (*Record, error) {
	room := rooms.Get().(*nodes)
	defer rooms.Put(room)
	room.reset()
	n, errs := d.tree(d.chunk, room)
	if errs == nil && n == nil {
		return nil, nil
	}
	var rec *Record
	if errs == nil {
		rec, errs = convert(n, d.file)
	}
	if len(errs) > 0 {
		return nil, errs
	}
	return rec, nil
}

var jsonStart = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\x{FEFF})?\s*\{\s*("|\})`) })

func isJSON(br *bufio.Reader, name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".json", ".jsonl", ".ndjson":
		return true
	case ".yaml", ".yml":
		return false
	}
	head, _ := br.Peek(4 << 10)
	return jsonStart().Match(head)
}

const byteOrderMark = "\uFEFF"

// lines yields each line with its end, numbered from 1. A line longer than a
// document may be comes in pieces; more says that the line goes on.
func lines(br *bufio.Reader) iter.Seq2[line, error] {
	return func(yield func(line, error) bool) {
		number, fresh := 1, true
		for {
			text, err := br.ReadSlice('\n')
			more := errors.Is(err, bufio.ErrBufferFull)
			if len(text) > 0 {
				if number == 1 && fresh {
					text = bytes.TrimPrefix(text, []byte(byteOrderMark))
				}
				if !yield(line{number, text, fresh}, nil) {
					return
				}
			}
			fresh = !more
			if !more {
				number++
			}
			if err != nil && !more {
				if !errors.Is(err, io.EOF) {
					yield(line{}, err)
				}
				return
			}
		}
	}
}

type line struct {
	number int
	text   []byte // valid until the next line
	fresh  bool   // the beginning of the line, not a later piece
}

// collector gathers the text of one document within the limit.
type collector struct {
	chunk
	over bool
}

func (c *collector) add(l line) {
	if !c.started() {
		c.line = l.number
	}
	if len(c.text)+len(l.text) > MaxDocument {
		c.over, c.text = true, nil
	}
	if !c.over {
		c.text = append(c.text, l.text...)
	}
}

// started tells whether there is anything of a document yet.
func (c *collector) started() bool { return len(c.text) > 0 || c.over }

// take gives the document gathered and makes room for the next.
func (c *collector) take() (chunk, error) {
	out, over := c.chunk, c.over
	c.chunk, c.over = chunk{file: c.file}, false
	if over {
		return chunk{}, out.fail(out.line, 1, ErrLimit,
			fmt.Sprintf("the document is longer than %d MiB", MaxDocument>>20), "a record is one cable")
	}
	return out, nil
}

// splitYAML cuts at document markers. They stand at the start of a line, where
// no value of a mapping can begin, so no parsing is needed and a document that
// is not well-formed ends where it ends.
func splitYAML(br *bufio.Reader, name string) iter.Seq2[chunk, error] {
	return func(yield func(chunk, error) bool) {
		doc := &collector{chunk: chunk{file: name}}
		content := false // whether more than blanks, comments and directives was seen of it
		for l, err := range lines(br) {
			if err != nil {
				yield(chunk{}, err)
				return
			}
			if l.fresh && (!content || isMarker(bytes.TrimPrefix(l.text, []byte(byteOrderMark)), "---")) {
				// Files joined end to end have a mark in front of each document.
				l.text = bytes.TrimPrefix(l.text, []byte(byteOrderMark))
			}
			switch text := bytes.TrimSpace(l.text); {
			case len(text) == 0 || content:
			case l.fresh && (bytes.HasPrefix(l.text, []byte("%YAML ")) || bytes.HasPrefix(l.text, []byte("%TAG "))):
				// A directive says nothing to a reader that knows one kind of YAML. An
				// empty line in its place keeps the count.
				l.text = []byte("\n")
			default:
				content = !l.fresh || text[0] != '#'
			}
			marker := l.fresh && (isMarker(l.text, "---") || isMarker(l.text, "..."))
			if !marker {
				doc.add(l)
				continue
			}
			if !yield(doc.take()) {
				return
			}
			content = false
			if rest := bytes.TrimSpace(l.text[3:]); len(rest) > 0 {
				content = rest[0] != '#'
				doc.add(line{l.number, append([]byte("   "), l.text[3:]...), true})
			}
		}
		yield(doc.take())
	}
}

func isMarker(text []byte, marker string) bool {
	rest, ok := bytes.CutPrefix(text, []byte(marker))
	return ok && (len(rest) == 0 || rest[0] == ' ' || rest[0] == '\t' || rest[0] == '\r' || rest[0] == '\n')
}

// newRecord is a line that begins an object with a key of the top level. It is
// how a record is found after one that does not close.
var newRecord = sync.OnceValue(func() *regexp.Regexp {
	var names []string
	for _, k := range recordKeys {
		names = append(names, k.name)
	}
	return regexp.MustCompile(`^\{\s*"(` + strings.Join(names, "|") + `)"\s*:`)
})

// lookAhead is how far behind a lone brace the first key is looked for.
const lookAhead = 256

// beginsRecord looks at a line and, where it is a lone brace, at what follows.
// It gives the text back, which looking ahead may move.
func beginsRecord(text []byte, br *bufio.Reader) ([]byte, bool) {
	if string(bytes.TrimSpace(text)) != "{" || text[0] != '{' {
		return text, newRecord().Match(text)
	}
	text = bytes.Clone(text)
	next, _ := br.Peek(lookAhead)
	return text, newRecord().Match(append(bytes.Clone(text), next...))
}

// splitJSON cuts where the braces close, at the end of the line or at the next
// brace on it. A value that does not close ends at the next line that begins a
// record.
func splitJSON(br *bufio.Reader, name string) iter.Seq2[chunk, error] {
	return func(yield func(chunk, error) bool) {
		doc := &collector{chunk: chunk{file: name}}
		depth, inString, escaped := 0, false, false
		before := 0 // characters of the line in front of this piece of it
		for l, err := range lines(br) {
			if err != nil {
				yield(chunk{}, err)
				return
			}
			if l.fresh {
				inString, escaped = false, false // a string does not cross lines
				before = 0
				var begins bool
				if depth > 0 {
					l.text, begins = beginsRecord(l.text, br)
				}
				if begins {
					if !yield(doc.take()) {
						return
					}
					depth = 0
				}
			}
			from := 0 // of what is not yet in doc
			for i, b := range l.text {
				if inString {
					switch {
					case escaped:
						escaped = false
					case b == '\\':
						escaped = true
					case b == '"':
						inString = false
					}
					continue
				}
				switch {
				case b == '"':
					inString = true
				case b == '{' && depth <= 0 && (doc.started() || len(bytes.TrimSpace(l.text[from:i])) > 0):
					doc.add(line{l.number, l.text[from:i], true})
					if !yield(doc.take()) {
						return
					}
					from, depth, doc.before = i, 1, before+characters(l.text[:i])
				case b == '{' || b == '[':
					depth++
				case b == '}' || b == ']':
					depth--
				}
			}
			if !bytes.HasSuffix(l.text, []byte("\n")) {
				before += characters(l.text)
			}
			l.text = l.text[from:]
			if depth > 0 || doc.started() || len(bytes.TrimSpace(l.text)) > 0 {
				doc.add(l)
			}
			if depth <= 0 && bytes.HasSuffix(l.text, []byte("\n")) && doc.started() {
				depth = 0
				if !yield(doc.take()) {
					return
				}
			}
		}
		if doc.started() {
			yield(doc.take())
		}
	}
}
