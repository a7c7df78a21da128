package main

import (
	"os"
	"os/signal"
	"sync"
	"syscall"
)

// onInterrupt cleans up if the program is interrupted, which then ends it with
// the usual status, 128 and the signal's number. forget ends the watch.
func onInterrupt(clean func()) (forget func()) {
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, interruptions...)
	done := make(chan struct{})
	go func() {
		select {
		case s := <-signals:
			clean()
			code := 128
			if n, ok := s.(syscall.Signal); ok {
				code += int(n)
			}
			os.Exit(code)
		case <-done:
		}
	}()
	return sync.OnceFunc(func() {
		signal.Stop(signals)
		close(done)
	})
}
