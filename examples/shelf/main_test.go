package main

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestCurrent: the files beside this program are what it writes.
func TestCurrent(t *testing.T) {
	batches := Batches(Seed)
	if len(batches) != 3 {
		t.Fatalf("%d batches", len(batches))
	}
	for name, want := range batches {
		got, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s is not what 'go run ./examples/shelf' writes (-want +got):\n%s", name, diff)
		}
	}
	if diff := cmp.Diff(batches, Batches(Seed)); diff != "" {
		t.Error("the same seed gives another shelf")
	}
	if cmp.Equal(batches, Batches(Seed+1)) {
		t.Error("another seed gives the same shelf")
	}
}
