package record

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzDraft: a draft of any id, with any lines of words, is a record of that id that
// holds those words.
func FuzzDraft(f *testing.F) {
	f.Add("NF-014", "FF00A041 18602FA1", "3.0")
	f.Add("a: b # c\n---\n", "x\ty", "")
	f.Add("\x00\u0085\u2028\ufeff\U0001F600\"\\", "", "2.0")
	f.Fuzz(func(t *testing.T, cable, words, revision string) {
		if strings.TrimSpace(cable) == "" || !utf8.ValidString(cable) || revision != "" && revision != "2.0" && revision != "3.0" {
			return
		}
		var near []string
		for _, line := range strings.Split(words, "\n") {
			// The lines of a draft are words in hex, with blanks between.
			if line = strings.Join(strings.FieldsFunc(line, func(r rune) bool { return !strings.ContainsRune("0123456789ABCDEF", r) }), " "); line != "" {
				near = append(near, line)
			}
		}
		text := DraftWith(cable, MarkerDraft{Near: near, Asked: len(near) > 0, Revision: revision}, "")
		n := 0
		for rec, err := range Read(strings.NewReader(text), "draft.yaml") {
			if err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			n++
			if rec.Cable.Value != cable {
				t.Fatalf("the id %q is read as %q", cable, rec.Cable.Value)
			}
			if got := strings.TrimRight(rec.Marker.Near.Value.Text, "\n"); got != strings.Join(near, "\n") || rec.Marker.Revision.Value != revision {
				t.Fatalf("words %q, revision %q are read as %q, %q", near, revision, got, rec.Marker.Revision.Value)
			}
		}
		if n != 1 {
			t.Fatalf("%d records", n)
		}
	})
}

// FuzzParseReading: a reading as typed is one that can be worked with, or an error
// with a place in the text.
func FuzzParseReading(f *testing.F) {
	for _, s := range []string{"1.0002 A, vbus 93.1 mV; ground 44.9 mV, up", "vbus 5 mV", "1 A, loop 1 V, down", "1 A,, vbus", "−1 A, vbus −5 mV", "\xff A, vbus 1 mV"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseReading(text, Place{"typed", 1, 1})
		if err != nil {
			var es Errors
			if !errors.As(err, &es) || len(es) == 0 || len(es) > MaxErrors+1 {
				t.Fatalf("%T: %v", err, err)
			}
			for _, e := range es {
				if e.At.Line != 1 || e.At.Column < 1 || e.At.Column > utf8.RuneCountInString(text)+2 || e.Wrong == "" || e.Err == nil || len(e.Error()) > 4000 {
					t.Fatalf("%q: %#v", text, e)
				}
			}
			return
		}
		if !r.Current.Known || r.Current.Value == 0 || !r.VBUS.Known && !r.Ground.Known && !r.Loop.Known {
			t.Fatalf("%q is no reading: %+v", text, r)
		}
		again, err := ParseReading(strings.ReplaceAll(text, "; ", ", "), Place{"typed", 1, 1})
		if err != nil || again.Current.Value != r.Current.Value || again.VBUS.Value != r.VBUS.Value {
			t.Fatalf("%q with commas: %v", text, err)
		}
	})
}
