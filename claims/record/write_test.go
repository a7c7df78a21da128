package record

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func day(t testing.TB, s string) time.Time {
	t.Helper()
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestAddReadings shows the whole file before and after, comments and order and
// odd spacing included.
func TestAddReadings(t *testing.T) {
	one := Addition{Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Readings: []string{"1 A, vbus 93.1 mV, ground 44.9 mV, up"}}
	tests := []struct {
		name, before, after string
		change              func(*Addition)
	}{
		{"no bench yet", `# mine
gainsay: 1
cable: a   # an id
claims: {power: 60 W}   # as sold

# the end
`, `# mine
gainsay: 1
cable: a   # an id
claims: {power: 60 W}   # as sold

# the end
bench:
  date: 2026-11-25
  readings:
    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}
`, nil},
		{"bench without a value", "gainsay: 1\ncable: a\nbench:  # soon\nwaive:\n", "gainsay: 1\ncable: a\nbench:  # soon\n  date: 2026-11-25\n  readings:\n    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}\nwaive:\n", nil},
		{"a session of the day", `gainsay: 1
cable: a
bench:
  date: 2026-11-25
  readings:
  - {current: 1 A, vbus: 93 mV,
     ground: 45 mV}   # first
  # a word about them
  note: |
    two
    lines
label: x
`, `gainsay: 1
cable: a
bench:
  date: 2026-11-25
  readings:
  - {current: 1 A, vbus: 93 mV,
     ground: 45 mV}   # first
  - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}
  # a word about them
  note: |
    two
    lines
label: x
`, nil},
		{"a session of the day without readings", "gainsay: 1\ncable: a\nbench:\n    date: 2026-11-25\n    length: 1 m # tape\n\nlabel: x\n",
			"gainsay: 1\ncable: a\nbench:\n    date: 2026-11-25\n    length: 1 m # tape\n    readings:\n      - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}\n\nlabel: x\n", nil},
		{"one session becomes two", `gainsay: 1
cable: a
bench:
  # the first
  date: 2025-10-05
  voltmeter: 0.05 % + 20 µV

  readings:
    - {current: 1 A, vbus: 93 mV}  # one
    - current: 1 A
      vbus: 94 mV
  note: |
    indented
      more
label: x
`, `gainsay: 1
cable: a
bench:
  # the first
  - date: 2025-10-05
    voltmeter: 0.05 % + 20 µV

    readings:
      - {current: 1 A, vbus: 93 mV}  # one
      - current: 1 A
        vbus: 94 mV
    note: |
      indented
        more
  - date: 2026-11-25
    ambient: 23 °C
    voltmeter: 0.05 % + 20 µV
    null: {current: 1 A, vbus: 1.2 mV}
    readings:
      - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}
label: x
`, func(a *Addition) { a.Voltmeter, a.Ambient, a.Null = "0.05 % + 20 µV", "23 °C", "1 A, vbus 1.2 mV" }},
		{"a list of sessions", `gainsay: 1
cable: a
bench:
- date: 2024-10-05
  vbus: 93 mohm
- date: 2025-10-05
  vbus: 94 mohm
`, `gainsay: 1
cable: a
bench:
- date: 2024-10-05
  vbus: 93 mohm
- date: 2025-10-05
  vbus: 94 mohm
- date: 2026-11-25
  readings:
    - {current: "1,5 A", loop: 140 mV}
    - {current: -1 A, vbus: -93 mV}
`, func(a *Addition) { a.Readings = []string{"1,5 A; loop 140 mV", "-1 A, vbus -93 mV"} }},
		{"one of several records", "gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: b\n...\n---\ngainsay: 1\ncable: c",
			"gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: b\nbench:\n  date: 2026-11-25\n  readings:\n    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}\n...\n---\ngainsay: 1\ncable: c\n",
			func(a *Addition) { a.Cable = "b" }},
		{"lines that end as on Windows", "gainsay: 1\r\ncable: a\r\n",
			"gainsay: 1\r\ncable: a\r\nbench:\r\n  date: 2026-11-25\r\n  readings:\r\n    - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}\r\n", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			add := one
			if tt.change != nil {
				tt.change(&add)
			}
			got, err := AddReadings([]byte(tt.before), "x.yaml", add)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.after, string(got)); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

func TestAddReadingsRefused(t *testing.T) {
	good := Addition{Date: day(t, "2026-11-25"), Readings: []string{"1 A, vbus 93.1 mV"}}
	tests := []struct {
		name, text, says string
		change           func(*Addition)
	}{
		{"JSON", `{"gainsay":1,"cable":"a"}`, "this is JSON", nil},
		{"a bad record", "gainsay: 1\ncable: a\nclaim: {}\n", "perhaps claims", nil},
		{"a bad reading", "gainsay: 1\ncable: a\n", "V", func(a *Addition) { a.Readings = []string{"1 A, vbus 93 A"} }},
		{"no reading", "gainsay: 1\ncable: a\n", "no reading", func(a *Addition) { a.Readings = nil }},
		{"a bad null", "gainsay: 1\ncable: a\n", "no drop", func(a *Addition) { a.Null = "1 A" }},
		{"a bad accuracy", "gainsay: 1\ncable: a\n", "voltmeter", func(a *Addition) { a.Voltmeter = "good" }},
		{"two records", "gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: b\n", "name the cable; the cables here are a, b", nil},
		{"another cable", "gainsay: 1\ncable: a\n", `no record here is of cable "b"`, func(a *Addition) { a.Cable = "b" }},
		{"one id twice", "gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: a\n", "2 records here", func(a *Addition) { a.Cable = "a" }},
		{"nothing", "# nothing\n", "no record", nil},
		{"bench in braces", "gainsay: 1\ncable: a\nbench: {vbus: 93 mohm}\n", "in braces", nil},
		{"sessions in brackets", "gainsay: 1\ncable: a\nbench: [{vbus: 93 mohm}]\n", "in braces", nil},
		{"a session in braces", "gainsay: 1\ncable: a\nbench:\n- {vbus: 93 mohm}\n", "in braces", nil},
		{"readings in brackets", "gainsay: 1\ncable: a\nbench:\n  date: 2026-11-25\n  readings: [{current: 1 A, vbus: 93 mV}]\n", "not written as a list of lines", nil},
		{"the session has a voltmeter of its own", "gainsay: 1\ncable: a\nbench:\n  date: 2026-11-25\n  vbus: 93 mohm\n", "keeps what it has",
			func(a *Addition) { a.Voltmeter = "0.1 %" }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			add := good
			if tt.change != nil {
				tt.change(&add)
			}
			name := "x.yaml"
			if tt.name == "JSON" {
				name = "x.json"
			}
			got, err := AddReadings([]byte(tt.text), name, add)
			var es Errors
			if got != nil || !errors.As(err, &es) || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%q, error %v; want one that says %q", got, err, tt.says)
			}
		})
	}
}

// FuzzAddReadings: whatever the file, it is left alone or every line of it is kept.
func FuzzAddReadings(f *testing.F) {
	for _, s := range []string{"gainsay: 1\ncable: a\n", "gainsay: 1\ncable: a\nbench:\n- date: 2025-01-01\n  vbus: 1 ohm\n",
		"gainsay: 1\ncable: a\nbench:\n  date: 2026-11-25\n  readings:\n  - {current: 1 A,\n vbus: 1 V}\n", "---\n---\ngainsay: 1\ncable: |\n  x\n\n",
		"gainsay: 1\ncable: a\nbench:\n  note: >\n    x\n\n   # y\n"} {
		f.Add(s)
	}
	add := Addition{Date: day(f, "2026-11-25"), Readings: []string{"1 A, vbus 93.1 mV"}}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := AddReadings([]byte(text), "x.yaml", add)
		if err != nil {
			return
		}
		if len(got) <= len(text) {
			t.Errorf("%q became %q", text, got)
		}
		if _, err := readAll(got, "x.yaml"); err != nil {
			t.Errorf("%q became %q: %v", text, got, err)
		}
	})
}

// TestAddReadingsOfAnEarlierDay: sessions are read in the order of their dates, so a
// reading of an earlier day may be added behind a later one.
func TestAddReadingsOfAnEarlierDay(t *testing.T) {
	before := "gainsay: 1\ncable: a\nbench:\n  date: 2027-01-01\n  vbus: 93 mohm\n"
	after, err := AddReadings([]byte(before), "a.yaml", Addition{Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Readings: []string{"1 A, vbus 90 mV"}})
	if err != nil {
		t.Fatal(err)
	}
	recs, errs := read(t, string(after), "a.yaml")
	if len(errs) > 0 || len(recs) != 1 || len(recs[0].Bench) != 2 || recs[0].Bench[0].Date.Text != "2026-11-25" || recs[0].Bench[1].Date.Text != "2027-01-01" {
		t.Errorf("%v\n%s", errs, after)
	}
}

// Whatever YAML a file holds, a reading is added to it or refused with a place, and every
// line that was there is still there. The documents are those of the YAML test suite, by
// themselves, inside a record, in front of one and behind one.
func TestAddReadingsToAnyYAML(t *testing.T) {
	add := Addition{Date: day(t, "2026-10-05"), Readings: []string{"1 A, loop 140 mV"}}
	const rec = "gainsay: 1\ncable: a\n"
	added := 0
	for _, d := range suiteDocuments(t) {
		inside := rec + "about:\n  " + strings.ReplaceAll(strings.TrimSuffix(d.YAML, "\n"), "\n", "\n  ") + "\n"
		for _, text := range []string{d.YAML, inside, rec + d.YAML, d.YAML + "\n---\n" + rec, rec + "bench: " + d.YAML, rec + "bench:\n  readings: " + d.YAML, rec + "---\n" + d.YAML} {
			for _, text := range []string{text, "\ufeff" + text, strings.ReplaceAll(text, "\n", "\r\n"), strings.ReplaceAll(text, "\n", "\r"), strings.ReplaceAll(text, "\n", "\u2028"), strings.TrimRight(text, "\n")} {
				out, err := AddReadings([]byte(text), "x.yaml", add)
				if err != nil {
					var es Errors
					if !errors.As(err, &es) || len(es) == 0 || es[0].At.Line < 1 {
						t.Fatalf("%s %q: %v has no place", d.ID, text, err)
					}
					continue
				}
				added++
				if _, errs := read(t, string(out), "x.yaml"); len(errs) > 0 {
					t.Errorf("%s %q: what was written is not read: %v", d.ID, text, errs)
				}
				if strings.HasPrefix(text, "\ufeff") != strings.HasPrefix(string(out), "\ufeff") {
					t.Errorf("%s %q: the byte order mark is lost or made", d.ID, text)
				}
				if crlf := strings.Count(text, "\r\n"); crlf > 0 && crlf == strings.Count(text, "\n") && strings.Count(string(out), "\r\n") != strings.Count(string(out), "\n") {
					t.Errorf("%s %q: line ends are mixed: %q", d.ID, text, out)
				}
			}
		}
	}
	if added < 100 {
		t.Errorf("only %d files were added to", added)
	}
}
