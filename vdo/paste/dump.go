package paste

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// readBytes reads bare bytes, or bare groups of two.
func readBytes(text string) (reading, bool) {
	var r reading
	digits, short, bare, ended := 0, false, false, false
	var lines [][]octet
	line := -1
	for t := range cut(text, 0, separatorOrColon) {
		d, prefixed := unprefixed(t.text)
		if prefixed && len(d) == 1 {
			d, short = "0"+d, true // as hex() of a script prints a small byte
		}
		bare = bare || !prefixed
		switch {
		case ended:
			return r, false // only the last group may be short
		case !isHex(d), len(d) != 2 && len(d) != 4, digits != 0 && len(d) != digits && !(digits == 4 && len(d) == 2), short && (bare || len(d) != 2):
			return r, false
		}
		if digits == 0 {
			digits = len(d)
		}
		ended = len(d) < digits
		if line < 0 || strings.IndexByte(text[line:t.start], '\n') >= 0 {
			lines = append(lines, nil)
		}
		line = t.end
		last := &lines[len(lines)-1]
		first := len(*last)
		*last, _ = appendOctets(*last, token{d, extent{t.end - len(d), t.end}})
		(*last)[first].start = t.start
	}
	if short && !strings.ContainsFunc(text, func(c rune) bool { return c >= '1' && c <= '9' }) {
		return r, false // zeros of any width
	}
	n := 0
	for _, l := range lines {
		n += len(l)
	}
	if n <= digits/2 {
		return r, false
	}
	r.rows(lines, digits/2, label{}, groupName(digits/2))
	return r, true
}

func separatorOrColon(r rune) bool { return separator(r) || r == ':' || r == '-' }

func groupName(group int) string {
	if group == 1 {
		return "bytes"
	}
	return "bytes in groups"
}

// rows reads lines of bytes: as one run, or where that leaves something, each
// line by itself.
func (r *reading) rows(lines [][]octet, group int, l label, how string) {
	var whole reading
	whole.bytes(slices.Concat(lines...), group, l, how)
	if whole.wrong() > 0 && len(lines) > 1 {
		var each reading
		for _, line := range lines {
			each.bytes(line, group, l, how)
		}
		if each.wrong() < whole.wrong() || each.wrong() == 0 {
			whole = each
		} else if each.yield() > whole.yield() {
			whole = each
		}
	}
	r.join(whole)
}

// dumpLine is a line of a dump with an offset in front.
type dumpLine struct {
	extent
	offset string
	octets []octet
	digits int
	colon  bool
}

// readDump reads a dump of bytes with offsets in front, with or without a column
// of characters behind.
func readDump(text string) (reading, bool) {
	var r reading
	var got []dumpLine
	for at, line := range lines(text) {
		at, line := trimmed(at, line)
		switch {
		case line == "", comment(line), columnHead(line):
			continue
		case line == "*":
			got = append(got, dumpLine{extent: extent{at, at + 1}, offset: "*"})
			continue
		}
		d, ok := parseDumpLine(at, line)
		if !ok {
			if len(got) == 0 {
				return r, false
			}
			r.fault(fault{extent{at, at + len(line)}, line, "this line is no line of a dump",
				"an offset, then bytes in hex", ErrSyntax})
			continue
		}
		got = append(got, d)
	}
	radix := offsetRadix(got)
	if radix == 0 {
		return r, false
	}
	if len(got) == 1 && !got[0].colon && offsetOf(got[0].offset, radix) != 0 {
		return r, false // one line proves nothing
	}
	var lines [][]octet
	var digits, base, next int
	flush := func() {
		if len(lines) > 0 {
			r.dumped(lines, base, digits/2)
		}
		lines = nil
	}
	for _, d := range got {
		if d.offset == "*" {
			r.skip(d.extent, "lines like the one before, which the dump left out")
			flush()
			continue
		}
		at := offsetOf(d.offset, radix)
		if len(lines) > 0 && (at != next || digits != 0 && d.digits != 0 && d.digits != digits) {
			flush()
		}
		if len(d.octets) == 0 {
			continue
		}
		if len(lines) == 0 {
			base, digits = at, d.digits
		}
		lines = append(lines, d.octets)
		next = at + len(d.octets)
	}
	flush()
	return r, true
}

// dumped reads the bytes of one run of lines. A register dump of a port
// controller has its receive buffer in the middle.
func (r *reading) dumped(lines [][]octet, base, group int) {
	all := slices.Concat(lines...)
	if group == 1 && base <= bufferAt && base+len(all) > bufferAt+bufferLead {
		rest := all[bufferAt-base:]
		if n := int(rest[0].value) + 1; n <= len(rest) && n > bufferLead {
			if c := receiveBuffer(view{octets: rest[:n]}); len(c.packets) > 0 && (base == bufferAt || c.packets[0].head.Objects() > 0) {
				r.add(c.packets[0].found("dump with offsets, " + c.how))
				return
			}
		}
	}
	r.rows(lines, group, label{}, "dump with offsets")
}

const widest = 256 // bytes of a column of characters

// parseDumpLine cuts a line into offset and bytes. A column of characters behind
// is left out.
func parseDumpLine(at int, line string) (dumpLine, bool) {
	d := dumpLine{extent: extent{at, at + len(line)}}
	i := strings.IndexFunc(line, func(r rune) bool { return blank(r) || r == ':' })
	if i < 0 {
		i = len(line)
	}
	d.offset, _ = unprefixed(line[:i])
	rest, colon := strings.CutPrefix(line[i:], ":")
	if !isHex(d.offset) || len(d.offset) > 16 || !colon && len(d.offset) < headDigits {
		return d, false
	}
	d.colon = colon
	start := at + len(line) - len(rest)
	for _, mark := range []string{" |", " >"} { // before the characters
		if j := strings.Index(rest, mark); j >= 0 {
			rest = rest[:j]
		}
	}
	last := start
	for t := range cut(rest, start, blank) {
		behind := rest[t.start-start:]
		if len(d.octets) > 0 && t.start-last >= 2 && len(behind) <= widest && utf8.RuneCountInString(behind) <= len(d.octets) && !evenly(behind, d.digits) {
			break // the characters, at most one for each byte
		}
		last = t.end
		digits, prefixed := unprefixed(strings.TrimSuffix(t.text, ","))
		if !isHex(digits) || len(digits)%2 != 0 || len(digits) > 16 || d.digits != 0 && len(digits) > d.digits {
			return d, false
		}
		if d.digits == 0 {
			d.digits = len(digits)
		}
		from := t.start
		if prefixed {
			from += 2
		}
		if d.octets == nil {
			d.octets = make([]octet, 0, len(behind)/2) // two digits a byte
		}
		d.octets, _ = appendOctets(d.octets, token{digits, extent{from, from + len(digits)}})
	}
	return d, true
}

// evenly tells whether a text is hex groups of so many digits and nothing else.
func evenly(s string, digits int) bool {
	for t := range cut(s, 0, blank) {
		if !isHex(t.text) || len(t.text) != digits {
			return false
		}
	}
	return true
}

// comment tells a line that is a remark.
func comment(line string) bool {
	return strings.HasPrefix(line, "#") || strings.HasPrefix(line, "//")
}

// columnHead tells the line of column numbers over a dump.
func columnHead(line string) bool {
	n := 0
	for t := range cut(line, 0, blank) {
		v, err := strconv.ParseUint(t.text, 16, 8)
		if err != nil || int(v) != n {
			return n >= 8
		}
		n++
	}
	return n >= 8
}

func offsetOf(s string, radix int) int {
	v, err := strconv.ParseUint(s, radix, 32)
	if err != nil {
		return -1
	}
	return int(v & 0x7fffffff)
}

// offsetRadix finds the base in which the offsets count the bytes of the lines,
// 0 if they do not.
func offsetRadix(got []dumpLine) int {
	for _, radix := range []int{16, 8, 10} {
		steps, breaks, prev := 0, 0, -1
		for _, d := range got {
			if d.offset == "*" {
				prev = -1
				continue
			}
			at := offsetOf(d.offset, radix)
			if at < 0 {
				steps = -1
				break
			}
			if prev >= 0 && at != prev {
				if len(d.octets) == 0 && at < prev && prev-at < 8 {
					at = prev // the dump filled its last group
				} else if at != 0 {
					breaks++
				}
			}
			steps++
			prev = at + len(d.octets)
		}
		if steps > 0 && breaks*4 <= steps-1 {
			return radix
		}
	}
	return 0
}
