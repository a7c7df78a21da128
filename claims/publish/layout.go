package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/vdo"
)

// Layout is the published form of a bit table.
type Layout struct {
	Version  int           `json:"gainsay"`
	Name     string        `json:"layout"`
	Title    string        `json:"title"`
	Since    string        `json:"since"`
	Source   string        `json:"source"`
	Reserved string        `json:"reserved_mask"`
	Fields   []LayoutField `json:"fields"`
}

// LayoutField is one row of a bit table.
type LayoutField struct {
	Name     string `json:"name"`
	Title    string `json:"title"`
	Bits     [2]int `json:"bits"`
	Reserved bool   `json:"reserved,omitempty"`
	Codes    []Code `json:"codes,omitempty"`
	// Numeric: values beside the codes are plain numbers; otherwise reserved.
	Numeric bool   `json:"numeric,omitempty"`
	Note    string `json:"note,omitempty"`
}

// Code is a value with a meaning of its own.
type Code struct {
	Raw      uint32 `json:"raw"`
	Meaning  string `json:"meaning"`
	Standing string `json:"standing"`
}

// NewLayout gives the published form of a layout.
func NewLayout(l *vdo.Layout) Layout {
	out := Layout{
		Version: FormatVersion, Name: l.Name(), Title: l.Title(), Since: l.Since(), Source: l.Source(),
		Reserved: Hex32(l.ReservedMask()),
	}
	for _, f := range l.Fields() {
		row := LayoutField{
			Name: f.Name, Title: f.Title, Bits: [2]int{f.High(), f.Low()},
			Reserved: f.Reserved(), Numeric: f.Numeric(), Note: f.Note,
		}
		for _, c := range f.Codes() {
			row.Codes = append(row.Codes, Code{c.Raw, c.Meaning, c.Standing.String()})
		}
		out.Fields = append(out.Fields, row)
	}
	return out
}

// LayoutText prints a bit table for people.
func LayoutText(l *vdo.Layout, style Style) string {
	var b strings.Builder
	p := NewLayout(l)
	fmt.Fprintf(&b, "%s\n", style.paint(bold, p.Name+": "+p.Title))
	paragraph(&b, "  Used:   ", "          ", p.Since)
	paragraph(&b, "  Source: ", "          ", p.Source)
	b.WriteString("\n  bits    field\n")
	for _, f := range p.Fields {
		name := pad(f.Name, nameColumn)
		head := fmt.Sprintf("  %-6s  ", bits(f.Bits))
		switch {
		case f.Reserved:
			b.WriteString(style.paint(faint, strings.TrimRight(head+name+f.Note, " ")) + "\n")
			continue
		case f.Note != "":
			paragraph(&b, head+name, strings.Repeat(" ", columns(head)+nameColumn), f.Title+"; "+f.Note)
		default:
			b.WriteString(head + name + f.Title + "\n")
		}
		for _, c := range f.Codes {
			row := fmt.Sprintf("%s%s  ", strings.Repeat(" ", columns(head)+2), code(c.Raw, f.Bits))
			paragraph(&b, row, strings.Repeat(" ", columns(row)), c.Meaning)
		}
	}
	return b.String()
}

const nameColumn = 26

// code prints a code in binary for short fields and in hex for long ones.
func code(raw uint32, bits [2]int) string {
	width := bits[0] - bits[1] + 1
	if width <= 5 {
		return fmt.Sprintf("%0*bb", width, raw)
	}
	return fmt.Sprintf("0x%0*X", (width+3)/4, raw)
}
