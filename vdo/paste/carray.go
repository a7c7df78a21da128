package paste

import (
	"strconv"
	"strings"
)

// readArrays reads arrays as C and scripts write them: a name, an equals sign,
// numbers between braces or brackets. Numbers without 0x are decimal.
func readArrays(text string) (reading, bool) {
	var r reading
	bare := withoutComments(text)
	if !strings.ContainsAny(bare, "={") {
		return r, false
	}
	any := false
	for from := 0; ; {
		eq := strings.IndexAny(bare[from:], "={")
		if eq < 0 {
			break
		}
		eq += from
		open := eq + 1
		if bare[eq] == '{' {
			if !literal(bare[:eq]) {
				from = eq + 1
				continue
			}
			open = eq
		}
		for open < len(bare) && (blank(rune(bare[open])) || strings.IndexByte("(bytes", bare[open]) >= 0) {
			open++
		}
		from = eq + 1
		if open >= len(bare) || bare[open] != '{' && bare[open] != '[' {
			continue
		}
		end := strings.IndexByte(bare[open:], bare[open]+2) // } and ] stand two behind
		if end < 0 {
			r.fault(fault{extent{open, open + 1}, bare[open : open+1], "the array does not end", "it should end with " + string(bare[open]+2), ErrTruncated})
			end = len(bare) - open
		}
		const longest = 64 // of a name and its type
		name := bare[max(0, eq-longest):eq]
		name = name[lineStart(name, len(name)):]
		r.units = append(r.units, extent{eq, open + end + 1})
		if r.array(bare[open+1:open+end], open+1, name) {
			any = true
		}
		from = open + end
	}
	return r, any
}

// literal tells whether the type of a Go composite literal ends here, as []byte.
func literal(s string) bool {
	for _, t := range []string{"]byte", "]uint8", "]uint16", "]uint32", "]int32", "]int"} {
		if strings.HasSuffix(s, t) {
			return true
		}
	}
	return false
}

// array reads the numbers of one array and tells whether there were any.
func (r *reading) array(body string, base int, name string) bool {
	var words []word
	var octets []octet
	digits, group := 0, 1
	for t := range cut(body, base, func(c rune) bool { return blank(c) || c == ',' || c == '{' || c == '}' }) {
		s := strings.TrimRight(t.text, "uUlL")
		d, prefixed := unprefixed(s)
		v, err := strconv.ParseInt(s, 0, 64)
		if s == "" || err != nil || !wordRange(v) || !prefixed && len(s) > 1 && s[0] == '0' {
			if len(words) == 0 {
				return false
			}
			r.fault(fault{t.extent, t.text, "not a number of an array", "write 0x and hex digits, or a decimal number up to 4294967295", ErrDigit})
			continue
		}
		switch {
		case !prefixed && v > 0xFFFF, v < 0:
			digits = max(digits, wordDigits)
		case !prefixed && v > 0xFF:
			digits = max(digits, headDigits)
		case prefixed:
			digits = max(digits, len(d))
		}
		words = append(words, word{uint32(v), t.extent, prefixed && len(d) < wordDigits})
	}
	if len(words) == 0 {
		return false
	}
	l := label{}
	if plug, ok := lineLabel(strings.Map(func(c rune) rune {
		if c == '_' {
			return ' '
		}
		return c
	}, name)); ok && strings.Contains(strings.ToLower(name), "sop") {
		l = label{plug, true, base}
	}
	switch {
	case digits > headDigits:
		r.plain(words, l, "array of words")
		return true
	case digits > 2:
		group = 2
	}
	for _, w := range words {
		for i := group - 1; i >= 0; i-- {
			octets = append(octets, octet{byte(w.value >> (8 * i)), w.extent})
		}
	}
	r.bytes(octets, group, l, []string{1: "array of bytes", 2: "array of 16-bit numbers"}[group])
	return true
}

// withoutComments puts blanks over comments, so that places stay.
func withoutComments(text string) string {
	if !strings.Contains(text, "/*") && !strings.Contains(text, "//") && !strings.Contains(text, "#") {
		return text
	}
	b := []byte(text)
	wipe := func(from, to int) {
		for ; from < to; from++ {
			if b[from] != '\n' && b[from] < 0x80 {
				b[from] = ' '
			}
		}
	}
	for i := 0; i < len(b); i++ {
		switch {
		case b[i] == '/' && i+1 < len(b) && b[i+1] == '*':
			end := strings.Index(text[i+2:], "*/")
			if end < 0 {
				wipe(i, len(b))
				return string(b)
			}
			wipe(i, i+2+end+2)
			i += end + 3
		case b[i] == '#', b[i] == '/' && i+1 < len(b) && b[i+1] == '/':
			end := strings.IndexByte(text[i:], '\n')
			if end < 0 {
				end = len(b) - i
			}
			wipe(i, i+end)
			i += end
		}
	}
	return string(b)
}
