package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
	"example.com/gainsay/vdo/signal"
)

var decodeCommand = command{
	name:    "decode",
	summary: "say what a marker's words mean, bit by bit",
	usage:   "[options] [WORD ... | FILE ... | -]",
	help: `
Decodes the words a marker answered, from whatever text a sniffer printed:
words, dumps, logs, tables, JSON, arrays, symbols; --forms lists them. The text
stands on the command line, in files, or on stdin ("-", or nothing at all), with
or without message header and CRC, VDM header first or starting at the ID
header. How it was read is part of the result; what is no cable's answer is set
aside by name.

An argument that names a file is read as a file; all other arguments together
are the words.

Example:
  gainsay decode FF00A041 18602FA1 00000000 01020100 000A2643
`,
	flags: func(fs *pflag.FlagSet) {
		fs.Bool("json", false, "one JSON object a message, each on its own line")
		fs.Bool("lines", false, "take each line of input for a message of its own")
		fs.String("revision", "", "PD `REVISION` of the answer, 2.0 or 3.0, where the words have no VDM header")
		fs.String("plug", "", "which `PLUG` answered, near (SOP′) or far (SOP″), where the text does not say")
		fs.String("as", "", "read the text as this `FORM` only; --forms lists them")
		fs.Bool("forms", false, "list the forms of text that can be read")
		captureFlags(fs)
		fs.String("layout", "", "take each word for one of this `LAYOUT`; 'gainsay layout' lists them")
	},
	run: runDecode,
}

// maxLine bounds one line of input with --lines, in bytes; a text longer than maxHeld
// is read block by block, unless its form is forced.
const (
	maxLine = 1 << 20
	maxHeld = 1 << 20
)

type decoder struct {
	*env
	asJSON   bool
	revision vdo.Revision
	plug     vdo.Plug
	layout   *vdo.Layout
	form     string
	capture  bool
	signal   signal.Options
	shown    int
	failed   bool
}

func runDecode(e *env, fs *pflag.FlagSet) int {
	d := &decoder{env: e}
	d.asJSON, _ = fs.GetBool("json")
	lines, _ := fs.GetBool("lines")
	if list, _ := fs.GetBool("forms"); list {
		for _, r := range paste.Readers() {
			fmt.Fprintf(e.out, "%-12s  %s\n", r.Name, r.About)
		}
		return exitDone
	}
	if !d.options(fs) {
		return exitUndone
	}
	var files, words []string
	for _, a := range fs.Args() {
		if a == "-" || isFile(a) {
			files = append(files, a)
		} else {
			words = append(words, a)
		}
	}
	if len(files) > 0 && len(words) > 0 {
		e.fail("decode: %q is neither a file nor can it stand beside one; give words or files, not both", publish.Plain(words[0]))
		return exitUndone
	}
	if len(words) > 0 {
		d.text(strings.Join(words, " "), "the command line", 0)
	} else if len(files) == 0 {
		files = []string{"-"}
	}
	for _, name := range files {
		for in, err := range e.inputs(name) {
			switch {
			case err != nil:
				d.problem(err.Error(), nil)
			case d.capture || isCapture(in.name):
				d.captured(in)
			case lines:
				d.lines(in)
			default:
				d.whole(in)
			}
		}
	}
	if d.failed {
		return exitUndone
	}
	return exitDone
}

func (d *decoder) options(fs *pflag.FlagSet) bool {
	if r, _ := fs.GetString("revision"); r != "" {
		var known bool
		if d.revision, known = record.ParseRevision(r); !known {
			d.fail("decode: --revision %q is not known; write 2.0 or 3.0", publish.Plain(r))
			return false
		}
	}
	switch p, _ := fs.GetString("plug"); p {
	case "":
	case "near":
		d.plug = vdo.PlugNear
	case "far":
		d.plug = vdo.PlugFar
	default:
		d.fail("decode: --plug %q is not known; write near or far", publish.Plain(p))
		return false
	}
	if !d.captureOptions(fs) {
		return false
	}
	if d.form, _ = fs.GetString("as"); d.form != "" {
		if names := readerNames(); !slices.Contains(names, d.form) {
			d.fail("decode: no form is called %q; %s", publish.Plain(d.form), suggest(d.form, names, "--forms lists them"))
			return false
		}
	}
	if name, _ := fs.GetString("layout"); name != "" {
		if d.layout = d.layoutNamed("decode", name); d.layout == nil {
			return false
		}
	}
	return true
}

// readerNames are the forms of text that can be read.
func readerNames() []string {
	var names []string
	for _, r := range paste.Readers() {
		names = append(names, r.Name)
	}
	return names
}

// whole decodes a whole text. A long one is read block by block, so that memory
// does not grow with it.
func (d *decoder) whole(in input) {
	defer in.Close()
	br := bufio.NewReaderSize(in, maxHeld+1)
	if head, _ := br.Peek(maxHeld + 1); len(head) > maxHeld && d.form == "" {
		d.stream(br, in.name)
		return
	}
	text, err := io.ReadAll(io.LimitReader(br, paste.MaxText+1))
	switch {
	case err != nil:
		d.problem(fmt.Sprintf("%s: %v", in.name, err), nil)
	case len(text) > paste.MaxText:
		d.problem(fmt.Sprintf("%s: longer than %d MiB; without --as there is no limit", in.name, paste.MaxText>>20), nil)
	default:
		d.text(string(text), in.name, 0)
	}
}

// stream decodes a long text as it comes.
func (d *decoder) stream(r io.Reader, name string) {
	for item, err := range paste.ReadStream(r) {
		var bad *paste.Error
		switch {
		case errors.As(err, &bad):
			d.problems(paste.Errors{bad}, name, 0)
		case err != nil:
			d.problem(fmt.Sprintf("%s: %v", name, err), nil)
		case item.Message != nil:
			d.placed(*item.Message, 0)
		case item.Skipped != nil:
			d.setAside([]paste.Skipped{*item.Skipped}, 0)
		}
		if d.lost() {
			return
		}
	}
}

// lines decodes each line by itself: it is one message, or an error.
func (d *decoder) lines(in input) {
	defer in.Close()
	br := bufio.NewReaderSize(in, maxLine)
	for n := 0; !d.lost(); n++ {
		text, err := br.ReadSlice('\n')
		if errors.Is(err, bufio.ErrBufferFull) {
			at := &publish.Place{Line: n + 1, Column: 1}
			d.problem(fmt.Sprintf("%s: line %d, column 1: a line is longer than %d MiB; it was passed over", in.name, n+1, maxLine>>20), at)
			for errors.Is(err, bufio.ErrBufferFull) {
				_, err = br.ReadSlice('\n')
			}
		} else if len(text) > 0 {
			d.line(strings.TrimRight(string(text), "\r\n"), in.name, n)
		}
		if err != nil {
			if !errors.Is(err, io.EOF) {
				d.problem(fmt.Sprintf("%s: %v", in.name, err), nil)
			}
			return
		}
	}
}

func (d *decoder) read(text string) (paste.Result, error) {
	if d.form != "" {
		return paste.ReadAs(text, d.form)
	}
	return paste.Read(text)
}

// line decodes one line as one message; skipped is the number of lines before it.
func (d *decoder) line(text, name string, skipped int) {
	res, err := d.read(text)
	switch {
	case err != nil:
		d.problems(err, name, skipped)
	case len(res.Messages) > 0:
		m := res.Messages[0]
		for _, more := range res.Messages[1:] {
			m.Words, m.To = append(m.Words, more.Words...), more.To
		}
		d.placed(m, skipped)
	default:
		d.setAside(res.Skipped, skipped)
	}
}

// text decodes a whole text; skipped is the number of lines before it.
func (d *decoder) text(text, name string, skipped int) {
	res, err := d.read(text)
	for _, m := range res.Messages {
		d.placed(m, skipped)
	}
	d.setAside(res.Skipped, skipped)
	d.problems(err, name, skipped)
}

func (d *decoder) placed(m paste.Message, skipped int) {
	m.From.Line += skipped
	m.To.Line += skipped
	if m.Plug == vdo.PlugUnknown {
		m.Plug = d.plug
	}
	if m.Revision == vdo.RevisionUnknown {
		m.Revision = d.revision
	}
	d.message(m, nil)
}

// setAside shows what was understood but is no cable's answer.
func (d *decoder) setAside(list []paste.Skipped, skipped int) {
	for _, s := range list {
		s.From.Line += skipped
		d.aside(publish.SetAside{Version: publish.FormatVersion, SetAside: s.Why,
			At: &publish.Place{Line: s.From.Line, Column: s.From.Column}})
	}
}

func (d *decoder) aside(s publish.SetAside) {
	if d.asJSON {
		d.json(s)
		return
	}
	d.gap()
	where := ""
	switch {
	case s.At != nil:
		where = fmt.Sprintf(" (line %d, column %d)", s.At.Line, s.At.Column)
	case s.Time != nil:
		where = " (" + atSecond(*s.Time) + ")"
	}
	fmt.Fprintf(d.out, "Set aside: %s%s\n", publish.Plain(s.SetAside), where)
}

func (d *decoder) problems(err error, name string, skipped int) {
	var errs paste.Errors
	switch {
	case err == nil:
	case errors.As(err, &errs):
		var texts []string
		for _, e := range errs {
			e.At.Line += skipped
			texts = append(texts, fmt.Sprintf("%s: %v", name, e))
		}
		d.problem(strings.Join(texts, "\n"), &publish.Place{Line: errs[0].At.Line, Column: errs[0].At.Column})
	default:
		d.problem(fmt.Sprintf("%s: %v", name, err), nil)
	}
}

// message shows one message; time is where it began in a capture, in seconds.
func (d *decoder) message(m paste.Message, time *float64) {
	if d.layout != nil {
		for _, w := range m.Words {
			if d.asJSON {
				d.json(publish.NewLoneWord(w, d.layout))
				continue
			}
			d.gap()
			fmt.Fprint(d.out, publish.WordText(w, d.layout, d.style))
		}
		return
	}
	if d.asJSON {
		out := publish.NewMessage(m)
		out.Time = time
		d.json(out)
		return
	}
	d.gap()
	fmt.Fprint(d.out, publish.MessageText(m, d.style))
}

func (d *decoder) gap() {
	if d.shown > 0 {
		fmt.Fprintln(d.out)
	}
	d.shown++
}

// problem reports what could not be read: with --json in place, as an object.
func (d *decoder) problem(text string, at *publish.Place) {
	d.failed = true
	if d.asJSON {
		d.json(publish.Failure{Version: publish.FormatVersion, Error: text, At: at})
	}
	d.failLines(text)
}
