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
