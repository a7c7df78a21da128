package paste

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/gainsay/vdo/frame"
)

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

func logSeparator(r rune) bool {
	if r < utf8.RuneSelf {
		return logSeparators[r]
	}
	return blank(r)
}

var logSeparators = asciiSet(" \t\n\v\f\r,;[](){}<>|=")

// lineScan reads the tokens of one line.
type lineScan struct {
	log  *logReader
	line string
	at   int // where the line begins
	got  logLine

	octets, halves []octet // of the run that goes on here
	key            string  // the label in front, as plainKey gives it
	keyEnd         int     // where it ends
	first          bool    // nothing stands in front
	stamp          *piece  // a word in front that may be a count of ticks
	values         int     // how many were taken, the stamp aside
}

func (g *logReader) scan(at int, line string) logLine {
	g.labels = g.labels || strings.ContainsAny(line, ":=")
	s := lineScan{log: g, line: line, at: at, keyEnd: at, first: true}
	for t := range cut(line, at, logSeparator) {
		s.token(t)
		s.first = false
	}
	s.keep()
	l := &s.got
	if s.stamp != nil && s.values == 0 {
		l.pieces = append([]piece{*s.stamp}, l.pieces...)
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
	return s.got
}

// keep ends a run of bytes. The longest of a line counts.
func (s *lineScan) keep() {
	if len(s.octets) > len(s.got.octets) {
		s.got.octets = s.octets
	}
	if len(s.halves) > len(s.got.halves) {
		s.got.halves = s.halves
	}
	s.octets, s.halves = nil, nil
}

// token takes what stands between blanks: a value, a label, or both with a colon
// between.
func (s *lineScan) token(t token) {
	// A remark, or the prompt of a shell.
	if t.text == "#" || strings.HasPrefix(t.text, "//") || s.first && (t.text == "$" || strings.HasPrefix(s.line[t.start-s.at:], "> ")) {
		s.log.labels = true
	}
	if s.first && strings.HasSuffix(t.text, ":") && isHex(t.text[:len(t.text)-1]) {
		return // an offset
	}
	if o, ok := joinedBytes(t); ok {
		s.keep()
		s.octets = o
		s.keep()
		return
	}
	if i := strings.LastIndexByte(t.text, ':'); i >= 0 && i+1 < len(t.text) {
		if !strings.ContainsFunc(t.text, func(c rune) bool { return c != ':' && c != '.' && (c < '0' || c > '9') }) || datetime(t.text) {
			s.keep() // a time of day
			return
		}
		s.value(token{t.text[:i], extent{t.start, t.start + i}})
		s.key, s.keyEnd = plainKey(t.text[:i]), t.start+i
		t = token{t.text[i+1:], extent{t.start + i + 1, t.end}}
	}
	s.value(t)
}

// value takes a value. What is none is the label of the next.
func (s *lineScan) value(t token) {
	if s.mark(t) {
		return
	}
	t = unquote(t)
	if t.text == "" {
		return
	}
	digits, prefixed := unprefixed(t.text)
	if h := strings.TrimRight(digits, "hH"); !prefixed && len(h) == len(digits)-1 && isHex(h) {
		digits, prefixed = h, true
		s.log.labels = s.log.labels || len(h) == wordDigits
	}
	// A name is a key where it touches its value; before a short number it counts
	// in any case.
	named := in(s.key, besideKeys)
	const near = 16
	beside := named && t.start-s.keyEnd < near && strings.ContainsAny(s.line[s.keyEnd-s.at:t.start-s.at], ":=#")
	hex := isHex(digits)
	start := t.start + strings.Index(t.text, digits)
	bare := token{digits, extent{start, start + len(digits)}}
	switch {
	case hex && len(digits) == 2 && !(prefixed && named):
		s.octets, _ = appendOctets(s.octets, bare)
		s.values++
	case hex && len(digits) == headDigits && !beside:
		s.halves, _ = appendOctets(s.halves, bare)
		s.half(t, digits)
	case hex && (len(digits) == wordDigits || prefixed && len(digits) < wordDigits && len(digits) != 2):
		s.keep()
		s.word(t, digits, named, beside)
	case hex && len(digits) > wordDigits+2 && !isDecimal(digits):
		s.keep()
		s.got.runs = append(s.got.runs, bare)
		s.values++
	case slip(t.text, digits, prefixed):
		s.keep()
		if _, f := parseWord(t); f != nil {
			s.log.fault(*f)
			s.values++
		}
	default:
		s.keep()
		s.key, s.keyEnd = plainKey(t.text), t.end
	}
}

// mark takes the name of an ordered set.
func (s *lineScan) mark(t token) bool {
	plug, ok := plugName(t.text)
	if name, colon := strings.CutSuffix(t.text, ":"); !ok && s.first && colon {
		plug, ok = namedPlug(name) // near: and far: as people write them
	}
	if !ok {
		return false
	}
	s.keep()
	s.log.labels = true
	s.got.label, s.got.marked = label{plug, true, s.at}, true
	s.key, s.keyEnd = "", t.end
	return true
}

// half takes four digits: a message header perhaps, or half a word.
func (s *lineScan) half(t token, digits string) {
	v, _ := strconv.ParseUint(digits, 16, 16)
	h := frame.Header(v)
	l := &s.got
	words := len(l.pieces) > 0 && !l.pieces[0].head // without a header in front
	if words && t.start-l.pieces[len(l.pieces)-1].end < 3 {
		_, f := parseWord(token{digits, t.extent})
		f.token = t.text
		s.log.fault(*f)
		return
	}
	if h.Type().Defined() && !h.Extended() && (in(s.key, headKeys) || l.marked && !words || h.Type() == frame.VendorDefined) {
		l.pieces = append(l.pieces, piece{word{value: uint32(v), extent: t.extent}, true})
		s.values++
	}
}

// word takes a word, unless its label says that it is something else.
func (s *lineScan) word(t token, digits string, named, beside bool) {
	w, _ := parseWord(token{"0x" + digits, t.extent})
	w.padded = len(digits) < wordDigits
	l := &s.got
	inside := len(l.pieces) > 0 && in(s.key, identityKeys) && (len(digits) > headDigits || s.key == "xid")
	switch {
	case !inside && (beside || named && w.padded):
		if !in(s.key, neverKeys) {
			l.maybe = append(l.maybe, piece{w, false})
		}
	case in(s.key, crcKeys) && !(len(l.pieces) > 0 && l.pieces[0].head):
		// There is nothing to hold it against.
	case s.first && isDecimal(t.text):
		s.stamp = &piece{w, false}
	default:
		l.pieces = append(l.pieces, piece{w, false})
		s.values++
	}
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
