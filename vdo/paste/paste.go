// Package paste finds a cable marker's messages in whatever text a sniffer
// printed, and says how each was read.
package paste

import "example.com/gainsay/vdo"

// Place is a position in the pasted text. Line and Column start at 1; Column
// counts characters, not bytes. The zero Place is "nowhere".
type Place struct {
	Line, Column int
}

// Message is one message found in the text.
type Message struct {
	From, To Place  // first and last character of what was read
	ReadAs   string // how it was read, as "words, header first"
	Plug     vdo.Plug
	Revision vdo.Revision // from a PD message header, else RevisionUnknown
	// Words are the 32-bit data objects in order. They begin with the VDM
	// header unless Headerless is set, when they begin with the ID header.
	Words      []uint32
	Headerless bool
	// Remarks say what the reader assumed or noticed (a CRC that is wrong, zeros
	// restored in front, a request without an answer).
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
	From, To Place
	Why      string
}

// Result is everything found in one text.
type Result struct {
	Messages []Message
	Skipped  []Skipped
}

// Read finds the messages in a text. What it does not understand is in the
// error, an Errors, with its place; what it does understand is in the Result
// all the same.
func Read(text string) (Result, error) {
	var best Result
	var fewest Errors
	for i, r := range readers {
		res, errs := r.read(text)
		if len(errs) == 0 {
			return res, nil
		}
		if i == 0 || len(errs) < len(fewest) {
			best, fewest = res, errs
		}
	}
	return best, fewest
}
