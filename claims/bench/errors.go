package bench

import (
	"errors"
	"fmt"
)

// What can be wrong with a session. Use errors.Is; the place is in *Error.
var (
	ErrNoReadings   = errors.New("no readings")
	ErrZeroCurrent  = errors.New("no current")
	ErrNotFinite    = errors.New("not a finite number")
	ErrOutOfRange   = errors.New("out of range")
	ErrOpposedSign  = errors.New("drop opposed to the current")
	ErrNoResistance = errors.New("no resistance left after the null")
	ErrAccuracy     = errors.New("accuracy makes no sense")
)

// Error says what is wrong in a session, where, and what would be right.
type Error struct {
	List  string // "readings", "nulls", "printed", or "session" when it is about no single reading
	Index int    // position in the list, from 0; -1 where the list is not indexed
	Field string // "current", "vbus", "ground", "loop", "voltmeter", ...; may be empty
	Wrong string
	Want  string
	Err   error // one of the sentinels
}

// Error returns place, fault and remedy in one line.
func (e *Error) Error() string {
	where := e.List
	if e.Index >= 0 {
		where += fmt.Sprintf("[%d]", e.Index)
	}
	if e.Field != "" {
		where += "." + e.Field
	}
	return where + ": " + e.Wrong + "; want " + e.Want
}

// Unwrap returns the sentinel.
func (e *Error) Unwrap() error { return e.Err }
