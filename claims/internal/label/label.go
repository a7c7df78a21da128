// Package label reads what a seller writes on a label or product page: "240W EPR",
// "USB-C to USB-C", "4K@60Hz". Every claim has one reading here, which loader, schema,
// options and reports share: a value and its normal form, which loads again and means the
// same, or an error that says what to write instead.
//
// The vocabulary stands in tables, one for each kind of claim. A text that holds a word
// of no table, two different values, or a value with a bound (over, from, a range) is
// refused: a misreading would pass unnoticed.
package label

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// Error says what in a claim is not understood and what to write instead.
type Error struct {
	Text  string // as written
	Wrong string // what is not understood
	Want  string // what to write, with a form that is understood
}

// Error is text, fault and advice in one line.
func (e *Error) Error() string { return strconv.Quote(e.Text) + ": " + e.Wrong + "; " + e.Want }

func refuse(text, wrong, want string) *Error { return &Error{text, wrong, want} }

// mostText is the longest claim read, in bytes. No label says so much about one value.
const mostText = 200

// tooLong refuses a text that is no single value.
func tooLong(text, want string) *Error {
	if len(text) <= mostText {
		return nil
	}
	return refuse(text[:40]+"…", "the text is too long for one value", want)
}

// plain gives a text in the letters that the tables are written in: full-width forms
// become ASCII, marks such as ™ go, and each run of blanks becomes one.
func plain(text string) string {
	var b strings.Builder
	blank := false
	for _, r := range text {
		switch {
		case r >= 0xFF01 && r <= 0xFF5E:
			r -= 0xFF01 - '!'
		case strings.ContainsRune("™®©℠", r):
			continue
		case strings.ContainsRune("‐‑‒–—−―", r):
			r = '-'
		case strings.ContainsRune("×✕⨯", r):
			r = 'x'
		case strings.ContainsRune("·•‧", r):
			r = ' '
		case strings.ContainsRune("“”″", r):
			r = '"'
		case strings.ContainsRune("‘’′", r):
			r = '\''
		case r == '≤' || r == '⩽':
			r = ' '
		case strings.ContainsRune("↔→⇄⟷", r):
			b.WriteString(" to ")
			blank = false
			continue
		}
		if unicode.IsSpace(r) {
			blank = true
			continue
		}
		if blank && b.Len() > 0 {
			b.WriteByte(' ')
		}
		blank = false
		b.WriteRune(r)
	}
	return b.String()
}

// bounds are words that make a value a bound, which is no claim of a value.
var bounds = []string{"+", ">", "over", "more than", "from", "at least", "min", "min.", "minimum", "above", "<", "under", "below", "approx", "approx.", "about", "ca.", "~", "or more"}

// idle are words that say no more than the value does.
var (
	idle      = longest(idleWords...)
	idleWords = []string{"max", "max.", "maximum", "up to", "upto", "rated", "rating", "usb power delivery", "power delivery", "usb pd 3.1", "usb pd 3.0", "usb pd",
		"usb-pd", "pd 3.1", "pd3.1", "pd 3.0", "pd3.0", "pd 3.2", "pd3.2", "pd 2.0", "pd", "epr", "spr", "dc", "fast charging", "fast charge", "fast-charging",
		"quick charge", "super fast charging", "rapid charging", "high power", "charging", "charge", "charger", "output", "power", "total", "single port", "cable", "transfer", "transfers",
		"speed", "speeds", "pps", "usb-c", "usb type-c", "type-c", "e-marked", "e-marker", "emarker", "data", "transmission", "rate", "bandwidth", "current", "voltage", "length", "long", "video", "resolution", "support", "supports", "supported", "supporting"}
)

// piece is a number with what stands behind it, or a word alone.
type piece struct {
	number float64
	digits string // as written; empty for a word
	word   string // unit or word, in lower case as far as the next blank or digit
	raw    string // the unit as written
}

// pieces cuts a plain text into numbers with units and words. Brackets, commas, slashes
// and such come as words of one character.
func pieces(s string) ([]piece, error) {
	var out []piece
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c == ' ':
			i++
		case digit(c) || c == '.' && i+1 < len(s) && digit(s[i+1]):
			j := i
			for j < len(s) && (digit(s[j]) || (s[j] == '.' || s[j] == ',') && j+1 < len(s) && digit(s[j+1])) {
				j++
			}
			v, err := number(s[i:j])
			if err != nil {
				return nil, err
			}
			p := piece{number: v, digits: s[i:j]}
			k := j
			for k < len(s) && s[k] == ' ' {
				k++
			}
			if k == j && k+1 < len(s) && s[k] == '-' && letter(s[k+1:]) { // 6-foot
				k++
			}
			end := unitEnd(s, k)
			p.raw = s[k:end]
			p.word = strings.ToLower(p.raw)
			out = append(out, p)
			i = max(end, j)
		case letter(s[i:]):
			end := i
			for end < len(s) && (letter(s[end:]) || s[end] >= 0x80 || s[end] == '.' && end+1 < len(s) && !digit(s[end+1])) {
				end++
			}
			out = append(out, piece{word: strings.ToLower(strings.TrimRight(s[i:end], ".")), raw: s[i:end]})
			i = end
		default:
			n := 1
			for n < len(s)-i && s[i+n]&0xC0 == 0x80 {
				n++
			}
			out = append(out, piece{word: s[i : i+n], raw: s[i : i+n]})
			i += n
		}
	}
	return out, nil
}

// unitEnd is where a unit that begins at k ends: letters with slash, square sign and
// superscript, or one of the marks of feet and inches.
func unitEnd(s string, k int) int {
	if k < len(s) && (s[k] == '\'' || s[k] == '"' || s[k] == '%') {
		return k + 1
	}
	end := k
	for end < len(s) {
		switch {
		case letter(s[end:]), s[end] >= 0x80,
			s[end] == '/' && end > k && end+1 < len(s) && (s[end+1] == 's' || s[end+1] == 'S') && (end+2 == len(s) || !letter(s[end+2:]) || strings.HasPrefix(strings.ToLower(s[end+1:]), "sec")):
			end++
		default:
			return end
		}
	}
	return end
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

func letter(s string) bool { return s != "" && (s[0]|0x20 >= 'a' && s[0]|0x20 <= 'z') }

// number reads a decimal with point or comma. A comma before three digits could also
// group them, and is refused.
func number(s string) (float64, error) {
	points, commas := strings.Count(s, "."), strings.Count(s, ",")
	_, after, _ := strings.Cut(s, ",")
	switch {
	case points+commas > 1:
		return 0, fmt.Errorf("%q has more than one decimal sign", s)
	case commas == 1 && len(after) == 3:
		return 0, fmt.Errorf("%q can be read in two ways", s)
	}
	if strings.Trim(s, "0123456789.,") != "" { // no exponent, no grouping
		return 0, fmt.Errorf("%q is not a number", s)
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return v, nil
}

// decimal prints a value so that it reads back the same.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// What takes time to make is made when it is first asked for: most runs need little of it.

func pattern(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}

// longest is phrases in the order in which without takes them out, the longest first.
func longest(phrases ...string) func() []string {
	return sync.OnceValue(func() []string {
		return slices.SortedFunc(slices.Values(phrases), func(a, b string) int { return len(b) - len(a) })
	})
}

// without takes phrases, the longest first, out of a text in lower case.
func without(s string, phrases func() []string) string {
	for _, p := range phrases() {
		s = cut(s, p)
	}
	return oneBlank(s)
}

// cut puts a blank for each place where a phrase stands by itself.
func cut(s, p string) string {
	for from := 0; ; from++ {
		i := strings.Index(s[from:], p)
		if i < 0 {
			return s
		}
		from += i
		end := from + len(p)
		if edge(s, from, p[0]) && (end == len(s) || !wordy(s[end]) || !wordy(p[len(p)-1])) {
			s = s[:from] + " " + s[end:]
		}
	}
}

func oneBlank(s string) string { return strings.Join(strings.Fields(s), " ") }

func edge(s string, i int, first byte) bool { return i == 0 || !wordy(s[i-1]) || !wordy(first) }

func wordy(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' || digit(c) || c >= 0x80 }

// refuseBound refuses a text, s in lower case, that gives a bound. A sign between two
// values, as in 5V+9V, is none.
func refuseBound(text, s, want string) *Error {
	for _, w := range bounds {
		if strings.Contains(s, w) && len(oneBlank(cut(s, w))) < len(oneBlank(s)) {
			return refuse(text, fmt.Sprintf("%q gives a bound, not a value", w), want)
		}
	}
	return nil
}
