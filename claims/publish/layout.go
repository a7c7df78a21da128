package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/vdo"
)

// Layout is the published form of a bit table.
type Layout struct {
	Version  int           `json:"gainsay"`       // version of the format, as FormatVersion
	Name     string        `json:"layout"`        // in kebab-case, permanent
	Title    string        `json:"title"`         // the word's name in the specification
	Since    string        `json:"since"`         // the revisions that use this form
	Source   string        `json:"source"`        // the table
	Reserved string        `json:"reserved_mask"` // a 1 for each reserved bit, as "0x00000000"
	Fields   []LayoutField `json:"fields"`        // from bit 31 down, all 32 bits once
}

// LayoutField is one row of a bit table.
type LayoutField struct {
	Name     string `json:"name"`               // in kebab-case, unique within the layout
	Title    string `json:"title"`              // for people
	Bits     [2]int `json:"bits"`               // first and last, 31 to 0
	Reserved bool   `json:"reserved,omitempty"` // the whole run is reserved
	Codes    []Code `json:"codes,omitempty"`    // the values that have a meaning of their own
	// Numeric: values beside the codes are plain numbers; otherwise reserved.
	Numeric bool   `json:"numeric,omitempty"`
	Note    string `json:"note,omitempty"` // a condition or caveat
}

// Code is a value with a meaning of its own.
type Code struct {
	Raw      uint32 `json:"raw"`      // the number in the field
	Meaning  string `json:"meaning"`  // in words
	Standing string `json:"standing"` // defined, reserved, deprecated or ignored
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
