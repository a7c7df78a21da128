package typec

import (
	"errors"
	"io"
	"io/fs"
	"path"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Attribute is one file of the class as it was read.
type Attribute struct {
	Path string // within the file system that was read
	Text string // without surrounding blanks; empty where there is no line of text
	// Err is nil where the attribute was read, else a *Problem, with the cause
	// fs.ErrNotExist where the kernel does not show the attribute.
	Err error
}

// Name is the attribute's own name.
func (a Attribute) Name() string { return path.Base(a.Path) }

// Known tells whether the attribute was read.
func (a Attribute) Known() bool { return a.Err == nil }

// Absent tells whether the kernel does not show the attribute.
func (a Attribute) Absent() bool { return errors.Is(a.Err, fs.ErrNotExist) }

// Current is the choice in force: the one in brackets where the attribute lists
// several, as "[host] device", else the whole text.
func (a Attribute) Current() string {
	_, after, ok := strings.Cut(a.Text, "[")
	if !ok {
		return a.Text
	}
	choice, _, ok := strings.Cut(after, "]")
	if !ok {
		return a.Text
	}
	return choice
}

// Number is an attribute that holds a number. Value counts only where Err is
// nil; Text stays where it is no such number.
type Number struct {
	Attribute
	Value uint32 // of as many bits as the attribute has
}

// most is the largest attribute that is read, in bytes. The kernel gives at
// most one page; no page in use is larger than 64 KiB.
const most = 64 << 10

// reader reads attributes and gathers problems.
type reader struct {
	fsys     fs.FS
	listed   map[string]bool // the names in the class directory
	problems []*Problem
}

func (r *reader) report(p *Problem) { r.problems = append(r.problems, p) }

// take hands over the problems gathered so far.
func (r *reader) take() []*Problem {
	ps := r.problems
	r.problems = nil
	return ps
}

// attribute reads a file. A problem other than absence is reported.
func (r *reader) attribute(dir, name string) Attribute {
	a := Attribute{Path: path.Join(dir, name)}
	text, p := r.text(a.Path)
	if p != nil {
		a.Err = p
		if p.Err != fs.ErrNotExist {
			r.report(p)
		}
		return a
	}
	a.Text = text
	return a
}

// required reads a file whose absence is a problem too.
func (r *reader) required(dir, name string) Attribute {
	a := r.attribute(dir, name)
	if p, ok := a.Err.(*Problem); ok && p.Err == fs.ErrNotExist {
		r.report(p)
	}
	return a
}

func (r *reader) text(name string) (string, *Problem) {
	// The kind is asked first: to open a pipe would wait for its writer.
	switch info, err := fs.Stat(r.fsys, name); {
	case errors.Is(err, fs.ErrNotExist):
		return "", &Problem{Path: name, Wrong: "is not there", Want: "a kernel that knows it shows it here", Err: fs.ErrNotExist}
	case err != nil:
		return "", unreadable(name, err)
	case !info.Mode().IsRegular():
		return "", &Problem{Path: name, Wrong: "is no file", Want: "an attribute is a file with one line of text", Err: ErrUnreadable}
	}
	f, err := r.fsys.Open(name)
	if err != nil {
		return "", unreadable(name, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return "", unreadable(name, err)
	}
	if len(data) > most {
		return "", &Problem{Path: name, Wrong: "is longer than " + strconv.Itoa(most) + " bytes",
			Want: "an attribute is one line of text", Err: ErrTooLong}
	}
	// An archiver that believes the size the kernel gives pads with zero bytes.
	text := strings.TrimSpace(strings.TrimRight(string(data), "\x00"))
	if text == "" {
		return "", &Problem{Path: name, Wrong: "is empty", Want: "read it again once the port has settled", Err: ErrEmpty}
	}
	for i, c := range text {
		if !unicode.IsPrint(c) || c == utf8.RuneError {
			return "", &Problem{Path: name, Token: text, Wrong: "byte " + strconv.Itoa(i+1) + " is no printable character",
				Want: "an attribute is one line of text", Err: ErrMalformed}
		}
	}
	return text, nil
}

// kind says how an attribute writes a number.
type kind struct {
	base, digits int // at most so many digits
	low, high    uint32
	what         string
}

// The kernel prints words as 0x and 8 digits and an SVID as 4 digits without
// prefix (from memory; the documents say "hexadecimal" for mode words only).
// Fewer digits and either form are taken.
var (
	wordKind = kind{16, 8, 0, 1<<32 - 1, "a word is at most 8 hex digits, like 0x18002fa1"}
	svidKind = kind{16, 4, 0, 1<<16 - 1, "an SVID is at most 4 hex digits, like 8087"}
	// One SVID has at most six modes (PD R3.x, Discover Modes).
	indexKind = kind{10, 1, 1, 6, "a mode's index is 1 to 6"}
	countKind = kind{10, 4, 0, 9999, "a number of modes is a decimal number, like 1"}
)

// number reads a file that holds a number.
func (r *reader) number(dir, name string, k kind) Number {
	return r.parsed(r.attribute(dir, name), k)
}

func (r *reader) parsed(a Attribute, k kind) Number {
	n := Number{Attribute: a}
	if a.Err != nil {
		return n
	}
	v, ok := k.parse(a.Text)
	if !ok {
		p := &Problem{Path: a.Path, Token: a.Text, Wrong: "is not such a number", Want: k.what, Err: ErrMalformed}
		n.Err = p
		r.report(p)
		return n
	}
	n.Value = v
	return n
}

func (k kind) parse(text string) (uint32, bool) {
	if k.base == 16 && len(text) > 2 && text[0] == '0' && (text[1] == 'x' || text[1] == 'X') {
		text = text[2:]
	}
	if len(text) > k.digits || text == "" || text[0] == '+' {
		return 0, false
	}
	v, err := strconv.ParseUint(text, k.base, 32)
	return uint32(v), err == nil && uint32(v) >= k.low && uint32(v) <= k.high
}

// directory finds the first of the places that is a directory: the class links
// to a device that also lies inside its parent, and a copied tree may have kept
// only one of the two. It gives "" where there is none, and reports a link in
// the class directory that leads nowhere.
func (r *reader) directory(places ...string) string {
	var lost *Problem
	for _, dir := range places {
		info, err := fs.Stat(r.fsys, dir)
		switch {
		case err == nil && info.IsDir():
			return dir
		case err == nil:
			r.report(&Problem{Path: dir, Wrong: "is a file", Want: "the class has a directory of this name", Err: ErrNotDirectory})
		case !errors.Is(err, fs.ErrNotExist):
			r.report(unreadable(dir, err))
		case r.listed[dir]:
			lost = &Problem{Path: dir, Wrong: "is a link that leads nowhere", Err: ErrDangling,
				Want: "of a copied tree, copy what the class links to as well, at the same paths"}
		}
	}
	if lost != nil {
		r.report(lost)
	}
	return ""
}

// list gives the entries of a directory, what can be had of them.
func (r *reader) list(dir string) []fs.DirEntry {
	entries, err := fs.ReadDir(r.fsys, dir)
	if err != nil {
		r.report(unreadable(dir, err))
	}
	return entries
}
