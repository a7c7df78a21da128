package publish

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"NF-014":           "NF-014",
		"2 m, blau, ±5 mΩ": "2 m, blau, ±5 mΩ",
		"\x1b[31mred":      `\x1b[31mred`,
		"a\x00b":           `a\x00b`,
		"a\tb\nc\r":        "a b c ",
		"\u202eabc":        `\u202eabc`, // bidirectional override
		"\u2066abc\u2069":  `\u2066abc\u2069`,
		"\u2028":           `\u2028`,
		"\u200b":           `\u200b`, // zero width
		"bad\xffbyte":      `bad\xffbyte`,
		"\U000e0001":       `\U000e0001`,
		"\x9b31m":          `\x9b31m`, // not valid UTF-8, and a control where it is one
		"\u009b31m":        `\u009b31m`,
		"日本":               "日本",
	} {
		if got := Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
	}
}

// FuzzPlain: whatever goes in, nothing comes out that a terminal obeys.
func FuzzPlain(f *testing.F) {
	f.Add("\x1b]0;title\x07")
	f.Add("\u202e\xff\x00")
	f.Fuzz(func(t *testing.T, s string) {
		got := Plain(s)
		if !utf8.ValidString(got) {
			t.Fatalf("%q gives invalid UTF-8", s)
		}
		for _, r := range got {
			if !shown(r) {
				t.Fatalf("%q lets %U through", s, r)
			}
		}
	})
}

func TestWrap(t *testing.T) {
	tests := []struct {
		text  string
		width int
		want  []string
	}{
		{"", 10, nil},
		{"a b c", 3, []string{"a b", "c"}},
		{"limits at 5 A and 20 V", 9, []string{"limits at", "5 A and", "20 V"}},
		{"VBUS has 121.0 ± 1.8 mΩ.", 20, []string{"VBUS has 121.0 ±", "1.8 mΩ."}},
		{"abcdefghij kl", 4, []string{"abcd", "efgh", "ij", "kl"}},
		{"öööö öö", 4, []string{"öööö", "öö"}},
	}
	for _, tt := range tests {
		if diff := cmp.Diff(tt.want, wrap(tt.text, tt.width)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", tt.text, diff)
		}
	}
}

// FuzzWrap: no line is too long and no text is lost.
func FuzzWrap(f *testing.F) {
	f.Add("limits at 5 A and 20 V", uint8(9))
	f.Fuzz(func(t *testing.T, s string, n uint8) {
		if !utf8.ValidString(s) {
			t.Skip("wrap gets text that is valid")
		}
		width := int(n%100) + 1
		lines := wrap(s, width)
		for _, line := range lines {
			if columns(line) > width {
				t.Fatalf("%q in %d columns gives %q", s, width, line)
			}
		}
		squash := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if squash(strings.Join(lines, " ")) != squash(s) {
			t.Fatalf("%q became %q", s, lines)
		}
	})
}
