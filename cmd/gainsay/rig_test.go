package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestRigs: a rig is found beside the record and above it, only where it is named, and a
// run over a folder passes it by.
func TestRigs(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const table = "current/A,vbus/mV,ground/mV,flip,mating\n1.000,93.1,44.9,up,1\n1.000,93.4,45.0,up,2\n1.000,93.2,44.8,down,1\n"
	write("a.rig.yaml", "gainsay-rig: 1\nvoltmeter: 0.1 %\nammeter: 0.1 %\nnull: {current: 1.000 A, vbus: 1.2 mV, ground: 0.9 mV}\n")
	write("r/x.csv", table)
	write("1/2/3/4/5/6/7/8/x.csv", table)
	write("1/2/3/4/5/6/7/8/9/x.csv", table)
	const rec = "gainsay: 1\ncable: NF-1\nrig: a.rig.yaml\nbench: {readings: x.csv}\n"
	near, far, tooFar := write("r/x.yaml", rec), write("1/2/3/4/5/6/7/8/x.yaml", rec), write("1/2/3/4/5/6/7/8/9/x.yaml", rec)
	for _, path := range []string{near, far} {
		if code, out, errs := gainsay(t, "", "check", path); code != 0 || !strings.Contains(out, "VBUS 92.1") || strings.Contains(out, "assumed") {
			t.Errorf("%s: exit %d\n%s%s", path, code, out, errs)
		}
	}
	if code, _, errs := gainsay(t, "", "check", tooFar); code != 2 || !strings.Contains(errs, `x.yaml:3:6: rig: "a.rig.yaml" is neither beside the record nor in the 8 folders above`) {
		t.Errorf("exit %d\n%s", code, errs)
	}
	if code, _, errs := gainsay(t, rec, "check", "-"); code != 2 || !strings.Contains(errs, "stdin has no folder") {
		t.Errorf("stdin: exit %d\n%s", code, errs)
	}
	if code, out, errs := gainsay(t, "", "check", filepath.Join(dir, "r")); code != 0 {
		t.Errorf("folder: exit %d\n%s%s", code, out, errs)
	}
	if code, out, errs := gainsay(t, "", "shelf", dir+"/r"); code != 0 || !strings.Contains(out, "NF-1") {
		t.Errorf("shelf: exit %d\n%s%s", code, out, errs)
	}
	write("r/x.csv", "current/A,vbus/mV\n1,zz\n")
	if code, _, errs := gainsay(t, "", "check", near); code != 2 || !strings.Contains(errs, "x.csv:2:3") {
		t.Errorf("bad table: exit %d\n%s", code, errs)
	}
	if err := os.Remove(filepath.Join(dir, "r", "x.csv")); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := gainsay(t, "", "check", near); code != 2 || !strings.Contains(errs, "bench.readings: x.csv: ") {
		t.Errorf("no table: exit %d\n%s", code, errs)
	}
	write("a.rig.yaml", "gainsay-rig: 1\nvolts: 1\n")
	if code, _, errs := gainsay(t, "", "check", near); code != 2 || !strings.Contains(errs, "a.rig.yaml:2:1: volts: no such key") {
		t.Errorf("bad rig: exit %d\n%s", code, errs)
	}
}

// TestNearestRig: draft and add name the nearest rig; add only where no session is on
// record that the rig would judge too. Several rigs in a folder are left to the user.
func TestNearestRig(t *testing.T) {
	dir := t.TempDir()
	cable := filepath.Join(dir, "a", "b", "x.yaml")
	if err := os.MkdirAll(filepath.Dir(cable), 0o777); err != nil {
		t.Fatal(err)
	}
	write := func(path, text string) {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	const rig = "gainsay-rig: 1\nvoltmeter: 0.1 %\nammeter: 0.1 %\n"
	write(filepath.Join(dir, "bench-a.rig.yaml"), rig)
	add := func() string {
		code, _, errs := gainsay(t, "", "add", "--yes", "--date", "2026-10-05", "--reading", "1 A, vbus 93.1 mV, ground 44.9 mV", cable)
		text, err := os.ReadFile(cable)
		if err != nil || code != exitDone {
			t.Errorf("exit %d, %v", code, err)
		}
		return string(text) + errs
	}
	const bare = "gainsay: 1\ncable: a\n"
	const session = "bench:\n  date: 2026-10-05\n  readings:\n    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV}\n"
	for before, after := range map[string]string{
		bare:                         bare + "rig: bench-a.rig.yaml\n" + session,
		bare + "bench:\n":            bare + "rig: bench-a.rig.yaml\n" + session,
		bare + "rig: old.rig.yaml\n": bare + "rig: old.rig.yaml\n" + session,
		bare + session:               bare + session + "    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV}\n",
	} {
		write(cable, before)
		if got := add(); got != after {
			t.Errorf("%q became\n%s", before, got)
		}
	}
	t.Chdir(filepath.Dir(cable))
	if _, out, errs := gainsay(t, "", "draft", "NF-1"); !strings.Contains(out, "\nrig: bench-a.rig.yaml\n") || errs != "" {
		t.Errorf("draft: %s%s", out, errs)
	}
	if _, out, _ := gainsay(t, "", "draft", "--json", "NF-1"); !strings.Contains(out, `"rig":"bench-a.rig.yaml"`) {
		t.Errorf("draft --json: %s", out)
	}
	write(filepath.Join(dir, "a", "b.rig.yaml"), rig)
	write(filepath.Join(dir, "a", "c.rig.yaml"), rig)
	if code, out, errs := gainsay(t, "", "draft", "NF-1"); code != exitDone || strings.Contains(out, "\nrig:") || !strings.Contains(errs, "2 rigs in ") {
		t.Errorf("several: exit %d %s%s", code, out, errs)
	}
	write(cable, bare)
	if got := add(); strings.Contains(got, "\nrig:") || !strings.Contains(got, "b.rig.yaml, c.rig.yaml") {
		t.Errorf("several: %s", got)
	}
}

// TestAddNamesSlips: a reading 1000 times off what a cable has, an earlier session or the
// other readings is named on stderr, once, when it is added.
func TestAddNamesSlips(t *testing.T) {
	const session = "gainsay: 1\ncable: a\nbench:\n  date: 2026-10-04\n  readings:\n    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV}\n"
	for name, c := range map[string]struct{ before, date, reading, want string }{
		"contacts":     {"gainsay: 1\ncable: a\n", "2026-10-05", "1 A, vbus 93.1 µV, ground 44.9 µV", "less than the contacts alone have"},
		"earlier":      {session, "2026-10-05", "1 A, vbus 93.1 V, ground 44.9 V", "likely Ω for mΩ, or V for mV"},
		"same session": {session, "2026-10-04", "1 A, vbus 93.1 µV, ground 44.9 µV", "reading 2 gives 0.0931 mΩ, the others about 93.1 mΩ; likely µV for mV"},
		"none":         {session, "2026-10-05", "1 A, vbus 95 mV, ground 46 mV", ""},
	} {
		file := filepath.Join(t.TempDir(), "a.yaml")
		if err := os.WriteFile(file, []byte(c.before), 0o666); err != nil {
			t.Fatal(err)
		}
		add := func(reading string) string {
			code, _, errs := gainsay(t, "", "add", "--yes", "--date", c.date, "--reading", reading, file)
			if code != exitDone {
				t.Errorf("%s: exit %d", name, code)
			}
			return errs
		}
		if errs := add(c.reading); (errs == "") != (c.want == "") || !strings.Contains(errs, c.want) {
			t.Errorf("%s: %q", name, errs)
		}
	}
}
