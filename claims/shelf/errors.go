package shelf

import "fmt"

// Error says what in a column list, a filter or a load is wrong, and what would
// be right.
type Error struct {
	Text  string // as given
	Wrong string
	Want  string
	Err   error // the cause beneath it, or nil
}

func (e *Error) Error() string {
	s := fmt.Sprintf("%q: %s", e.Text, e.Wrong)
	if e.Want != "" {
		s += "; " + e.Want
	}
	return s
}

func (e *Error) Unwrap() error { return e.Err }
