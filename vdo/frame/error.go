package frame

import (
	"errors"
	"fmt"
)

// Causes of an Error.
var (
	ErrTruncated = errors.New("message cut off")
	ErrCount     = errors.New("number of objects does not fit")
	ErrCRC       = errors.New("CRC wrong")
	ErrExtended  = errors.New("extended message")
	ErrField     = errors.New("field out of range")
	ErrSet       = errors.New("no ordered set")
	ErrSymbol    = errors.New("not a data symbol")
	ErrEOP       = errors.New("no EOP")
	ErrName      = errors.New("not a symbol")
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
	Unit  Unit
	At    int    // where, counted in Unit from 0
	Token string // what stands there, where that helps
	Wrong string
	Want  string // what would be right
	Err   error  // one of the causes above
}

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
