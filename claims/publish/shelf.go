package publish

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
)

// ShelfItem is the published form of one record on the shelf. What is not known
// is absent.
type ShelfItem struct {
	Version        int             `json:"gainsay"`                  // version of the format, as FormatVersion
	Cable          string          `json:"cable"`                    // the user's own id
	Label          string          `json:"label,omitempty"`          // the user's own words for it
	Seller         string          `json:"seller,omitempty"`         // about.seller
	Model          string          `json:"model,omitempty"`          // about.model
	Batch          string          `json:"batch,omitempty"`          // about.batch
	Price          *ShelfPrice     `json:"price,omitempty"`          // about.price, where it is an amount
	PerWatt        *ShelfPrice     `json:"price_per_watt,omitempty"` // for each watt shown
	File           string          `json:"file"`                     // the record's file
	Line           int             `json:"line"`                     // where the record begins in it, from 1
	Date           string          `json:"date,omitempty"`           // of the latest session
	Rating         claims.Rating   `json:"rating"`                   // what it is shown to carry
	Claims         []ShelfClaim    `json:"claims"`                   // how each claim ends
	Contradictions int             `json:"contradictions"`           // findings that are not waived
	Breaches       int             `json:"breaches"`                 // findings that are not waived
	Doubts         int             `json:"doubts"`                   // findings that are not waived
	Rules          []string        `json:"rules"`                    // of the contradictions and breaches
	VBUS           *ShelfOhm       `json:"vbus,omitempty"`           // of the supply path, as latest measured
	Ground         *ShelfOhm       `json:"ground,omitempty"`         // of the return path, as latest measured
	Loop           *ShelfOhm       `json:"loop,omitempty"`           // there and back, as latest measured
	Margin         *float64        `json:"margin,omitempty"`         // fraction of the limit
	LengthM        *float64        `json:"length_m,omitempty"`       // length of the cable, m
	LengthBy       string          `json:"length_by,omitempty"`      // tape or seller
	RateGbps       *float64        `json:"rate_gbps,omitempty"`      // as the marker declares
	Marker         *MarkerIdentity `json:"marker,omitempty"`         // absent where the near plug gave no identity
	Load           []ShelfVerdict  `json:"load,omitempty"`           // where a load was asked for, by level
}

// ShelfPrice is an amount of money. A currency that is not on record is absent.
type ShelfPrice struct {
	Amount   float64 `json:"amount"`             // in the currency's unit
	Currency string  `json:"currency,omitempty"` // as written, upper case
}

// ShelfClaim is how a claim ended.
type ShelfClaim struct {
	Property claims.Property `json:"property"` // the key of the claim
	Claimed  string          `json:"claimed"`  // as the record has it
	Standing claims.Standing `json:"standing"` // confirmed, contradicted or not shown
}

// ShelfOhm is a resistance in Ω with its expanded uncertainty.
type ShelfOhm struct {
	Ohm      float64 `json:"ohm"`               // best estimate, Ω
	Expanded float64 `json:"expanded"`          // expanded uncertainty for 95.45 %, Ω
	Assumed  bool    `json:"assumed,omitempty"` // the accuracy of a meter is an assumption
}

// MarkerIdentity is what a marker calls itself.
type MarkerIdentity struct {
	VendorID        string `json:"vendor_id"`        // as "0x2FA1"
	ProductID       string `json:"product_id"`       // as "0x0102"
	Release         string `json:"release"`          // bcdDevice, as "0x0100"
	CertificationID string `json:"certification_id"` // the XID, 0x00000000 for none
	Words           string `json:"words"`            // of the identity after the VDM header, in hex
}

// NewShelfItem gives the published form of a record on the shelf.
func NewShelfItem(it *shelf.Item) ShelfItem {
	out := ShelfItem{Version: FormatVersion, Cable: it.Cable, Label: it.Label, Seller: it.Seller, Model: it.Model, Batch: it.Batch,
		Price: shelfPrice(it.Price, it.Price.Known), File: it.At.File, Line: it.At.Line, Rating: it.Rating,
		Claims: []ShelfClaim{}, Contradictions: it.Contradictions, Breaches: it.Breaches, Doubts: it.Doubts,
		Rules: append([]string{}, it.Against...),
		VBUS:  shelfOhm(it.Result.VBUS), Ground: shelfOhm(it.Result.Ground), Loop: shelfOhm(it.Result.Loop)}
	for _, c := range it.Claims {
		out.Claims = append(out.Claims, ShelfClaim(c))
	}
	out.PerWatt = shelfPrice(it.PerWatt())
	if !it.Date.IsZero() {
		out.Date = it.Date.Format(time.DateOnly)
	}
	if m, ok := it.Margin(); ok {
		out.Margin = figures(m)
	}
	if it.LengthMetre > 0 {
		out.LengthM, out.LengthBy = figures(it.LengthMetre), "seller"
		if it.Taped {
			out.LengthBy = "tape"
		}
	}
	if it.Speed != "" {
		out.RateGbps = &it.Gbps
	}
	if id := it.Identity; id.Known {
		out.Marker = &MarkerIdentity{say.ID(id.VendorID), say.ID(id.ProductID), say.ID(id.Release), Hex32(id.XID), id.Words}
	}
	return out
}

// figures is a number as it is published.
func figures(v float64) *float64 {
	v = quantity.Figures(v)
	return &v
}

func shelfPrice(p shelf.Price, known bool) *ShelfPrice {
	if !known {
		return nil
	}
	return &ShelfPrice{quantity.Figures(p.Amount), p.Currency}
}

func shelfOhm(e *bench.Estimate) *ShelfOhm {
	if e == nil {
		return nil
	}
	return &ShelfOhm{quantity.Figures(e.Ohm), quantity.Figures(e.Expanded), e.Assumed}
}

// ShelfEnd is the last object of a shelf in JSON Lines.
type ShelfEnd struct {
	Version int          `json:"gainsay"` // version of the format, as FormatVersion
	Summary ShelfSummary `json:"summary"` // the counts over all records kept
}

// ShelfSummary is the published form of a shelf's counts.
type ShelfSummary struct {
	Records      int           `json:"records"`        // that were kept
	Cables       int           `json:"cables"`         // different ids
	Contradicted int           `json:"contradicted"`   // records with a contradiction or a breach
	Unsettled    int           `json:"unsettled"`      // records whose rating more evidence could change
	Shown        []ShelfShown  `json:"shown"`          // records by the power shown
	Claims       []ClaimEnds   `json:"claims"`         // how claims ended, by property
	Sellers      []ShelfGroup  `json:"sellers"`        // records by seller
	Bands        []ShelfGroup  `json:"price_bands"`    // records by price
	Repeats      []ShelfRepeat `json:"repeats"`        // ids on several records
	Across       []ShelfAcross `json:"across"`         // what shows only across records
	Batches      []ShelfBatch  `json:"batches"`        // samples by batch
	Load         *ShelfLoad    `json:"load,omitempty"` // where one was asked for
}

// ShelfShown counts the records shown to carry a power; 0 W is none.
type ShelfShown struct {
	PowerW  int `json:"power_w"` // W; 0 for no published power
	Records int `json:"records"` // that are shown to carry it
}

// ClaimEnds counts how the claims of a property ended.
type ClaimEnds struct {
	Property     claims.Property `json:"property"`     // the key of the claims
	Confirmed    int             `json:"confirmed"`    // claims that are confirmed
	Contradicted int             `json:"contradicted"` // claims that are contradicted
	NotShown     int             `json:"not_shown"`    // claims that are not shown
}

// ShelfGroup counts records with something in common. An empty name is what is
// not on record.
type ShelfGroup struct {
	Name         string `json:"name"`         // what they have in common
	Records      int    `json:"records"`      // how many
	Contradicted int    `json:"contradicted"` // of them with a contradiction or a breach
	Unsettled    int    `json:"unsettled"`    // of them with a rating that more evidence could change
}

// ShelfRepeat is an id that stands on several records.
type ShelfRepeat struct {
	Cable string `json:"cable"` // the id
	// Again: each record has a date of its own, so it is the same cable at
	// different times.
	Again  bool     `json:"again"`
	Places []string `json:"places"` // of the records, as "file:line:column"
}

// NewShelfSummary gives the published form of a shelf's counts.
func NewShelfSummary(s shelf.Summary) ShelfSummary {
	out := ShelfSummary{Records: s.Records, Cables: s.Cables, Contradicted: s.Contradicted, Unsettled: s.Unsettled,
		Shown: []ShelfShown{}, Claims: []ClaimEnds{}, Sellers: []ShelfGroup{}, Bands: []ShelfGroup{}, Repeats: []ShelfRepeat{},
		Across: []ShelfAcross{}, Batches: []ShelfBatch{}}
	for _, n := range s.Shown {
		out.Shown = append(out.Shown, ShelfShown(n))
	}
	for _, n := range s.Claims {
		out.Claims = append(out.Claims, ClaimEnds(n))
	}
	for _, g := range s.Sellers {
		out.Sellers = append(out.Sellers, ShelfGroup(g))
	}
	for _, g := range s.Bands {
		out.Bands = append(out.Bands, ShelfGroup(g))
	}
	for _, r := range s.Repeats {
		one := ShelfRepeat{Cable: r.Cable, Again: r.Again}
		for _, it := range r.Records {
			one.Places = append(one.Places, it.At.String())
		}
		out.Repeats = append(out.Repeats, one)
	}
	for _, a := range s.Across {
		out.Across = append(out.Across, ShelfAcross(a))
	}
	for _, b := range s.Batches {
		one := ShelfBatch{Batch: b.Name, Sampled: b.Sampled, Over: b.Over, Within: b.Within, Undecided: b.Undecided, Confidence: shelf.Confidence}
		if b.Measured() > 0 {
			one.ShareOver = &[2]float64{quantity.Figures(b.Low), quantity.Figures(b.High)}
		}
		one.Lot = newShelfLot(b)
		out.Batches = append(out.Batches, one)
	}
	return out
}

// ShelfAcross is something that shows only across records.
type ShelfAcross struct {
	Rule   string      `json:"rule"`   // a permanent name
	Kind   claims.Kind `json:"kind"`   // as of a finding
	Says   string      `json:"says"`   // one sentence with the numbers
	Next   string      `json:"next"`   // what to do
	Cables []string    `json:"cables"` // the ids it is about, each once
}

// ShelfBatch is what samples say about a batch.
type ShelfBatch struct {
	Batch     string `json:"batch"`     // about.batch
	Sampled   int    `json:"sampled"`   // cables, each by its latest record
	Over      int    `json:"over"`      // over a limit at the current that the seller's words come to
	Within    int    `json:"within"`    // within both limits there
	Undecided int    `json:"undecided"` // measured, and neither shown
	// ShareOver bounds the share of the batch that is over a limit; absent where
	// nothing was measured.
	ShareOver  *[2]float64 `json:"share_over,omitempty"`
	Confidence float64     `json:"confidence"`    // of ShareOver and Lot.Failing, 0 to 1
	Lot        *ShelfLot   `json:"lot,omitempty"` // where about.lot is on record
}

// ShelfLot judges a batch by the smallest sampling plan that keeps the risks asked for.
type ShelfLot struct {
	Size    int              `json:"size,omitempty"`    // cables in the lot
	Test    int              `json:"test,omitempty"`    // cables that the plan tests
	Allow   *int             `json:"allow,omitempty"`   // of them that may fail; absent without a plan
	Outcome shelf.LotOutcome `json:"outcome,omitempty"` // accept, reject or continue; absent where error is not
	Left    int              `json:"left"`              // cables still to be measured
	Failing *[2]int          `json:"failing,omitempty"` // bounds of the failures in the lot; absent where nothing was measured
	Error   string           `json:"error,omitempty"`   // why there is no outcome
}

func newShelfLot(b shelf.Batch) *ShelfLot {
	l := b.Lot
	switch {
	case l == nil:
		return nil
	case l.Wrong != "":
		return &ShelfLot{Error: l.Wrong}
	}
	out := &ShelfLot{Size: l.Size, Test: l.Plan.Test, Allow: &l.Plan.Allow, Outcome: l.Outcome, Left: b.Left()}
	if b.Measured() > 0 {
		out.Failing = &[2]int{l.FailingLow, l.FailingHigh}
	}
	return out
}

// lotLines say what a sampling plan says about each batch with a lot on record.
func lotLines(batches []shelf.Batch) (lines []string) {
	for _, b := range batches {
		l := b.Lot
		if l == nil {
			continue
		}
		line := Plain(b.Name) + ": "
		if l.Wrong != "" {
			lines = append(lines, line+"no decision on the lot: "+Plain(l.Wrong)+".")
			continue
		}
		line += fmt.Sprintf("%s. Lot of %d; the plan tests %d and allows %s; %d measured, %d over, %d undecided.",
			l.Outcome, l.Size, l.Plan.Test, counted(l.Plan.Allow, "failure"), b.Measured(), b.Over, b.Undecided)
		if n := b.Left(); n > 0 {
			line += fmt.Sprintf(" Test %d more, taken at random.", n)
		} else if l.Outcome == shelf.LotContinue {
			line += " Settle the undecided."
		}
		if b.Measured() > 0 {
			line += fmt.Sprintf(" Failures in the lot: %d to %d (exact, 95 %%).", l.FailingLow, l.FailingHigh)
		}
		lines = append(lines, line)
	}
	return lines
}

// notOnRecord names the group of what is not on record.
const notOnRecord = "not on record"

func groupName(name string) string {
	if name == "" {
		return notOnRecord
	}
	return Plain(name)
}

// ShelfText prints a table of records for people and, below it, the counts.
func ShelfText(items []*shelf.Item, columns []*shelf.Column, s shelf.Summary, style Style) string {
	var b strings.Builder
	t := grid{}
	for _, c := range columns {
		t.head = append(t.head, gridHead{pick(c.Short != "", c.Short, c.Title), c.Numeric})
	}
	for _, it := range items {
		row := make([]gridCell, len(columns))
		for i, c := range columns {
			v := c.Of(it)
			row[i].text = pick(v.Short != "", v.Short, Plain(v.Text))
			switch {
			case !v.Known:
				row[i].text = "-"
			case c.Name == "shown" && it.Rating.PowerW == 0:
				row[i].code = red
			case c.Name == "claims" && v.Number > 0:
				row[i].code = red
			}
		}
		t.rows = append(t.rows, row)
	}
	t.write(&b, style)
	if slices.ContainsFunc(columns, func(c *shelf.Column) bool { return c.Name == "claims" }) {
		b.WriteString("\nClaims: confirmed / contradicted / not shown. ?: more evidence could change it.\n")
	}
	writeCounts(&b, s, style)
	return b.String()
}

func writeCounts(b *strings.Builder, s shelf.Summary, style Style) {
	section(b, "Counts", style)
	paragraph(b, indent, indent, shelfCount(s))
	for _, t := range countGrids(s) {
		b.WriteString("\n")
		t.write(b, style)
	}
	if again := measuredAgain(s.Repeats); again != "" {
		b.WriteString("\n")
		paragraph(b, "", indent, again)
	}
	if len(s.Batches) > 0 {
		section(b, "Batches", style)
		t := batchGrid(s.Batches)
		t.write(b, style)
		paragraph(b, indent, indent, batchNote)
		for _, line := range lotLines(s.Batches) {
			paragraph(b, indent, indent+indent, line)
		}
	}
	if len(s.Across) > 0 {
		section(b, "Across records", style)
	}
	for i, a := range s.Across {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(indent + style.paint(kindColour(a.Kind), string(a.Kind)) + "  " + a.Rule + "\n")
		paragraph(b, indent+indent, indent+indent, Plain(a.Says))
		paragraph(b, indent+indent, indent+indent, "Next: "+Plain(a.Next))
	}
}

// countGrids are the counts that have anything to count.
func countGrids(s shelf.Summary) []grid {
	shown := grid{head: []gridHead{{"Shown to carry", false}, {"Records", true}}}
	for _, n := range s.Shown {
		shown.add(shownName(n.PowerW), fmt.Sprint(n.Records))
	}
	ends := grid{head: []gridHead{{"Claim", false}, {"Confirmed", true}, {"Contradicted", true}, {"Not shown", true}}}
	for _, n := range s.Claims {
		ends.add(string(n.Property), fmt.Sprint(n.Confirmed), fmt.Sprint(n.Contradicted), fmt.Sprint(n.NotShown))
	}
	all := []grid{shown, ends, groupGrid("Seller", s.Sellers), groupGrid("Price", s.Bands)}
	return slices.DeleteFunc(all, func(t grid) bool { return len(t.rows) == 0 })
}

func batchGrid(batches []shelf.Batch) grid {
	t := grid{head: []gridHead{{"Batch", false}, {"Sampled", true}, {"Measured", true}, {"Over", true}, {"Undecided", true}, {"Share over", true}}}
	for _, n := range batches {
		t.add(Plain(n.Name), fmt.Sprint(n.Sampled), fmt.Sprint(n.Measured()), fmt.Sprint(n.Over), fmt.Sprint(n.Undecided), shareText(n))
	}
	return t
}

// batchNote says what the figures of a batch stand on.
const batchNote = "Over: over a limit at the current that the seller's words come to. Share over: the exact interval (Clopper-Pearson) " +
	"for the share of the whole batch at 95 % confidence, the undecided counted for and against; it holds for samples taken at random."

// shareText prints the interval for the share of a batch that is over a limit.
func shareText(b shelf.Batch) string {
	if b.Measured() == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f to %.1f %%", 100*b.Low, 100*b.High)
}

// shelfCount says in a sentence what is on the shelf.
func shelfCount(s shelf.Summary) string {
	return fmt.Sprintf("%s of %s: %d with a contradiction or a breach, %d whose rating more evidence could change.",
		counted(s.Records, "record"), counted(s.Cables, "cable"), s.Contradicted, s.Unsettled)
}

func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}

// shownName words a power shown.
func shownName(watts int) string {
	if watts == 0 {
		return "no published power"
	}
	return fmt.Sprintf("%d W", watts)
}

// measuredAgain names the cables that stand on several records, each with its
// date.
func measuredAgain(rs []shelf.Repeat) string {
	var parts []string
	for _, r := range rs {
		if r.Again {
			parts = append(parts, fmt.Sprintf("%s (%d records)", Plain(r.Cable), len(r.Records)))
		}
	}
	if parts == nil {
		return ""
	}
	return "Measured again, on another date: " + strings.Join(parts, ", ") + "."
}

func groupGrid(name string, gs []shelf.Group) grid {
	t := grid{head: []gridHead{{name, false}, {"Records", true}, {"Contradicted", true}, {"Not settled", true}}}
	for _, g := range gs {
		t.add(groupName(g.Name), fmt.Sprint(g.Records), fmt.Sprint(g.Contradicted), fmt.Sprint(g.Unsettled))
	}
	return t
}
