package paste

import (
	"errors"
	"fmt"
	"strings"
)

// Error is a part of the text that was not understood.
type Error struct {
	At    Place  // the first character of it
	Token string // what stands there; may be empty
	Wrong string // what is wrong with it
	Want  string // what would be right
	Err   error  // one of the sentinels below
}

// Error says place, token, fault and remedy in one line, with no more than the
// beginning of a long token.
func (e *Error) Error() string {
	s := fmt.Sprintf("line %d, column %d: ", e.At.Line, e.At.Column)
	if e.Token != "" {
		s += fmt.Sprintf("%q: ", short(e.Token))
	}
	return s + e.Wrong + "; " + e.Want
}

// tokenShown is how much of a token an error shows, in bytes.
const tokenShown = 64

// short cuts a token to what is shown of it.
func short(s string) string {
	if len(s) <= tokenShown {
		return s
	}
	n := 0
	for i := range s {
		if i > tokenShown {
			break
		}
		n = i
	}
	return s[:n] + "…"
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// Causes of an Error.
var (
	ErrEmpty     = errors.New("nothing to read")               // blanks and comments alone
	ErrDigit     = errors.New("not hexadecimal")               // a sign that is no digit of its number
	ErrWidth     = errors.New("not the width of a word")       // a number of too few or too many digits
	ErrHalf      = errors.New("half a byte or half a word")    // an odd hex digit, or bytes that fill no word
	ErrTrailing  = errors.New("data behind the message")       // bytes or words after the last that the header counts
	ErrTruncated = errors.New("message cut off")               // fewer bytes or words than the header counts
	ErrStructure = errors.New("no message has this structure") // words or bytes that no header, CRC or product type explains
	ErrSyntax    = errors.New("not the form it begins with")   // as JSON that does not close
	ErrLong      = errors.New("longer than the limit")         // beyond MaxText or MaxBlock
	ErrMore      = errors.New("more was not understood")       // stands for the errors after the first MaxErrors
	ErrReader    = errors.New("no such reader")                // ReadAs was given a name that Readers does not list
)

// Errors is everything that was not understood in one text.
type Errors []*Error

// Error gives a line for each error.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.Is and errors.As look at each.
func (es Errors) Unwrap() []error {
	out := make([]error, len(es))
	for i, e := range es {
		out[i] = e
	}
	return out
}

// tooLong is an error about what goes beyond a limit in bytes.
func tooLong(what string, limit int, at Place) *Error {
	size := fmt.Sprintf("%d KiB", limit>>10)
	if limit >= 1<<20 {
		size = fmt.Sprintf("%d MiB", limit>>20)
	}
	return &Error{At: at, Wrong: what + " is longer than " + size, Want: "cut it into shorter ones", Err: ErrLong}
}
