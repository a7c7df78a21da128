package publish

import (
	"html/template"
	"io"
	"strconv"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/shelf"
)

// mostPictures is how many cables ShelfPage draws over time.
const mostPictures = 12

type shelfView struct {
	Count     string
	Figures   []figure
	Pictures  []picture
	Columns   []*shelf.Column
	Rows      []shelfRow
	Batches   []shelf.Batch
	BatchNote string
	Lots      []string // what sampling plans say, a sentence a batch
	Across    []shelf.Across
	Groups    []groupView
	Items     []itemView
}

type figure struct {
	N    int
	Text string
}

type groupView struct {
	Title, Name string
	Groups      []shelf.Group
}

type itemView struct {
	N  int
	It *shelf.Item
}

type shelfRow struct {
	ID    string // empty where another row has it
	Names string // what the find box knows beside the columns
	Kinds string
	Strip template.HTML
	Cells []shelfCell
}

type shelfCell struct {
	Head       bool
	Row        int
	Text, Sort string
	Class, Tag string
	Unit       string
}

// ShelfPage writes a shelf as one HTML page: the counts and pictures, a table that
// sorts and filters where scripts run, what shows across records, and why each
// record is shown what it is. It gives an error of the writer.
func ShelfPage(w io.Writer, items []*shelf.Item, columns []*shelf.Column, s shelf.Summary, histories []shelf.History) error {
	v := shelfView{Count: shelfCount(s), Columns: columns, Batches: s.Batches, BatchNote: batchNote, Lots: lotLines(s.Batches), Across: s.Across,
		Groups: []groupView{{"Sellers", "Seller", s.Sellers}, {"Prices", "Price", s.Bands}}}
	v.Figures = []figure{{s.Records, "records of " + counted(s.Cables, "cable")}, {s.Contradicted, "with a contradiction or a breach"},
		{s.Records - s.Contradicted, "with neither"}, {s.Unsettled, "whose rating more evidence could change"}}
	v.Pictures = append(v.Pictures, picture{Title: "What is shown", SVG: shownPicture(s), Caption: "Records by the power that marker and bench both support."})
	if len(s.Claims) > 0 {
		v.Pictures = append(v.Pictures, picture{Title: "Results of the claims", SVG: claimsPicture(s), Key: true})
	}
	var points []lengthPoint
	taken := map[string]bool{}
	for i, it := range items {
		row := newShelfRow(it, i, columns)
		if !taken[it.Cable] && !strings.HasPrefix(it.Cable, "gs-") {
			row.ID = Plain(it.Cable)
		}
		taken[it.Cable] = true
		v.Rows = append(v.Rows, row)
		v.Items = append(v.Items, itemView{i, it})
		if e := it.Result.VBUS; e != nil && it.LengthMetre > 0 {
			points = append(points, lengthPoint{it.Cable, it.LengthMetre, e.Ohm, e.Expanded, it.Contradicted()})
		}
	}
	if svg := lengthPicture(points); svg != "" {
		v.Pictures = append(v.Pictures, picture{Title: "Resistance over length", SVG: svg,
			Caption: "VBUS. A diamond has a contradiction or a breach. The lines are what copper wire alone would have; dashed, the limits."})
	}
	for _, h := range histories[:min(len(histories), mostPictures)] {
		if svg := driftPicture(h.Cable, sittingsOf(h.Sittings)); svg != "" {
			v.Pictures = append(v.Pictures, picture{Title: Plain(h.Cable) + " over time", SVG: svg, Caption: "Resistance with the expanded uncertainty of each date."})
		}
	}
	if err := writeHead(w, "Many cables: "+shelfCount(s), counted(s.Records, "record")+" of "+counted(s.Cables, "cable"), link{}, true); err != nil {
		return err
	}
	if err := pages().ExecuteTemplate(w, "shelf", v); err != nil {
		return err
	}
	return pages().ExecuteTemplate(w, "foot", pageFoot{NotTested: claims.NotTested, Script: template.JS(pageScript), Cautions: claims.StandingCautions()})
}

func newShelfRow(it *shelf.Item, n int, columns []*shelf.Column) shelfRow {
	kinds := []string{"clean"}
	if it.Contradicted() {
		kinds[0] = "contradicted"
	}
	if !it.Rating.Settled {
		kinds = append(kinds, "unsettled")
	}
	r := shelfRow{Kinds: strings.Join(kinds, " "), Strip: itemStrip(it).cell(), Names: Plain(shortened(strings.TrimSpace(it.Label + " " + it.Model)))}
	for i, c := range columns {
		v := c.Of(it)
		cell := shelfCell{Head: i == 0, Row: n, Text: silent(shortened(v.Text)), Unit: Plain(v.Unit)}
		if v.Known {
			if c.Numeric {
				cell.Sort = strconv.FormatFloat(v.Number, 'g', 6, 64)
			}
		}
		cell.Class = pick(c.Numeric, "num", "")
		switch {
		case c.Name == "shown":
			cell.Text = strings.TrimPrefix(itemStrip(it).shownWords(), "shown ")
			if w, known := itemStrip(it).shownW(); known && w == 0 {
				cell.Tag = "bad"
			}
		case c.Name == "outcome":
			_, _, cell.Tag = outcomeWords(it.Verdict, it.Contradicted())
		case (c.Name == "against" || c.Name == "contradicted") && v.Number > 0:
			cell.Tag = "bad"
		case c.Name == "margin" && v.Known && v.Number < 0:
			cell.Tag = "bad"
		}
		r.Cells = append(r.Cells, cell)
	}
	return r
}

// claimsLine is a cable's claims in a sentence: those that do not hold by name.
func claimsLine(it *shelf.Item) string {
	if len(it.Claims) == 0 {
		return "No claim recorded."
	}
	text := counted(it.Count(claims.Confirmed), "claim") + " confirmed"
	for _, c := range it.Claims {
		if c.Standing != claims.Confirmed {
			text += "; " + string(c.Property) + " " + Plain(shortened(c.Claimed)) + " " + string(c.Standing)
		}
	}
	return text + "."
}
