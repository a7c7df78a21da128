package paste

import (
	"cmp"
	"iter"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// extent is a run of bytes of the text. Readers work with these; places in lines
// and columns are worked out once, at the end.
type extent struct{ start, end int }

// token is a run of characters between separators.
type token struct {
	text string
	extent
}

// separator tells the characters that stand between words.
func separator(r rune) bool {
	if r < utf8.RuneSelf {
		return separators[r]
	}
	return blank(r)
}

var separators = asciiSet(" \t\n\v\f\r,;[](){}<>\"'`|")

// asciiSet is a set of ASCII characters, for what is asked of every character.
func asciiSet(members string) (set [utf8.RuneSelf]bool) {
	for _, c := range []byte(members) {
		set[c] = true
	}
	return set
}

// cut cuts a text at separators. The text begins at offset base of the whole.
func cut(text string, base int, sep func(rune) bool) iter.Seq[token] {
	return func(yield func(token) bool) {
		start := -1
		for i, r := range text {
			switch {
			case !sep(r):
				if start < 0 {
					start = i
				}
			case start >= 0:
				if !yield(token{text[start:i], extent{base + start, base + i}}) {
					return
				}
				start = -1
			}
		}
		if start >= 0 {
			yield(token{text[start:], extent{base + start, base + len(text)}})
		}
	}
}

// plainText puts blanks over a terminal's control sequences, as colours, so that
// places stay. Source: ECMA-48, 5.4: CSI, parameter and intermediate bytes 20 to
// 3F, a final byte 40 to 7E.
func plainText(text string) string {
	const lead = "\x1b["
	if !strings.Contains(text, lead) {
		return text
	}
	b := []byte(text)
	for from := 0; ; {
		i := strings.Index(text[from:], lead)
		if i < 0 {
			return string(b)
		}
		i += from
		end := i + len(lead)
		for end < len(b) && b[end] >= 0x20 && b[end] <= 0x3F {
			end++
		}
		if end < len(b) && b[end] >= 0x40 && b[end] <= 0x7E {
			end++
		}
		for j := i; j < end; j++ {
			b[j] = ' '
		}
		from = end
	}
}

// lines gives each line of a text, without its line end, and where it begins.
func lines(text string) iter.Seq2[int, string] {
	return func(yield func(int, string) bool) {
		for at := 0; at < len(text); {
			line, next := text[at:], len(text)
			if i := strings.IndexByte(line, '\n'); i >= 0 {
				line, next = line[:i], at+i+1
			}
			if !yield(at, strings.TrimSuffix(line, "\r")) {
				return
			}
			at = next
		}
	}
}

// paragraphs cuts a text at empty lines.
func paragraphs(text string) []extent {
	var out []extent
	start := -1
	for at, line := range lines(text) {
		if strings.TrimFunc(line, blank) == "" {
			start = -1
			continue
		}
		if start < 0 {
			start = at
			out = append(out, extent{start: at})
		}
		out[len(out)-1].end = at + len(line)
	}
	return out
}

// lineStart is where the line begins that holds an offset, of a text cut there.
func lineStart(text string, at int) int {
	return strings.LastIndexByte(text[:max(0, min(at, len(text)))], '\n') + 1
}

// trimmed gives a line without the blanks around it, and where it begins.
func trimmed(at int, line string) (int, string) {
	rest := strings.TrimLeftFunc(line, blank)
	return at + len(line) - len(rest), strings.TrimRightFunc(rest, blank)
}

// blank tells white space, the no-break space and a byte order mark included.
func blank(r rune) bool { return unicode.IsSpace(r) || r == byteOrderMark }

const byteOrderMark = '\uFEFF'

// mark asks for the place of an offset.
type mark struct {
	offset int
	place  *Place
}

// resolve works out the places of all marks in one pass. The text begins at
// place from.
func resolve(text string, from Place, marks []mark) {
	slices.SortFunc(marks, func(a, b mark) int { return cmp.Compare(a.offset, b.offset) })
	at, offset := from, 0
	for _, m := range marks {
		for offset < m.offset && offset < len(text) {
			r, n := utf8.DecodeRuneInString(text[offset:])
			offset += n
			at.Column++
			if r == '\n' {
				at = Place{at.Line + 1, 1}
			}
		}
		*m.place = at
	}
}

// last is the offset of the last character of an extent.
func (e extent) last(text string) int {
	if e.end <= e.start || e.end > len(text) {
		return e.start
	}
	_, n := utf8.DecodeLastRuneInString(text[e.start:e.end])
	return e.end - n
}

func isHex(s string) bool {
	for i := 0; i < len(s); i++ {
		if !hexDigit(s[i]) {
			return false
		}
	}
	return s != ""
}

func hexDigit(c byte) bool {
	return c-'0' < 10 || c|0x20-'a' < 6
}

// hexValue is the value of a hex digit.
func hexValue(c byte) byte {
	if c <= '9' {
		return c - '0'
	}
	return c | 0x20 - 'a' + 10
}

func isDecimal(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i]-'0' > 9 {
			return false
		}
	}
	return s != ""
}

// unprefixed takes away 0x or an h behind.
func unprefixed(s string) (digits string, prefixed bool) {
	if len(s) > 2 && s[0] == '0' && s[1]|0x20 == 'x' {
		return s[2:], true
	}
	return s, false
}
