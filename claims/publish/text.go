package publish

import (
	"iter"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// Width is the number of columns text is laid out for.
const Width = 80

// Style says how text marks what matters. The zero Style is plain.
type Style struct {
	Colour bool // use ANSI colour
	Full   bool // print everything of a report
}

// Colours of a terminal, by what they mean here.
const (
	bold   = "1"
	faint  = "2"
	red    = "31"
	yellow = "33"
	green  = "32"
)

func (s Style) paint(code, text string) string {
	if !s.Colour || text == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// Plain makes text from records or pasted words fit to be shown on a terminal:
// control characters, bidirectional controls and invalid bytes are shown as
// escapes, never sent.
func Plain(s string) string {
	first := notShown(s, false)
	if first == len(s) {
		return s
	}
	var b strings.Builder
	b.WriteString(s[:first])
	for i := first; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			b.WriteString(escape(rune(s[i]), 'x', 2))
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case shown(r):
			b.WriteRune(r)
		case r < 0x80:
			b.WriteString(escape(r, 'x', 2))
		case r > 0xFFFF:
			b.WriteString(escape(r, 'U', 8))
		default:
			b.WriteString(escape(r, 'u', 4))
		}
		i += n
	}
	return b.String()
}

// PlainJSON does in a JSON text what Plain does in others. JSON has escapes of its
// own, so the value stays what it is. The text is returned as it is where nothing
// is to be done.
func PlainJSON(text []byte) []byte {
	first := notShown(text, true)
	if first == len(text) {
		return text
	}
	out := append(make([]byte, 0, len(text)+len(text)/4), text[:first]...)
	for i := first; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		switch high, low := utf16.EncodeRune(r); {
		case shown(r) || r == '\n':
			out = append(out, text[i:i+n]...)
		case high != unicode.ReplacementChar:
			out = append(out, escape(high, 'u', 4)+escape(low, 'u', 4)...)
		default:
			out = append(out, escape(r, 'u', 4)...)
		}
		i += n
	}
	return out
}

// notShown finds the first character that is not shown as it is, or is no valid
// UTF-8; the length where there is none. lines says that ends of lines are.
func notShown[T string | []byte](text T, lines bool) int {
	for i := 0; i < len(text); {
		if c := text[i]; c < utf8.RuneSelf {
			if !shown(rune(c)) && !(lines && c == '\n') {
				return i
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(string(text[i:min(i+utf8.UTFMax, len(text))]))
		if r == utf8.RuneError && n == 1 || !shown(r) {
			return i
		}
		i += n
	}
	return len(text)
}

// shown reports whether a character is seen as it stands: graphic, and not one that
// Unicode lets a renderer ignore (Default_Ignorable_Code_Point).
func shown(r rune) bool {
	if r < utf8.RuneSelf {
		return r >= ' ' && r != 0x7f
	}
	return unicode.IsGraphic(r) && !unicode.In(r, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}

func escape(r rune, kind byte, digits int) string {
	const figures = "0123456789abcdef"
	b := make([]byte, 2+digits)
	b[0], b[1] = '\\', kind
	for i := len(b) - 1; i > 1; i-- {
		b[i] = figures[r&15]
		r >>= 4
	}
	return string(b)
}

// columns counts what a text takes on a terminal, one column a character.
func columns(s string) int { return utf8.RuneCountInString(s) }

// pad fills a text with blanks on the right.
func pad(s string, width int) string {
	if n := width - columns(s); n > 0 {
		return s + strings.Repeat(" ", n)
	}
	return s
}

// wrap breaks a text into lines of at most width columns, at blanks. A word that
// is longer than a line stands on a line of its own, broken.
func wrap(s string, width int) []string {
	var out []string
	for line := range lines(s, width) {
		out = append(out, line)
	}
	return out
}

// lines gives the lines of wrap, each a part of the text where its blanks are
// single.
func lines(s string, width int) iter.Seq[string] {
	s, width = singleBlanks(s), max(width, 1)
	return func(yield func(string) bool) {
		from, to, taken := 0, 0, 0 // the line so far: bytes, columns
		for at := 0; at < len(s); {
			end := wordEnd(s, at)
			wide := columns(s[at:end])
			switch {
			case taken > 0 && wide <= width-1-taken:
				to, taken = end, taken+1+wide
				at = end + 1
				continue
			case taken > 0 && !yield(s[from:to]):
				return
			}
			for ; wide > width; wide -= width {
				piece := at + columnsIn(s[at:end], width)
				if !yield(s[at:piece]) {
					return
				}
				at = piece
			}
			from, to, taken = at, end, wide
			at = end + 1
		}
		if taken > 0 {
			yield(s[from:to])
		}
	}
}

// columnsIn gives the bytes of the first n columns.
func columnsIn(s string, n int) int {
	for i := range s {
		if n == 0 {
			return i
		}
		n--
	}
	return len(s)
}

// singleBlanks puts one blank between words, and none around them.
func singleBlanks(s string) string {
	blank := true // before the first word
	for i, r := range s {
		switch {
		case r == ' ' && !blank && i < len(s)-1:
			blank = true
		case r > ' ' && r < utf8.RuneSelf: // most
			blank = false
		case unicode.IsSpace(r):
			return strings.Join(strings.Fields(s), " ")
		default:
			blank = false
		}
	}
	return s
}

// wordEnd is where the word at a place ends: at a blank, but not at one between a
// number and its unit.
func wordEnd(s string, at int) int {
	for {
		n := strings.IndexByte(s[at:], ' ')
		if n < 0 {
			return len(s)
		}
		end := at + n
		if !endsInDigit(s[:end]) {
			return end
		}
		if next, _, _ := strings.Cut(s[end+1:], " "); !isUnit(next) {
			return end
		}
		at = end + 1
	}
}

func endsInDigit(s string) bool {
	last := s[len(s)-1]
	return last >= '0' && last <= '9'
}

func isUnit(s string) bool {
	switch strings.TrimRight(s, ",.;:)") {
	case "V", "A", "W", "m", "mm", "Ω", "mΩ", "mV", "ns", "Gbps", "Mbps", "%", "°C", "AWG", "mm²":
		return true
	}
	return false
}

// paragraph writes a text wrapped behind an indent; the first line begins with
// head in place of the indent.
func paragraph(b *strings.Builder, head, indent, text string) {
	for line := range lines(text, Width-columns(indent)) {
		b.WriteString(head)
		b.WriteString(line)
		b.WriteByte('\n')
		head = indent
	}
}
