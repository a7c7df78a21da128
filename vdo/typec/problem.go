package typec

import (
	"errors"
	"fmt"
	"io/fs"
)

// Causes of a Problem. An attribute that is not there has the cause
// fs.ErrNotExist; for most attributes that is no problem.
var (
	ErrNoClass      = errors.New("no USB Type-C class directory") // the kernel has no such class, or it is not Linux's
	ErrNoCable      = errors.New("no cable shown")                // nothing is plugged in, or the driver did not ask
	ErrNoIdentity   = errors.New("no identity shown")             // a cable without its marker's answer
	ErrNoAnswer     = errors.New("identity all zero")             // the driver wrote zeros: nothing answered
	ErrNotDirectory = errors.New("not a directory")               // a file stands where a directory should
	ErrDangling     = errors.New("leads nowhere")                 // a link whose target is gone
	ErrUnreadable   = errors.New("unreadable")                    // the file system refused
	ErrEmpty        = errors.New("empty")                         // an attribute without text
	ErrTooLong      = errors.New("too long")                      // an attribute longer than a line of text
	ErrMalformed    = errors.New("malformed")                     // a text that is no such number, or no line
	ErrCount        = errors.New("modes missing or too many")     // number_of_alternate_modes is not the number of modes shown
)

// Problem is something that could not be read, or that a reader would expect
// and that is not there.
type Problem struct {
	Path  string // within the file system that was read
	Token string // what the attribute holds, where that is what is wrong
	Wrong string // what is wrong
	Want  string // what would be right, or what to do
	Err   error  // one of the causes above, or fs.ErrNotExist
	Cause error  // the file system's own error, or nil
}

// Error says path, token, fault and remedy in one line.
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
