package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/gainsay/claims/record"
)

// TestForms: every form gives a result, the same exit status, and nothing on
// stderr.
func TestForms(t *testing.T) {
	begins := map[string]string{"text": "", "json": `{"gainsay":1`, "csv": "cable,", "markdown": "#", "html": "<!DOCTYPE html>"}
	for _, command := range []string{"check", "shelf"} {
		for _, form := range forms {
			code, out, errs := gainsay(t, "", command, "--form", form, records)
			if code != exitContradicted || errs != "" || !strings.HasPrefix(out, begins[form]) || !strings.Contains(out, "NF-014") && !strings.Contains(out, `NF\-014`) {
				t.Errorf("%s --form %s: exit %d, stderr %q, %.80q", command, form, code, errs, out)
			}
		}
		for _, bad := range [][]string{{"--form", "poem"}, {"--json", "--form", "csv"}} {
			if code, out, errs := gainsay(t, "", append(append([]string{command}, bad...), records)...); code != exitUndone || out != "" || errs == "" {
				t.Errorf("%s %v: exit %d, %.40q, %q", command, bad, code, out, errs)
			}
		}
		a, asJSON, _ := gainsay(t, "", command, "--json", records)
		b, form, _ := gainsay(t, "", command, "--form", "json", records)
		if a != b || asJSON != form {
			t.Errorf("%s: --json and --form json differ", command)
		}
	}
	if code, _, errs := gainsay(t, "", "shelf", "--carry", "60 W", "--form", "html", records); code != exitUndone || !strings.Contains(errs, "text or JSON") {
		t.Errorf("a load as a page: exit %d, %q", code, errs)
	}
}

// TestOutputFile: a file is whole or not there, and nothing is left beside it.
func TestOutputFile(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "page.html")
	code, out, errs := gainsay(t, "", "check", "--form", "html", "-o", name, records)
	if code != exitContradicted || out != "" || errs != "" {
		t.Errorf("exit %d, stdout %.40q, stderr %q", code, out, errs)
	}
	_, want, _ := gainsay(t, "", "check", "--form", "html", records)
	read := func() string {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if read() != want {
		t.Error("the file differs from what goes to stdout")
	}
	if err := os.Chmod(name, 0o640); err != nil {
		t.Fatal(err)
	}
	// One bad record among good ones: the rest is a result.
	code, _, _ = gainsay(t, "gainsay: 1\ncable: a\n---\ngainsay: 2\ncable: b\n", "shelf", "-o", name, "-")
	if code != exitUndone || !strings.HasPrefix(read(), "Cable") {
		t.Errorf("exit %d, %.40q", code, read())
	}
	if info, _ := os.Stat(name); info.Mode().Perm() != 0o640 {
		t.Errorf("the file's mode became %v", info.Mode())
	}
	// No record at all: the file that is there stays.
	code, _, errs = gainsay(t, "", "shelf", "-o", name, "-")
	if code != exitUndone || errs == "" || !strings.HasPrefix(read(), "Cable") {
		t.Errorf("exit %d, stderr %q, %.40q", code, errs, read())
	}
	left, err := os.ReadDir(folder)
	if err != nil || len(left) != 1 {
		t.Errorf("left in the folder: %v, %v", left, err)
	}
	for _, bad := range []string{folder, filepath.Join(folder, "none", "x")} {
		if code, _, errs := gainsay(t, "", "check", "-o", bad, records); code != exitUndone || errs == "" {
			t.Errorf("-o %s: exit %d, stderr %q", bad, code, errs)
		}
	}
}

func TestSchemaCommand(t *testing.T) {
	code, out, errs := gainsay(t, "", "schema")
	if code != exitDone || errs != "" || out != string(record.Schema()) {
		t.Errorf("exit %d, stderr %q, %.80q", code, errs, out)
	}
	for _, name := range schemaNames() {
		code, out, errs := gainsay(t, "", "schema", name)
		var s struct {
			ID string `json:"$id"`
		}
		err := json.Unmarshal([]byte(out), &s)
		if want := "urn:gainsay:" + name + ":1"; code != exitDone || errs != "" || err != nil || s.ID != want {
			t.Errorf("schema %s: exit %d, stderr %q, %v, id %q, want %q", name, code, errs, err, s.ID, want)
		}
	}
	for _, bad := range [][]string{{"schema", "x"}, {"schema", ""}, {"schema", "../schema"}, {"schema", "report", "shelf"}} {
		if code, out, errs := gainsay(t, "", bad...); code != exitUndone || out != "" || !strings.Contains(errs, "record, report, decode, shelf") {
			t.Errorf("%q: exit %d, stdout %q, stderr %q", bad, code, out, errs)
		}
	}
}

// TestMain lets the test binary be gainsay itself, for tests of signals.
func TestMain(m *testing.M) {
	if os.Getenv("GAINSAY_AS_PROGRAM") == "1" {
		main()
	}
	os.Exit(m.Run())
}

// TestInterrupted: work cut short leaves the file that was there, and nothing
// beside it.
func TestInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("signals are sent otherwise")
	}
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
	if _, err := in.Write([]byte("gainsay: 1\ncable: a\n---\n")); err != nil {
		t.Fatal(err)
	}
	list := func() []os.DirEntry {
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		return entries
	}
	for deadline := time.Now().Add(20 * time.Second); len(list()) < 2; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("nothing is written aside")
		}
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	err = cmd.Wait()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 130 {
		t.Errorf("it ended with %v, want 130", err)
	}
	if b, _ := os.ReadFile(name); string(b) != "old" || len(list()) != 1 {
		t.Errorf("the file holds %q; in the folder: %v", b, list())
	}
}

// TestProgress: on a terminal, after a second, and gone at the end.
func TestProgress(t *testing.T) {
	var out bytes.Buffer
	at := time.Unix(0, 0)
	p := &progress{w: &out, what: "records", now: func() time.Time { return at }, next: at.Add(progressAfter)}
	for range 32 {
		p.step()
	}
	if out.Len() > 0 {
		t.Errorf("in the first second: %q", out.String())
	}
	at = at.Add(2 * progressAfter)
	for range 64 {
		p.step()
	}
	if got := out.String(); got != "\r48 records" {
		t.Errorf("then: %q", got)
	}
	p.clear()
	p.clear()
	if got := out.String(); got != "\r48 records\r\x1b[K" {
		t.Errorf("at the end: %q", got)
	}
	e := &env{err: &out}
	if p := e.progress("records", false); p.w != nil {
		t.Error("progress where stderr is no terminal")
	}
}
