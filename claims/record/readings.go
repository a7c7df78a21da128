package record

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.com/gainsay/claims/quantity"
)

// ParseReading reads one reading as a person types it: the test current, then
// the drops by name, then the orientation, separated by semicolons or by commas
// followed by a blank, as
//
//	1.0002 A, vbus 93.1 mV, ground 44.9 mV, up
//
// At is where the text stands. The error is an Errors with places from there; below
// each is a cause of this package or a *quantity.Error.
func ParseReading(text string, at Place) (Reading, error) {
	d := &decoder{file: at.File}
	r := Reading{At: at}
	column := 0
	seen := map[string]bool{}
	once := func(name string, at Place) bool {
		if seen[name] {
			d.fail(at, name, ErrRepeatedKey, "this part is given a second time", "give each part of a reading once")
			return false
		}
		seen[name] = true
		return true
	}
	for i, part := range strings.Split(strings.ReplaceAll(text, "; ", ", "), ", ") {
		place := at
		place.Column += column
		column += len([]rune(part)) + len(", ")
		name, value, _ := strings.Cut(strings.TrimSpace(part), " ")
		n := &node{kind: scalar, name: name, text: strings.TrimSpace(value), at: place, content: place}
		n.content.Column += len([]rune(part)) - len([]rune(strings.TrimLeft(value, " ")))
		switch {
		case (name == "up" || name == "down") && n.text == "":
			if once("flip", place) {
				n.text = name
				r.Flip = stated(name, n)
			}
		case find(readingKeys, name) != nil:
			if once(name, place) {
				find(readingKeys, name).set(d, n, &r)
			}
		case i == 0:
			once("current", place)
			n.name, n.text, n.content = "current", strings.TrimSpace(part), place
			find(readingKeys, "current").set(d, n, &r)
		default:
			d.fail(place, "", ErrValue, fmt.Sprintf("%q is no part of a reading", part),
				"write it like \"1.0002 A, vbus 93.1 mV, ground 44.9 mV, up\"")
		}
	}
	if len(d.errs) == 0 {
		d.checkReading(&r, &node{})
	}
	if len(d.errs) > 0 {
		return r, d.errs
	}
	return r, nil
}

// MaxTable is how long a table of readings may be, in bytes.
const MaxTable = 16 << 20

// ReadTable reads readings from CSV, with commas, semicolons or tabs between the
// cells. The first row names the columns, in any order: current, vbus, ground,
// loop, flip, and kind, which tells a "reading" (the default) from a "null".
// Columns named time or note are passed over. A unit may stand in the name, as
// "vbus/mV" or "vbus (mV)"; else each cell carries its own.
//
// A bad row is in the error, an Errors, with its place; the other rows are read. So
// are the rows in front of where a table gets longer than MaxTable, or cannot be
// read on: an error of the reader comes as it is.
func ReadTable(r io.Reader, name string) (readings, nulls []Reading, err error) {
	text, rerr := io.ReadAll(io.LimitReader(r, MaxTable+1))
	d := &decoder{file: name}
	t := &table{text: text, comma: commaOf(text)}
	over := len(text) > MaxTable
	if over {
		t.text = text[:bytes.LastIndexByte(text[:MaxTable], '\n')+1] // the last row is not whole
	}
	var columns []column
	for t.next(d) {
		if columns == nil {
			columns = d.header(t)
			continue
		}
		reading, null, ok := d.row(columns, t)
		switch {
		case !ok:
		case null:
			nulls = append(nulls, reading)
		default:
			readings = append(readings, reading)
		}
	}
	switch {
	case rerr != nil:
		return readings, nulls, rerr
	case over:
		d.fail(Place{name, bytes.Count(t.text, []byte("\n")) + 1, 1}, "", ErrLimit,
			fmt.Sprintf("the table is longer than %d MiB; the rest is not read", MaxTable>>20), "cut it into shorter ones")
	case columns == nil:
		d.fail(Place{name, 1, 1}, "", ErrValue, "the table is empty", "the first row names the columns, like current,vbus,ground")
	}
	if len(d.errs) > 0 {
		return readings, nulls, d.errs
	}
	return readings, nulls, nil
}

// commaOf is what parts the cells: what the first row has most of.
func commaOf(text []byte) rune {
	first, _, _ := bytes.Cut(text, []byte("\n"))
	best, most := ',', 0
	for _, sep := range ",;\t" {
		if n := bytes.Count(first, []byte(string(sep))); n > most {
			best, most = sep, n
		}
	}
	return best
}

// table gives the rows of a CSV text.
type table struct {
	text  []byte // from where cr began
	comma rune
	cr    *csv.Reader
	above int // lines in front of text
	cells []string
}

// next goes to the next row that is well-formed; what is not is an error. A quote
// that does not end costs the line it stands on, not those behind it.
func (t *table) next(d *decoder) bool {
	for {
		if t.cr == nil {
			t.cr = csv.NewReader(bytes.NewReader(t.text))
			t.cr.Comma, t.cr.FieldsPerRecord, t.cr.TrimLeadingSpace, t.cr.ReuseRecord = t.comma, -1, true, true
		}
		var err error
		t.cells, err = t.cr.Read()
		var pe *csv.ParseError
		if !errors.As(err, &pe) {
			return err == nil
		}
		at := Place{d.file, t.above + pe.StartLine, 1}
		if pe.Line == pe.StartLine {
			at.Column = max(pe.Column, 1)
		} else {
			for range pe.StartLine {
				_, t.text, _ = bytes.Cut(t.text, []byte("\n"))
			}
			t.above += pe.StartLine
			t.cr = nil
		}
		d.fail(at, "", ErrSyntax, "not well-formed CSV: "+pe.Err.Error(), "")
	}
}

// wantCells tells what a row with too many cells needs.
func (t *table) wantCells() string {
	if t.comma == ',' {
		return "write decimals with a point, or separate the cells with semicolons"
	}
	return "name every column in the first row"
}

// at is where a cell stands.
func (t *table) at(d *decoder, cell int) Place {
	line, column := t.cr.FieldPos(cell)
	return Place{d.file, t.above + line, column}
}

// tableKeys are the columns of a table beside the keys of a reading; the last two are
// passed over.
var tableKeys = []string{"kind", "time", "note"}

// column is a column of a table of readings.
type column struct {
	name    string // "" for one whose name was an error
	unit    string // from the header, or empty
	unnamed bool   // an error at its first cell that is not blank
}

// passedOver reports whether the cells of the column are not read.
func (c column) passedOver() bool { return c.name == "" || c.name == "time" || c.name == "note" }

func (d *decoder) header(t *table) []column {
	row := t.cells
	columns := make([]column, len(row))
	current, seen := false, map[string]bool{}
	for i, cell := range row {
		cell = strings.TrimSpace(strings.TrimPrefix(cell, "\uFEFF"))
		name, unit := cell, ""
		if before, after, ok := strings.Cut(cell, "/"); ok {
			name, unit = before, after
		} else if before, after, ok := strings.Cut(cell, "("); ok {
			name, unit = before, strings.TrimSuffix(strings.TrimSpace(after), ")")
		}
		name = strings.ToLower(strings.TrimSpace(name))
		switch {
		case name == "time" || name == "note":
			columns[i].name = name
		case blank(name) && unit == "":
			columns[i].unnamed = true
		case name == "kind" && unit != "":
			d.fail(t.at(d, i), "", ErrValue, fmt.Sprintf("the column kind has a unit, %q", unit), "name the column kind alone")
		case name == "kind" || find(readingKeys, name) != nil:
			if seen[name] {
				d.fail(t.at(d, i), "", ErrRepeatedKey, "the column "+name+" stands here a second time", "name each column once")
				continue
			}
			seen[name] = true
			columns[i] = column{name: name, unit: strings.TrimSpace(unit)}
			current = current || name == "current"
		default:
			known := append(names(readingKeys), tableKeys...)
			d.fail(t.at(d, i), "", ErrUnknownKey, fmt.Sprintf("no column is called %q", cell),
				cmp.Or(Nearest(name, known), "the columns are "+strings.Join(known, ", ")))
		}
	}
	if !current && len(d.errs) == 0 {
		d.fail(Place{d.file, 1, 1}, "", ErrMissingKey, "no column is called current", "the first row names the columns, like current,vbus,ground")
	}
	return columns
}

func (d *decoder) row(columns []column, t *table) (r Reading, null, ok bool) {
	before := d.failed
	r.At = t.at(d, 0)
	for i := len(columns); i < len(t.cells); i++ {
		if strings.TrimSpace(t.cells[i]) != "" {
			// Which cell is one too many is not known, so none of the row is read.
			d.fail(t.at(d, i), "", ErrValue, fmt.Sprintf("the row has more cells than the first row, which names %d columns", len(columns)), t.wantCells())
			return r, false, false
		}
	}
	for i, cell := range t.cells {
		cell = strings.TrimSpace(cell)
		if cell == "" || i >= len(columns) {
			continue
		}
		at := t.at(d, i)
		c := &columns[i]
		if c.unnamed {
			c.unnamed = false // one error a column
			d.fail(at, "", ErrMissingKey, fmt.Sprintf("column %d has no name", i+1), `name it in the first row; a column named note is passed over`)
			continue
		}
		if c.passedOver() {
			continue
		}
		if c.name == "kind" {
			null = strings.EqualFold(cell, "null")
			if !null && !strings.EqualFold(cell, "reading") {
				d.fail(at, "kind", ErrValue, fmt.Sprintf("%q is neither reading nor null", cell), "write reading or null")
			}
			continue
		}
		if c.unit != "" {
			cell += " " + c.unit
		}
		find(readingKeys, c.name).set(d, &node{kind: scalar, name: c.name, text: cell, at: at, content: at}, &r)
	}
	if d.failed > before {
		return r, null, false
	}
	if !r.Current.Known {
		d.fail(r.At, "current", ErrMissingKey, "this row has no current", "write the current that flowed")
	} else if !null {
		d.checkReading(&r, &node{})
	}
	return r, null, d.failed == before
}

// checkReading says what no single key can: a reading needs a current and a
// drop.
func (d *decoder) checkReading(r *Reading, n *node) {
	for _, f := range r.faults() {
		d.fail(f.at, strings.TrimSuffix(n.key(f.key), "."), f.cause, f.wrong, f.want)
	}
}

func (d *decoder) checkDrop(r *Reading, n *node) {
	if f := r.noDrop(); f != nil {
		d.fail(f.at, n.path(), f.cause, f.wrong, f.want)
	}
}

// fault is something wrong with a reading as a whole.
type fault struct {
	at          Place
	key         string
	cause       error
	wrong, want string
}

// faults lists what keeps a reading from showing a resistance.
func (r *Reading) faults() []fault {
	switch {
	case !r.Current.Known:
		return []fault{{r.At, "current", ErrMissingKey, "no current is given", "write the current that flowed, like 1 A"}}
	case r.Current.Value == 0:
		return []fault{{r.Current.At, "current", ErrValue, "a test current of zero shows no resistance", "write the current that flowed"}}
	}
	if f := r.noDrop(); f != nil {
		return []fault{*f}
	}
	return nil
}

func (r *Reading) noDrop() *fault {
	if r.VBUS.Known || r.Ground.Known || r.Loop.Known {
		return nil
	}
	return &fault{r.At, "", ErrMissingKey, "no drop is given", "write vbus, ground or loop"}
}

// ParseSession puts a session together from texts as they stand on a command
// line: accuracies as "0.05 % + 20 µV", the ambient temperature as "23 °C", the
// length as "1.98 m". Empty texts are silence. The error is an Errors.
func ParseSession(voltmeter, ammeter, ambient, length string) (Session, error) {
	d := &decoder{file: "the command line"}
	s := Session{}
	for _, part := range []struct{ name, text string }{
		{"voltmeter", voltmeter}, {"ammeter", ammeter}, {"ambient", ambient}, {"length", length},
	} {
		if part.text == "" {
			continue
		}
		at := Place{d.file, 1, 1}
		find(sessionKeys, part.name).set(d, &node{kind: scalar, name: part.name, text: part.text, at: at, content: at}, &s)
	}
	if len(d.errs) > 0 {
		return s, d.errs
	}
	return s, nil
}

// ParseCurrent reads a current above zero, as "3 A", in A. The error is a
// *quantity.Error.
func ParseCurrent(text string) (float64, error) { return aboveZero(text, quantity.Current) }

// ParseVoltage reads a voltage above zero, as "20 V", in V. The error is a
// *quantity.Error.
func ParseVoltage(text string) (float64, error) { return aboveZero(text, quantity.Voltage) }

func aboveZero(text string, d quantity.Dimension) (float64, error) {
	v, err := quantity.Parse(text, d)
	if err == nil && v <= 0 {
		err = &quantity.Error{Text: text, Column: 1, Wrong: "not above zero", Want: d.Hint(), Err: quantity.ErrRange}
	}
	return v, err
}
