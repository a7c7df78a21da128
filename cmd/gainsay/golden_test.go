package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// gainsay runs a command line and gives its exit code and what it printed.
func gainsay(t *testing.T, stdin string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// golden compares a text with a file under the repository's testdata.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run the test with -update to write it)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", name, diff)
	}
}

// indented spreads JSON over lines, so that a difference can be read.
func indented(t *testing.T, line string) string {
	t.Helper()
	var b bytes.Buffer
	if err := json.Indent(&b, []byte(line), "", " "); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// rulesHash changes with every word of a rule, and stands in no golden file.
var rulesHash = regexp.MustCompile(`"rules":"[0-9a-f]{16}"`)

// TestReports holds the report of every example record, as text and as JSON,
// against a file that was checked by hand.
func TestReports(t *testing.T) {
	records, err := filepath.Glob("../../examples/records/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if len(records) < 8 {
		t.Fatalf("%d example records, want at least 8", len(records))
	}
	for _, path := range records {
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		t.Run(name, func(t *testing.T) {
			code, text, errs := gainsay(t, "", "check", path)
			if errs != "" {
				t.Errorf("stderr: %s", errs)
			}
			golden(t, "reports/"+name+".txt", text)
			// A cable without findings has 12 lines at most, the worst example 32; the
			// cautions that close a run are apart.
			body, _, _ := strings.Cut(text, "\n\nNot tested:")
			most := 32
			if !strings.Contains(body, "Next:") {
				most = 12
			}
			if n := strings.Count(body, "\n") + 1; n > most {
				t.Errorf("%d lines, at most %d", n, most)
			}
			_, full, _ := gainsay(t, "", "check", "--full", path)
			golden(t, "reports/"+name+".full.txt", full)
			text += full
			jsonCode, line, errs := gainsay(t, "", "check", "--json", path)
			if errs != "" {
				t.Errorf("stderr: %s", errs)
			}
			golden(t, "reports/"+name+".json", indented(t, rulesHash.ReplaceAllString(line, `"rules":"(hash of the rules)"`)))
			if code != jsonCode {
				t.Errorf("exit %d as text, %d as JSON", code, jsonCode)
			}
			for n, line := range strings.Split(text, "\n") {
				if cols := len([]rune(line)); cols > 80 {
					t.Errorf("line %d has %d columns: %s", n+1, cols, line)
				}
			}
		})
	}
	for _, kind := range []string{"full.txt", "json"} {
		files, _ := filepath.Glob("../../testdata/reports/*." + kind)
		if len(files) != len(records) {
			t.Errorf("%d golden .%s reports for %d records", len(files), kind, len(records))
		}
	}
}

// TestBrief holds the lines of many cables in their columns.
func TestBrief(t *testing.T) {
	_, text, errs := gainsay(t, "", "check", "--brief", "../../examples/records")
	if errs != "" {
		t.Errorf("stderr: %s", errs)
	}
	golden(t, "reports/brief.txt", text)
}

// TestVerdicts states, for every example, what hand calculation gives: the
// rating, its limiting witnesses, whether it is settled, and each claim's end.
// Resistances: (drop − null × current) / current; limits 100/50 mΩ at 5 A and
// 166.7/83.3 mΩ at 3 A (USB Type-C §4.4.1).
func TestVerdicts(t *testing.T) {
	type verdict struct {
		Power   int
		Limited string
		Settled bool
		Claims  string
		Exit    int
	}
	tests := map[string]verdict{
		// 78.2 and 37.4 mΩ: within at 5 A; marker 5 A, 20 V.
		"all-agree-100w": {100, "marker", true,
			"power confirmed, current confirmed, voltage confirmed, data confirmed, length confirmed, plugs confirmed, marked confirmed", 0},
		// 61.8 and 30.2 mΩ: within at 5 A; marker 5 A, 50 V, EPR, Gen 3.
		"all-agree-240w": {240, "", true,
			"power confirmed, data confirmed, length confirmed, plugs confirmed, active confirmed, marked confirmed", 0},
		// 121.0 and 58.1 mΩ: over at 5 A, within at 3 A.
		"marker-240w-copper-3a": {60, "bench", true, "power contradicted, length confirmed, plugs confirmed", 1},
		// 138 and 71 mΩ printed: over at 5 A, within at 3 A.
		"label-100w-copper-3a": {60, "bench", true, "power contradicted, data confirmed, length not shown, plugs confirmed", 1},
		// 130.1 and 65.0 mΩ, and no marker: 3 A twice over.
		"unmarked-100w": {60, "marker, bench", true,
			"power contradicted, data not shown, length confirmed, plugs confirmed, marked contradicted", 1},
		// 82.9 and 39.5 mΩ: within at 5 A; marker USB 2.0.
		"marker-usb2-claimed-40g": {100, "marker", true, "power confirmed, data contradicted, length confirmed, plugs confirmed", 1},
		// Loop 78.2 mΩ: under 83.3, so both within at 3 A; between 50 and 150 at 5 A.
		"loop-only": {60, "bench", false, "power not shown, plugs confirmed", 0},
		// 117.8 and 59.4 mΩ: within at 3 A; 5 V without Power Delivery.
		"legacy-a-to-c": {15, "bench", true,
			"power confirmed, current confirmed, data not shown, length confirmed, plugs confirmed", 0},
		// 73.1 and 35.0 mΩ: within at 5 A; PD 2.0 cannot declare EPR.
		"pd2-answer": {100, "marker", false, "power not shown, plugs confirmed", 0},
		// 90.9 and 46.3 mΩ: within at 5 A; EPR without 50 V counts as 20 V.
		"marker-at-fault": {100, "marker", true, "power confirmed, plugs confirmed, certified not shown", 1},
	}
	records, _ := filepath.Glob("../../examples/records/*.yaml")
	if len(records) != len(tests) {
		t.Errorf("%d records, %d verdicts", len(records), len(tests))
	}
	for name, want := range tests {
		t.Run(name, func(t *testing.T) {
			report := checkFile(t, "../../examples/records/"+name+".yaml")
			got := verdict{Power: report.Rating.PowerW, Settled: report.Rating.Settled}
			var limited, outcomes []string
			for _, w := range report.Rating.LimitedBy {
				limited = append(limited, string(w))
			}
			for _, c := range report.Claims {
				outcomes = append(outcomes, string(c.Property)+" "+string(c.Standing))
			}
			got.Limited, got.Claims = strings.Join(limited, ", "), strings.Join(outcomes, ", ")
			if report.Contradicted() {
				got.Exit = 1
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}
