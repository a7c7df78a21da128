package main

import (
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestOrderOfFiles holds that the order in which files are named changes nothing
// but the order of what is printed: a shelf, which sorts, is the same to the
// letter, and check prints the same reports.
func TestOrderOfFiles(t *testing.T) {
	files, err := filepath.Glob("../../examples/records/*.yaml")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d example records (%v)", len(files), err)
	}
	runOn := func(files []string, args ...string) (int, string) {
		code, out, errs := gainsay(t, "", append(args, files...)...)
		if errs != "" {
			t.Errorf("stderr: %s", errs)
		}
		return code, out
	}
	sorted := func(lines string) []string { return slices.Sorted(strings.Lines(lines)) }
	rng := rand.New(rand.NewPCG(1, 1))
	code, shelf := runOn(files, "shelf")
	_, asJSON := runOn(files, "shelf", "--json")
	checkCode, reports := runOn(files, "check", "--json")
	for range 5 {
		other := slices.Clone(files)
		rng.Shuffle(len(other), func(i, j int) { other[i], other[j] = other[j], other[i] })
		gotCode, got := runOn(other, "shelf")
		if diff := cmp.Diff(shelf, got); diff != "" || gotCode != code {
			t.Errorf("shelf of %v: exit %d, want %d (-want +got):\n%s", other, gotCode, code, diff)
		}
		if _, got := runOn(other, "shelf", "--json"); got != asJSON {
			t.Errorf("shelf --json of %v differs:\n%s", other, cmp.Diff(asJSON, got))
		}
		gotCode, got = runOn(other, "check", "--json")
		if diff := cmp.Diff(sorted(reports), sorted(got)); diff != "" || gotCode != checkCode {
			t.Errorf("check of %v: exit %d, want %d (-want +got):\n%s", other, gotCode, checkCode, diff)
		}
	}
}
