package shelf

import (
	"errors"
	"fmt"
)

// Causes of an Error, for errors.Is.
var (
	ErrColumn    = errors.New("no such column")  // a name that Columns does not list
	ErrCondition = errors.New("not a condition") // no column, sign and value, or no value of the column
	ErrBands     = errors.New("not price bands") // no rising numbers above zero
	ErrLoad      = errors.New("not a load")      // no voltage and current, no power, or more than is published
)

// Error says what in a column list, a filter, price bands or a load is wrong, and
// what would be right.
type Error struct {
	Text  string // as given
	Wrong string // what is wrong in it
	Want  string // what would be right; may be empty
	Err   error  // one of the causes above
	Cause error  // what is beneath it, as a *quantity.Error, or nil
}

// Error says text, fault and remedy in one line.
func (e *Error) Error() string {
	s := fmt.Sprintf("%q: %s", e.Text, e.Wrong)
	if e.Want != "" {
		s += "; " + e.Want
	}
	return s
}

// Unwrap gives the cause and what is beneath it.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Err}
	}
	return []error{e.Err, e.Cause}
}
