package paste

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// The words of the samples. They were composed by hand from the layouts of
// PD R3.x and are what testdata/make.sh starts from.
var (
	passiveWords = []uint32{0xFF00A041, 0x18602FA1, 0x00000000, 0x01020100, 0x000A2643}
	modalWords   = []uint32{0xFF00A041, 0x1C602FA1, 0x00000000, 0x01020100, 0x000A2643}
	svidWords    = []uint32{0xFF00A042, 0x80870000, 0x00000000}
	modeWords    = []uint32{0x8087A043, 0x000B0001}
)

// sampleWords are the messages of each sample that does not hold passiveWords
// alone.
var sampleWords = map[string][][]uint32{
	"kernel-grep":         {passiveWords[1:]},
	"kernel-names":        {passiveWords[1:]},
	"kernel-titled":       {passiveWords[1:]},
	"words-no-header":     {passiveWords[1:]},
	"words-nak":           {{0xFF00A081}},
	"words-busy":          {{0xFF00A0C1}},
	"words-request":       nil,
	"words-all-zero":      {{0xFF00A041, 0, 0, 0, 0}},
	"words-partner-like":  {{0xFF00A041, 0xD2A02FA1, 0, 0x01020100}},
	"words-conversation":  {modalWords, {0xFF00A042, 0xFF018087, 0}, modeWords},
	"log-conversation":    {modalWords, svidWords, modeWords, {0xFF00A081}},
	"table-columns":       {passiveWords, {0xFF00A081}},
	"run-either-way":      {{0x18206018, 0, 0x00010201, 0x43260A00}},
	"log-several-forms":   {passiveWords, passiveWords},
	"words-cut-off":       {passiveWords[:3]},
	"bytes-cut-off":       {passiveWords[:4]},
	"bytes-trailing":      {passiveWords},
	"symbols-bad":         {passiveWords},
	"kernel-missing-word": {passiveWords[1:2]},
	"log-slips":           {{0xFF00A041, 0x00000000, 0x01020100}},
}

// TestForms holds every sample's outcome against its golden file, its words
// against what went into it, and that the reader its name begins with is the one
// that read it.
func TestForms(t *testing.T) {
	files, err := filepath.Glob("testdata/forms/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples: %v", err)
	}
	seen := map[string]bool{}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".txt")
		t.Run(name, func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			text := string(b)
			res, err := Read(text)

			var got [][]uint32
			for _, m := range res.Messages {
				got = append(got, m.Words)
			}
			want, listed := sampleWords[name]
			if !listed {
				want = [][]uint32{passiveWords}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("words (-want +got):\n%s", diff)
			}

			by, _ := choose(text, nil)
			if by == nil {
				if !strings.HasPrefix(name, "log-several") {
					t.Fatal("no reader took the whole text")
				}
			} else {
				if name != by.Name && !strings.HasPrefix(name, by.Name+"-") {
					t.Errorf("read by %s", by.Name)
				}
				seen[by.Name] = true
				as, asErr := ReadAs(text, by.Name)
				if diff := cmp.Diff(listing(res, err), listing(as, asErr)); diff != "" {
					t.Errorf("ReadAs (-Read +ReadAs):\n%s", diff)
				}
			}
			golden(t, strings.TrimSuffix(file, ".txt")+".golden", listing(res, err))
		})
	}
	for _, r := range readers {
		if !seen[r.Name] {
			t.Errorf("reader %s has no sample", r.Name)
		}
	}
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}

// listing prints all that was read.
func listing(res Result, err error) string {
	var b strings.Builder
	span := func(from, to Place) string {
		return fmt.Sprintf("%d:%d to %d:%d", from.Line, from.Column, to.Line, to.Column)
	}
	var message func(indent string, m Message)
	message = func(indent string, m Message) {
		fmt.Fprintf(&b, "%smessage %s: %s\n%s  plug %v, revision %v\n%s  %08X\n", indent, span(m.From, m.To), m.ReadAs, indent, m.Plug, m.Revision, indent, m.Words)
		for _, r := range m.Remarks {
			fmt.Fprintf(&b, "%s  remark: %s\n", indent, r)
		}
		for _, o := range m.Others {
			message(indent+"  or ", o)
		}
	}
	for _, m := range res.Messages {
		message("", m)
	}
	for _, s := range res.Skipped {
		fmt.Fprintf(&b, "aside %s: %s\n", span(s.From, s.To), s.Why)
	}
	if err != nil {
		fmt.Fprintf(&b, "%v\n", err)
	}
	return b.String()
}
