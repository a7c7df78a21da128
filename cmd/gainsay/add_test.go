package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestAdd(t *testing.T) {
	const before = "# mine\ngainsay: 1\ncable: a # id\nbench:\n  date: 2025-10-05\n  vbus: 93 mohm # printed\n"
	const after = "# mine\ngainsay: 1\ncable: a # id\nbench:\n  - date: 2025-10-05\n    vbus: 93 mohm # printed\n" +
		"  - date: 2026-10-05\n    readings:\n      - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV}\n"
	file := filepath.Join(t.TempDir(), "a.yaml")
	read := func() string {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if err := os.WriteFile(file, []byte(before), 0o640); err != nil {
		t.Fatal(err)
	}
	args := []string{"add", "--date", "2026-10-05", "--reading", "1 A, vbus 93.1 mV, ground 44.9 mV"}
	for _, answer := range []string{"", "n\n", "yesterday\n", "\n"} {
		code, out, errs := gainsay(t, answer, append(args, file)...)
		if code != exitUndone || read() != before || !strings.Contains(errs, "? [y/N]") || !strings.Contains(errs, "nothing was written") {
			t.Errorf("%q: exit %d, stderr %q, file %q", answer, code, errs, read())
		}
		// Two lines move, the rest is new.
		const change = "    5 >   - date: 2025-10-05\n    6 >     vbus: 93 mohm # printed\n    7 +   - date: 2026-10-05\n" +
			"    8 +     readings:\n    9 +       - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV}\n"
		if diff := cmp.Diff(file+":\n"+change, out); diff != "" {
			t.Errorf("the change is shown otherwise (-want +got):\n%s", diff)
		}
	}
	if code, out, errs := gainsay(t, "y\n", append(args, "--show", file)...); code != exitDone || errs != "" || read() != before || out == "" {
		t.Errorf("--show: exit %d, stderr %q, file %q", code, errs, read())
	}
	code, _, errs := gainsay(t, "y\n", append(args, file)...)
	if code != exitDone || read() != after {
		t.Errorf("exit %d, stderr %q, file\n%s", code, errs, read())
	}
	if code, _, errs := gainsay(t, "", append(args, "--yes", file)...); code != exitDone || errs != "" || strings.Count(read(), "{current: 1 A") != 2 {
		t.Errorf("--yes: exit %d, stderr %q, file\n%s", code, errs, read())
	}
	info, err := os.Stat(file)
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the file's mode became %v", info.Mode())
	}
	if entries, _ := os.ReadDir(filepath.Dir(file)); len(entries) != 1 {
		t.Errorf("left in the folder: %v", entries)
	}
	code, out, _ := gainsay(t, "", "check", "--json", file)
	if code == exitUndone || !strings.Contains(out, `"vbus":{"ohm":0.0931`) {
		t.Errorf("the readings do not count: exit %d, %s", code, out)
	}
	link := filepath.Join(filepath.Dir(file), "link.yaml")
	if err := os.Symlink(file, link); err == nil {
		gainsay(t, "", append(args, "--yes", link)...)
		if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 || strings.Count(read(), "{current: 1 A") != 3 {
			t.Errorf("the link became a file: %v, %v", info.Mode(), err)
		}
	}
	for _, bad := range [][]string{{"add"}, {"add", "-"}, {"add", "--yes", file}, {"add", "--yes", "--date", "today", "--reading", "1 A, vbus 1 mV", file},
		{"add", "--yes", "--reading", "1 A, vbus 1 mV", filepath.Join(t.TempDir(), "none.yaml")}, {"add", "--yes", "--reading", "1 A", file}} {
		was := read()
		if code, _, errs := gainsay(t, "", bad...); code != exitUndone || errs == "" || read() != was {
			t.Errorf("%v: exit %d, %q", bad, code, errs)
		}
	}
}
