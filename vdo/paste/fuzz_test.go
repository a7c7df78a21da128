package paste

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// addForms begins with a sample of every form of text.
func addForms(f *testing.F) {
	files, err := filepath.Glob("testdata/forms/*.txt")
	if err != nil || len(files) == 0 {
		f.Fatalf("%d samples, %v", len(files), err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(b))
	}
}

// FuzzRead holds that no text makes a reader panic, that places lie inside the
// text, that the same text gives the same result, and that the words found, where
// they fit an answer, read back from plain hex.
func FuzzRead(f *testing.F) {
	addForms(f)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			return
		}
		res, err := Read(text)
		again, errAgain := Read(text)
		if diff := cmp.Diff(listing(res, err), listing(again, errAgain)); diff != "" {
			t.Fatalf("read twice:\n%s", diff)
		}
		widths := []int{}
		for line := range strings.SplitSeq(text, "\n") {
			widths = append(widths, utf8.RuneCountInString(line)+1)
		}
		inside := func(what string, p Place) {
			if p.Line < 1 || p.Line > len(widths) || p.Column < 1 || p.Column > widths[p.Line-1] {
				t.Errorf("%s at %v, outside the text", what, p)
			}
		}
		var check func(m Message)
		check = func(m Message) {
			inside("message", m.From)
			inside("end of message", m.To)
			if len(m.Words) == 0 {
				t.Error("a message without words")
			}
			for _, o := range m.Others {
				check(o)
			}
			if fitWords(m.Words, m.Context()) == 0 {
				return
			}
			var hex []string
			for _, w := range m.Words {
				hex = append(hex, fmt.Sprintf("%08X", w))
			}
			plain, err := Read(strings.Join(hex, " "))
			if err != nil {
				t.Errorf("%v does not read back: %v", hex, err)
			}
			if len(plain.Skipped) > 0 {
				return // a word inside is a request by itself
			}
			var words []uint32
			for _, p := range plain.Messages {
				words = append(words, p.Words...)
			}
			if diff := cmp.Diff(m.Words, words); diff != "" {
				t.Errorf("read back (-want +got):\n%s", diff)
			}
		}
		for _, m := range res.Messages {
			check(m)
		}
		for _, s := range res.Skipped {
			inside(s.Why, s.From)
			inside(s.Why, s.To)
		}
		var errs Errors
		if errors.As(err, &errs) {
			for _, e := range errs {
				inside(e.Error(), e.At)
			}
		} else if len(res.Messages)+len(res.Skipped) == 0 {
			t.Error("nothing was found and nothing is wrong")
		}
		for _, r := range readers {
			if _, err := ReadAs(text, r.Name); err != nil && !errors.As(err, &errs) {
				t.Errorf("%s: %v", r.Name, err)
			}
		}
	})
}

// A stream of any text is the same whatever pieces it comes in, and gives nothing
// outside the text.
func FuzzReadStream(f *testing.F) {
	addForms(f)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			return
		}
		whole := listing(collect(strings.NewReader(text)))
		pieces := listing(collect(iotest.HalfReader(strings.NewReader(text))))
		if diff := cmp.Diff(whole, pieces); diff != "" {
			t.Errorf("(-whole +in pieces):\n%s", diff)
		}
	})
}

// Any reader asked for by name takes any text: it gives messages with words, sets the
// rest aside or says what is wrong, and passes over nothing.
func FuzzReadAs(f *testing.F) {
	for i := range Readers() {
		f.Add(uint8(i), "FF00A041 18602FA1 00000000 00010100 000A4644")
	}
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		if len(text) > 1<<14 {
			return
		}
		name := Readers()[int(which)%len(Readers())].Name
		res, err := ReadAs(text, name)
		if err == nil && len(res.Messages) == 0 && len(res.Skipped) == 0 && strings.TrimSpace(text) != "" {
			t.Errorf("%s passes over %q without a word", name, text)
		}
		again, errAgain := ReadAs(text, name)
		if diff := cmp.Diff(listing(res, err), listing(again, errAgain)); diff != "" {
			t.Errorf("read twice:\n%s", diff)
		}
		for _, m := range res.Messages {
			if len(m.Words) == 0 || m.From.Line < 1 || m.To.Line < m.From.Line {
				t.Errorf("%s: %+v", name, m)
			}
		}
	})
}
