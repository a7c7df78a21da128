package record

import (
	"errors"
	"fmt"
	"strings"
)

// Error is one thing wrong in a record: where, under which key, what is wrong and
// what would be right.
type Error struct {
	At    Place  // where it stands
	Key   string // as "bench.readings[2].vbus"; empty for the whole document
	Wrong string // what stands there
	Want  string // what would be right; may be empty
	Err   error  // one of the sentinels below, or the cause beneath it
}

// Error says place, key, fault and remedy in one line; where a part of it quotes a
// text of the record that is very long, without the middle of that.
func (e *Error) Error() string {
	s := e.At.String() + ": "
	if e.Key != "" {
		s += brief(e.Key) + ": "
	}
	s += brief(e.Wrong)
	if e.Want != "" {
		s += "; " + brief(e.Want)
	}
	return lineEnds.Replace(s)
}

// lineEnds keeps an error in one line where a name or a key has ends of lines.
var lineEnds = strings.NewReplacer("\n", `\n`, "\r", `\r`, "\u0085", `\u0085`, "\u2028", `\u2028`, "\u2029", `\u2029`)

// brief leaves out the middle of a long text.
func brief(s string) string {
	const most, end = 1000, 200 // bytes
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most-end], "") + " … " + strings.ToValidUTF8(s[len(s)-end:], "")
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// Causes of an Error. A quantity that does not parse has a *quantity.Error as
// its cause.
var (
	ErrSyntax      = errors.New("not well-formed")        // no YAML, JSON, CSV or UTF-8
	ErrUnknownKey  = errors.New("unknown key")            // a key or column that no record has
	ErrRepeatedKey = errors.New("repeated key")           // a key that stands twice in its mapping
	ErrMissingKey  = errors.New("missing key")            // a required key is not there, or has no value
	ErrVersion     = errors.New("unknown format version") // gainsay: is not 1
	ErrKind        = errors.New("wrong kind of value")    // as a list where a text should stand
	ErrValue       = errors.New("wrong value")            // a text that is none of those allowed, or makes no sense
	ErrLimit       = errors.New("over a limit")           // beyond MaxDocument, MaxDepth or the number of errors listed
)

// MaxErrors is how many errors of one document or table are listed; one more says
// that there are others. Where so much is wrong it is most often no record at all.
const MaxErrors = 100

// Errors is everything wrong in one document.
type Errors []*Error

// Listed is the list of at most MaxErrors, with one more where that leaves any out.
func (es Errors) Listed() Errors {
	if len(es) <= MaxErrors {
		return es
	}
	return append(es[:MaxErrors:MaxErrors], tooMany(es[MaxErrors].At))
}

func tooMany(at Place) *Error {
	return &Error{At: at, Wrong: fmt.Sprintf("more is wrong than the %d errors before this", MaxErrors),
		Want: "mend those first", Err: ErrLimit}
}

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
