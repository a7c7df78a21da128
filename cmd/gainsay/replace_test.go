package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

var errFault = errors.New("no space left on device")

// faulty is a disk whose n-th call fails; with dead, every call behind it too, as in a
// program that was killed.
type faulty struct {
	osDisk
	n, calls int
	dead     bool
	short    bool // a write that fails has written half
}

func (d *faulty) fails() bool {
	d.calls++
	return d.calls == d.n || d.dead && d.n > 0 && d.calls > d.n
}

func (d *faulty) openFile(name string, flag int, perm fs.FileMode) (diskFile, error) {
	if d.fails() {
		return nil, errFault
	}
	f, err := d.osDisk.openFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return &faultyFile{f, d}, nil
}

func (d *faulty) stat(name string) (fs.FileInfo, error) {
	if d.fails() {
		return nil, errFault
	}
	return d.osDisk.stat(name)
}

func (d *faulty) rename(from, to string) error {
	if d.fails() {
		return errFault
	}
	return d.osDisk.rename(from, to)
}

func (d *faulty) remove(name string) error {
	if d.fails() {
		return errFault
	}
	return d.osDisk.remove(name)
}

func (d *faulty) syncFolder(name string) error {
	if d.fails() {
		return errFault
	}
	return d.osDisk.syncFolder(name)
}

type faultyFile struct {
	diskFile
	on *faulty
}

func (f *faultyFile) Write(b []byte) (int, error) {
	if f.on.fails() {
		n := 0
		if f.on.short {
			n, _ = f.diskFile.Write(b[:len(b)/2])
		}
		return n, errFault
	}
	return f.diskFile.Write(b)
}

func (f *faultyFile) Read(b []byte) (int, error) {
	if f.on.fails() {
		return 0, errFault
	}
	return f.diskFile.Read(b)
}

func (f *faultyFile) Stat() (fs.FileInfo, error) {
	if f.on.fails() {
		return nil, errFault
	}
	return f.diskFile.Stat()
}

func (f *faultyFile) Chmod(m fs.FileMode) error {
	if f.on.fails() {
		return errFault
	}
	return f.diskFile.Chmod(m)
}

func (f *faultyFile) Sync() error {
	if f.on.fails() {
		return errFault
	}
	return f.diskFile.Sync()
}

func (f *faultyFile) Close() error {
	err := f.diskFile.Close() // a program that ends closes its files
	if f.on.fails() {
		return errFault
	}
	return err
}

func (f *faultyFile) tryLock(created bool) (bool, error) {
	if f.on.fails() {
		return false, errFault
	}
	return f.diskFile.tryLock(created)
}

// Whichever call to the disk fails, alone or with all behind it, the file is the old one
// or the new one whole, an error has changed nothing, and the next run leaves the file
// alone in its folder.
func TestEditFails(t *testing.T) {
	for _, dead := range []bool{false, true} {
		n := 1
		for ; ; n++ {
			folder := t.TempDir()
			file := filepath.Join(folder, "a.yaml")
			if err := os.WriteFile(file, []byte("the old text"), 0o640); err != nil {
				t.Fatal(err)
			}
			d := &faulty{n: n, dead: dead, short: true}
			err := edit(d, file, 100, 0, func(before []byte) ([]byte, error) {
				return append(before, ", and more"...), nil
			})
			text, rerr := os.ReadFile(file)
			if rerr != nil {
				t.Fatal(rerr)
			}
			switch {
			case err != nil && string(text) != "the old text":
				t.Errorf("call %d fails (dead %v): error %v, and the file holds %q", n, dead, err, text)
			case err == nil && string(text) != "the old text, and more":
				t.Errorf("call %d fails (dead %v): no error, and the file holds %q", n, dead, text)
			case err != nil && !errors.Is(err, errFault):
				t.Errorf("call %d fails (dead %v): error %v does not name the cause", n, dead, err)
			}
			if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o640 {
				t.Errorf("call %d fails: mode %v, %v", n, info.Mode(), err)
			}
			if err := edit(osDisk{}, file, 100, 0, func([]byte) ([]byte, error) { return []byte("next"), nil }); err != nil {
				t.Errorf("call %d fails (dead %v): the next run: %v", n, dead, err)
			}
			if entries, _ := os.ReadDir(folder); len(entries) != 1 {
				t.Errorf("call %d fails (dead %v): left in the folder: %v", n, dead, entries)
			}
			if d.calls < n {
				break
			}
		}
		if n < 15 {
			t.Errorf("only %d calls were made to fail", n-1)
		}
	}
}

// A new file is made with the rights that the umask leaves, in the middle of failures as
// well.
func TestNewFileFails(t *testing.T) {
	for n := 1; ; n++ {
		folder := t.TempDir()
		file := filepath.Join(folder, strings.Repeat("n", 255))
		d := &faulty{n: n, short: true}
		err := func() error {
			a, err := newAside(d, file, 0)
			if err != nil {
				return err
			}
			defer a.drop()
			if _, err := a.Write([]byte("new")); err != nil {
				return err
			}
			return a.keep()
		}()
		text, rerr := os.ReadFile(file)
		if (err == nil) != (rerr == nil) || err == nil && string(text) != "new" {
			t.Errorf("call %d fails: %v; the file holds %q, %v", n, err, text, rerr)
		}
		if d.calls < n {
			break
		}
	}
}

func TestEditRefuses(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "a.yaml")
	write := func(text string) {
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	same := func(b []byte) ([]byte, error) { return append(b, '!'), nil }
	for name, c := range map[string]struct {
		before func()
		change func([]byte) ([]byte, error)
		want   error
	}{
		"changed by an editor": {func() {}, func(b []byte) ([]byte, error) { write("theirs"); return same(b) }, errChanged},
		"replaced by an editor": {func() {}, func(b []byte) ([]byte, error) {
			os.Remove(file)
			write("theirs")
			return same(b)
		}, errChanged},
		"read-only":     {func() { os.Chmod(file, 0o444) }, same, errReadOnly},
		"another name":  {func() { os.Link(file, filepath.Join(folder, "b.yaml")) }, same, errNames},
		"not there":     {func() { os.Remove(file) }, same, fs.ErrNotExist},
		"its own error": {func() {}, func([]byte) ([]byte, error) { return []byte("lost"), errFault }, errFault},
	} {
		t.Run(name, func(t *testing.T) {
			os.Remove(file)
			write("old")
			c.before()
			err := edit(osDisk{}, file, 100, 0, c.change)
			if !errors.Is(err, c.want) {
				t.Errorf("error %v, want %v", err, c.want)
			}
			if text, err := os.ReadFile(file); err == nil && strings.Contains(string(text), "!") || string(text) == "lost" {
				t.Errorf("the file holds %q", text)
			}
			os.Remove(filepath.Join(folder, "b.yaml"))
			if entries, _ := os.ReadDir(folder); len(entries) > 1 {
				t.Errorf("left in the folder: %v", entries)
			}
		})
	}
}

// A file that a run is writing is not written by another.
func TestEditBusy(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.yaml")
	if err := os.WriteFile(file, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	err := edit(osDisk{}, file, 100, 0, func(b []byte) ([]byte, error) {
		if err := edit(osDisk{}, file, 100, 20*time.Millisecond, func([]byte) ([]byte, error) { return []byte("second"), nil }); !errors.Is(err, errBusy) {
			t.Errorf("a second run: %v", err)
		}
		return []byte("first"), nil
	})
	if text, _ := os.ReadFile(file); err != nil || string(text) != "first" {
		t.Errorf("%v; the file holds %q", err, text)
	}
}

// Twenty runs at a time lose nothing of each other.
func TestAddInParallel(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.yaml")
	if err := os.WriteFile(file, []byte("\ufeffgainsay: 1\r\ncable: a # mine\r\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			cmd := exec.Command(os.Args[0], "add", "--yes", "--date", "2026-10-05", "--reading", fmt.Sprintf("1 A, loop %d mV", 100+i), file)
			cmd.Env = append(os.Environ(), "GAINSAY_AS_PROGRAM=1")
			if out, err := cmd.CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
	all.Wait()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 20 {
		if want := fmt.Sprintf("loop: %d mV", 100+i); strings.Count(string(text), want) != 1 {
			t.Errorf("%q is there %d times", want, strings.Count(string(text), want))
		}
	}
	if !strings.HasPrefix(string(text), "\ufeffgainsay: 1\r\ncable: a # mine\r\n") || strings.Count(string(text), "\n") != strings.Count(string(text), "\r\n") {
		t.Errorf("byte order mark or line ends changed: %q", text)
	}
	if entries, _ := os.ReadDir(filepath.Dir(file)); len(entries) != 1 {
		t.Errorf("left in the folder: %v", entries)
	}
}

// A run whose change cannot be shown changes nothing.
func TestAddCannotShow(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	defer full.Close()
	file := filepath.Join(t.TempDir(), "a.yaml")
	const before = "gainsay: 1\ncable: a\n"
	if err := os.WriteFile(file, []byte(before), 0o666); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0], "add", "--yes", "--reading", "1 A, loop 100 mV", file)
	cmd.Env, cmd.Stdout = append(os.Environ(), "GAINSAY_AS_PROGRAM=1"), full
	err = cmd.Run()
	var exit *exec.ExitError
	if text, _ := os.ReadFile(file); !errors.As(err, &exit) || exit.ExitCode() != exitUndone || string(text) != before {
		t.Errorf("%v; the file holds %q", err, text)
	}
}

// An output is none of the inputs, by whatever name, and an open descriptor is written
// to, not replaced.
func TestOutputIsNoInput(t *testing.T) {
	const rec = "gainsay: 1\ncable: a\n"
	for name, c := range map[string]func(folder, file string) (args []string, stdin string){
		"its own name": func(_, file string) ([]string, string) { return []string{"-o", file, file}, "" },
		"in a folder":  func(folder, file string) ([]string, string) { return []string{"-o", file, folder}, "" },
		"a link":       func(folder, file string) ([]string, string) { return []string{"-o", link(t, folder, file), file}, "" },
		"a hard link": func(folder, file string) ([]string, string) {
			return []string{"-o", hardLink(t, folder, file), file}, ""
		},
		"on stdin": func(_, file string) ([]string, string) { return []string{"-o", file, "-"}, file },
		"a longer path": func(folder, file string) ([]string, string) {
			return []string{"-o", folder + "/../" + filepath.Base(folder) + "/a.yaml", file}, ""
		},
		"a dangling link": func(folder, file string) ([]string, string) {
			os.Symlink(filepath.Join(folder, "none"), filepath.Join(folder, "out"))
			return []string{"-o", filepath.Join(folder, "out"), file}, ""
		},
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			file := filepath.Join(folder, "a.yaml")
			if err := os.WriteFile(file, []byte(rec), 0o666); err != nil {
				t.Fatal(err)
			}
			args, stdin := c(folder, file)
			before, _ := os.ReadDir(folder)
			cmd := exec.Command(os.Args[0], append([]string{"check"}, args...)...)
			cmd.Env = append(os.Environ(), "GAINSAY_AS_PROGRAM=1")
			if stdin != "" {
				f, err := os.Open(stdin)
				if err != nil {
					t.Fatal(err)
				}
				defer f.Close()
				cmd.Stdin = f
			}
			out, err := cmd.CombinedOutput()
			var exit *exec.ExitError
			text, _ := os.ReadFile(file)
			after, _ := os.ReadDir(folder)
			if !errors.As(err, &exit) || exit.ExitCode() != exitUndone || string(text) != rec || len(after) != len(before) {
				t.Errorf("%v, %s; the file holds %q; in the folder: %v", err, out, text, after)
			}
		})
	}
	for _, name := range []string{"/dev/stdout", "/dev/fd/1", "/proc/self/fd/1", "/dev/fd/3"} {
		if _, err := os.Stat(filepath.Dir(name)); err != nil {
			continue
		}
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			file, to := filepath.Join(folder, "a.yaml"), filepath.Join(folder, "out")
			if err := os.WriteFile(file, []byte(rec), 0o666); err != nil {
				t.Fatal(err)
			}
			f, err := os.Create(to)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			fmt.Fprintln(f, "before")
			was, _ := f.Stat()
			cmd := exec.Command(os.Args[0], "check", "--json", "-o", name, file)
			cmd.Env, cmd.Stdout, cmd.ExtraFiles = append(os.Environ(), "GAINSAY_AS_PROGRAM=1"), f, []*os.File{f}
			if err := cmd.Run(); err != nil {
				t.Fatal(err)
			}
			text, _ := os.ReadFile(to)
			now, _ := os.Stat(to)
			if !os.SameFile(was, now) || !strings.HasPrefix(string(text), "before\n{") {
				t.Errorf("replaced or written over: %q", text)
			}
		})
	}
}

func link(t *testing.T, folder, file string) string {
	t.Helper()
	name := filepath.Join(folder, "link")
	if err := os.Symlink(file, name); err != nil {
		t.Skip(err)
	}
	return name
}

func hardLink(t *testing.T, folder, file string) string {
	t.Helper()
	name := filepath.Join(folder, "hard")
	if err := os.Link(file, name); err != nil {
		t.Skip(err)
	}
	return name
}
