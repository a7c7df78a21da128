package publish

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/gainsay/claims"
)

// TestReportJSON: one line, fit for a terminal, and the same report when read again; what
// JSON does not have is refused.
func TestReportJSON(t *testing.T) {
	r := &claims.Report{Version: 1, Cable: "a\x1b[31m\u202e<&>\u2028", Findings: []claims.Finding{{Rule: "some-rule"}}}
	line, err := ReportJSON(r)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(line), "\n"); n != 1 || notShown(line, true) < len(line) || !strings.Contains(string(line), "<&>") {
		t.Errorf("%q", line)
	}
	var again claims.Report
	if err := json.Unmarshal(line, &again); err != nil || again.Cable != r.Cable {
		t.Errorf("%q, %v", again.Cable, err)
	}
	r.Bench = &claims.BenchReport{VBUS: &claims.Resistance{Ohm: math.NaN()}}
	var unsupported *json.UnsupportedValueError
	if _, err := ReportJSON(r); !errors.As(err, &unsupported) {
		t.Errorf("a number that is none: %v", err)
	}
}
