//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
)

// program is this program as a child.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), "GAINSAY_AS_PROGRAM=1")
	return cmd
}

// ends waits for a child, which is given up after a time that no machine needs.
func ends(t *testing.T, cmd *exec.Cmd) error {
	t.Helper()
	given := time.AfterFunc(2*time.Minute, func() { cmd.Process.Kill() })
	err := cmd.Wait()
	if !given.Stop() {
		t.Fatalf("%q does not end", cmd.Args[1:])
	}
	return err
}

// exit is the status a child ended with, or minus the signal that ended it.
func exit(err error) int {
	var ee *exec.ExitError
	switch {
	case err == nil:
		return 0
	case !errors.As(err, &ee):
		return -1000
	}
	if s, ok := ee.Sys().(syscall.WaitStatus); ok && s.Signaled() {
		return -int(s.Signal())
	}
	return ee.ExitCode()
}

// endless gives a text again and again.
type endless struct {
	text string
	at   int
}

func (e *endless) Read(b []byte) (int, error) {
	n := 0
	for n < len(b) {
		m := copy(b[n:], e.text[e.at:])
		e.at, n = (e.at+m)%len(e.text), n+m
	}
	return n, nil
}

const goodRecord = "gainsay: 1\ncable: good\n"

// TestHostileFolder: what is no file, in a folder of records, is said and costs
// nothing else; nothing waits for a pipe, follows a loop or leaves the folder.
func TestHostileFolder(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "records")
	path := func(name string) string { return filepath.Join(dir, name) }
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.MkdirAll(path("sub/deeper"), 0o777))
	must(os.Mkdir(path("folder.yaml"), 0o777))
	for _, name := range []string{"a.yaml", "folder.yaml/z.yaml", "sub/b.yaml", "sub/deeper/c.yaml"} {
		must(os.WriteFile(path(name), []byte(goodRecord), 0o666))
	}
	must(os.WriteFile(filepath.Join(top, "secret.txt"), []byte("secret"), 0o666))
	must(syscall.Mkfifo(path("pipe.yaml"), 0o666))
	must(syscall.Mkfifo(path("words.vcd"), 0o666))
	for name, to := range map[string]string{"itself.yaml": "itself.yaml", "two.yaml": "one.yaml", "one.yaml": "two.yaml", "nowhere.yaml": "gone",
		"up.yaml": "..", "sub/loop": "..", "zero.yaml": "/dev/zero", "out.txt": "../secret.txt", "zero.txt": "/dev/zero", "linked.yaml": "a.yaml"} {
		must(os.Symlink(to, path(name)))
	}
	// The name of a socket may be no longer than 100 bytes or so.
	if l, err := net.Listen("unix", path("s.yaml")); err == nil {
		defer l.Close()
	} else {
		t.Logf("no socket: %v", err)
	}
	for i, near := range []string{"words.vcd", "out.txt", "zero.txt", "itself.yaml", "sub.dir", "/etc/passwd.txt", "..\\x.txt"} {
		must(os.WriteFile(path(fmt.Sprintf("n%d.yaml", i)), []byte(goodRecord+"marker: {near: '"+near+"'}\n"), 0o666))
	}
	must(os.Mkdir(path("sub.dir"), 0o777))

	want := []string{"pipe.yaml: a pipe, not a file", "itself.yaml: too many levels", "one.yaml: too many levels", "two.yaml: too many levels", "nowhere.yaml: no such file",
		"up.yaml: a link to a folder", "zero.yaml: a device, not a file", "n0.yaml:3:17: marker.near: \"words.vcd\": not a file",
		"n1.yaml:3:17: marker.near: \"out.txt\": path escapes", "n2.yaml:3:17: marker.near: \"zero.txt\": path escapes", "n3.yaml:3:17: marker.near:",
		"n4.yaml:3:17: marker.near: \"sub.dir\": not a file", "n5.yaml:3:17: marker.near:", "n6.yaml:3:17: marker.near:"}
	for _, command := range [][]string{{"check", "--json"}, {"check", "--form", "html"}, {"shelf", "--json"}} {
		var out, errs bytes.Buffer
		cmd := program(t, append(command, dir)...)
		cmd.Stdout, cmd.Stderr = &out, &errs
		must(cmd.Start())
		if code := exit(ends(t, cmd)); code != exitUndone {
			t.Errorf("%v: exit %d", command, code)
		}
		for _, w := range want {
			if !strings.Contains(errs.String(), w) {
				t.Errorf("%v: stderr lacks %q", command, w)
			}
		}
		if strings.Contains(out.String()+errs.String(), "secret\"") {
			t.Errorf("%v: it read a file outside of the folder", command)
		}
		if n := strings.Count(out.String(), `{"gainsay":1,"cable":"good"`); command[len(command)-1] == "--json" && n != 5 {
			t.Errorf("%v: %d records, want 5\n%s", command, n, errs.String())
		}
	}
	// Named alone.
	for _, tt := range []struct {
		args []string
		want string
	}{
		{[]string{"check", path("itself.yaml")}, "too many levels"}, {[]string{"check", path("s.yaml")}, "not a file or folder"},
		{[]string{"decode", path("nowhere.yaml")}, "is no hex digit"}, // it is no file, so it is words
		{[]string{"ohms", path("up.yaml"), "--reading", "1 A, vbus 1 mV"}, ""},
		{[]string{"add", "--yes", "--reading", "1 A, vbus 1 mV", path("pipe.yaml")}, "a pipe, not a file"},
		{[]string{"add", "--yes", "--reading", "1 A, vbus 1 mV", path("zero.yaml")}, "a device, not a file"},
		{[]string{"add", "--yes", "--reading", "1 A, vbus 1 mV", dir}, "a folder, not a file"},
		{[]string{"add", "--yes", "--reading", "1 A, vbus 1 mV", path("itself.yaml")}, "too many"},
		{[]string{"ohms", path("zero.yaml")}, "longer than 16 MiB"},
		{[]string{"draft", "--near", path("zero.yaml")}, "longer than 64 MiB"},
		{[]string{"decode", "--as", "words", path("zero.yaml")}, "longer than 64 MiB"},
	} {
		var errs bytes.Buffer
		cmd := program(t, tt.args...)
		cmd.Stderr = &errs
		must(cmd.Start())
		if code := exit(ends(t, cmd)); code != exitUndone || !strings.Contains(errs.String(), tt.want) || errs.Len() > 10_000 {
			t.Errorf("%q: exit %d, %.300q", tt.args, code, errs.String())
		}
	}
}

// TestHostileTree: a tree of ports with a pipe, a device and a loop in place of its
// attributes is read as far as it goes.
func TestHostileTree(t *testing.T) {
	root := t.TempDir()
	class := filepath.Join(root, "sys/class/typec")
	if err := os.MkdirAll(filepath.Join(class, "port0-cable/identity"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{
		os.MkdirAll(filepath.Join(class, "port0"), 0o777),
		syscall.Mkfifo(filepath.Join(class, "port0-cable/identity/id_header"), 0o666),
		os.Symlink("/dev/zero", filepath.Join(class, "port0-cable/type")),
		os.Symlink("plug_type", filepath.Join(class, "port0-cable/plug_type")),
		os.Symlink("../port0", filepath.Join(class, "port0/port0-cable")),
		os.Symlink("port1", filepath.Join(class, "port1")),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	cmd := program(t, "ports", "--json", "--root", root)
	var out bytes.Buffer
	cmd.Stdout = &out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if err := ends(t, cmd); exit(err) < 0 || !strings.Contains(out.String(), "is no file") || !strings.Contains(out.String(), "port0") {
		t.Errorf("%v, %.500s", err, out.String())
	}
}

// TestUnreadable: a file or folder that may not be read is said, and costs nothing
// else. For root everything may be read, so as root the child is another user.
func TestUnreadable(t *testing.T) {
	top := t.TempDir()
	// The temporary folder is for its maker alone.
	for dir := top; dir != filepath.Clean(os.TempDir()) && dir != "/"; dir = filepath.Dir(dir) {
		if err := os.Chmod(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	exe := filepath.Join(top, "gainsay")
	self, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(exe, self, 0o755); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(top, "records")
	for _, d := range []string{"", "closed"} {
		if err := os.MkdirAll(filepath.Join(dir, d), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"a.yaml", "b.yaml", "c.yaml", "closed/d.yaml", "w.txt"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(goodRecord), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "c.yaml"), []byte(goodRecord+"marker: {near: w.txt}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"b.yaml", "closed", "w.txt"} {
		if err := os.Chmod(filepath.Join(dir, name), 0); err != nil {
			t.Fatal(err)
		}
	}
	defer os.Chmod(filepath.Join(dir, "closed"), 0o755) // to be removed
	for _, tt := range []struct {
		args    []string
		records int
		want    []string
	}{
		{[]string{"check", "--json", dir}, 1, []string{"b.yaml: permission denied", "closed: permission denied", `c.yaml:3:16: marker.near: "w.txt": permission denied`}},
		{[]string{"shelf", "--json", dir}, 1, []string{"b.yaml: permission denied", "closed: permission denied"}},
		{[]string{"check", "--json", "-o", filepath.Join(dir, "out.json"), filepath.Join(dir, "a.yaml")}, 0, []string{"out.json: permission denied"}},
		{[]string{"add", "--yes", "--reading", "1 A, vbus 1 mV", filepath.Join(dir, "a.yaml")}, 0, []string{"a.yaml: permission denied"}},
		{[]string{"add", "--yes", "--reading", "1 A, vbus 1 mV", filepath.Join(dir, "b.yaml")}, 0, []string{"b.yaml: permission denied"}},
		{[]string{"decode", filepath.Join(dir, "w.txt")}, 0, []string{"w.txt: permission denied"}},
		{[]string{"ohms", filepath.Join(dir, "w.txt")}, 0, []string{"w.txt: permission denied"}},
		{[]string{"draft", "--near", filepath.Join(dir, "w.txt")}, 0, []string{"w.txt: permission denied"}},
	} {
		cmd := program(t, tt.args...)
		cmd.Path = exe
		if os.Geteuid() == 0 {
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		} else if strings.HasPrefix(tt.args[0], "add") || tt.args[2] == "-o" {
			continue // the folder is this user's own
		}
		var out, errs bytes.Buffer
		cmd.Stdout, cmd.Stderr = &out, &errs
		if err := cmd.Start(); err != nil {
			t.Skipf("no child as another user here: %v", err)
		}
		code := exit(ends(t, cmd))
		if n := strings.Count(out.String(), `"cable":"good"`); code != exitUndone || n != tt.records {
			t.Errorf("%q: exit %d, %d records: %s", tt.args, code, n, errs.String())
		}
		for _, w := range tt.want {
			if !strings.Contains(errs.String(), w) {
				t.Errorf("%q: stderr lacks %q: %s", tt.args, w, errs.String())
			}
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// outputs are commands that write a result, with what they read from stdin. With
// an endless stdin they must see that nobody takes the result.
var outputs = []struct {
	args  []string
	stdin string
	ends  bool // stdin does
}{
	{[]string{"check", "--json", "-"}, `{"gainsay":1,"cable":"a"}` + "\n", false},
	{[]string{"check", "-"}, "gainsay: 1\ncable: a\n---\n", false},
	{[]string{"check", "--form", "csv", "-"}, "gainsay: 1\ncable: a\n---\n", false},
	{[]string{"check", "--form", "markdown", "-"}, "gainsay: 1\ncable: a\n---\n", false},
	{[]string{"check", "--form", "html", "-"}, "gainsay: 1\ncable: a\n---\n", false},
	{[]string{"decode", "--json", "-"}, "FF00A041 18602FA1 00000000 01020100 000A2643\n", false},
	{[]string{"decode", "--lines", "-"}, "FF00A041 18602FA1 00000000 01020100 000A2643\n", false},
	{[]string{"shelf", "--form", "html", "-"}, "gainsay: 1\ncable: a\n", true},
	{[]string{"shelf", "--json", "-"}, "gainsay: 1\ncable: a\n", true},
	{[]string{"layout"}, "", true}, {[]string{"rules"}, "", true}, {[]string{"draft"}, "", true}, {[]string{"schema"}, "", true}, {[]string{"manual"}, "", true},
	{[]string{"ohms", "--reading", "1 A, vbus 9 mV"}, "", true},
}

// TestFullDisk: a result that cannot be written is an error that says so, at once,
// whatever is still to be read.
func TestFullDisk(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skipf("no /dev/full on this system: %v", err)
	}
	defer full.Close()
	for _, tt := range outputs {
		cmd := program(t, tt.args...)
		var errs bytes.Buffer
		cmd.Stdout, cmd.Stderr = full, &errs
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		go func() {
			if tt.ends {
				io.WriteString(in, tt.stdin)
			} else {
				io.Copy(in, &endless{text: tt.stdin})
			}
			in.Close()
		}()
		if code := exit(ends(t, cmd)); code != exitUndone || !strings.Contains(errs.String(), "no space left") {
			t.Errorf("%q: exit %d, %.300q", tt.args, code, errs.String())
		}
	}
	// A device takes what -o gives, and stays a device. It is a device of the test's
	// own or, where that may not be made, one that may not be replaced either.
	device := filepath.Join(t.TempDir(), "full")
	const devFull = 1<<8 | 7
	if err := syscall.Mknod(device, syscall.S_IFCHR|0o666, devFull); err != nil {
		if os.Geteuid() == 0 {
			t.Skipf("no device can be made here: %v", err)
		}
		device = "/dev/full"
	}
	cmd := program(t, "check", "--json", "-o", device, "-")
	var errs bytes.Buffer
	cmd.Stdin, cmd.Stderr = &endless{text: "gainsay: 1\ncable: a\n---\n"}, &errs
	cmd.WaitDelay = time.Second
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if code := exit(ends(t, cmd)); code != exitUndone || !strings.Contains(errs.String(), "no space left") {
		t.Errorf("-o of a full device: exit %d, %.300q", code, errs.String())
	}
	if info, err := os.Lstat(device); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		t.Errorf("the device became %v, %v", info.Mode(), err)
	}
}

// TestFileTooLarge: a file that gets no room leaves what was there, and nothing
// beside it. The limit of the shell stands for a disk that fills up on the way.
func TestFileTooLarge(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "out")
	for _, args := range [][]string{{"check", "--form", "html", "-o", name, records}, {"shelf", "--form", "html", "-o", name, records},
		{"schema", "-o", name}, {"manual", "-o", name}} {
		if err := os.WriteFile(name, []byte("old"), 0o666); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command("sh", append([]string{"-c", `ulimit -f 4 && exec "$0" "$@"`, os.Args[0]}, args...)...)
		cmd.Env = append(os.Environ(), "GAINSAY_AS_PROGRAM=1")
		var errs bytes.Buffer
		cmd.Stderr = &errs
		if err := cmd.Start(); err != nil {
			t.Skipf("no shell: %v", err)
		}
		if code := exit(ends(t, cmd)); code != exitUndone || !strings.Contains(errs.String(), "file too large") {
			t.Errorf("%q: exit %d, %.300q", args, code, errs.String())
		}
		left, _ := os.ReadDir(dir)
		if b, _ := os.ReadFile(name); string(b) != "old" || len(left) != 1 {
			t.Errorf("%q: the file holds %.40q; in the folder: %v", args, b, left)
		}
	}
}

// TestLinkedOutput: of a link, the file it leads to is written, and a pipe takes
// the result.
func TestLinkedOutput(t *testing.T) {
	dir := t.TempDir()
	file, link, pipe := filepath.Join(dir, "file"), filepath.Join(dir, "link"), filepath.Join(dir, "pipe")
	if err := errors.Join(os.WriteFile(file, []byte("old"), 0o666), os.Symlink("file", link), syscall.Mkfifo(pipe, 0o666)); err != nil {
		t.Fatal(err)
	}
	_, want, _ := gainsay(t, "", "schema")
	if code, _, errs := gainsay(t, "", "schema", "-o", link); code != exitDone || errs != "" {
		t.Errorf("exit %d, %s", code, errs)
	}
	b, err := os.ReadFile(file)
	if info, lerr := os.Lstat(link); err != nil || lerr != nil || string(b) != want || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("%v, %v, the link is %v, the file holds %.40q", err, lerr, info.Mode(), b)
	}
	got := make(chan string)
	go func() {
		b, err := os.ReadFile(pipe)
		if err != nil {
			b = []byte(err.Error())
		}
		got <- string(b)
	}()
	if code, _, errs := gainsay(t, "", "schema", "-o", pipe); code != exitDone || errs != "" {
		t.Errorf("a pipe: exit %d, %s", code, errs)
	}
	if g := <-got; g != want {
		t.Errorf("the pipe got %.80q", g)
	}
}

// TestClosedPipe: where nobody reads the result any more, the program ends, by the
// signal that shells expect, and says nothing.
func TestClosedPipe(t *testing.T) {
	for _, tt := range outputs {
		if tt.ends {
			continue // it may be done before
		}
		cmd := program(t, tt.args...)
		var errs bytes.Buffer
		cmd.Stderr = &errs
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		go func() { io.Copy(in, &endless{text: tt.stdin}) }()
		if _, err := io.ReadFull(out, make([]byte, 10)); err != nil {
			t.Errorf("%q: %v", tt.args, err)
		}
		out.Close()
		if code := exit(ends(t, cmd)); code != -int(syscall.SIGPIPE) || errs.Len() > 0 {
			t.Errorf("%q: exit %d, %q", tt.args, code, errs.String())
		}
	}
}

// TestSignals: a signal while a file is written ends the program with the usual
// status, leaves the file that was there, and nothing beside it.
func TestSignals(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "page.html")
	if err := os.WriteFile(name, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGPIPE} {
		for _, args := range [][]string{{"check", "--form", "html"}, {"check", "--json"}, {"shelf", "--form", "csv"}} {
			cmd := program(t, append(args, "-o", name, "-")...)
			in, err := cmd.StdinPipe()
			if err != nil {
				t.Fatal(err)
			}
			var errs io.ReadCloser
			if s == syscall.SIGPIPE {
				if errs, err = cmd.StderrPipe(); err != nil {
					t.Fatal(err)
				}
			}
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			io.WriteString(in, "gainsay: 1\ncable: a\n---\n")
			for deadline := time.Now().Add(time.Minute); ; time.Sleep(2 * time.Millisecond) {
				if entries, _ := os.ReadDir(dir); len(entries) == 2 {
					break
				}
				if time.Now().After(deadline) {
					t.Fatal("nothing is written aside")
				}
			}
			if s == syscall.SIGPIPE { // it comes of an error that nobody reads
				errs.Close()
				io.WriteString(in, strings.Repeat("x: 1\n---\n", 1<<13)) // more than is looked at to tell YAML from JSON
			} else {
				cmd.Process.Signal(s)
			}
			if code := exit(ends(t, cmd)); code != 128+int(s) {
				t.Errorf("%v, %q: exit %d, want %d", s, args, code, 128+int(s))
			}
			entries, _ := os.ReadDir(dir)
			if b, _ := os.ReadFile(name); string(b) != "old" || len(entries) != 1 {
				t.Errorf("%v, %q: the file holds %.40q; in the folder: %v", s, args, b, entries)
			}
		}
	}
}

// TestHostileSizes: long inputs made for it take no more memory than short ones
// do. The bound is several times what they take, and far below their size.
func TestHostileSizes(t *testing.T) {
	if testing.Short() {
		t.Skip("long texts")
	}
	const size, most = 300 << 20, 256 << 20
	deep := strings.Repeat("[", 1<<16)
	for _, tt := range []struct {
		args  []string
		text  string
		size  int64
		wants string // in stderr
	}{
		{[]string{"check", "-"}, "\x00", size, "longer than 4 MiB"},
		{[]string{"check", "-"}, deep, size / 10, "longer than 4 MiB"},
		{[]string{"check", "-"}, "gainsay: 1\n", size / 10, "longer than 4 MiB"},
		{[]string{"check", "-"}, "---\n", size / 20, "no record was found"},
		{[]string{"check", "-"}, "{\"gainsay\":1," + deep, size / 10, "longer than 4 MiB"},
		{[]string{"check", "-"}, "{\"", size / 10, "longer than 4 MiB"},
		{[]string{"shelf", "-"}, "x: [\n---\n", 1 << 20, "not well-formed"},
		{[]string{"decode", "-"}, "\x00", size, "a line is longer than 1 MiB"},
		{[]string{"decode", "-"}, "\n", size / 10, "nothing here"},
		{[]string{"decode", "-"}, "FF00A041 \u202e\n", 4 << 20, "no hex digit"},
		{[]string{"decode", "--lines", "-"}, strings.Repeat("8f ", 1<<16), size / 10, "a line is longer than 1 MiB"},
		{[]string{"decode", "--capture", "-"}, "\x00", size / 10, "longer than"},
		{[]string{"decode", "--capture", "-"}, "$comment ", size / 30, "within"},
		{[]string{"ohms", "-"}, "\x00", size, "longer than 16 MiB"},
		{[]string{"ohms", "-"}, "\"", size / 10, "longer than 16 MiB"},
	} {
		cmd := program(t, tt.args...)
		var errs bytes.Buffer
		cmd.Stdin, cmd.Stderr = io.LimitReader(&endless{text: tt.text}, tt.size), &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		code := exit(ends(t, cmd))
		if code != exitUndone || !strings.Contains(errs.String(), tt.wants) {
			t.Errorf("%q of %.20q: exit %d, %.300q", tt.args, tt.text, code, errs.String())
		}
		// A child's peak begins at what this process has, which says nothing of the child
		// where that is more.
		if used, ok := maxRSS(cmd.ProcessState); ok && used > most && used > 2*ownPeak() {
			t.Errorf("%q of %.20q: %d MiB in use, at most %d wanted", tt.args, tt.text, used>>20, most>>20)
		}
	}
}

// ownPeak is the most memory this process had, in bytes.
func ownPeak() int64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return int64(u.Maxrss) << 10
}

// maxRSS is the most memory a child had, in bytes, where the system tells it in a
// unit known here.
func maxRSS(p *os.ProcessState) (int64, bool) {
	u, ok := p.SysUsage().(*syscall.Rusage)
	if !ok || runtime.GOOS != "linux" {
		return 0, false
	}
	return int64(u.Maxrss) << 10, true
}
