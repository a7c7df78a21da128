package shelf

import (
	"cmp"
	"math"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// Item is what the shelf keeps of one record.
type Item struct {
	Cable, Label         string       // the user's own id, and own words for it
	Seller, Model, Batch string       // about.seller, about.model, about.batch
	Lot                  string       // about.lot, as written
	Price                Price        // about.price
	At                   record.Place // where the record begins

	Rating  claims.Rating  // what it is shown to carry
	Verdict claims.Verdict // what it is sold as, shown and the outcome
	// Marker is what the marker lets a source use, whatever the copper.
	Marker claims.Support
	Claims []Claim // how each ended, in the order of the record's keys

	// Findings counts those not waived, worst first as in claims.Kinds; Against
	// names the rules of the contradictions and breaches.
	Contradictions, Breaches, Doubts int
	Against                          []string // rule ids
	// Caveats are findings about power that go with the cable wherever it is listed as
	// fit, in sentences.
	Caveats []string

	// Result holds the latest resistances without their budgets; its estimates are
	// nil where nothing was measured. Rule decides its limits.
	Result     bench.Result
	Acceptance bench.Acceptance // guard band or simple acceptance
	// SellerAmps is the current that the seller's words come to, in A; 0 where
	// none is claimed.
	SellerAmps float64

	LengthMetre float64 // by tape, else as claimed; 0 where neither is known
	Taped       bool    // whether LengthMetre is by tape
	Speed       string  // as the marker declares; empty where it does not
	Gbps        float64 // of Speed

	Identity Identity  // of the near marker
	Sittings []Sitting // dated sessions with a resistance, oldest first
	Date     time.Time // of the latest dated session, else zero
}

// Claim is how one claim of the seller ended.
type Claim struct {
	Property claims.Property // the key of the claim
	Claimed  string          // as it was understood, or as the record has it
	Standing claims.Standing // confirmed, contradicted or not shown
}

// Identity is what the near marker calls itself.
type Identity struct {
	Known     bool   // whether the near plug gave one; the rest counts only then
	VendorID  uint16 // the USB vendor ID
	ProductID uint16 // the USB product ID
	Release   uint16 // bcdDevice, 0x0100 is 1.00
	XID       uint32 // the certification test identifier, 0 for none
	Words     string // every word of the identity after the VDM header, in hex
}

// Blank tells whether the identity names no product: product id, release and XID
// are all zero, as in a marker that was never programmed for the product.
func (id Identity) Blank() bool {
	return id.Known && id.ProductID == 0 && id.Release == 0 && id.XID == 0
}

// Sitting is one dated session at the bench.
type Sitting struct {
	Date   time.Time    // the day, at midnight UTC
	Result bench.Result // without budgets
}

// NewItem keeps of a case and its report what the shelf needs. The texts are copies:
// those of a record are parts of its whole document, which is not to be kept.
func NewItem(c *claims.Case, r *claims.Report) Item {
	it := Item{
		Cable: strings.Clone(r.Cable), Label: strings.Clone(r.Label), At: c.Record.At,
		Rating: r.Rating, Verdict: r.Verdict, Marker: c.MarkerSupport(), Acceptance: c.Acceptance,
		Contradictions: r.Count(claims.Contradiction), Breaches: r.Count(claims.Breach), Doubts: r.Count(claims.Doubt),
	}
	for _, n := range c.Record.About {
		switch strings.ToLower(n.Key) {
		case "seller":
			it.Seller = strings.Clone(n.Text)
		case "model":
			it.Model = strings.Clone(n.Text)
		case "batch":
			it.Batch = strings.Clone(n.Text)
		case "lot":
			it.Lot = strings.Clone(n.Text)
		case "price":
			it.Price = ParsePrice(strings.Clone(n.Text))
		}
	}
	it.Claims = make([]Claim, len(r.Claims))
	for i, o := range r.Claims {
		it.Claims[i] = Claim{o.Property, strings.Clone(cmp.Or(o.Normal, o.Claimed)), o.Standing}
	}
	for _, f := range r.Findings {
		if f.Waived == "" && aboutPower(f) {
			it.Caveats = append(it.Caveats, strings.Clone(f.Says))
		}
		if f.Waived == "" && (f.Kind == claims.Contradiction || f.Kind == claims.Breach) {
			it.Against = append(it.Against, f.Rule)
		}
	}
	if c.Resistance != nil {
		it.Result = bench.Slim(c.Resistance.Result)
	}
	if amps, ok := c.SellerAmps(); ok {
		it.SellerAmps = amps
	}
	if l, ok := c.TapeLength(); ok {
		it.LengthMetre, it.Taped = l, true
	} else if l, ok := c.Claims.Length.Get(); ok {
		it.LengthMetre = l
	}
	if c.Near.Identified {
		if v, ok := c.Near.Summary.Speed.Get(); ok {
			it.Speed, it.Gbps = v.String(), v.Gbps()
		}
		it.Identity = identity(c.Near.Identity)
	}
	for i := range c.Bench {
		s := &c.Bench[i]
		date, dated := s.Date.Get()
		if !dated {
			continue
		}
		if date.After(it.Date) {
			it.Date = date
		}
		if s == c.Resistance {
			it.Sittings = append(it.Sittings, Sitting{date, it.Result})
		} else if res := s.Result; res.VBUS != nil || res.Ground != nil || res.Loop != nil {
			it.Sittings = append(it.Sittings, Sitting{date, bench.Slim(res)})
		}
	}
	return it
}

// aboutPower reports whether a finding is one that a user of the cable's power needs to
// know: a contradiction or breach about power, or plugs or readings that disagree.
func aboutPower(f claims.Finding) bool {
	switch f.Property {
	case claims.Power, claims.Current, claims.Voltage:
	default:
		return false
	}
	switch f.Rule {
	case "plugs-disagree-on-power", "bench-loop-differs-from-conductors", "bench-orientations-differ":
		return true
	}
	return f.Kind == claims.Contradiction || f.Kind == claims.Breach
}

// Contradicted reports whether there is a contradiction or a breach.
func (it *Item) Contradicted() bool { return it.Contradictions+it.Breaches > 0 }

// Count is the number of claims that ended in a standing.
func (it *Item) Count(s claims.Standing) int {
	n := 0
	for _, c := range it.Claims {
		if c.Standing == s {
			n++
		}
	}
	return n
}

// Measured tells whether any resistance is on record.
func (it *Item) Measured() bool {
	return it.Result.VBUS != nil || it.Result.Ground != nil || it.Result.Loop != nil
}

// Margin is what is left of the limit, as a fraction of it, in the conductor that
// has the least: (limit - R) / limit, at the current of the rating shown, or at
// 3 A where no rating is shown. It is negative where R is over the limit. It
// reports false unless VBUS and ground are both known.
func (it *Item) Margin() (float64, bool) {
	if it.Result.VBUS == nil || it.Result.Ground == nil {
		return 0, false
	}
	amps := float64(it.Rating.CurrentA)
	if amps == 0 {
		amps = claims.LeastAmps
	}
	left := func(e *bench.Estimate) float64 { return 1 - e.Ohm/it.Acceptance.LimitOhm(e.Conductor, amps) }
	return math.Min(left(it.Result.VBUS), left(it.Result.Ground)), true
}

func identity(r vdo.Reply) Identity {
	s := vdo.Summarize(r)
	id := Identity{Known: true, VendorID: s.VendorID.Or(0), ProductID: s.ProductID.Or(0), Release: s.Release.Or(0),
		XID: s.CertificationID.Or(0)}
	words := r.Words()
	if _, headed := r.Header(); headed {
		words = words[1:]
	}
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteByte(' ')
		}
		const figures = "0123456789ABCDEF"
		for shift := 28; shift >= 0; shift -= 4 {
			b.WriteByte(figures[w>>shift&15])
		}
	}
	id.Words = b.String()
	return id
}
