package main

import (
	"encoding/json"
	"strings"
	"testing"
)

const records = "../../examples/records"

func TestShelf(t *testing.T) {
	code, text, errs := gainsay(t, "", "shelf", records)
	if code != exitContradicted || errs != "" {
		t.Errorf("exit %d, stderr %s", code, errs)
	}
	golden(t, "shelf/records.txt", text)
	jsonCode, lines, errs := gainsay(t, "", "shelf", "--json", records)
	if jsonCode != code || errs != "" {
		t.Errorf("exit %d as JSON, %d as text; stderr %s", jsonCode, code, errs)
	}
	golden(t, "shelf/records.jsonl", lines)
	all := strings.Split(strings.TrimSpace(lines), "\n")
	for i, line := range all {
		var o struct {
			Version int `json:"gainsay"`
			Cable   string
			Summary *struct{ Records int }
		}
		if err := json.Unmarshal([]byte(line), &o); err != nil || o.Version != 1 {
			t.Fatalf("line %d: %v: %s", i+1, err, line)
		}
		if last := i == len(all)-1; last != (o.Summary != nil) || last == (o.Cable != "") {
			t.Errorf("line %d is neither a cable nor the last: %s", i+1, line)
		}
	}
}

func TestShelfExits(t *testing.T) {
	good := "gainsay: 1\ncable: a\nclaims: {length: 1 m}\n"
	tests := []struct {
		name, in, stderr string
		args             []string
		code             int
	}{
		{"no contradiction", good, "", []string{"-"}, exitDone},
		{"a filter that leaves the good", good, "", []string{"--where", "against=0", records, "-"}, exitDone},
		{"a bad record does not cost the others", good + "---\ngainsay: 1\ncable: b\nclaim: {}\n", "perhaps claims", []string{"-"}, exitUndone},
		{"no argument", "", "name a file", nil, exitUndone},
		{"no such file", "", "no such file", []string{"/nowhere/x.yaml"}, exitUndone},
		{"an empty stream", "", "no record was found", []string{"-"}, exitUndone},
		{"a bad column", good, "no column is called", []string{"--columns", "colour", "-"}, exitUndone},
		{"a bad order", good, "no column is called", []string{"--sort", "colour", "-"}, exitUndone},
		{"a bad filter", good, "no sign to compare by", []string{"--where", "shown", "-"}, exitUndone},
		{"bad bands", good, "above the one before", []string{"--bands", "2,1", "-"}, exitUndone},
		{"a bad rule of decision", good, "accept", []string{"--accept", "maybe", "-"}, exitUndone},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			code, out, errs := gainsay(t, tt.in, append([]string{"shelf"}, tt.args...)...)
			if code != tt.code || !strings.Contains(errs, tt.stderr) || (tt.stderr == "") != (errs == "") {
				t.Errorf("exit %d, want %d; stderr %q, want %q", code, tt.code, errs, tt.stderr)
			}
			if tt.name == "a bad record does not cost the others" && !strings.Contains(out, "1 record of 1 cable") {
				t.Errorf("the good record is lost:\n%s", out)
			}
		})
	}
}

func TestShelfColumns(t *testing.T) {
	_, text, _ := gainsay(t, "", "shelf", "--columns", "cable,seller,shown", "--sort", "-vbus", "--where", "seller~ostrefel", records)
	var got []string
	for _, line := range strings.Split(text, "\n")[1:] {
		if line == "" {
			break
		}
		got = append(got, strings.Join(strings.Fields(line), " "))
	}
	// 138.0, 130.1, 121.0, 90.9 mΩ.
	want := "NF-021 Ostrefel Direct 60 W\nNF-027 Ostrefel Direct 60 W\nNF-014 Ostrefel Direct 60 W\nNF-052 Ostrefel Direct 100 W"
	if s := strings.Join(got, "\n"); s != want {
		t.Errorf("got\n%s\nwant\n%s", s, want)
	}
}

func TestShelfCarry(t *testing.T) {
	for name, load := range map[string]string{"65w": "20 V 3.25 A", "45w": "45 W"} {
		code, text, errs := gainsay(t, "", "shelf", "--carry", load, records)
		if code != exitContradicted || errs != "" {
			t.Errorf("%s: exit %d, stderr %s", load, code, errs)
		}
		golden(t, "shelf/carry-"+name+".txt", text)
		for _, line := range strings.Split(text, "\n") {
			if n := len([]rune(line)); n > 80 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
	code, lines, _ := gainsay(t, "", "shelf", "--json", "--carry", "65 W", records)
	all := strings.Split(strings.TrimSpace(lines), "\n")
	var last struct {
		Summary struct {
			Load struct {
				Levels []struct{ Fit, Not_Settled, Not_Fit int }
			}
		}
	}
	if err := json.Unmarshal([]byte(all[len(all)-1]), &last); err != nil || code != exitContradicted || len(last.Summary.Load.Levels) != 4 {
		t.Fatalf("exit %d, %v: %s", code, err, all[len(all)-1])
	}
	for _, n := range last.Summary.Load.Levels {
		if n.Fit+n.Not_Settled+n.Not_Fit != 10 {
			t.Errorf("the outcomes count %+v of 10 records", n)
		}
	}
	if code, _, errs := gainsay(t, "", "shelf", "--carry", "300 W", records); code != exitUndone || !strings.Contains(errs, "no published level") {
		t.Errorf("300 W: exit %d, %s", code, errs)
	}
}

// TestShelfAcross: what shows only across records stands below the counts, and
// makes no difference to the exit status.
func TestShelfAcross(t *testing.T) {
	one := "gainsay: 1\ncable: a\nabout: {batch: B1, model: M}\nbench: {date: 2025-10-01, ohmmeter: 0.5 % + 0.1 mohm, vbus: 80 mohm, ground: 30 mohm}\n"
	in := one + "---\n" + strings.ReplaceAll(strings.ReplaceAll(one, "2025", "2026"), "80 mohm", "90 mohm") +
		"---\n" + strings.ReplaceAll(one, "cable: a", "cable: b")
	code, text, errs := gainsay(t, in, "shelf", "-")
	if code != exitDone || errs != "" {
		t.Errorf("exit %d, stderr %s", code, errs)
	}
	golden(t, "shelf/across.txt", text)
	_, lines, _ := gainsay(t, in, "shelf", "--json", "-")
	golden(t, "shelf/across.jsonl", lines)
}

// TestDemoShelf holds the demo shelf against what its generator put into it: see
// the changes of each batch in examples/shelf/main.go.
func TestDemoShelf(t *testing.T) {
	ids := func(conditions ...string) string {
		args := []string{"shelf", "--json"}
		for _, c := range conditions {
			args = append(args, "--where", c)
		}
		_, out, errs := gainsay(t, "", append(args, "../../examples/shelf")...)
		if !passedOverOnly(errs) {
			t.Fatal(errs)
		}
		var got []string
		for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
			var o struct{ Cable string }
			if err := json.Unmarshal([]byte(line), &o); err != nil {
				t.Fatal(err)
			}
			if o.Cable != "" {
				got = append(got, strings.TrimPrefix(o.Cable, "NF-"))
			}
		}
		return strings.Join(got, " ")
	}
	tests := []struct {
		where []string
		want  string
	}{
		// The bad crimp.
		{[]string{"batch=NF-L", "against>0"}, "104"},
		// One right at the limit, one not measured.
		{[]string{"batch=NF-L", "settled=no"}, "115 120"},
		// 3 A markers, EPR without 50 V, thin copper.
		{[]string{"batch=NF-P", "against>0"}, "206 207 212 214"},
		// The loop alone, the marker not read.
		{[]string{"batch=NF-P", "settled=no"}, "213 219"},
		// Two of the cheap ones are good.
		{[]string{"batch=NF-T", "shown>=100 W"}, "305 316"},
		// One is not fit for 3 A.
		{[]string{"batch=NF-T", "shown=0"}, "311"},
		// Every fifth is unmarked.
		{[]string{"batch=NF-T", "marker="}, "302 307 312 317"},
		// Every fifth has a blank marker.
		{[]string{"marker~:0000/"}, "304 309 314 319"},
	}
	for _, tt := range tests {
		if got := ids(tt.where...); got != tt.want {
			t.Errorf("%v: %s, want %s", tt.where, got, tt.want)
		}
	}
	_, text, _ := gainsay(t, "", "shelf", "../../examples/shelf")
	for _, want := range []string{"60 records of 60 cables", "The identity 2FA1:0102/0100", "VBUS of NF-109 rose by"} {
		if !strings.Contains(text, want) {
			t.Errorf("the shelf does not say %q", want)
		}
	}
	if strings.Contains(text, "NF-110 rose") {
		t.Error("NF-110 was measured again and is the same")
	}
	code, page, errs := gainsay(t, "", "shelf", "--form", "html", "../../examples/shelf")
	if code != exitContradicted || !passedOverOnly(errs) || strings.Count(page, " data-kind=") != 60 || strings.Count(page, "role=\"img\"") != 5 {
		t.Errorf("the page: exit %d, stderr %q, %d rows, %d pictures", code, errs, strings.Count(page, " data-kind="), strings.Count(page, "role=\"img\""))
	}
}

// passedOverOnly reports whether stderr has nothing but what a folder holds beside records.
func passedOverOnly(errs string) bool {
	return strings.Count(errs, "\n") == 1 && strings.Contains(errs, "passed over what does not end in")
}
