package record

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"
)

// Addition is what AddReadings writes into a record. The texts are as ParseReading
// and ParseSession read them.
type Addition struct {
	// Cable is the id of the record; it may be empty where the file holds one.
	Cable string
	// Date is the day of the sitting.
	Date     time.Time
	Readings []string // each as "1 A, vbus 93 mV, ground 45 mV"
	// What follows is written into a new session only; a session of that date that
	// is already there keeps what it has. Empty texts are silence.
	Null, Voltmeter, Ammeter, Ambient, Length string
	// Rig is the file name of the rig. It is written only where the record names no rig and
	// has no session yet, which it would judge too.
	Rig string
}

// MaxAddition is how long a file AddReadings takes, in bytes.
const MaxAddition = 64 << 20

// ErrNotAdded is the cause of an error of AddReadings that is not the record's.
var ErrNotAdded = errors.New("cannot be added")

// AddReadings gives the text of a YAML file with readings added to a record: to
// its last session where that has the date, else in a new session after it. Every
// other line stays as it is, comments and order included; only where one session
// becomes a list of two are its lines moved to the right. Nothing is changed or
// taken away. The error is an Errors: a file where that cannot be held has the cause
// ErrNotAdded; a reading, a session or a record that does not read has its own.
func AddReadings(text []byte, name string, add Addition) ([]byte, error) {
	w := writer{name: name, add: add, end: "\n"}
	if len(text) > MaxAddition {
		return nil, Errors{{At: Place{name, 1, 1}, Wrong: fmt.Sprintf("the file is longer than %d MiB", MaxAddition>>20),
			Want: "keep fewer records in one file", Err: ErrLimit}}
	}
	if i := bytes.IndexByte(text, '\n'); i > 0 && text[i-1] == '\r' {
		w.end = "\r\n"
	}
	if isJSON(bufio.NewReader(bytes.NewReader(text)), name) {
		return nil, w.fail(1, "this is JSON, which has no comments to keep", "add the reading with an editor, or keep the record as YAML")
	}
	if err := w.parse(); err != nil {
		return nil, err
	}
	w.lines = strings.SplitAfter(string(text), "\n")
	if last := len(w.lines) - 1; w.lines[last] == "" {
		w.lines = w.lines[:last]
	} else {
		w.lines[last] += w.end
	}
	c, n, err := w.find(text)
	if err != nil {
		return nil, err
	}
	if err := w.write(c, n); err != nil {
		return nil, err
	}
	out := []byte(strings.Join(w.lines, ""))
	if err := w.verify(text, out); err != nil {
		return nil, err
	}
	return out, nil
}

type writer struct {
	name, end string
	add       Addition
	readings  []Reading
	lines     []string // of the file, with their ends
	rig       bool     // whether the rig is written
}

func (w *writer) fail(line int, wrong, want string) error {
	return Errors{{At: Place{w.name, line, 1}, Wrong: wrong, Want: want, Err: ErrNotAdded}}
}

// parse holds that what is to be added makes sense before anything is written.
func (w *writer) parse() error {
	if len(w.add.Readings) == 0 {
		return w.fail(1, "no reading is given", "")
	}
	for _, text := range w.add.Readings {
		r, err := ParseReading(text, Place{"the reading", 1, 1})
		if err != nil {
			return err
		}
		w.readings = append(w.readings, r)
	}
	if w.add.Null != "" {
		if _, err := ParseReading(w.add.Null, Place{"the null", 1, 1}); err != nil {
			return err
		}
	}
	_, err := ParseSession(w.add.Voltmeter, w.add.Ammeter, w.add.Ambient, w.add.Length)
	return err
}

// find gives the one document of the file that is the record.
func (w *writer) find(text []byte) (c chunk, n *node, err error) {
	var ids []string
	found := 0
	for one, err := range splitYAML(bufio.NewReader(bytes.NewReader(text)), w.name) {
		if err != nil {
			return c, nil, err
		}
		tree, errs := one.yamlTree(new(nodes))
		if errs != nil {
			return c, nil, errs
		}
		if tree == nil {
			continue
		}
		rec, errs := convert(tree, w.name)
		if len(errs) > 0 {
			return c, nil, errs
		}
		ids = append(ids, rec.Cable.Value)
		if w.add.Cable == "" || rec.Cable.Value == w.add.Cable {
			found++
			c, n = one, tree
		}
	}
	switch {
	case found == 1:
		return c, n, nil
	case found == 0 && w.add.Cable != "":
		return c, nil, w.fail(1, fmt.Sprintf("no record here is of cable %q", w.add.Cable), "the cables here are "+strings.Join(ids, ", "))
	case found == 0:
		return c, nil, w.fail(1, "there is no record here", "")
	case w.add.Cable == "":
		return c, nil, w.fail(1, fmt.Sprintf("there are %d records here", found), "name the cable; the cables here are "+strings.Join(ids, ", "))
	}
	return c, nil, w.fail(1, fmt.Sprintf("%d records here are of cable %q", found, w.add.Cable), "give each cable an id of its own")
}

// value gives the value of a key, and the key; nil where there is none.
func (n *node) value(name string) (key, value *node) {
	for i, k := range n.keys {
		if k.text == name {
			return k, n.items[i]
		}
	}
	return nil, nil
}

// last is the last line on which something of the node begins.
func (n *node) last() int {
	line := n.at.Line
	for _, m := range n.keys {
		line = max(line, m.last())
	}
	for _, m := range n.items {
		line = max(line, m.last())
	}
	return line
}

// line is the line that a node begins on, without a byte order mark. The YAML parser puts
// an empty value at the end of a file behind the last line.
func (w *writer) line(n *node) string {
	if n.at.Line > len(w.lines) {
		return ""
	}
	return strings.TrimPrefix(w.lines[n.at.Line-1], byteOrderMark)
}

// inBraces tells whether a mapping or a list is written in braces or brackets.
func (w *writer) inBraces(n *node) bool {
	line := []rune(w.line(n))
	at := n.at.Column - 1
	return at < len(line) && (line[at] == '{' || line[at] == '[')
}

// after gives the number of lines of the file up to the end of a node whose lines
// are all indented by at least so many blanks.
func (w *writer) after(n *node, indent int) int {
	end := n.last()
	for i := end; i < len(w.lines); i++ {
		text := strings.TrimRight(w.lines[i], " \r\n")
		blanks := len(text) - len(strings.TrimLeft(text, " "))
		if text == "" {
			continue // it belongs to the node only if more of it follows
		}
		if blanks < indent || isMarker([]byte(text), "---") || isMarker([]byte(text), "...") {
			break
		}
		end = i + 1
	}
	return end
}

func (w *writer) insert(after int, lines ...string) {
	for i := range lines {
		lines[i] += w.end
	}
	w.lines = slices.Insert(w.lines, min(after, len(w.lines)), lines...)
}

const wantLines = "write it as lines, one key a line, and add again"

func (w *writer) write(c chunk, n *node) error {
	if w.inBraces(n) {
		return w.fail(n.at.Line, "the record is written in braces", wantLines)
	}
	indent := n.at.Column - 1
	pad := strings.Repeat(" ", indent)
	var rig []string
	if named, _ := n.value("rig"); named == nil && w.add.Rig != "" {
		rig = []string{pad + "rig: " + yamlText(w.add.Rig)}
	}
	key, bench := n.value("bench")
	switch {
	case key == nil:
		w.rig = rig != nil
		w.insert(w.after(n, indent), slices.Concat(rig, []string{pad + "bench:"}, w.session(indent+2, ""))...)
		return nil
	case bench.kind == null:
		if bench.text != "" && w.inText(bench) {
			return w.fail(key.at.Line, "bench has a value that says nothing", "leave the place behind bench: empty")
		}
		w.rig = rig != nil
		w.insert(key.at.Line, w.session(indent+2, "")...)
		w.insert(key.at.Line-1, rig...)
		return nil
	case w.inBraces(bench):
		return w.fail(bench.at.Line, "bench is written in braces", wantLines)
	}
	session := bench
	if bench.kind == list {
		session = bench.items[len(bench.items)-1]
		if w.inBraces(session) {
			return w.fail(session.at.Line, "the last session is written in braces", wantLines)
		}
	}
	if _, date := session.value("date"); date != nil && date.text == w.add.Date.Format(time.DateOnly) {
		return w.extend(session)
	}
	dash := bench.at.Column - 1
	end := w.after(bench, dash)
	if bench.kind != list {
		// One session becomes the first of a list.
		first := bench.at.Line - 1
		for i := first; i < end; i++ {
			switch {
			case i == first:
				w.lines[i] = w.lines[i][:dash] + "- " + w.lines[i][dash:]
			case strings.TrimSpace(w.lines[i]) != "":
				w.lines[i] = "  " + w.lines[i]
			}
		}
	}
	w.insert(end, w.session(dash, "- ")...)
	return nil
}

// inText tells whether a null is written out, as null or ~.
func (w *writer) inText(n *node) bool {
	line := []rune(w.line(n))
	rest := strings.TrimSpace(string(line[min(n.at.Column-1, len(line)):]))
	return strings.HasPrefix(rest, "null") || strings.HasPrefix(rest, "~")
}

// extend adds the readings to a session of the same date.
func (w *writer) extend(session *node) error {
	for _, k := range []struct{ name, text string }{{"null", w.add.Null}, {"voltmeter", w.add.Voltmeter},
		{"ammeter", w.add.Ammeter}, {"ambient", w.add.Ambient}, {"length", w.add.Length}} {
		if k.text != "" {
			return w.fail(session.at.Line, fmt.Sprintf("the session of %s is already there and keeps what it has", w.add.Date.Format(time.DateOnly)),
				"leave "+k.name+" out, or write it with an editor")
		}
	}
	indent := session.at.Column - 1
	key, readings := session.value("readings")
	switch {
	case key == nil:
		lines := []string{strings.Repeat(" ", indent) + "readings:"}
		w.insert(w.after(session, indent), append(lines, w.items(indent+2)...)...)
	case readings.kind == null:
		w.insert(key.at.Line, w.items(indent+2)...)
	case readings.kind != list || w.inBraces(readings):
		return w.fail(readings.at.Line, "the readings are not written as a list of lines", "write each as a line that begins with a dash, and add again")
	default:
		dash := readings.at.Column - 1
		last := readings.items[len(readings.items)-1]
		end := w.after(last, dash+1)
		w.insert(end, w.items(dash)...)
	}
	return nil
}

// session gives the lines of a new session.
func (w *writer) session(indent int, dash string) []string {
	pad := strings.Repeat(" ", indent)
	next := pad + strings.Repeat(" ", len(dash))
	lines := []string{pad + dash + "date: " + w.add.Date.Format(time.DateOnly)}
	for _, k := range []struct{ name, text string }{{"length", w.add.Length}, {"ambient", w.add.Ambient},
		{"voltmeter", w.add.Voltmeter}, {"ammeter", w.add.Ammeter}} {
		if k.text != "" {
			lines = append(lines, next+k.name+": "+yamlText(k.text))
		}
	}
	if w.add.Null != "" {
		r, _ := ParseReading(w.add.Null, Place{}) // it was parsed before
		lines = append(lines, next+"null: "+flow(r))
	}
	lines = append(lines, next+"readings:")
	return append(lines, w.items(indent+len(dash)+2)...)
}

func (w *writer) items(indent int) []string {
	var out []string
	for _, r := range w.readings {
		out = append(out, strings.Repeat(" ", indent)+"- "+flow(r))
	}
	return out
}

// flow writes a reading in one line.
func flow(r Reading) string {
	var parts []string
	for _, k := range []struct {
		name  string
		text  string
		known bool
	}{{"current", r.Current.Text, r.Current.Known}, {"vbus", r.VBUS.Text, r.VBUS.Known}, {"ground", r.Ground.Text, r.Ground.Known},
		{"loop", r.Loop.Text, r.Loop.Known}, {"flip", r.Flip.Text, r.Flip.Known}, {"mating", r.Mating.Text, r.Mating.Known}} {
		if k.known {
			parts = append(parts, k.name+": "+yamlText(k.text))
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// plainYAML are texts that YAML takes for texts as they stand, negative quantities
// among them.
var plainYAML = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:[0-9A-Za-z][0-9A-Za-z .+µμΩ°%²-]*|-[0-9.]+ [A-Za-zµμΩ]+)$`)
})

// yamlText writes a text as a YAML scalar, quoted where it has to be.
func yamlText(s string) string {
	if plainYAML().MatchString(s) {
		return s
	}
	b, _ := json.Marshal(s) // a JSON string is a YAML string
	return string(b)
}

// verify holds that the new text says what the old one said and what was added,
// and that no line is lost.
func (w *writer) verify(before, after []byte) error {
	old, err := readAll(before, w.name)
	if err != nil {
		return err
	}
	now, err := readAll(after, w.name)
	if err != nil || len(now) != len(old) {
		return w.fail(1, "the file is laid out in a way that readings cannot be added to", wantLines)
	}
	changed := 0
	for i := range old {
		asWritten(old[i].Bench)
		asWritten(now[i].Bench)
		if reflect.DeepEqual(bare(old[i]), bare(now[i])) {
			continue
		}
		changed++
		count := func(r *Record) (n int) {
			for _, s := range r.Bench {
				n += len(s.Readings)
			}
			return n
		}
		sessions := len(now[i].Bench)
		if count(now[i]) != count(old[i])+len(w.readings) || sessions == 0 || w.add.Cable != "" && now[i].Cable.Value != w.add.Cable {
			changed = len(old) + 1
			break
		}
		// Without what was added it is the old record.
		if w.rig {
			now[i].Rig = old[i].Rig
		}
		last := &now[i].Bench[sessions-1]
		last.Readings = last.Readings[:len(last.Readings)-len(w.readings)]
		if sessions > len(old[i].Bench) {
			now[i].Bench = now[i].Bench[:sessions-1]
		}
		if !reflect.DeepEqual(bare(old[i]), bare(now[i])) {
			changed = len(old) + 1
			break
		}
	}
	if changed != 1 {
		return w.fail(1, "the file is laid out in a way that readings cannot be added to", wantLines)
	}
	at := 0
	lines := strings.Split(string(after), "\n")
	for _, l := range strings.Split(strings.TrimRight(string(before), "\r\n"), "\n") {
		want := squashLine(l)
		for at < len(lines) && squashLine(lines[at]) != want {
			at++
		}
		if at == len(lines) {
			return w.fail(1, "a line would be lost", wantLines)
		}
		at++
	}
	return nil
}

// asWritten puts sessions in the order of the file.
func asWritten(all []Session) {
	slices.SortStableFunc(all, func(a, b Session) int {
		return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Column, b.At.Column))
	})
}

// squashLine is a line without its indent and the dash of a list.
func squashLine(s string) string {
	return strings.TrimPrefix(strings.TrimSpace(s), "- ")
}

func readAll(text []byte, name string) ([]*Record, error) {
	var out []*Record
	for rec, err := range Read(bytes.NewReader(text), name) {
		if err != nil {
			return nil, err
		}
		out = append(out, rec)
	}
	return out, nil
}

// bare is a record without the places where things stand.
func bare(r *Record) any {
	b, err := json.Marshal(r)
	if err != nil {
		return err
	}
	var v any
	if err := json.Unmarshal(b, &v); err != nil {
		return err
	}
	var drop func(any) any
	drop = func(v any) any {
		switch v := v.(type) {
		case map[string]any:
			delete(v, "At")
			delete(v, "Sum")
			for k := range v {
				v[k] = drop(v[k])
			}
		case []any:
			if len(v) == 0 {
				return nil
			}
			for i := range v {
				v[i] = drop(v[i])
			}
		}
		return v
	}
	return drop(v)
}
