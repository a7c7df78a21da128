package claims

import (
	"slices"

	"example.com/gainsay/claims/internal/video"
	"example.com/gainsay/claims/record"
)

// A seller may claim in several places: on the label, on the product page. Each place is
// judged by itself; the highest of its claims is what the cable is sold as.

// bySource lists the case once for each place the seller claims in, with its claims
// alone.
func (c *Case) bySource() []*Case {
	if len(c.Sold) < 2 {
		return []*Case{c}
	}
	if c.perSource == nil || c.perSource[0].Acceptance != c.Acceptance {
		c.perSource = nil
		for i := range c.Sold {
			one := *c
			one.Claims, one.Sold = &c.Sold[i], c.Sold[i:i+1]
			one.views, one.perSource = nil, nil
			c.perSource = append(c.perSource, &one)
		}
	}
	return c.perSource
}

// asksSeller reports whether a rule asks about the claims of one place.
func (r *Rule) asksSeller() bool {
	return slices.ContainsFunc(r.Needs, func(e Evidence) bool { return e.Witness() == Seller })
}

// highest joins claims of several places: of each the highest, or else the first.
func highest(sold []record.Claims) *record.Claims {
	switch len(sold) {
	case 0:
		return &record.Claims{}
	case 1:
		return &sold[0]
	}
	out := sold[0]
	for i := range sold[1:] {
		cl := &sold[i+1]
		more(&out.Power, cl.Power)
		more(&out.Current, cl.Current)
		more(&out.Voltage, cl.Voltage)
		more(&out.Length, cl.Length)
		if cl.Data.Known && (!out.Data.Known || cl.Data.Value.Gbps > out.Data.Value.Gbps) {
			out.Data = cl.Data
		}
		if cl.Video.Known && (!out.Video.Known || video.PixelClock(cl.Video.Value) > video.PixelClock(out.Video.Value)) {
			out.Video = cl.Video
		}
		first(&out.Plugs, cl.Plugs)
		first(&out.Active, cl.Active)
		first(&out.Marked, cl.Marked)
		first(&out.Certified, cl.Certified)
		first(&out.Certificate, cl.Certificate)
		first(&out.Modes, cl.Modes)
		first(&out.Conductors, cl.Conductors)
	}
	return &out
}

func more(into *record.Stated[float64], v record.Stated[float64]) {
	if v.Known && (!into.Known || v.Value > into.Value) {
		*into = v
	}
}

func first[T any](into *record.Stated[T], v record.Stated[T]) {
	if !into.Known {
		*into = v
	}
}
