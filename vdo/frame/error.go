package frame

import (
	"errors"
	"fmt"
)

// Causes of an Error.
var (
	ErrTruncated = errors.New("message cut off")                // the message ends early, or within a word
	ErrCount     = errors.New("number of objects does not fit") // more or fewer objects came than the header counts
	ErrCRC       = errors.New("CRC wrong")                      // what came is not what was sent
	ErrExtended  = errors.New("extended message")               // what follows the header is no list of objects
	ErrField     = errors.New("field out of range")             // a number given to Compose does not fit
	ErrSet       = errors.New("no ordered set")                 // the symbols begin with no ordered set
	ErrSymbol    = errors.New("not a data symbol")              // a K-code or unused code stands among the data
	ErrEOP       = errors.New("no EOP")                         // the symbols end before the packet does
	ErrName      = errors.New("not a symbol")                   // a text is the name of no symbol
)

// Unit is what the places of an Error count.
type Unit string

const (
	InBytes   Unit = "byte"   // of the message, from 0
	InSymbols Unit = "symbol" // of the list, from 0
	InFields  Unit = ""       // no place
)

// Error is something wrong with a message.
type Error struct {
	Unit  Unit   // what At counts
	At    int    // where, counted in Unit from 0
	Token string // what stands there, where that helps
	Wrong string // what is wrong there
	Want  string // what would be right
	Err   error  // one of the causes above
}

// Error says place, fault and remedy in one line.
func (e *Error) Error() string {
	s := ""
	if e.Unit != InFields {
		s = fmt.Sprintf("%s %d: ", e.Unit, e.At)
	}
	if e.Token != "" {
		s += e.Token + ": "
	}
	return s + e.Wrong + "; " + e.Want
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

func fieldError(name string, value int, want string) *Error {
	return &Error{Wrong: fmt.Sprintf("%s is %d", name, value), Want: "it is " + want, Err: ErrField}
}
