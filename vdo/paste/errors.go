package paste

import (
	"errors"
	"fmt"
	"strings"
)

// Error is a part of the text that was not understood.
type Error struct {
	At    Place
	Token string
	Wrong string
	Want  string
	Err   error // one of the sentinels below
}

// Error gives the sentence, with no more than the beginning of a long token.
func (e *Error) Error() string {
	s := fmt.Sprintf("line %d, column %d: ", e.At.Line, e.At.Column)
	if e.Token != "" {
		s += fmt.Sprintf("%q", e.Token[:min(len(e.Token), tokenShown)])
		if len(e.Token) > tokenShown {
			s += " …"
		}
		s += ": "
	}
	return s + e.Wrong + "; " + e.Want
}

// tokenShown is how much of a token is shown in a sentence, in bytes.
const tokenShown = 200

func (e *Error) Unwrap() error { return e.Err }

// Causes of an Error.
var (
	ErrEmpty     = errors.New("nothing to read")
	ErrDigit     = errors.New("not hexadecimal")
	ErrWidth     = errors.New("not the width of a word")
	ErrHalf      = errors.New("half a byte or half a word")
	ErrTrailing  = errors.New("data behind the message")
	ErrTruncated = errors.New("message cut off")
	ErrStructure = errors.New("no message has this structure")
	ErrSyntax    = errors.New("not the form it begins with")
	ErrLong      = errors.New("longer than the limit")
	ErrMore      = errors.New("more was not understood")
	ErrReader    = errors.New("no such reader")
)

// Errors is everything that was not understood in one text.
type Errors []*Error

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
