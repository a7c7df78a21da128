package publish

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
)

// A text that is cut keeps both its ends, counts the rest, and is not cut again.
func TestShortened(t *testing.T) {
	for _, s := range []string{"", "short", strings.Repeat("x", mostShown), strings.Repeat("é", mostShown/2)} {
		if got := shortened(s); got != s {
			t.Errorf("%d bytes are cut to %d", len(s), len(got))
		}
	}
	for _, s := range []string{"begin" + strings.Repeat("x", mostShown) + "end", "begin" + strings.Repeat("€", 1_000_000) + "end"} {
		got := shortened(s)
		if len(got) > mostShown || !utf8.ValidString(got) || !strings.HasPrefix(got, "begin") || !strings.HasSuffix(got, "end") ||
			!strings.Contains(got, "more bytes") || shortened(got) != got {
			t.Errorf("%d bytes are cut to %d: %.40q … %.10q", len(s), len(got), got, got[len(got)-10:])
		}
	}
}

// A report within the bounds is printed as it is. One beyond them is copied, not
// changed, and says how much is left out.
func TestBounded(t *testing.T) {
	small := &claims.Report{Cable: "a", Remarks: make([]string, mostListed)}
	if bounded(small) != small {
		t.Error("a small report is copied")
	}
	large := &claims.Report{Cable: strings.Repeat("x", 10_000), Remarks: make([]string, mostListed+7),
		Findings: make([]claims.Finding, mostListed+3), Bench: &claims.BenchReport{Wires: make([]string, mostListed+1)}}
	got := bounded(large)
	if len(large.Cable) != 10_000 || len(large.Findings) != mostListed+3 || len(large.Bench.Wires) != mostListed+1 {
		t.Error("the caller's report is changed")
	}
	want := []string{"and 7 more lines; --json has them all", "and 3 more findings; --json has them all"}
	if diff := cmp.Diff(want, got.Remarks[mostListed:]); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if len(got.Findings) != mostListed || len(got.Bench.Wires) != mostListed+1 || len(got.Cable) > mostShown {
		t.Errorf("%d findings, %d wires, an id of %d bytes", len(got.Findings), len(got.Bench.Wires), len(got.Cable))
	}
}
