package publish

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
	"example.com/gainsay/vdo"
)

// CablePage writes the reports of cables as one HTML page, a cable at a time.
type CablePage struct {
	// Up leads from the page to the one above it, as of many cables; nowhere where empty.
	Up string
	// Photos gives the photos of a record; nil for none. They are to be upright, bounded
	// in pixels and without data of the camera.
	Photos func(*claims.Case) []Photo

	w     io.Writer
	first *cableView // held back until it is known whether it is the only one
	n     int
}

// Photo is a picture of the cable.
type Photo struct {
	Name string // of its file
	Type string // image/jpeg or image/png
	Data []byte // the picture
}

// NewCablePage begins a page.
func NewCablePage(w io.Writer) *CablePage { return &CablePage{w: w} }

// Add writes a cable's report. It gives an error of the writer.
func (p *CablePage) Add(c *claims.Case, r *claims.Report) error {
	p.n++
	v := newCableView(c, r, p.n)
	if p.Photos != nil {
		v.photos(p.Photos(c))
	}
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
	foot := title
	if p.first != nil && p.first.Only {
		foot = p.first.foot()
	}
	var up link
	if p.Up != "" {
		up = link{p.Up, "All cables"}
	}
	if err := writeHead(p.w, title, foot, up, false); err != nil {
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
	return pages().ExecuteTemplate(p.w, "foot", pageFoot{NotTested: claims.NotTested, Cautions: claims.StandingCautions()})
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
	Verdict     verdictView
	Methods     []method
	Causes      []causeView
	Photos      []photoView
	MadeBy      string
}

// verdictView is the strip with what stands around it.
type verdictView struct {
	Class       string
	Wide, Phone template.HTML
	Sentence    string
	Details     []string
	Byline      string
}

// causeView is findings that share a cause or a next step.
type causeView struct {
	Class, Kind string
	Rules       []string
	Says, Next  []string
	Sources     []string
	Waived      []string
}

type photoView struct {
	Name string
	Data template.URL
}

// mostPhotos is how many photos a page shows.
const mostPhotos = 6

func (v *cableView) photos(ps []Photo) {
	for _, p := range ps[:min(len(ps), mostPhotos)] {
		if p.Type == "image/jpeg" || p.Type == "image/png" {
			v.Photos = append(v.Photos, photoView{p.Name, template.URL("data:" + p.Type + ";base64," + base64.StdEncoding.EncodeToString(p.Data))})
		}
	}
}

// foot is the running foot in print: id and the latest date.
func (v *cableView) foot() string {
	text := v.R.Cable
	if len([]rune(text)) > 60 {
		text = string([]rune(text)[:59]) + "…"
	}
	if m := v.R.Measured; m != nil && len(m.Dates) > 0 {
		text += ", measured " + m.Dates[len(m.Dates)-1]
	}
	return text
}

func newVerdictView(c *claims.Case, r *claims.Report) verdictView {
	s := newStrip(c, r)
	_, _, class := outcomeWords(r.Verdict, r.Contradicted())
	lines := r.Lines()
	v := verdictView{Class: class, Wide: s.picture(stripWide), Phone: s.picture(stripPhone), Sentence: lines[0],
		Details: append(lines[1:len(lines):len(lines)], r.OwnCautions()...)}
	if r.Use != "" {
		v.Details = append([]string{r.Use}, v.Details...)
	}
	if d := decidingText(r); d != "" {
		v.Details = append(v.Details, d)
	}
	var by []string
	for _, n := range c.Record.About {
		if strings.EqualFold(n.Key, "seller") {
			by = append(by, "Seller: "+n.Text+".")
		}
	}
	if r.Measured != nil {
		by = append(by, MeasuredText(r.Measured))
	}
	v.Byline = strings.Join(by, " ")
	return v
}

// causeViews are the findings as the text form has them, each different step told.
func causeViews(fs []claims.Finding) (out []causeView) {
	for i, n := range causes(fs) {
		v := causeView{Class: kindClass(fs[i].Kind, fs[i].Waived != "" && len(n) == 1), Kind: string(fs[i].Kind)}
		for _, j := range n {
			f := fs[j]
			v.Rules = append(v.Rules, f.Rule)
			v.Says = appendNew(v.Says, withoutRepeat(f.Says, v.Says))
			v.Sources = appendNew(v.Sources, f.Source)
			if f.Waived != "" {
				v.Waived = appendNew(v.Waived, f.Waived)
			} else {
				v.Next = appendNew(v.Next, f.Next)
			}
		}
		out = append(out, v)
	}
	return out
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
	v := &cableView{N: n, R: r, Gaps: gapLines(r.NotExamined), Verdict: newVerdictView(c, r), Methods: methods(r.Measured),
		Causes: causeViews(r.Findings), MadeBy: madeBy()}
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
