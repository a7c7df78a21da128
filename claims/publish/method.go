package publish

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// method is how one session was measured, as every form shows it: facts by name, then the
// nulls and readings as one table, from which the result can be computed again.
type method struct {
	Title string
	Facts [][2]string
	Table methodTable
	More  string // a count of the readings that are left out
}

// methodTable is a grid as a template reads it.
type methodTable struct{ grid }

// Heads are the heads of the columns.
func (t methodTable) Heads() []string {
	out := make([]string, len(t.head))
	for i, h := range t.head {
		out[i] = h.text
	}
	return out
}

// Rows are the cells of each row.
func (t methodTable) Rows() [][]string {
	out := make([][]string, len(t.rows))
	for i, r := range t.rows {
		for _, c := range r {
			out[i] = append(out[i], c.text)
		}
	}
	return out
}

// mostReadings is how many readings of a session are published; a count follows.
const mostReadings = 500

// methods gives the sessions in the record's order.
func methods(m *claims.Measured) []method {
	if m == nil {
		return nil
	}
	out := make([]method, 0, len(m.Sessions))
	for i, s := range m.Sessions {
		one := method{Title: "Session"}
		if len(m.Sessions) > 1 {
			one.Title = fmt.Sprintf("Session %d", i+1)
		}
		if s.Date != "" {
			one.Title += ", " + s.Date
		}
		fact := func(name, text string) {
			if text != "" {
				one.Facts = append(one.Facts, [2]string{name, text})
			}
		}
		fact("Measured by", s.By)
		fact("Rig", m.Rig)
		fact("Fixture", m.Fixture)
		drops := len(s.Readings) > 0
		printed := s.VBUS+s.Ground+s.Loop != ""
		fact("Voltmeter", instrumentText(s.Voltmeter, bench.AssumedAccuracy.Text(quantity.Voltage), drops))
		fact("Ammeter", instrumentText(s.Ammeter, bench.AssumedAccuracy.Text(quantity.Current), drops))
		fact("Ohmmeter", instrumentText(s.Ohmmeter, bench.AssumedAccuracy.Text(quantity.Resistance), printed))
		fact("Room", s.Ambient)
		fact("Copper", pick(s.Steady, strings.TrimPrefix(s.Copper+", constant at the test current", ", "), s.Copper))
		fact("Length by tape", s.Length)
		fact("Plugs", s.Plugs)
		fact("Reference resistor", s.Reference)
		fact("VBUS as printed", s.VBUS)
		fact("Ground as printed", s.Ground)
		fact("Loop as printed", s.Loop)
		if drops && len(s.Nulls) == 0 {
			fact("Null", "none taken")
		}
		one.Table.grid, one.More = readingsGrid(s)
		out = append(out, one)
	}
	return out
}

// instrumentText is an instrument's accuracy and calibration, or what is assumed of it.
func instrumentText(w claims.MeasuredWith, assumed string, used bool) string {
	var parts []string
	switch {
	case w.Accuracy != "":
		parts = append(parts, w.Accuracy)
	case w.Expanded == "" && used:
		parts = append(parts, "not recorded; assumed ±("+assumed+")")
	}
	if w.Expanded != "" {
		k := "2"
		if w.K != 0 {
			k = strconv.FormatFloat(w.K, 'g', 6, 64)
		}
		parts = append(parts, fmt.Sprintf("calibration U %s at k = %s", w.Expanded, k))
	}
	for _, one := range []struct{ name, text string }{{"calibrated ", w.Calibrated}, {"due ", w.Due}, {"certificate ", w.Certificate}} {
		if one.text != "" {
			parts = append(parts, one.name+one.text)
		}
	}
	return strings.Join(parts, "; ")
}

// readingsGrid is the table of nulls and readings, without the columns that nobody filled.
func readingsGrid(s claims.MeasuredSession) (g grid, more string) {
	heads := []string{"No.", "Current", "VBUS", "Ground", "Loop", "Plug", "Mating"}
	var rows [][]string
	add := func(name string, r claims.MeasuredReading) {
		mating := ""
		if r.Mating > 0 {
			mating = strconv.Itoa(r.Mating)
		}
		rows = append(rows, []string{name, r.Current, r.VBUS, r.Ground, r.Loop, r.Flip, mating})
	}
	for _, r := range s.Nulls[:min(len(s.Nulls), mostReadings)] {
		add("null", r)
	}
	shown := s.Readings[:min(len(s.Readings), mostReadings)]
	for i, r := range shown {
		add(strconv.Itoa(i+1), r)
	}
	if n := len(s.Readings) + len(s.Nulls) - len(rows); n > 0 {
		more = "and " + counted(n, "more reading") + "; --json has them all"
	}
	for i, h := range heads {
		if i < 2 || slices.ContainsFunc(rows, func(r []string) bool { return r[i] != "" }) {
			g.head = append(g.head, gridHead{h, i != 5})
		}
	}
	for _, r := range rows {
		var cells []string
		for i, c := range r {
			if slices.ContainsFunc(g.head, func(h gridHead) bool { return h.text == heads[i] }) {
				cells = append(cells, pick(c == "", "-", Plain(c)))
			}
		}
		g.add(cells...)
	}
	return g, more
}

// writeMethod prints how the cable was measured, whole.
func writeMethod(b *strings.Builder, r *claims.Report, style Style) {
	if r.Measured == nil {
		return
	}
	section(b, "How it was measured", style)
	for _, m := range methods(r.Measured) {
		b.WriteString(indent + style.paint(bold, Plain(m.Title)) + "\n")
		for _, f := range m.Facts {
			paragraph(b, indent+pad(f[0], 20), indent+pad("", 20), Plain(f[1]))
		}
		if len(m.Table.rows) > 0 {
			m.Table.write(b, style)
		}
		if m.More != "" {
			paragraph(b, indent, indent, m.More)
		}
	}
	paragraph(b, indent, indent, madeBy())
}

// madeBy names the program that computed a report.
func madeBy() string {
	version := "(devel)"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		version = info.Main.Version
	}
	return "Computed by gainsay " + version + "."
}
