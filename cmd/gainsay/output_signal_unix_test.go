//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// Every signal that ends the program and can be caught leaves the file that was there and
// nothing beside it.
func TestEverySignalCleansUp(t *testing.T) {
	for _, s := range interruptions {
		folder := t.TempDir()
		name := filepath.Join(folder, "page.html")
		if err := os.WriteFile(name, []byte("old"), 0o666); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(os.Args[0], "check", "--form", "html", "-o", name, "-")
		cmd.Env = append(os.Environ(), "GAINSAY_AS_PROGRAM=1")
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		count := func() int {
			entries, _ := os.ReadDir(folder)
			return len(entries)
		}
		for deadline := time.Now().Add(20 * time.Second); count() < 2; time.Sleep(2 * time.Millisecond) {
			if time.Now().After(deadline) {
				t.Fatal("nothing is written aside")
			}
		}
		if err := cmd.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		err = cmd.Wait()
		in.Close()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != 128+int(s.(syscall.Signal)) {
			t.Errorf("%v: it ended with %v", s, err)
		}
		if b, _ := os.ReadFile(name); string(b) != "old" || count() != 1 {
			t.Errorf("%v: the file holds %q, and %d files are in the folder", s, b, count())
		}
	}
}

// A run that is killed leaves a file beside the one it writes, and the next takes it away.
func TestKilledRunIsTidied(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "page.html")
	cmd := exec.Command(os.Args[0], "check", "--form", "html", "-o", name, "-")
	cmd.Env = append(os.Environ(), "GAINSAY_AS_PROGRAM=1")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for deadline := time.Now().Add(20 * time.Second); ; time.Sleep(2 * time.Millisecond) {
		if entries, _ := os.ReadDir(folder); len(entries) > 0 {
			break
		}
		if time.Now().After(deadline) {
			t.Fatal("nothing is written aside")
		}
	}
	cmd.Process.Kill()
	cmd.Wait()
	if code, _, errs := gainsay(t, "gainsay: 1\ncable: a\n", "check", "--form", "html", "-o", name, "-"); code != exitDone {
		t.Errorf("exit %d, %q", code, errs)
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 1 {
		t.Errorf("left in the folder: %v", entries)
	}
}
