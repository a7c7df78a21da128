package shelf

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
)

// Shelf is many records. The zero Shelf is empty.
type Shelf struct {
	Risks Risks // that a batch with about.lot is judged by; UsualRisks where zero, its Lot is not used
	items []*Item
}

// Add puts a record on the shelf.
func (s *Shelf) Add(it Item) { s.items = append(s.items, &it) }

// Items lists the records in the order they were added.
func (s *Shelf) Items() []*Item { return slices.Clone(s.items) }

// Where gives the shelf of the records that meet every condition.
func (s *Shelf) Where(fs ...Filter) *Shelf {
	out := &Shelf{Risks: s.Risks}
next:
	for _, it := range s.items {
		for _, f := range fs {
			if !f.Keeps(it) {
				continue next
			}
		}
		out.items = append(out.items, it)
	}
	return out
}

// Summary counts what is on a shelf.
type Summary struct {
	Records, Cables int          // a cable is an id
	Contradicted    int          // records with a contradiction or a breach
	Unsettled       int          // records whose rating more evidence could change
	Shown           []ShownCount // by power, the highest first
	Claims          []ClaimCount // by property
	Sellers         []Group      // by about.seller
	Bands           []Group      // by price
	Repeats         []Repeat     // ids on several records
	Across          []Across     // what shows only across records
	Batches         []Batch      // by about.batch
}

// ShownCount is how many records are shown to carry a power.
type ShownCount struct {
	PowerW  int // W; 0 for no published power
	Records int // how many
}

// ClaimCount is how the claims of one property ended.
type ClaimCount struct {
	Property                          claims.Property // the key of the claims
	Confirmed, Contradicted, NotShown int             // claims by how they ended
}

// Group is a number of records with something in common.
type Group struct {
	Name                  string // empty: not on record
	Records, Contradicted int    // in it, and of them with a contradiction or a breach
	Unsettled             int    // of them with a rating that more evidence could change
}

// Repeat is an id that stands on more than one record.
type Repeat struct {
	Cable string // the id
	// Records, by the date of their latest session, then by place.
	Records []*Item
	// Again: every record has a date of its own, so they are the same cable at
	// different times. Otherwise one id may have been given twice.
	Again bool
}

// Summary counts the shelf, with price bands by their upper ends.
func (s *Shelf) Summary(bands ...float64) Summary {
	out := Summary{Records: len(s.items)}
	shown := map[int]int{}
	ended := map[claims.Property]*ClaimCount{}
	sellers, prices := map[string]*Group{}, map[string]*Group{}
	var order []claims.Property
	lowest := map[string]Price{}
	for _, it := range s.items {
		if it.Contradicted() {
			out.Contradicted++
		}
		if !it.Rating.Settled {
			out.Unsettled++
		}
		shown[it.Rating.PowerW]++
		for _, c := range it.Claims {
			n := ended[c.Property]
			if n == nil {
				n = &ClaimCount{Property: c.Property}
				ended[c.Property] = n
				order = append(order, c.Property)
			}
			switch c.Standing {
			case claims.Confirmed:
				n.Confirmed++
			case claims.Contradicted:
				n.Contradicted++
			default:
				n.NotShown++
			}
		}
		count(sellers, it.Seller, it)
		band := ""
		if it.Price.Known {
			band = it.Price.band(bands)
			if low, ok := lowest[band]; !ok || comparePrices(it.Price, low) < 0 {
				lowest[band] = it.Price
			}
		}
		count(prices, band, it)
	}
	for w, n := range shown {
		out.Shown = append(out.Shown, ShownCount{w, n})
	}
	slices.SortFunc(out.Shown, func(a, b ShownCount) int { return cmp.Compare(b.PowerW, a.PowerW) })
	slices.Sort(order)
	for _, p := range order {
		out.Claims = append(out.Claims, *ended[p])
	}
	out.Sellers = groups(sellers, func(a, b string) int {
		return cmp.Or(strings.Compare(strings.ToLower(a), strings.ToLower(b)), strings.Compare(a, b))
	})
	out.Bands = groups(prices, func(a, b string) int { return comparePrices(lowest[a], lowest[b]) })
	out.Repeats, out.Cables = s.repeats()
	out.Across, out.Batches = s.Across(), s.Batches()
	return out
}

func count(m map[string]*Group, name string, it *Item) {
	g := m[name]
	if g == nil {
		g = &Group{Name: name}
		m[name] = g
	}
	g.Records++
	if it.Contradicted() {
		g.Contradicted++
	}
	if !it.Rating.Settled {
		g.Unsettled++
	}
}

// groups puts the counts in order; what is not on record comes last.
func groups(m map[string]*Group, compare func(a, b string) int) []Group {
	var out []Group
	for _, g := range m {
		out = append(out, *g)
	}
	slices.SortFunc(out, func(a, b Group) int {
		if (a.Name == "") != (b.Name == "") {
			if a.Name == "" {
				return 1
			}
			return -1
		}
		return compare(a.Name, b.Name)
	})
	return out
}

// byCable gathers the records of each id, in the order the ids first stand, each
// by date and place.
func (s *Shelf) byCable() [][]*Item {
	at := map[string]int{}
	var out [][]*Item
	for _, it := range s.items {
		i, ok := at[it.Cable]
		if !ok {
			i = len(out)
			at[it.Cable], out = i, append(out, nil)
		}
		out[i] = append(out[i], it)
	}
	for _, list := range out {
		slices.SortStableFunc(list, func(a, b *Item) int { return a.Date.Compare(b.Date) })
	}
	return out
}

func (s *Shelf) repeats() (out []Repeat, cables int) {
	all := s.byCable()
	for _, list := range all {
		if len(list) < 2 {
			continue
		}
		out = append(out, newRepeat(list))
	}
	return out, len(all)
}

func newRepeat(list []*Item) Repeat {
	r := Repeat{Cable: list[0].Cable, Records: list, Again: true}
	for i, it := range list {
		if it.Date.IsZero() || i > 0 && it.Date.Equal(list[i-1].Date) {
			r.Again = false
		}
	}
	return r
}

// History is one cable measured on several dates.
type History struct {
	Cable    string    // the id
	Sittings []Sitting // oldest first
	// Changes hold the last sitting against the first, conductor by conductor.
	Changes []bench.Change
}

// Histories lists the cables that were measured on more than one date, within a
// record or over several records with the same id.
func (s *Shelf) Histories() []History {
	var out []History
	for _, list := range s.byCable() {
		h := History{Cable: list[0].Cable}
		for _, it := range list {
			h.Sittings = append(h.Sittings, it.Sittings...)
		}
		slices.SortStableFunc(h.Sittings, func(a, b Sitting) int { return a.Date.Compare(b.Date) })
		if n := len(h.Sittings); n > 1 && h.Sittings[n-1].Date.After(h.Sittings[0].Date) {
			h.Changes = bench.Drift(h.Sittings[0].Result, h.Sittings[n-1].Result)
			out = append(out, h)
		}
	}
	return out
}

// Moved tells whether the resistance of some conductor changed by more than the
// measurement explains.
func (h History) Moved() bool {
	return slices.ContainsFunc(h.Changes, func(c bench.Change) bool { return c.Significant })
}

// Places names where the records of a repeat stand.
func (r Repeat) Places() string {
	parts := make([]string, len(r.Records))
	for i, it := range r.Records {
		parts[i] = it.At.String()
		if !it.Date.IsZero() {
			parts[i] += fmt.Sprintf(" (%s)", it.Date.Format(time.DateOnly))
		}
	}
	return strings.Join(parts, ", ")
}
