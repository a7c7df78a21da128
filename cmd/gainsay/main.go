// Command gainsay decodes what a USB-C cable's marker answers and holds it
// against what the seller claims and what the bench measured.
package main

import (
	"os"
	"runtime/debug"
)

func main() {
	// Little is kept from one record to the next: collecting every 4 MB, as a small
	// heap asks for, would be a good part of a run over many. GOGC still decides.
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(800)
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
