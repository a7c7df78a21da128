package signal

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

const (
	maxHeading = 200     // lines in front of the first row of numbers
	lineBytes  = 1 << 16 // the longest line that is read, and the size of the reader's buffer
)

// table reads lines of cells: the first is the time, the others are levels.
type table struct {
	sink    *sink
	line    int
	comma   byte // what parts cells, ' ' for any blanks
	cells   []cell
	heading [][]cell // the last two lines in front of the numbers

	headings int // how many there were

	columns []int // the cells that are wires, in the order of sink.wires
	unit    float64
	first   instant
	last    float64
}

type cell struct {
	text   string
	column int
}

func readCSV(in *bufio.Reader, s *sink) {
	t := &table{sink: s}
	for !s.stopped {
		b, err := in.ReadSlice('\n')
		t.line++
		if errors.Is(err, bufio.ErrBufferFull) {
			s.fail(&Error{Line: t.line, Column: 1, Token: string(b[:60]), Wrong: fmt.Sprintf("a line longer than %d bytes", lineBytes),
				Want: "a row is a time and a few levels", Err: ErrTooLong})
			for errors.Is(err, bufio.ErrBufferFull) {
				_, err = in.ReadSlice('\n')
			}
		} else if len(b) > 0 {
			t.row(string(b))
		}
		if err != nil {
			if !errors.Is(err, io.EOF) {
				s.hand(Packet{}, &Error{Line: t.line, Column: 1, Wrong: "the capture cannot be read on: " + err.Error(), Err: err})
				s.errors++
			}
			break
		}
	}
	if !s.stopped && t.columns == nil && s.errors == 0 && t.heading != nil {
		s.fail(t.noNumbers())
	}
}

func (t *table) noNumbers() *Error {
	last := t.heading[len(t.heading)-1]
	return &Error{Line: t.line, Column: 1, Token: last[0].text, Wrong: "no row of numbers up to here",
		Want: "a row is a time and a level, like 0.0000125,1", Err: ErrCSV}
}

func (t *table) row(line string) {
	line = strings.TrimRight(line, "\r\n")
	if blank := strings.TrimLeft(line, " \t"); blank == "" || blank[0] == '#' || blank[0] == '%' {
		return
	}
	if t.columns != nil {
		t.cells = split(t.cells[:0], line, t.comma)
		t.values()
		return
	}
	comma := separator(line)
	cells := split(nil, line, comma)
	at, ok := parseInstant(cells[0].text, comma)
	if !ok || len(cells) > 1 && !anyNumber(cells[1:], comma) {
		t.heading = append(t.heading, cells)
		if len(t.heading) > 2 {
			t.heading = t.heading[1:]
		}
		if t.headings++; t.headings == maxHeading {
			t.sink.abandon(t.noNumbers())
		}
		return
	}
	if len(cells) == 1 {
		t.sink.abandon(&Error{Line: t.line, Column: cells[0].column, Token: cells[0].text, Wrong: "only one column",
			Want: "a row is a time and a level, with a comma, a semicolon, a tab or blanks between", Err: ErrCSV})
		return
	}
	t.comma, t.first, t.cells = comma, at, cells
	t.define()
	if !t.sink.stopped {
		t.values()
	}
}

// define takes over the columns when the first row of numbers has come.
func (t *table) define() {
	names, unit := t.names(len(t.cells))
	t.unit = t.sink.options.TimeUnit
	if t.unit == 0 {
		t.unit = unit
	}
	t.sink.origin = later(0, float64(t.first.whole)*t.unit+t.first.part*t.unit)
	want := t.sink.options.Wire
	for i := 1; i < len(t.cells); i++ {
		if want == "" || want == names[i] || want == withoutUnit(names[i]) {
			t.columns = append(t.columns, i)
			t.sink.wires = append(t.sink.wires, wire{name: names[i], sampled: true})
		}
	}
	switch {
	case len(t.columns) == 0:
		t.sink.abandon(&Error{Token: want, Wrong: "no column of this name", Want: "there are: " + offers(names[1:]), Err: ErrWire})
	case want != "" && len(t.columns) > 1:
		t.sink.abandon(&Error{Token: want, Wrong: "several columns have this name", Want: "name them apart", Err: ErrWire})
	default:
		t.sink.open()
	}
}

// names are the names of n columns and the unit of the first, in seconds.
func (t *table) names(n int) (names []string, unit float64) {
	names = make([]string, n)
	for i := range names {
		names[i] = "column " + strconv.Itoa(i+1)
	}
	unit = 1
	taken := false
	for i := len(t.heading) - 1; i >= 0; i-- {
		cells := t.heading[i]
		if len(cells) != n || taken && unit != 1 {
			continue
		}
		u, whole, ok := headingUnit(cells[0].text)
		if ok {
			unit = u
		}
		if taken || ok && whole && i > 0 && len(t.heading[i-1]) == n {
			continue // a line of units below the names
		}
		taken = true
		for j, c := range cells {
			if c.text != "" {
				names[j] = c.text
			}
		}
	}
	return names, unit
}

// units of time as headings write them, in seconds.
var units = map[string]float64{
	"s": 1, "sec": 1, "second": 1, "seconds": 1,
	"ms": 1e-3, "millisecond": 1e-3, "milliseconds": 1e-3,
	"us": 1e-6, "µs": 1e-6, "μs": 1e-6, "microsecond": 1e-6, "microseconds": 1e-6,
	"ns": 1e-9, "nanosecond": 1e-9, "nanoseconds": 1e-9,
	"ps": 1e-12, "picosecond": 1e-12, "picoseconds": 1e-12,
}

// headingUnit finds a unit in a heading: "Time (us)", "t [ns]", "time_ms", or
// "us" as the whole of it.
func headingUnit(s string) (unit float64, whole, ok bool) {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" \t()[]{}/_,:", r) })
	if len(words) == 0 {
		return 0, false, false
	}
	unit, ok = units[words[len(words)-1]]
	return unit, len(words) == 1, ok
}

// withoutUnit is a heading up to its brackets: "CC1 (V)" is CC1.
func withoutUnit(s string) string {
	if i := strings.IndexAny(s, "(["); i > 0 {
		return strings.TrimSpace(s[:i])
	}
	return s
}

// separator is what parts the cells of a line.
func separator(line string) byte {
	for _, b := range []byte("\t;,") {
		if strings.IndexByte(line, b) >= 0 {
			return b
		}
	}
	return ' '
}

func split(cells []cell, line string, comma byte) []cell {
	column := 1
	for {
		var text, rest string
		var more bool
		if comma == ' ' {
			trimmed := strings.TrimLeft(line, " ")
			column += len(line) - len(trimmed)
			text, rest, more = strings.Cut(trimmed, " ")
			if more && strings.Trim(rest, " ") == "" {
				more = false
			}
		} else {
			text, rest, more = strings.Cut(line, string(comma))
		}
		lead := len(text) - len(strings.TrimLeft(text, " \t"))
		cells = append(cells, cell{strings.Trim(strings.TrimSpace(text), `"`), column + lead})
		if !more {
			return cells
		}
		column += utf8.RuneCountInString(text) + 1
		line = rest
	}
}

func anyNumber(cells []cell, comma byte) bool {
	for _, c := range cells {
		if _, ok := decimal(point(c.text, comma)); ok {
			return true
		}
	}
	return false
}

// point writes a decimal comma as a point, where the comma does not part cells.
func point(s string, comma byte) string {
	if comma != ',' && strings.IndexByte(s, ',') >= 0 {
		return strings.Replace(s, ",", ".", 1)
	}
	return s
}

// decimal reads a finite number in decimal notation.
func decimal(s string) (float64, bool) {
	for i := range len(s) {
		if c := s[i]; (c < '0' || c > '9') && c != '.' && c != '+' && c != '-' && c != 'e' && c != 'E' {
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// instant is a time in the table's unit, whole part and rest apart: in a capture
// that counts from long ago a float64 alone would round the microseconds away.
type instant struct {
	whole int64
	part  float64
}

func parseInstant(s string, comma byte) (instant, bool) {
	s = point(s, comma)
	v, ok := decimal(s)
	if !ok || math.Abs(v) >= 1<<62 {
		return instant{}, false
	}
	whole, part, _ := strings.Cut(s, ".")
	if n, err := strconv.ParseInt(whole, 10, 64); err == nil && !strings.ContainsAny(part, "eE") {
		f := 0.0
		if part != "" {
			f, _ = strconv.ParseFloat("0."+part, 64)
		}
		if strings.HasPrefix(whole, "-") {
			f = -f
		}
		return instant{n, f}, true
	}
	n := math.Trunc(v)
	return instant{int64(n), v - n}, true
}

// values takes a row of numbers.
func (t *table) values() {
	wrong := func(c cell, cause error, wrong, want string) {
		t.sink.fail(&Error{Line: t.line, Column: c.column, Token: c.text, Wrong: wrong, Want: want, Err: cause})
	}
	at, ok := parseInstant(t.cells[0].text, t.comma)
	if !ok {
		wrong(t.cells[0], ErrCSV, "not a time", "the first cell of a row is a number")
		return
	}
	now := (float64(at.whole-t.first.whole) + (at.part - t.first.part)) * t.unit
	if now < t.last {
		wrong(t.cells[0], ErrTime, "time runs backwards", "times do not decrease from row to row; the row is left out")
		return
	}
	t.last = now
	for w, i := range t.columns {
		if i >= len(t.cells) {
			end := t.cells[len(t.cells)-1]
			wrong(end, ErrCSV, fmt.Sprintf("the row ends after %d cells", len(t.cells)), fmt.Sprintf("the first row had %d", t.columns[len(t.columns)-1]+1))
			return
		}
		c := t.cells[i]
		if c.text == "" {
			continue // as before
		}
		v, ok := decimal(point(c.text, t.comma))
		if !ok {
			wrong(c, ErrCSV, "not a level", "a level is 0, 1 or a voltage, as a number without its unit")
			continue
		}
		t.sink.add(sample{w, now, v})
	}
}
