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
	Kinds string
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
	v := shelfView{Count: shelfCount(s), Columns: columns, Batches: s.Batches, BatchNote: batchNote, Across: s.Across,
		Groups: []groupView{{"Sellers", "Seller", s.Sellers}, {"Prices", "Price", s.Bands}}}
	v.Figures = []figure{{s.Records, "records of " + counted(s.Cables, "cable")}, {s.Contradicted, "with a contradiction or a breach"},
		{s.Records - s.Contradicted, "with neither"}, {s.Unsettled, "whose rating more evidence could change"}}
	v.Pictures = append(v.Pictures, picture{Title: "What is shown", SVG: shownPicture(s), Caption: "Records by the power that marker and bench both support."})
	if len(s.Claims) > 0 {
		v.Pictures = append(v.Pictures, picture{Title: "How the claims end", SVG: claimsPicture(s), Key: true})
	}
	var points []lengthPoint
	for i, it := range items {
		v.Rows = append(v.Rows, newShelfRow(it, i, columns))
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
	r := shelfRow{Kinds: strings.Join(kinds, " ")}
	for i, c := range columns {
		v := c.Of(it)
		cell := shelfCell{Head: i == 0, Row: n, Text: silent(shortened(v.Text)), Unit: Plain(v.Unit)}
		if v.Known {
			cell.Sort = Plain(shortened(v.Text))
			if c.Numeric {
				cell.Sort = strconv.FormatFloat(v.Number, 'g', 9, 64)
			}
		}
		cell.Class = pick(c.Numeric, "num", "text")
		switch {
		case c.Name == "shown" && it.Rating.PowerW == 0:
			cell.Tag = "bad"
		case (c.Name == "against" || c.Name == "contradicted") && v.Number > 0:
			cell.Tag = "bad"
		case c.Name == "margin" && v.Known && v.Number < 0:
			cell.Tag = "bad"
		}
		r.Cells = append(r.Cells, cell)
	}
	return r
}
