package signal

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// maxToken is the longest token of a value change dump that is read, in bytes;
// comments aside, names and values are far shorter.
const maxToken = 1 << 12

// maxWires is how many variables a capture may declare, maxNames how much their
// identifiers and full names with all scopes may come to, in bytes.
const (
	maxWires = 1 << 18
	maxNames = 64 << 20
)

// tokens cuts a text at blanks.
type tokens struct {
	in           *bufio.Reader
	line, column int // of the next character
	text         string
	at           Error // where the token begins
	cut          bool  // the token was longer than maxToken
	err          error // other than io.EOF
	buf          []byte
}

// next goes to the next token; false at the end of the text.
func (t *tokens) next() bool {
	t.buf, t.cut = t.buf[:0], false
	for {
		b, err := t.in.ReadByte()
		if err != nil {
			if !errors.Is(err, io.EOF) {
				t.err = err
			}
			t.text = string(t.buf)
			return len(t.buf) > 0
		}
		blank := b == ' ' || b >= '\t' && b <= '\r'
		switch {
		case blank && len(t.buf) > 0:
			t.in.UnreadByte()
			t.text = string(t.buf)
			return true
		case blank:
		case len(t.buf) == maxToken:
			t.cut = true
		default:
			if len(t.buf) == 0 {
				t.at.Line, t.at.Column = t.line, t.column
			}
			t.buf = append(t.buf, b)
		}
		switch {
		case b == '\n':
			t.line, t.column = t.line+1, 1
		case b&0xC0 != 0x80: // not the rest of a UTF-8 character
			t.column++
		}
	}
}

// wrong is an error at the token.
func (t *tokens) wrong(cause error, wrong, want string) *Error {
	return &Error{Line: t.at.Line, Column: t.at.Column, Token: t.text, Wrong: wrong, Want: want, Err: cause}
}

// section reads what stands before $end, at most as many tokens as a declaration
// can have of meaning.
func (t *tokens) section() (words []string, ended bool) {
	const most = 16
	for t.next() {
		if t.text == "$end" {
			return words, true
		}
		if len(words) < most {
			words = append(words, t.text)
		}
	}
	return words, false
}

// vcd reads a value change dump.
//
// Source: IEEE 1364-2005, clause 18, the four-state form.
type vcd struct {
	tokens
	sink   *sink
	scopes []string
	scoped int // bytes of scopes, each with its dot
	named  int // bytes of all names
	vars   []variable
	ids    map[string]target // by identifier code
	scale  float64           // seconds per tick
	ready  bool              // the definitions are done

	timed bool
	first uint64
	now   uint64
}

// target is where the values of a variable go.
type target struct {
	wire int // -1: it is not wanted
	bit  int // which bit of the vector, counted from the right; -1: all, as a number
}

type variable struct {
	id, name string // the full name, with scopes
	leaf     string
	left     int // index of a vector's leftmost bit
	right    int
	digital  bool
	numeric  bool
}

// named tells whether the variable, or one bit of it, counted from the right, has
// the name.
func (x variable) named(name string) (bit int, ok bool) {
	if name == x.leaf || name == x.name {
		return -1, true
	}
	front, index, _ := strings.Cut(name, "[")
	i, err := strconv.Atoi(strings.TrimSuffix(index, "]"))
	if err != nil || x.digital || front != x.leaf && front != x.name || i < min(x.left, x.right) || i > max(x.left, x.right) {
		return -1, false
	}
	return max(i-x.right, x.right-i), true
}

func readVCD(in *bufio.Reader, s *sink) {
	v := &vcd{tokens: tokens{in: in, line: 1, column: 1}, sink: s, ids: map[string]target{}, scale: s.options.TimeUnit}
	for !s.stopped && v.next() {
		v.token()
	}
	if v.err != nil {
		s.hand(Packet{}, &Error{Line: v.line, Column: v.column, Wrong: "the capture cannot be read on: " + v.err.Error(), Err: v.err})
		s.errors++
	}
	if !s.stopped && !v.ready && s.errors == 0 {
		s.fail(&Error{Line: v.line, Column: v.column, Wrong: "the text ends within the definitions",
			Want: "$enddefinitions $end stands before the values", Err: ErrVCD})
	}
}

func (v *vcd) token() {
	if v.cut {
		v.sink.fail(v.wrong(ErrTooLong, "a token longer than "+strconv.Itoa(maxToken)+" bytes", "names and values are shorter"))
		return
	}
	switch c := v.text[0]; c {
	case '$':
		v.keyword()
		return
	case '#':
		v.enter()
		v.time()
		return
	case '0', '1', 'x', 'X', 'z', 'Z':
		v.enter()
		v.change(v.text[1:], v.text[:1], v.wrongAt())
		return
	case 'b', 'B', 'r', 'R', 's', 'S':
		v.enter()
		value, at := v.text, v.wrongAt()
		more := v.next()
		if _, declared := v.ids[v.text]; !more || !declared && (v.text[0] == '$' || v.text[0] == '#') {
			at.Wrong, at.Want, at.Err = "a value without an identifier", "a vector or real is followed by a blank and its identifier", ErrVCD
			v.sink.fail(at)
			if more {
				v.token()
			}
			return
		}
		v.change(v.text, value, at)
		return
	}
	v.sink.fail(v.wrong(ErrVCD, "neither a time nor a value nor a keyword", "a line is like #1200, 0!, b101 !, r1.25 ! or $dumpvars"))
}

// name counts the bytes of a name; false where it is one too many.
func (v *vcd) name(bytes int) bool {
	const keeping = 32 // what each takes beside its bytes
	if v.named += bytes + keeping; v.named <= maxNames {
		return true
	}
	v.sink.abandon(v.wrong(ErrTooLong, fmt.Sprintf("names of more than %d MiB", maxNames>>20), "dump the CC line alone"))
	return false
}

func (v *vcd) wrongAt() *Error { return v.wrong(nil, "", "") }

func (v *vcd) keyword() {
	keyword, at := v.text, v.wrongAt()
	switch keyword {
	case "$end", "$dumpvars", "$dumpall", "$dumpon", "$dumpoff":
		return // what stands between is value changes
	}
	words, ended := v.section()
	if !ended {
		at.Wrong, at.Want, at.Err = "the text ends within this section", "$end closes it", ErrVCD
		v.sink.fail(at)
		return
	}
	bad := func(cause error, want string) {
		at.Token = strings.Join(append([]string{keyword}, words...), " ")
		at.Wrong, at.Want, at.Err = "not understood", want, cause
		v.sink.fail(at)
	}
	switch keyword {
	case "$date", "$version", "$comment":
	case "$timescale":
		unit, ok := timescale(strings.Join(words, ""))
		if !ok {
			bad(ErrTimescale, "it is 1, 10 or 100 and s, ms, us, ns, ps or fs, like $timescale 10 ns $end")
		} else if v.sink.options.TimeUnit == 0 {
			v.scale = unit
		}
	case "$scope":
		if len(words) != 2 {
			bad(ErrVCD, "it is like $scope module top $end")
			words = []string{"", ""}
		}
		if v.scoped += len(words[1]) + 1; v.name(len(words[1]) + 1) {
			v.scopes = append(v.scopes, words[1])
		}
	case "$upscope":
		if len(v.scopes) == 0 {
			bad(ErrVCD, "it closes a $scope")
			return
		}
		last := len(v.scopes) - 1
		v.scoped -= len(v.scopes[last]) + 1
		v.scopes = v.scopes[:last]
	case "$var":
		v.variable(words, bad)
	case "$enddefinitions":
		v.define()
	default:
		bad(ErrVCD, "a keyword of IEEE 1364, like $var, $scope, $timescale or $dumpvars")
	}
}

// variable takes a declaration; bad reports what is wrong with it.
func (v *vcd) variable(words []string, bad func(cause error, want string)) {
	if v.ready {
		bad(ErrVCD, "variables are declared before $enddefinitions")
		return
	}
	size, err := 0, errors.ErrUnsupported
	if len(words) >= 4 {
		size, err = strconv.Atoi(words[1])
	}
	if err != nil || size < 1 {
		bad(ErrVCD, "it is like $var wire 1 ! CC1 $end")
		return
	}
	if len(v.vars) == maxWires {
		v.sink.abandon(v.wrong(ErrTooLong, "more than "+strconv.Itoa(maxWires)+" variables", "dump the CC line alone"))
		return
	}
	kind := words[0]
	real := kind == "real" || kind == "realtime"
	leaf := strings.Join(words[3:], "") // with the bit's index or the range
	left, right := size-1, 0
	switch {
	case real:
		left, right = -1, -1
	case size > 1:
		name, bits, ranged := strings.Cut(leaf, "[")
		leaf = name
		if l, r, ok := indexes(bits); ok && max(l, r)-min(l, r) == size-1 {
			left, right = l, r
		} else if ranged {
			bad(ErrVCD, "a range fits the size, like $var wire 8 ! port [7:0] $end")
			return
		}
	}
	if !v.name(v.scoped + len(leaf) + len(words[2])) {
		return
	}
	v.vars = append(v.vars, variable{id: words[2], leaf: leaf,
		name: strings.Join(append(slices.Clip(v.scopes), leaf), "."),
		left: left, right: right,
		digital: size == 1 && !real,
		numeric: kind != "event" && kind != "string" && kind != "parameter"})
}

// timescale reads the unit of time in seconds.
func timescale(s string) (float64, bool) {
	digits := strings.TrimRight(s, "smunpf")
	unit, ok := map[string]float64{"s": 1, "ms": 1e-3, "us": 1e-6, "ns": 1e-9, "ps": 1e-12, "fs": 1e-15}[s[len(digits):]]
	n, known := map[string]float64{"1": 1, "10": 10, "100": 100}[digits]
	return n * unit, ok && known
}

// indexes reads what stands behind the bracket of a range: 7:0].
func indexes(s string) (left, right int, ok bool) {
	l, r, _ := strings.Cut(strings.TrimSuffix(s, "]"), ":")
	left, errL := strconv.Atoi(l)
	right, errR := strconv.Atoi(r)
	return left, right, errL == nil && errR == nil
}

// enter is called at the first value.
func (v *vcd) enter() {
	if !v.ready {
		v.sink.fail(v.wrong(ErrVCD, "a value within the definitions", "$enddefinitions $end stands before the values"))
		v.define()
	}
}

// define takes the variables over once they are all known.
func (v *vcd) define() {
	if v.ready {
		return
	}
	v.ready = true
	if v.scale == 0 {
		v.sink.abandon(v.wrong(ErrTimescale, "the dump has no $timescale", "give the unit of its times"))
		return
	}
	want := v.sink.options.Wire
	var names []string
	for _, x := range v.vars {
		if _, twice := v.ids[x.id]; !twice {
			v.ids[x.id] = target{-1, -1}
		}
		bit, ok := x.named(want)
		if !x.numeric || want != "" && !ok {
			continue
		}
		if v.ids[x.id].wire < 0 {
			name := x.name
			if bit >= 0 {
				name += want[strings.LastIndex(want, "["):]
			}
			v.ids[x.id] = target{len(v.sink.wires), bit}
			v.sink.wires = append(v.sink.wires, wire{name: name, digital: x.digital || bit >= 0})
			names = append(names, name)
		}
	}
	switch {
	case len(names) == 0 && want == "":
		v.sink.abandon(v.wrong(ErrWire, "the dump declares no wire", "it has declarations like $var wire 1 ! CC1 $end"))
	case len(names) == 0:
		v.sink.abandon(&Error{Token: want, Wrong: "no wire of this name", Want: "there are: " + v.offers(), Err: ErrWire})
	case len(names) > 1 && want != "":
		v.sink.abandon(&Error{Token: want, Wrong: "several wires have this name", Want: "give one of: " + strings.Join(names[:min(len(names), mostOffers)], ", "), Err: ErrWire})
	}
	v.vars = nil
	if !v.sink.stopped {
		v.sink.open()
	}
}

const mostOffers = 12

func (v *vcd) offers() string {
	var names []string
	for _, x := range v.vars {
		if x.numeric {
			names = append(names, x.name)
		}
	}
	return offers(names)
}

// offers lists names for an error.
func offers(names []string) string {
	if n := len(names) - mostOffers; n > 0 {
		return strings.Join(names[:mostOffers], ", ") + fmt.Sprintf(" and %d more", n)
	}
	return strings.Join(names, ", ")
}

func (v *vcd) time() {
	n, err := strconv.ParseUint(v.text[1:], 10, 64)
	switch {
	case err != nil:
		v.sink.fail(v.wrong(ErrVCD, "not a time", "a time is # and a whole number"))
	case v.timed && n < v.now:
		v.sink.fail(v.wrong(ErrTime, fmt.Sprintf("time runs backwards: %d came before", v.now), "times do not decrease; the time before is kept"))
	case !v.timed:
		v.timed, v.first, v.now = true, n, n
		v.sink.origin = later(0, float64(n)*v.scale)
	default:
		v.now = n
	}
}

// change takes a value of a variable.
func (v *vcd) change(id, value string, at *Error) {
	to, declared := v.ids[id]
	if !declared {
		at.Token = id
		at.Wrong, at.Want, at.Err = "a value of an identifier that is not declared", "each identifier has its $var", ErrVCD
		if id == "" {
			at.Token, at.Wrong, at.Want = value, "a value without an identifier", "the identifier follows, without a blank"
		}
		v.sink.fail(at)
		return
	}
	if to.wire < 0 {
		return
	}
	if !v.timed { // values in front of the first time
		v.timed = true
	}
	n, known, ok := number(value)
	if !ok {
		at.Wrong, at.Want, at.Err = "not a value", "a value is 0, 1, x or z, b and such digits, or r and a number", ErrVCD
		v.sink.fail(at)
		return
	}
	if to.bit >= 0 {
		n, known = digit(value, to.bit)
	}
	if known {
		v.sink.add(sample{to.wire, float64(v.now-v.first) * v.scale, n})
	}
}

// digit is one bit of a vector, counted from the right. What is left out in
// front repeats an x or z, and is 0 otherwise.
func digit(value string, place int) (n float64, known bool) {
	if value[0] == 'b' || value[0] == 'B' {
		value = value[1:]
	}
	c := value[0]
	switch i := len(value) - 1 - place; {
	case i >= 0:
		c = value[i]
	case c == '1':
		c = '0'
	}
	return float64(c - '0'), c == '0' || c == '1'
}

// number reads a value; an unknown or high-impedance one is not known, and the
// value before stays.
func number(s string) (n float64, known, ok bool) {
	switch s[0] {
	case 'r', 'R':
		n, ok = decimal(s[1:])
		return n, ok, ok
	case 's', 'S':
		return 0, false, true
	case 'b', 'B':
		s = s[1:]
	}
	known = true
	for _, c := range s {
		switch c {
		case '0', '1':
			n = n*2 + float64(c-'0')
		case 'x', 'X', 'z', 'Z':
			known = false
		default:
			return 0, false, false
		}
	}
	return n, known, s != ""
}
