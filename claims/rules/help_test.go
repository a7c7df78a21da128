package rules

import (
	"io/fs"
	"strings"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
)

// usual is shared by the tests, so that the hash of its rules is made once.
var usual = Checker()

func newCase(rec *record.Record, files fs.FS) (*claims.Case, error) { return usual.Case(rec, files) }

func recordOf(t testing.TB, sections string) *record.Record {
	t.Helper()
	for rec, err := range record.Read(strings.NewReader("gainsay: 1\ncable: test\n"+sections), "test.yaml") {
		if err != nil {
			t.Fatal(err)
		}
		return rec
	}
	t.Fatal("no record")
	return nil
}

func caseOf(t testing.TB, sections string) *claims.Case {
	t.Helper()
	c, err := newCase(recordOf(t, sections), nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
