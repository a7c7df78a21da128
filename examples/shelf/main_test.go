package main

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestCurrent: the files beside this program are what it writes.
func TestCurrent(t *testing.T) {
	shelf := batches(standing)
	if len(shelf) != 3 {
		t.Fatalf("%d batches", len(shelf))
	}
	for name, want := range shelf {
		got, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s is not what 'go run ./examples/shelf' writes (-want +got):\n%s", name, diff)
		}
	}
	if diff := cmp.Diff(shelf, batches(standing)); diff != "" {
		t.Error("the same seed gives another shelf")
	}
	if cmp.Equal(shelf, batches(standing+1)) {
		t.Error("another seed gives the same shelf")
	}
}
