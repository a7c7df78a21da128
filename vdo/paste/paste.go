// Package paste finds a cable marker's messages in whatever text a sniffer
// printed, and says how each was read.
//
//	found, err := paste.Read(text)
//	for _, m := range found.Messages {
//		reply := vdo.Decode(m.Words, m.Context())
//		fmt.Println(m.From.Line, m.ReadAs, reply.Words())
//	}
//	if err != nil {
//		fmt.Println(err) // what was not understood, a line each; the rest is in found
//	}
//
// The forms it knows are in [Readers], in the order they are tried. A reader is
// lenient about what stands around the values and strict about the values. Where
// a text can be read in two ways that fit equally well, both are given.
//
// What fits is judged by structure alone: a CRC that is right, a message header
// that counts its objects, the pattern of a VDM header, the number of objects a
// product type has, reserved bits that are zero.
package paste

import (
	"slices"
	"strings"

	"example.com/gainsay/vdo"
)

// Limits of what is read.
const (
	MaxText   = 64 << 20 // bytes of a text given to Read or ReadAs
	MaxBlock  = 1 << 20  // bytes that ReadStream keeps: the longest message with what belongs to it
	MaxErrors = 100      // errors in one text or block; one more says how many follow
)

// Place is a position in the pasted text. Line and Column start at 1; Column
// counts characters, not bytes. The zero Place is "nowhere".
type Place struct {
	Line, Column int // from 1, the column in characters
}

// Message is one message found in the text.
type Message struct {
	From, To Place        // first and last character of what was read
	ReadAs   string       // how it was read, as "words, header first"
	Plug     vdo.Plug     // whose answer it is, where the text says
	Revision vdo.Revision // from a PD message header, else RevisionUnknown
	// Words are the 32-bit data objects in order. They begin with the VDM
	// header unless Headerless is set, when they begin with the ID header.
	Words      []uint32
	Headerless bool // no VDM header stands in front
	// Remarks say what the reader assumed or noticed (a CRC that is wrong, zeros
	// restored in front, a NAK).
	Remarks []string
	// Others are readings that fit the same text equally well. The text does not
	// decide between them and this Message; a caller must not either.
	Others []Message
}

// Context is what vdo.Decode needs to know about the message.
func (m Message) Context() vdo.Context {
	return vdo.Context{Plug: m.Plug, Revision: m.Revision, Headerless: m.Headerless}
}

// Skipped is a part of the text that was understood but is no cable answer, as
// a request or the port partner's own identity.
type Skipped struct {
	From, To Place  // its first and last character
	Why      string // what it is, in a few words
}

// Result is everything found in one text.
type Result struct {
	Messages []Message // the cable's answers, in the order of the text
	Skipped  []Skipped // all else that was understood, in the order of the text
}

// Read finds the messages in a text. What it does not understand is in the
// error, an Errors, with its place; what it does understand is in the Result
// all the same. A text longer than MaxText is not read: ErrLong.
//
// The first reader that understands the whole text is taken. If none does, the
// text is cut at empty lines and each part is read by itself, where that leaves
// less unread.
func Read(text string) (Result, error) {
	if len(text) > MaxText {
		return Result{}, Errors{tooLong("the text", MaxText, Place{1, 1})}
	}
	text = plainText(text)
	_, r := choose(text, nil)
	return finish(r.result(text, Place{1, 1}))
}

// ReadAs reads a text with one reader, by its name. The error is an Errors: a text
// that is not of its form, or, with the cause ErrReader, a name that Readers does
// not list.
func ReadAs(text, name string) (Result, error) {
	i := slices.IndexFunc(readers, func(r Reader) bool { return r.Name == name })
	if i < 0 {
		names := make([]string, len(readers))
		for i, r := range readers {
			names[i] = r.Name
		}
		return Result{}, Errors{{At: Place{1, 1}, Token: name, Wrong: "no reader has this name",
			Want: "there are " + strings.Join(names, ", "), Err: ErrReader}}
	}
	if len(text) > MaxText {
		return Result{}, Errors{tooLong("the text", MaxText, Place{1, 1})}
	}
	text = plainText(text)
	r, ok := readers[i].read(text)
	if !ok || len(r.found) == 0 && len(r.faults) == 0 {
		return Result{}, Errors{{At: Place{1, 1}, Wrong: "the text is not of the form " + name,
			Want: "it should be " + readers[i].About, Err: ErrSyntax}}
	}
	return finish(r.result(text, Place{1, 1}))
}

func finish(res Result, errs Errors) (Result, error) {
	if len(errs) > 0 {
		return res, errs
	}
	return res, nil
}

// choose reads a text with the reader that understands most of it. Of a text that
// goes on, only what more text cannot change counts.
func choose(text string, open *openText) (*Reader, reading) {
	by, r := try(text, open)
	if r.wrong() == 0 {
		return by, r
	}
	// Several forms, one below the other?
	parts := paragraphs(text)
	if len(parts) < 2 {
		return by, r
	}
	var all reading
	for _, p := range parts {
		_, one := try(text[p.start:p.end], nil)
		one.shift(p.start)
		all.join(one)
		if open == nil && all.wrong() >= r.wrong() {
			return by, r
		}
	}
	if open != nil {
		all.settle(text, open.head)
		if all.wrong() >= r.wrong() {
			return by, r
		}
	}
	return nil, all
}

// openText is what is known of a text that goes on.
type openText struct {
	head   int     // length of the head of a table in front
	before *Reader // the reader of what came before
}

func try(text string, open *openText) (*Reader, reading) {
	var best reading
	var by *Reader
	read := func(i int) bool {
		r, ok := readers[i].read(text)
		if !ok || len(r.found) == 0 && len(r.faults) == 0 {
			return false
		}
		if open != nil {
			r.settle(text, open.head)
		}
		if r.wrong() == 0 && !readers[i].loose && (open == nil || r.yield() > 0) {
			best, by = r, &readers[i]
			return true
		}
		if by == nil || readers[i].beats(&r, by, &best) {
			best, by = r, &readers[i]
		}
		return false
	}
	if open != nil && open.before != nil && !open.before.loose && !open.before.bare {
		if i := slices.IndexFunc(readers, func(r Reader) bool { return r.Name == open.before.Name }); read(i) {
			return by, best
		}
		best, by = reading{}, nil
	}
	for i := range readers {
		if read(i) {
			break
		}
	}
	return by, best
}

// beats compares two readings that leave something unread, or come of a loose
// form. Against the bare words any form wins that finds more or leaves less
// unread. Between two forms what was found counts, then what was left, and a loose
// form, which passes over what it does not know, stands back behind a strict one
// that found as much.
func (r *Reader) beats(mine *reading, other *Reader, theirs *reading) bool {
	a, b := mine.yield(), theirs.yield()
	switch {
	case r.bare:
		return a >= b && mine.wrong() <= theirs.wrong()
	case other.bare:
		return a > b || mine.wrong() < theirs.wrong()
	case a != b:
		return a > b
	}
	return !r.loose && mine.wrong() < theirs.wrong()
}
