package paste

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/gainsay/vdo/frame"
)

// readLog reads words, bytes and runs of digits that stand behind labels or in
// the lines of a log. Whatever is no value is a label; what looks like a value
// with a slip in it is an error.
func readLog(text string) (reading, bool) {
	var g logReader
	for at, line := range lines(text) {
		g.line(at, line)
	}
	g.flush()
	fit := false
	for _, f := range g.found {
		fit = fit || f.skipped != "" || fitWords(f.message.Words, f.message.Context()) > 0
	}
	for _, e := range g.chatter {
		g.found = append(g.found, found{extent: e, since: e.start, skipped: noValues})
	}
	return g.reading, g.labels && (fit || len(g.faults) > 0)
}

// noValues is why lines of a log are set aside that hold no word or byte.
const noValues = "text without values"

const logForm = "words behind labels"

type logReader struct {
	reading
	flow   []piece
	rows   [][]octet // lines of bytes that may go on
	group  int       // bytes in each group of theirs
	label  label     // of flow and rows
	sticky label     // of a line that has nothing else
	labels bool      // something is a label beyond doubt
	// Lines without values, those one below the other together.
	chatter []extent
	quiet   bool // the line before is one of them
}

func (g *logReader) flush() {
	if len(g.flow) > 0 {
		g.reading.flow(g.flow, g.label, logForm)
	}
	if len(g.rows) > 0 {
		g.reading.rows(g.rows, g.group, g.label, "bytes behind labels")
	}
	g.flow, g.rows = nil, nil
}

// bytesLine takes a line of bytes, which may go on in the next one.
func (g *logReader) bytesLine(octets []octet, group int, marked bool, now label) {
	if len(g.rows) == 0 || marked || group != g.group {
		g.flush()
		g.label = now
	}
	if marked {
		if c := candidates(octets, group, now); len(c) > 0 && c[0].whole(len(octets)) {
			g.reading.bytes(octets, group, now, "bytes behind labels")
			g.label = g.sticky
			return
		}
	}
	g.rows, g.group = append(g.rows, octets), group
}

// logLine is what one line holds.
type logLine struct {
	pieces []piece
	octets []octet // the longest run of bytes
	halves []octet // the longest run of groups of two
	maybe  []piece // behind the name of something that is no data
	runs   []token
	label  label
	marked bool // an ordered set is named
}

// Keys whose values are no data. They are in the form of plainKey.
var besideKeys = []string{"len", "length", "count", "cnt", "id", "msgid", "messageid", "num", "no", "size", "port", "time", "ts", "delta", "idx",
	"index", "addr", "address", "type", "rev", "revision", "role", "channel", "ch", "vid", "pid", "svid", "xid", "bcddevice", "cmd", "command", "status", "line", "frame", "seq"}

// neverKeys are those of them whose value is no word even alone on its line.
var neverKeys = []string{"len", "length", "count", "cnt", "size", "time", "ts", "delta", "addr", "address", "line", "seq"}

// identityKeys are those of them that may name a word of an identity, too: behind
// its first word, with more digits than an ID has.
var identityKeys = []string{"id", "vid", "pid", "xid"}

func (g *logReader) line(at int, line string) {
	faults := g.wrong()
	l := g.scan(at, line)
	if strings.TrimFunc(line, blank) == "" {
		return
	}
	quiet := g.quiet
	g.quiet = false
	if len(l.pieces)+len(l.octets)+len(l.halves)+len(l.runs) == 0 {
		if len(l.maybe) == 1 && len(g.flow) > 0 {
			// One value on its line, in a list of words.
			g.flow = append(g.flow, l.maybe[0])
			return
		}
		if l.marked {
			g.flush()
			g.sticky = l.label
			g.label = l.label
		} else if g.wrong() == faults {
			start, text := trimmed(at, line)
			e := extent{start, start + len(text)}
			if g.quiet = true; quiet {
				g.chatter[len(g.chatter)-1].end = e.end
			} else {
				g.chatter = append(g.chatter, e)
			}
		}
		return
	}
	now := g.sticky
	if l.marked {
		now = l.label
	}
	switch {
	case len(l.pieces) > 0:
		if len(g.rows) > 0 {
			g.flush()
		}
		begins := l.pieces[0].head || header(l.pieces[0].value)
		if l.marked || begins || len(g.flow) == 0 {
			if now.plug != g.label.plug || now.set != g.label.set || l.marked {
				g.flush()
			}
			if len(g.flow) == 0 {
				g.label = now
			}
		}
		g.flow = append(g.flow, l.pieces...)
		// Without a message header before it, what follows may go on; a table of one
		// message on each line need not be kept.
		if len(g.flow) > 4*frame.MaxObjects && begins {
			keep := g.flow[len(g.flow)-len(l.pieces):]
			g.reading.flow(g.flow[:len(g.flow)-len(l.pieces)], g.label, logForm)
			g.flow = append([]piece(nil), keep...)
			g.label = now
		}
	case len(l.octets) > 0:
		g.bytesLine(l.octets, 1, l.marked, now)
	case len(l.halves) > 0:
		g.bytesLine(l.halves, 2, l.marked, now)
	default:
		g.flush()
		for _, t := range l.runs {
			g.run(t, now, "digits behind labels")
		}
	}
}

func logSeparator(r rune) bool {
	if r < utf8.RuneSelf {
		return logSeparators[r]
	}
	return blank(r)
}

var logSeparators = asciiSet(" \t\n\v\f\r,;[](){}<>|=")

func (g *logReader) scan(at int, line string) logLine {
	var l logLine
	g.labels = g.labels || strings.ContainsAny(line, ":=")
	var octets, halves []octet
	key, keyEnd := "", at
	first := true
	var stamp *piece
	others := 0
	keepOctets := func() {
		if len(octets) > len(l.octets) {
			l.octets = octets
		}
		if len(halves) > len(l.halves) {
			l.halves = halves
		}
		octets, halves = nil, nil
	}
	values := func(t token) {
		plug, ok := plugName(t.text)
		if name, colon := strings.CutSuffix(t.text, ":"); !ok && first && colon {
			plug, ok = namedPlug(name) // near: and far: as people write them
		}
		if ok {
			keepOctets()
			g.labels = true
			l.label, l.marked, key = label{plug, true, at}, true, ""
			keyEnd = t.end
			return
		}
		t = unquote(t)
		if t.text == "" {
			return
		}
		digits, prefixed := unprefixed(t.text)
		if h := strings.TrimRight(digits, "hH"); !prefixed && len(h) == len(digits)-1 && isHex(h) {
			digits, prefixed = h, true
			g.labels = g.labels || len(h) == wordDigits
		}
		// A name is a key where it touches its value; before a short number it counts
		// in any case.
		named := in(key, besideKeys)
		const near = 16
		beside := named && t.start-keyEnd < near && strings.ContainsAny(line[keyEnd-at:t.start-at], ":=#")
		hex := isHex(digits)
		from := extent{t.start + strings.Index(t.text, digits), 0}
		from.end = from.start + len(digits)
		switch {
		case hex && len(digits) == 2 && !(prefixed && named):
			octets, _ = appendOctets(octets, token{digits, from})
			others++
			return
		case hex && len(digits) == headDigits && !beside:
			halves, _ = appendOctets(halves, token{digits, from})
			v, _ := strconv.ParseUint(digits, 16, 16)
			h := frame.Header(v)
			bare := len(l.pieces) > 0 && !l.pieces[0].head
			if bare && t.start-l.pieces[len(l.pieces)-1].end < 3 {
				_, f := parseWord(token{digits, t.extent})
				f.token = t.text
				g.fault(*f) // half a word
				return
			}
			if h.Type().Defined() && !h.Extended() && (in(key, headKeys) || l.marked && !bare || h.Type() == frame.VendorDefined) {
				l.pieces = append(l.pieces, piece{word{value: uint32(v), extent: t.extent}, true})
				others++
			}
			return
		case hex && (len(digits) == wordDigits || prefixed && len(digits) < wordDigits && len(digits) != 2):
			keepOctets()
			w, _ := parseWord(token{"0x" + digits, t.extent})
			w.padded = len(digits) < wordDigits
			inside := len(l.pieces) > 0 && in(key, identityKeys) && (len(digits) > headDigits || key == "xid")
			if !inside && (beside || named && w.padded) {
				if !in(key, neverKeys) {
					l.maybe = append(l.maybe, piece{w, false})
				}
				return
			}
			if in(key, crcKeys) && !(len(l.pieces) > 0 && l.pieces[0].head) {
				return // nothing to hold it against
			}
			if first && isDecimal(t.text) {
				stamp = &piece{w, false} // perhaps a count of ticks
				return
			}
			l.pieces = append(l.pieces, piece{w, false})
			others++
			return
		case hex && len(digits) > wordDigits+2 && !isDecimal(digits):
			keepOctets()
			l.runs = append(l.runs, token{digits, from})
			others++
			return
		case slip(t.text, digits, prefixed):
			keepOctets()
			if _, f := parseWord(t); f != nil {
				g.fault(*f)
				others++
			}
			return
		}
		keepOctets()
		key, keyEnd = plainKey(t.text), t.end
	}
	for t := range cut(line, at, logSeparator) {
		// A remark, or the prompt of a shell.
		if t.text == "#" || strings.HasPrefix(t.text, "//") || first && (t.text == "$" || strings.HasPrefix(line[t.start-at:], "> ")) {
			g.labels = true
		}
		if first && strings.HasSuffix(t.text, ":") && isHex(t.text[:len(t.text)-1]) {
			first = false // an offset
			continue
		}
		if o, ok := joinedBytes(t); ok {
			keepOctets()
			octets = o
			keepOctets()
			continue
		}
		if i := strings.LastIndexByte(t.text, ':'); i >= 0 && i+1 < len(t.text) {
			if !strings.ContainsFunc(t.text, func(c rune) bool { return c != ':' && c != '.' && (c < '0' || c > '9') }) || datetime(t.text) {
				keepOctets() // a time of day
				first = false
				continue
			}
			values(token{t.text[:i], extent{t.start, t.start + i}})
			key, keyEnd = plainKey(t.text[:i]), t.start+i
			t = token{t.text[i+1:], extent{t.start + i + 1, t.end}}
		}
		values(t)
		first = false
	}
	keepOctets()
	if stamp != nil && others == 0 {
		l.pieces = append([]piece{*stamp}, l.pieces...)
	}
	l.pieces = counted(l.pieces)
	least := headBytes + wordBytes
	if l.marked || g.sticky.set || len(g.rows) > 0 {
		least = headBytes
	}
	if len(l.pieces) > 0 || len(l.octets) < least {
		l.octets = nil
	}
	if len(l.pieces) > 1 || len(l.halves) < headBytes+wordBytes && len(g.rows) == 0 {
		l.halves = nil
	} else if len(l.halves) > headBytes {
		l.pieces = nil // what looked like a message header is the first group
	}
	return l
}

// counted drops four digits that head no message.
func counted(pieces []piece) []piece {
	out := pieces[:0]
	for i, p := range pieces {
		if p.head {
			n := 0
			for i+1+n < len(pieces) && !pieces[i+1+n].head {
				n++
			}
			h := frame.Header(p.value)
			// The words may also stand on the lines below.
			if i+1+n < len(pieces) && n != h.Objects() && n != h.Objects()+1 || n > h.Objects()+1 {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// datetime tells a date with a time of day, as RFC 3339 writes it.
func datetime(s string) bool {
	return len(s) >= len("2026-10-05T12:00") && isDecimal(s[:4]) && s[4] == '-' && s[7] == '-'
}

// joinedBytes reads bytes with colons or hyphens between them, six or more.
func joinedBytes(t token) ([]octet, bool) {
	n := len(t.text)
	if n < 17 || n%3 != 2 || t.text[2] != ':' && t.text[2] != '-' {
		return nil, false
	}
	var out []octet
	for i := 0; i < n; i += 3 {
		if !isHex(t.text[i:i+2]) || i+2 < n && t.text[i+2] != t.text[2] {
			return nil, false
		}
		out, _ = appendOctets(out, token{t.text[i : i+2], extent{t.start + i, t.start + i + 2}})
	}
	return out, true
}

// unquote takes quotes, full stops and the like from the ends of a token.
func unquote(t token) token {
	const marks = "\"'`.:*#"
	left := strings.TrimLeft(t.text, marks)
	t.start = t.end - len(left)
	t.text = strings.TrimRight(left, marks)
	t.end = t.start + len(t.text)
	return t
}

// slip tells a token that is a value but for a digit too many, too few or wrong.
func slip(text, digits string, prefixed bool) bool {
	if prefixed {
		return true
	}
	n := utf8.RuneCountInString(digits)
	if n < wordDigits-1 || n > wordDigits+2 {
		return false
	}
	wrong, figures := 0, 0
	for _, c := range digits {
		switch {
		case c >= '0' && c <= '9':
			figures++
		case c > 0x7f || !hexDigit(byte(c)):
			wrong++
		}
	}
	return wrong <= 1 && figures > 0 && figures < n && (wrong == 0 || n == wordDigits && !strings.ContainsAny(text, ".-_/:"))
}
