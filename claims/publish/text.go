package publish

import (
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

func shown(r rune) bool {
	if r < utf8.RuneSelf {
		return r >= ' ' && r != 0x7f
	}
	return unicode.IsGraphic(r)
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
	var lines []string
	line := ""
	for _, word := range unbroken(s) {
		if columns(word) > width {
			if line != "" {
				lines = append(lines, line)
				line = ""
			}
			var pieces []string
			pieces, word = cut(word, width)
			lines = append(lines, pieces...)
		}
		switch {
		case line == "":
			line = word
		case columns(line)+1+columns(word) > width:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// cut takes pieces of width columns off a long word, and gives what remains.
func cut(word string, width int) (pieces []string, rest string) {
	start, n := 0, 0
	for i := range word {
		if n == width {
			pieces = append(pieces, word[start:i])
			start, n = i, 0
		}
		n++
	}
	return pieces, word[start:]
}

// unbroken cuts a text at blanks, but keeps a number and its unit together.
func unbroken(s string) []string {
	fields := strings.Fields(s)
	out := fields[:0]
	for _, f := range fields {
		if n := len(out); n > 0 && endsInDigit(out[n-1]) && isUnit(f) {
			out[n-1] += " " + f
			continue
		}
		out = append(out, f)
	}
	return out
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
	for i, line := range wrap(text, Width-columns(indent)) {
		if i == 0 {
			b.WriteString(head)
		} else {
			b.WriteString(indent)
		}
		b.WriteString(line)
		b.WriteByte('\n')
	}
}
