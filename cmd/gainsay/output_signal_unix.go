//go:build unix

package main

import (
	"os"
	"os/signal"
	"syscall"
)

// interruptions end the program: the keyboard's, kill's, that of a terminal that
// is closed, and that of a pipe nobody reads.
var interruptions = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGPIPE}

// A file that would grow over the limit set for the program is an error of the
// write, as on a full disk, and not the program's end.
func init() { signal.Ignore(syscall.SIGXFSZ) }
