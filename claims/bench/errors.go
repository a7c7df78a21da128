package bench

import (
	"errors"
	"fmt"
)

// What can be wrong with a session. Use errors.Is; the place is in *Error.
var (
	ErrNoReadings   = errors.New("no readings")                       // nothing usable to work with, or a reading without a drop
	ErrZeroCurrent  = errors.New("no current")                        // a reading at 0 A; without current it is a null
	ErrNotFinite    = errors.New("not a finite number")               // NaN or an infinity
	ErrOutOfRange   = errors.New("out of range")                      // beyond what a bench for cables can read
	ErrOpposedSign  = errors.New("drop opposed to the current")       // a drop whose sign is not that of its current
	ErrNoResistance = errors.New("no resistance left after the null") // nothing left after the null, or less than nothing
	ErrAccuracy     = errors.New("accuracy makes no sense")           // a meter's accuracy is negative or not finite
)

// Error says what is wrong in a session, where, and what would be right.
type Error struct {
	List  string // "readings", "nulls", "printed", or "session" when it is about no single reading
	Index int    // position in the list, from 0; -1 where the list is not indexed
	Field string // "current", "vbus", "ground", "loop", "voltmeter", ...; may be empty
	Wrong string // what stands there
	Want  string // what would be right
	Err   error  // one of the sentinels
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
