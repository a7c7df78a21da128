package paste

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/gainsay/vdo"
)

// readEscapes reads escaped byte strings, as C, Python and shells print them: in
// quotes, with printable characters as they are, or \x escapes alone. A line is a
// message, unless lines without a label make one together.
func readEscapes(text string) (reading, bool) {
	var r reading
	if !strings.Contains(text, `\x`) {
		return r, false
	}
	var rows [][]octet
	flush := func() {
		r.rows(rows, 1, label{}, "escaped bytes")
		rows = nil
	}
	for at, line := range lines(text) {
		at, line := trimmed(at, line)
		if line == "" || comment(line) || !strings.Contains(line, `\`) {
			continue
		}
		octets, outside := r.escaped(at, line)
		if plug, ok := lineLabel(outside); ok {
			if len(rows) > 0 {
				flush()
			}
			r.bytes(octets, 1, label{plug, true, at}, "escaped bytes")
			continue
		}
		rows = append(rows, octets)
	}
	if len(rows) > 0 {
		flush()
	}
	return r, len(r.found) > 0 || len(r.faults) > 0
}

// lineLabel finds an ordered set's name in a text.
func lineLabel(s string) (plug vdo.Plug, ok bool) {
	for t := range cut(s, 0, func(r rune) bool { return blank(r) || strings.ContainsRune(",;[](){}<>|=:", r) }) {
		if p, yes := plugName(t.text); yes {
			return p, true
		}
	}
	return plug, false
}

// escaped reads the bytes of a line: what stands in double or single quotes if
// there is an escape in them, else everything.
func (r *reading) escaped(at int, line string) (octets []octet, outside string) {
	var open [utf8.RuneSelf]bool // no such quote ends any more, so none is looked for
	for i := 0; i < len(line); i++ {
		q := line[i]
		if q != '"' && q != '\'' || open[q] {
			continue
		}
		end := closing(line, i)
		open[q] = end < 0
		if end < 0 || !strings.Contains(line[i+1:end], `\`) {
			continue
		}
		octets = append(octets, r.unescape(at+i+1, line[i+1:end])...)
		outside = line[:i]
		i = end
	}
	if octets == nil {
		i := strings.Index(line, `\`)
		return r.unescape(at+i, line[i:]), line[:i]
	}
	return octets, outside
}

// closing finds the quote that ends a string begun at i.
func closing(line string, i int) int {
	for j := i + 1; j < len(line); j++ {
		switch line[j] {
		case '\\':
			j++
		case line[i]:
			return j
		}
	}
	return -1
}

// plainEscapes are the one-letter escapes of C.
var plainEscapes = map[byte]byte{'n': '\n', 't': '\t', 'r': '\r', 'a': '\a', 'b': '\b', 'f': '\f', 'v': '\v', 'e': 0x1b,
	'\\': '\\', '\'': '\'', '"': '"'}

func (r *reading) unescape(at int, s string) []octet {
	var out []octet
	for i := 0; i < len(s); {
		n, v := 1, s[i]
		if v == '\\' {
			var f *fault
			if n, v, f = escape(s[i:]); f != nil {
				f.extent = extent{at + i, at + i + n}
				r.fault(*f)
				i += n
				continue
			}
		} else if v >= utf8.RuneSelf {
			_, n = utf8.DecodeRuneInString(s[i:])
			r.fault(fault{extent{at + i, at + i + n}, s[i : i+n], "not a byte: this character has more than 7 bits", `write it as \x and two hex digits`, ErrDigit})
			i += n
			continue
		}
		out = append(out, octet{v, extent{at + i, at + i + n}})
		i += n
	}
	return out
}

// escape reads one escape and tells its length.
func escape(s string) (n int, v byte, f *fault) {
	if len(s) < 2 {
		return 1, 0, &fault{token: s, wrong: "an escape without a letter", want: `a byte is \x and two hex digits`, err: ErrHalf}
	}
	c := s[1]
	if p, ok := plainEscapes[c]; ok {
		return 2, p, nil
	}
	switch {
	case c|0x20 == 'x':
		n = 2
		for n < len(s) && n < 4 && hexDigit(s[n]) {
			n++
		}
		if n < 4 {
			return n, 0, &fault{token: s[:n], wrong: "half a byte", want: `a byte is \x and two hex digits`, err: ErrHalf}
		}
		u, _ := strconv.ParseUint(s[2:4], 16, 8)
		return 4, byte(u), nil
	case c-'0' < 8:
		n = 1
		for n < len(s) && n < 4 && s[n]-'0' < 8 {
			n++
		}
		u, err := strconv.ParseUint(s[1:n], 8, 8)
		if err != nil {
			return n, 0, &fault{token: s[:n], wrong: "more than a byte", want: `an octal escape goes up to \377`, err: ErrWidth}
		}
		return n, byte(u), nil
	}
	_, w := utf8.DecodeRuneInString(s[1:])
	return 1 + w, 0, &fault{token: s[:1+w], wrong: "not an escape", want: `a byte is \x and two hex digits`, err: ErrDigit}
}
