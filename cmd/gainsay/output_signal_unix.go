//go:build unix

package main

import (
	"os"
	"os/signal"
	"runtime"
	"syscall"
)

// interruptions end the program: all signals that do where nobody catches them, but
// SIGKILL, which nobody can, those of faults in the program itself, and SIGPROF, which Go
// needs.
var interruptions = endingSignals()

func endingSignals() []os.Signal {
	out := []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGPIPE, syscall.SIGQUIT, syscall.SIGABRT,
		syscall.SIGUSR1, syscall.SIGUSR2, syscall.SIGALRM, syscall.SIGVTALRM, syscall.SIGXCPU}
	if runtime.GOOS == "linux" {
		const (
			sigSTKFLT, sigIO, sigPWR = 16, 29, 30 // of most architectures (signal(7))
			firstRealTime, last      = 35, 64     // C libraries keep 32 to 34 for themselves
		)
		switch runtime.GOARCH {
		case "386", "amd64", "arm", "arm64", "riscv64", "loong64", "ppc64", "ppc64le", "s390x":
			out = append(out, syscall.Signal(sigSTKFLT), syscall.Signal(sigIO), syscall.Signal(sigPWR))
		}
		for n := firstRealTime; n <= last; n++ {
			out = append(out, syscall.Signal(n))
		}
	}
	return out
}

// A file that would grow over the limit set for the program is an error of the
// write, as on a full disk, and not the program's end.
func init() { signal.Ignore(syscall.SIGXFSZ) }
