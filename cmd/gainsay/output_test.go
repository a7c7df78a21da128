package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/gainsay/claims/record"
)

// TestForms: every form gives a result, the same exit status, and nothing on
// stderr.
func TestForms(t *testing.T) {
	begins := map[string]string{"text": "", "json": `{"gainsay":1`, "csv": "cable,", "markdown": "#", "html": "<!DOCTYPE html>"}
	for _, command := range []string{"check", "shelf"} {
		for _, form := range forms {
			code, out, errs := gainsay(t, "", command, "--form", form, records)
			if code != exitGainsaid || errs != "" || !strings.HasPrefix(out, begins[form]) || !strings.Contains(out, "NF-014") && !strings.Contains(out, `NF\-014`) {
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
	if code != exitGainsaid || out != "" || errs != "" {
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
	if code, _, errs := gainsay(t, "", "schema", "x"); code != exitUndone || errs == "" {
		t.Errorf("with an argument: exit %d, %q", code, errs)
	}
}
