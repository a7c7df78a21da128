package shelf

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
)

// Across is something that shows only when records are held against each other.
// It counts for no record's outcome.
type Across struct {
	Rule   string      // a permanent name, as rules of the catalogue have
	Kind   claims.Kind // as of a finding
	Says   string      // one sentence with the numbers
	Next   string      // what to do
	Cables []string    // the ids it is about, each once
}

// What is found across records, by name.
const (
	SameIdentity  = "marker-identity-on-several-products" // one vendor, product, release and XID in cables sold as different things
	ChangedWords  = "marker-words-changed"                // one id whose marker answered differently at different times
	SamplesDiffer = "samples-differ"                      // samples of one model and length differ by more than the measurement explains
	ChangedOhms   = "resistance-changed"                  // one id whose resistance moved by more than the measurement explains
	IDGivenTwice  = "id-on-several-records"               // one id on records that no date tells apart
)

// How many are named in a sentence: products, and times with their words.
const (
	mostProducts = 6
	mostTimes    = 4
)

// Across holds the records of the shelf against each other.
func (s *Shelf) Across() []Across {
	cables := s.byCable()
	var out []Across
	out = append(out, givenTwice(cables)...)
	out = append(out, changedWords(cables)...)
	out = append(out, s.sameIdentity()...)
	out = append(out, s.changedOhms()...)
	out = append(out, samplesDiffer(latest(cables))...)
	return out
}

// latest gives the last record of each id.
func latest(cables [][]*Item) []*Item {
	out := make([]*Item, len(cables))
	for i, list := range cables {
		out[i] = list[len(list)-1]
	}
	return out
}

func givenTwice(cables [][]*Item) []Across {
	var out []Across
	for _, list := range cables {
		r := newRepeat(list)
		if len(list) < 2 || r.Again {
			continue
		}
		out = append(out, Across{Rule: IDGivenTwice, Kind: claims.Doubt, Cables: []string{r.Cable},
			Says: fmt.Sprintf("%s stands on %d records that no date tells apart: %s.", r.Cable, len(list), r.Places()),
			Next: "Give each cable an id of its own, or write the sessions of one cable into one record with their dates."})
	}
	return out
}

func changedWords(cables [][]*Item) []Across {
	var out []Across
	for _, list := range cables {
		var seen []string
		var parts []string
		for _, it := range list {
			if !it.Identity.Known || slices.Contains(seen, it.Identity.Words) {
				continue
			}
			seen = append(seen, it.Identity.Words)
			when := it.At.String()
			if !it.Date.IsZero() {
				when = it.Date.Format(time.DateOnly)
			}
			parts = append(parts, when+": "+it.Identity.Words)
		}
		if len(seen) < 2 {
			continue
		}
		out = append(out, Across{Rule: ChangedWords, Kind: claims.Doubt, Cables: []string{list[0].Cable},
			Says: fmt.Sprintf("The marker of %s answered differently at different times: %s.", list[0].Cable, strings.Join(named(parts, mostTimes, "times"), "; ")),
			Next: "Ask the marker again. Either two cables have one id, or one answer was misread, or the marker was written anew."})
	}
	return out
}

// product is what a cable is sold as.
type product struct{ seller, model, power, data string }

func (it *Item) product() product {
	p := product{seller: it.Seller, model: it.Model}
	for _, c := range it.Claims {
		switch c.Property {
		case claims.Power:
			p.power = c.Claimed
		case claims.Data:
			p.data = c.Claimed
		}
	}
	return p
}

func (p product) String() string {
	name := strings.TrimSpace(p.seller + " " + p.model)
	var sold []string
	for _, s := range []string{p.power, p.data} {
		if s != "" {
			sold = append(sold, s)
		}
	}
	if len(sold) > 0 {
		name += " (" + strings.Join(sold, ", ") + ")"
	}
	return name
}

type identityKey struct {
	vendor, product, release uint16
	xid                      uint32
}

// sameIdentity finds identities that cables sold as different things give.
// Records that name neither seller nor model say nothing about it.
func (s *Shelf) sameIdentity() []Across {
	products := map[identityKey][]product{}
	cables := map[identityKey][]string{}
	first := map[identityKey]Identity{}
	var order []identityKey
	for _, it := range s.items {
		if !it.Identity.Known || it.Seller+it.Model == "" {
			continue
		}
		id := it.Identity
		k := identityKey{id.VendorID, id.ProductID, id.Release, id.XID}
		if _, ok := first[k]; !ok {
			first[k] = id
			order = append(order, k)
		}
		if p := it.product(); !slices.Contains(products[k], p) {
			products[k] = append(products[k], p)
		}
		cables[k] = append(cables[k], it.Cable)
	}
	var out []Across
	for _, k := range order {
		if len(products[k]) < 2 {
			continue
		}
		names := make([]string, len(products[k]))
		for i, p := range products[k] {
			names[i] = p.String()
		}
		slices.Sort(names)
		a := Across{Rule: SameIdentity, Kind: claims.Doubt, Cables: unique(cables[k]),
			Says: fmt.Sprintf("The identity %s, XID %s, stands in cables sold as %d different things: %s.", first[k], say.Word(k.xid),
				len(names), strings.Join(named(names, mostProducts, "products"), "; ")),
			Next: "Ask the sellers whether these are one product. Otherwise the identity was copied from another marker."}
		if first[k].Blank() {
			a.Says = fmt.Sprintf("Cables sold as %d different things give a vendor, %04X, and no product, release or XID: %s.",
				len(names), k.vendor, strings.Join(named(names, mostProducts, "products"), "; "))
			a.Next = "The markers were never written for their products, so nothing else in them need be true: measure."
		}
		out = append(out, a)
	}
	return out
}

func (s *Shelf) changedOhms() []Across {
	var out []Across
	for _, h := range s.Histories() {
		first, last := h.Sittings[0].Date, h.Sittings[len(h.Sittings)-1].Date
		for _, c := range h.Changes {
			if !c.Significant || c.Conductor == bench.Loop && len(h.Changes) > 1 {
				continue
			}
			way, next := "rose", "Clean the contacts and measure again; wear stays, dirt goes."
			if c.Ohm < 0 {
				way, next = "fell", "Check the null and the sensing of both sessions; only cleaning makes a resistance fall."
			}
			out = append(out, Across{Rule: ChangedOhms, Kind: claims.Doubt, Cables: []string{h.Cable},
				Says: fmt.Sprintf("%s of %s %s by %s from %s to %s, more than the measurement explains.", c.Conductor.Name(), h.Cable, way,
					quantity.FormatUncertain(math.Abs(c.Ohm), c.Expanded, quantity.Resistance), first.Format(time.DateOnly), last.Format(time.DateOnly)),
				Next: next})
		}
	}
	return out
}

// samplesDiffer holds the samples of one product, of one claimed length, against
// each other. The two furthest apart of n samples are furthest by selection, so
// the level of confidence is shared among all n(n-1)/2 pairs (Bonferroni).
func samplesDiffer(items []*Item) []Across {
	type key struct{ seller, model, length string }
	groups := map[key][]*Item{}
	var order []key
	for _, it := range items {
		if it.Model == "" {
			continue
		}
		k := key{it.Seller, it.Model, ""}
		for _, c := range it.Claims {
			if c.Property == claims.Length {
				k.length = c.Claimed
			}
		}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], it)
	}
	var out []Across
	for _, k := range order {
		for _, c := range []bench.Conductor{bench.VBUS, bench.Ground} {
			var samples []*Item
			for _, it := range groups[k] {
				if e := it.Result.Estimate(c); e != nil && e.U > 0 {
					samples = append(samples, it)
				}
			}
			if len(samples) < 2 {
				continue
			}
			ohm := func(a, b *Item) int { return cmp.Compare(a.Result.Estimate(c).Ohm, b.Result.Estimate(c).Ohm) }
			least, most := slices.MinFunc(samples, ohm), slices.MaxFunc(samples, ohm)
			for _, d := range bench.Drift(least.Result, most.Result) {
				if d.Conductor != c {
					continue
				}
				pairs := float64(len(samples)*(len(samples)-1)) / 2
				explained := bench.CoverageFactor(1-(1-bench.Coverage)/pairs, d.DoF) * d.U
				if d.Ohm <= explained {
					continue
				}
				what := strings.TrimSpace(k.seller + " " + k.model)
				if k.length != "" {
					what += ", " + k.length
				}
				cables := make([]string, len(samples))
				for i, it := range samples {
					cables[i] = it.Cable
				}
				out = append(out, Across{Rule: SamplesDiffer, Kind: claims.Remark, Cables: cables,
					Says: fmt.Sprintf("%d samples of %s: %s has from %s (%s) to %s (%s), which is %s apart where the measurement explains %s.",
						len(samples), what, c.Name(), OhmText(least.Result.Estimate(c)), least.Cable, OhmText(most.Result.Estimate(c)), most.Cable,
						quantity.Format(d.Ohm, quantity.Resistance, 3), quantity.Format(explained, quantity.Resistance, 2)),
					Next: "One sample does not speak for the product: sample more of each delivery."})
			}
		}
	}
	return out
}

// named keeps a list of names in a sentence short.
func named(names []string, most int, what string) []string {
	if len(names) <= most {
		return names
	}
	return append(slices.Clone(names[:most]), fmt.Sprintf("and %d more %s", len(names)-most, what))
}

func unique(list []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, s := range list {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

// Confidence of the interval for the share of a batch.
const Confidence = 0.95

// Batch is what the samples of one batch say about it.
type Batch struct {
	Name    string // about.batch
	Sampled int    // cables, each by its latest record
	// Of those measured: over a limit at the current that the seller's words come
	// to (3 A where none is claimed), within both, or neither settled.
	Over, Within, Undecided int
	// Low and High bound the share of the batch that is over, at Confidence, by
	// ClopperPearson: Low as if all the undecided were within, High as if they
	// were over. They are NaN where nothing was measured.
	Low, High float64
	// Lot judges the batch by a sampling plan; nil where no record states about.lot.
	Lot *Lot
}

// Batches counts the samples of each batch named in the records.
func (s *Shelf) Batches() []Batch {
	at := map[string]int{}
	var out []Batch
	lots := map[string][]string{}
	for _, it := range latest(s.byCable()) {
		if it.Batch == "" {
			continue
		}
		i, ok := at[it.Batch]
		if !ok {
			i = len(out)
			at[it.Batch] = i
			out = append(out, Batch{Name: it.Batch})
		}
		out[i].Sampled++
		if it.Lot != "" && !slices.Contains(lots[it.Batch], it.Lot) {
			lots[it.Batch] = append(lots[it.Batch], it.Lot)
		}
		if !it.Measured() {
			continue
		}
		switch bench.DecideCable(it.Result, max(it.SellerAmps, claims.LeastAmps), it.Acceptance).Outcome {
		case bench.Over:
			out[i].Over++
		case bench.Within:
			out[i].Within++
		default:
			out[i].Undecided++
		}
	}
	for i := range out {
		b := &out[i]
		b.Low, _ = ClopperPearson(b.Over, b.Measured(), Confidence)
		_, b.High = ClopperPearson(b.Over+b.Undecided, b.Measured(), Confidence)
		b.Lot = b.judgeLot(lots[b.Name], cmp.Or(s.Risks, UsualRisks()))
	}
	slices.SortFunc(out, func(a, b Batch) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// Measured is the number of samples with a resistance.
func (b Batch) Measured() int { return b.Over + b.Within + b.Undecided }
