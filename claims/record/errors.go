package record

import (
	"errors"
	"strings"
)

// Error is one thing wrong in a record: where, under which key, what is wrong and
// what would be right.
type Error struct {
	At    Place
	Key   string // as "bench.readings[2].vbus"; empty for the whole document
	Wrong string
	Want  string
	Err   error // one of the sentinels below, or the cause beneath it
}

func (e *Error) Error() string {
	s := e.At.String() + ": "
	if e.Key != "" {
		s += e.Key + ": "
	}
	s += e.Wrong
	if e.Want != "" {
		s += "; " + e.Want
	}
	return s
}

func (e *Error) Unwrap() error { return e.Err }

// Causes of an Error. A quantity that does not parse has a *quantity.Error as
// its cause.
var (
	ErrSyntax      = errors.New("not well-formed")
	ErrUnknownKey  = errors.New("unknown key")
	ErrRepeatedKey = errors.New("repeated key")
	ErrMissingKey  = errors.New("missing key")
	ErrVersion     = errors.New("unknown format version")
	ErrKind        = errors.New("wrong kind of value")
	ErrValue       = errors.New("wrong value")
	ErrLimit       = errors.New("over a limit")
)

// Errors is everything wrong in one document.
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
