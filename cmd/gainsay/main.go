// Command gainsay decodes what a USB-C cable's marker answers and holds it
// against what the seller claims and what the bench measured.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
