package publish

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
)

// sheetCell makes text fit for a cell of a spreadsheet. A text that a spreadsheet
// would take for a formula gets an apostrophe in front, which spreadsheets do not
// show; what cannot be shown becomes an escape.
func sheetCell(s string) string {
	s = Plain(s)
	first := strings.TrimLeft(s, " \u00a0\u3000")
	if first != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(first)[0]) {
		return "'" + s
	}
	return s
}

// siUnits name the unit of numbers in a table, by what is measured.
var siUnits = map[quantity.Dimension]string{quantity.Resistance: "ohm", quantity.Power: "W", quantity.Length: "m", quantity.Rate: "bps"}

// ShelfCSV writes records as CSV: one row a record, numbers plain and in SI units,
// with the unit in the heading. A resistance has a second column with its expanded
// uncertainty, a price one with its currency. It gives an error of the writer.
func ShelfCSV(w io.Writer, items []*shelf.Item, columns []*shelf.Column) error {
	cw := csv.NewWriter(w)
	cw.UseCRLF = true // RFC 4180
	var head []string
	for _, c := range columns {
		unit := siUnits[c.Dimension]
		if c.Name == "claims" { // a spreadsheet would take 2/1/0 for a date
			head = append(head, "confirmed", "contradicted", "not-shown")
			continue
		}
		if c.Name == "margin" {
			unit = "%"
		}
		if unit != "" {
			unit = "/" + unit
		}
		head = append(head, c.Name+unit)
		switch {
		case c.Dimension == quantity.Resistance:
			head = append(head, c.Name+"-expanded"+unit)
		case c.Priced:
			head = append(head, c.Name+"-currency")
		case c.Name == "shown":
			head = append(head, "shown-settled")
		}
	}
	if err := cw.Write(head); err != nil {
		return err
	}
	for _, it := range items {
		var row []string
		for _, c := range columns {
			if c.Name == "claims" {
				for _, s := range []claims.Standing{claims.Confirmed, claims.Contradicted, claims.NotShown} {
					row = append(row, strconv.Itoa(it.Count(s)))
				}
				continue
			}
			v := c.Of(it)
			text := sheetCell(v.Text)
			if c.Numeric && v.Known {
				text = strconv.FormatFloat(v.Number, 'g', 10, 64)
			}
			row = append(row, text)
			switch {
			case c.Dimension == quantity.Resistance && v.Known:
				row = append(row, strconv.FormatFloat(v.Within, 'g', 4, 64))
			case c.Dimension == quantity.Resistance:
				row = append(row, "")
			case c.Priced:
				row = append(row, sheetCell(v.Unit))
			case c.Name == "shown":
				row = append(row, strconv.FormatBool(it.Rating.Settled))
			}
		}
		if err := cw.Write(row); err != nil {
			return err
		}
	}
	cw.Flush()
	return cw.Error()
}

// ReportCSV writes reports as CSV: one row for each claim and each finding.
type ReportCSV struct{ w *csv.Writer }

// NewReportCSV begins a table: it writes the heading. It gives an error of the
// writer.
func NewReportCSV(w io.Writer) (*ReportCSV, error) {
	c := &ReportCSV{csv.NewWriter(w)}
	c.w.UseCRLF = true
	return c, c.row("cable", "shown/W", "settled", "row", "outcome", "property", "claimed", "rule", "between", "says", "source", "next", "waived", "under")
}

func (c *ReportCSV) row(cells ...string) error {
	for i := range cells {
		cells[i] = sheetCell(cells[i])
	}
	return c.w.Write(cells)
}

// Add writes a report. A report with neither claim nor finding has one row that
// says so. It gives an error of the writer.
func (c *ReportCSV) Add(r *claims.Report) error {
	shown, settled := strconv.Itoa(r.Rating.PowerW), strconv.FormatBool(r.Rating.Settled)
	for _, o := range r.Claims {
		if err := c.row(r.Cable, shown, settled, "claim", string(o.Standing), string(o.Property), o.Claimed, strings.Join(o.Findings, " "),
			witnessList(o.By), o.Because, "", "", "", ""); err != nil {
			return err
		}
	}
	for _, f := range r.Findings {
		if err := c.row(r.Cable, shown, settled, "finding", string(f.Kind), string(f.Property), "", f.Rule, witnessList(f.Between),
			f.Says, f.Source, f.Next, f.Waived, f.Under); err != nil {
			return err
		}
	}
	if len(r.Claims)+len(r.Findings) == 0 {
		return c.row(r.Cable, shown, settled, "none", "", "", "", "", "", "no claim and no finding", "", "", "", "")
	}
	return nil
}

// Close ends the table. It gives an error of the writer, if there was any.
func (c *ReportCSV) Close() error {
	c.w.Flush()
	return c.w.Error()
}
