//go:build !unix

package main

import (
	"os"
	"syscall"
)

// interruptions end the program.
var interruptions = []os.Signal{os.Interrupt, syscall.SIGTERM}
