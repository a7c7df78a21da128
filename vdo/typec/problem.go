package typec

import (
	"errors"
	"fmt"
	"io/fs"
)

// Causes of a Problem. An attribute that is not there has the cause
// fs.ErrNotExist; for most attributes that is no problem.
var (
	ErrNoClass      = errors.New("no USB Type-C class directory")
	ErrNoCable      = errors.New("no cable shown")
	ErrNoIdentity   = errors.New("no identity shown")
	ErrNoAnswer     = errors.New("identity all zero")
	ErrNotDirectory = errors.New("not a directory")
	ErrDangling     = errors.New("leads nowhere")
	ErrUnreadable   = errors.New("unreadable")
	ErrEmpty        = errors.New("empty")
	ErrTooLong      = errors.New("too long")
	ErrMalformed    = errors.New("malformed")
	ErrCount        = errors.New("modes missing or too many")
)

// Problem is something that could not be read, or that a reader would expect
// and that is not there.
type Problem struct {
	Path  string // within the file system that was read
	Token string // what the attribute holds, where that is what is wrong
	Wrong string
	Want  string // what would be right, or what to do
	Err   error  // one of the causes above, or fs.ErrNotExist
	Cause error  // the file system's own error, or nil
}

func (p *Problem) Error() string {
	s := ""
	if p.Path != "." { // the class directory itself
		s = p.Path + ": "
	}
	if p.Token != "" {
		s += fmt.Sprintf("%.60q: ", p.Token)
	}
	return s + p.Wrong + "; " + p.Want
}

// Unwrap gives the cause and the file system's own error.
func (p *Problem) Unwrap() []error {
	if p.Cause == nil {
		return []error{p.Err}
	}
	return []error{p.Err, p.Cause}
}

// unreadable words an error of the file system.
func unreadable(path string, cause error) *Problem {
	p := &Problem{Path: path, Err: ErrUnreadable, Cause: cause,
		Want: "read it again: the driver of the port, or the disk, refused"}
	if errors.Is(cause, fs.ErrPermission) {
		p.Want = "read it as a user who may, or look at its mode"
	}
	var pe *fs.PathError
	if errors.As(cause, &pe) {
		cause = pe.Err
	}
	p.Wrong = "cannot be read: " + cause.Error()
	return p
}
