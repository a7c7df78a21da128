package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
)

// TestOutcomes holds the catalogue against testdata/outcomes.txt: what each rule
// states of itself, and what it says of each of its fixtures, word for word. A
// change of a rule shows there as a change of what people read.
func TestOutcomes(t *testing.T) {
	golden(t, "outcomes.txt", rulesAndFixtures(t))
}

// golden compares a text with a file under the repository's testdata, line by line.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s (-want +got); write it anew with -update where the change is meant:\n%s", name, diff)
	}
}

func rulesAndFixtures(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	for _, r := range catalogue {
		fmt.Fprintf(&b, "%s: %s on %s, of %v, needs %v", r.ID, r.Kind, r.Property, r.Between, r.Needs)
		if r.Settles {
			b.WriteString(", settles")
		}
		if r.Silent != nil {
			b.WriteString(", answers without a marker")
		}
		if w := r.Window.String(); w != "" {
			b.WriteString(", " + w)
		}
		b.WriteString("\n")
		if len(r.Under) > 0 {
			fmt.Fprintf(&b, "  under %s\n", strings.Join(r.Under, ", "))
		}
		for _, rec := range readFixtures(t, filepath.Join(fixtureFolder, r.ID+".yaml")) {
			c, err := newCase(rec, nil)
			if err != nil {
				t.Errorf("%s: %v", rec.At, err)
				continue
			}
			res := r.Ask(c)
			text := res.Why
			if res.Status == claims.Found {
				text = r.Sentence(res.Values) + " > " + r.NextText(&res)
			}
			if len(res.Missing) > 0 {
				text = strings.TrimSpace(fmt.Sprintf("%s %v", text, res.Missing))
			}
			fmt.Fprintf(&b, "  %s: %s\n", rec.Cable.Value, strings.TrimSpace(text))
		}
	}
	return b.String()
}
