package publish

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strconv"
	"strings"
	"sync"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
	"example.com/gainsay/vdo"
)

// A page is self-contained: style, script and pictures stand in it, and its
// content security policy forbids it to load or send anything. Text from records
// goes through Plain and html/template.

//go:embed html_page.tmpl
var pageTemplate string

//go:embed html_page.css
var pageStyle string

//go:embed html_page.js
var pageScript string

// pages is parsed when the first page is made: no other command waits for it.
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"plain":    unbrokenUnits,
		"claimed":  claimed,
		"note":     ratingNote,
		"rating":   func(it *shelf.Item) string { return ratingNote(it.Rating) },
		"by":       endedBy,
		"standing": standingClass,
		"kind":     func(f claims.Finding) string { return kindClass(f.Kind, f.Waived != "") },
		"across":   func(a shelf.Across) string { return kindClass(a.Kind, false) },
		"silent":   silent,
		"group":    groupName,
		"share":    shareText,
		"shown":    func(it *shelf.Item) string { return shelf.ColumnNamed("shown").Of(it).Text },
	}).Parse(pageTemplate))
})

// unbrokenUnits keeps a number and its unit on one line.
func unbrokenUnits(s string) string {
	s = shortened(s)
	words := strings.Split(Plain(s), " ")
	var b strings.Builder
	for i, w := range words {
		switch {
		case i == 0:
		case w != "" && words[i-1] != "" && endsInDigit(words[i-1]) && isUnit(w):
			b.WriteRune('\u00a0')
		default:
			b.WriteByte(' ')
		}
		b.WriteString(w)
	}
	return b.String()
}

func standingClass(s claims.Standing) string {
	switch s {
	case claims.Confirmed:
		return "good"
	case claims.Contradicted:
		return "bad"
	}
	return "open"
}

func kindClass(k claims.Kind, waived bool) string {
	switch {
	case waived:
		return "plain"
	case k == claims.Contradiction || k == claims.Breach:
		return "bad"
	case k == claims.Doubt:
		return "open"
	}
	return "plain"
}

// endedBy says by whom a claim ended, or why it did not.
func endedBy(c claims.ClaimOutcome) string {
	var parts []string
	if len(c.By) > 0 {
		parts = append(parts, "by the "+witnessList(c.By))
	}
	if c.Because != "" {
		parts = append(parts, Plain(c.Because))
	}
	return strings.Join(parts, ": ")
}

func silent(s string) string {
	if s == "" {
		return "–"
	}
	return Plain(s)
}

type pageHead struct {
	Title, Policy string
	Style         template.CSS
}

type pageFoot struct {
	Cautions []string
	Script   template.JS
}

// policy allows the page its own style and script, by their digests, and nothing
// else.
func policy(script bool) string {
	digest := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	p := "default-src 'none'; base-uri 'none'; form-action 'none'; style-src " + digest(pageStyle)
	if script {
		p += "; script-src " + digest(pageScript)
	}
	return p
}

func writeHead(w io.Writer, title string, script bool) error {
	return pages().ExecuteTemplate(w, "head", pageHead{Title: Plain(title), Policy: policy(script), Style: template.CSS(pageStyle)})
}

// CablePage writes the reports of cables as one HTML page, a cable at a time.
type CablePage struct {
	w     io.Writer
	first *cableView // held back until it is known whether it is the only one
	n     int
}

// NewCablePage begins a page.
func NewCablePage(w io.Writer) *CablePage { return &CablePage{w: w} }

// Add writes a cable's report. It gives an error of the writer.
func (p *CablePage) Add(c *claims.Case, r *claims.Report) error {
	p.n++
	v := newCableView(c, r, p.n)
	if p.n == 1 {
		p.first = v
		return nil
	}
	if p.n == 2 {
		if err := p.begin("Cables: what is shown, and what is not"); err != nil {
			return err
		}
	}
	return pages().ExecuteTemplate(p.w, "cable", v)
}

func (p *CablePage) begin(title string) error {
	if err := writeHead(p.w, title, false); err != nil {
		return err
	}
	heading := "Reports of several cables"
	if p.n < 2 {
		heading = "Report of one cable"
	}
	if _, err := io.WriteString(p.w, "<h1 class=\"kicker\">"+heading+"</h1>\n"); err != nil {
		return err
	}
	if p.first == nil {
		return nil
	}
	return pages().ExecuteTemplate(p.w, "cable", p.first)
}

// Close ends the page. It gives an error of the writer.
func (p *CablePage) Close() error {
	if p.n < 2 {
		title := "No cable"
		if p.first != nil {
			p.first.Only, title = true, p.first.R.Cable+": what is shown, and what is not"
		}
		if err := p.begin(title); err != nil {
			return err
		}
	}
	return pages().ExecuteTemplate(p.w, "foot", pageFoot{})
}

type cableView struct {
	N           int
	Only        bool
	R           *claims.Report
	Witnesses   []witnessRow
	Pictures    []picture
	Resistances []resistanceRow
	BenchLines  []string
	Words       []replyView
	Gaps        []string
}

type picture struct {
	Title, Caption string
	SVG            template.HTML
	Key            bool
}

type witnessRow struct {
	claims.TestimonyRow
	Tag *tag
}

type tag struct{ Class, Text string }

type resistanceRow struct {
	Name, Value, K string
	Decisions      []string
}

type replyView struct {
	Heading string
	Words   []wordView
}

type wordView struct {
	Word   Word
	Title  string
	SVG    template.HTML
	Fields []fieldView
}

type fieldView struct {
	No               int
	Bits, Title, Raw string
	Meaning, Tag     string
}

func newCableView(c *claims.Case, r *claims.Report, n int) *cableView {
	r = bounded(r)
	v := &cableView{N: n, R: r, Gaps: gapLines(r.NotExamined)}
	for _, row := range r.Testimony {
		v.Witnesses = append(v.Witnesses, witnessRow{row, worst(r, row.Property)})
	}
	it := shelf.NewItem(c, r)
	if b := r.Bench; b != nil {
		v.bench(b)
	}
	if e := it.Result.VBUS; e != nil && it.LengthMetre > 0 {
		v.Pictures = append(v.Pictures, picture{Caption: "VBUS resistance over length. The lines are what copper wire alone would have, without contacts; dashed, the limits.",
			SVG: lengthPicture([]lengthPoint{{it.Cable, it.LengthMetre, e.Ohm, e.Expanded, it.Contradicted()}})})
	}
	sittings, caption := sittingsOf(it.Sittings), "Resistance over time, with the expanded uncertainty of each date."
	if more := len(sittings) - mostDateShown; more > 0 {
		sittings, caption = sittings[more:], fmt.Sprintf("%s The last %d dates; %d earlier ones are not drawn.", caption, mostDateShown, more)
	}
	if svg := driftPicture(shortened(it.Cable), sittings); svg != "" {
		v.Pictures = append(v.Pictures, picture{Caption: caption, SVG: svg})
	}
	for _, a := range []struct {
		plug string
		claims.Answer
	}{{"near plug", c.Near}, {"far plug", c.Far}} {
		for i, reply := range a.Replies {
			if i == mostAnswers {
				v.Words = append(v.Words, replyView{Heading: a.plug + ": " + andMore(len(a.Replies)-i, "answers")})
				break
			}
			v.Words = append(v.Words, newReplyView(a.plug, reply))
		}
	}
	return v
}

// worst is what the findings about a property come to.
func worst(r *claims.Report, p claims.Property) *tag {
	for _, f := range r.Findings { // worst first
		if f.Property == p && f.Waived == "" && f.Kind != claims.Remark {
			return &tag{kindClass(f.Kind, false), string(f.Kind)}
		}
	}
	return nil
}

func (v *cableView) bench(b *claims.BenchReport) {
	if svg := limitPicture(b); svg != "" {
		v.Pictures = append(v.Pictures, picture{SVG: svg,
			Caption: "Resistance with its expanded uncertainty (95.45 %) against the limits of USB Type-C §4.4.1. Each row has its own scale."})
	}
	for _, row := range measured(b) {
		out := resistanceRow{Name: row.of.Name(), Value: resistanceText(row.Resistance), K: fmt.Sprintf("%.2f", row.K)}
		for _, d := range b.Decisions {
			if d.Conductor == row.of.String() {
				out.Decisions = append(out.Decisions, "at "+quantity.Format(d.CurrentA, quantity.Current, 4)+": "+againstLimit(d))
			}
		}
		v.Resistances = append(v.Resistances, out)
	}
	add := func(label, text string) { v.BenchLines = append(v.BenchLines, Plain(label+text)) }
	if b.Carries != nil {
		add("Headroom: ", carriesText(b))
	}
	if b.Load != nil {
		add("In use, ", loadText(b.Load))
	}
	for _, w := range b.Wires {
		add("Wire: ", w+".")
	}
	for _, n := range b.Notes {
		add("", capital(n.Says)+".")
	}
	for _, s := range b.Settle {
		add("To settle: ", s+".")
	}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func newReplyView(plug string, r vdo.Reply) replyView {
	out := replyView{Heading: heading(r)}
	if r.Context().Plug == vdo.PlugUnknown {
		out.Heading += ", " + plug
	}
	for _, w := range wordsOf(r) {
		v := wordView{Word: w, Title: w.title, SVG: wordPicture(w)}
		for i, f := range w.Fields {
			row := fieldView{No: i + 1, Bits: bits(f.Bits), Title: f.title, Raw: code(f.Raw, f.Bits), Meaning: f.Meaning}
			if f.Standing == "reserved" && f.Raw != 0 {
				row.Tag = "reserved"
			}
			v.Fields = append(v.Fields, row)
		}
		out.Words = append(out.Words, v)
	}
	return out
}

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
	if err := writeHead(w, "The shelf: "+shelfCount(s), true); err != nil {
		return err
	}
	if err := pages().ExecuteTemplate(w, "shelf", v); err != nil {
		return err
	}
	return pages().ExecuteTemplate(w, "foot", pageFoot{Script: template.JS(pageScript), Cautions: claims.StandingCautions()})
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
