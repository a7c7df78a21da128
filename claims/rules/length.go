package rules

import (
	"fmt"
	"math"
	"strconv"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/vdo"
)

var lengthRules = []*claims.Rule{
	claimedLengthDiffers, lengthFasterThanLight, tapeFasterThanLight, claimedLengthUnlikely, tapeLengthUnlikely,
	lengthLongForMarker, claimedLengthLongForData,
}

// A length counts with or without the plugs' bodies, each some 2 to 4 cm, and sellers
// round (common practice): it contradicts a claim only beyond the larger of a tenth of
// the claim and 6 cm. A tape is read to 1 % and 1 cm.
const (
	lengthTolerance      = 0.10
	lengthToleranceLeast = 0.06 // m
	tapeTolerance        = 0.01
	tapeToleranceLeast   = 0.01 // m
)

// micrometres is a length in whole µm: exact for every length that people write, in
// metres, feet or inches.
func micrometres(l float64) int64 { return int64(math.Round(l * 1e6)) }

// lengthsDiffer reports whether a tape contradicts a claim. At the edge it does not.
func lengthsDiffer(claimed, tape float64) bool {
	c, t := micrometres(claimed), micrometres(tape)
	off := max(c-t, t-c)
	return off*10 > c && off > micrometres(lengthToleranceLeast)
}

var claimedLengthDiffers = &claims.Rule{
	ID:       "claimed-length-differs-from-tape",
	Sources:  []claims.Citation{source.OwnReasoning, source.CommonPractice},
	Title:    "the length by tape is not the length claimed",
	Kind:     claims.Contradiction,
	Property: claims.Length,
	Between:  []claims.Witness{claims.Seller, claims.Bench},
	Needs:    []claims.Evidence{claims.SellerLength, claims.BenchLength},
	Settles:  true,
	Says:     "The seller claims {claimed}; the tape shows {tape}, {difference} % off.",
	Why:      "A shorter cable has less resistance than the claimed length would have; a longer one may not reach its data rate.",
	Next:     "Measure again from plug to plug, and use the measured length.",
	Check: func(c *claims.Case) claims.Result {
		claimed := c.Claims.Length.Value
		tape, _ := c.TapeLength()
		off := math.Abs(tape-claimed) / claimed
		return foundIf(lengthsDiffer(claimed, tape), func() claims.Values {
			return claims.Values{"claimed": metres(claimed), "tape": metres(tape),
				"difference": strconv.FormatFloat(100*off, 'f', 0, 64)}
		})
	},
}

// The delay of a cable. The latency field's own legend counts 10 ns to the metre;
// a pair in fact has 4.2 to 5.2 ns a metre, and nothing is faster than light.
// Makers follow the one or the other, so both are accepted.
const (
	lightMetrePerNs  = 0.299792458
	fastestNsPerM    = 4.2 // velocity factor 0.80
	legendNsPerMetre = 10
)

// fits gives the lengths in m that the latency of a passive cable can belong to.
func fits(d vdo.Delay) (least, most float64) {
	least, most = float64(d.Over)/legendNsPerMetre, math.Inf(1)
	if d.UpTo > 0 {
		most = float64(d.UpTo) / fastestNsPerM
	}
	return least, most
}

// mostDelay is the longest delay in ns that a latency can stand for, 0 where it has no
// upper end. The codes of an active cable of PD 3.x leave a gap between 70 ns and 1000 ns
// and come in steps of 1000 ns from there: a cable in a gap takes either neighbour.
func mostDelay(c *claims.Case, d vdo.Delay) int {
	const lastShort, step, last = 70, 1000, 3000
	switch s := &c.Near.Summary; {
	case s.PD2 || !s.Product.Is(isActive):
		return d.UpTo
	case d.UpTo == lastShort:
		return step
	case d.UpTo >= last:
		return 0
	case d.UpTo >= step:
		return d.UpTo + step
	}
	return d.UpTo
}

// span is a length with the shortest and the longest that it can mean.
type span struct{ stated, shortest, longest float64 }

// latencyRule asks about a length and the latency declared. The tape counts where
// there is one.
func latencyRule(r claims.Rule, taped bool, check func(c *claims.Case, l span, d vdo.Delay) claims.Result) *claims.Rule {
	r.Property = claims.Length
	r.Between, r.Needs = []claims.Witness{claims.Seller, claims.Marker}, []claims.Evidence{claims.SellerLength, claims.MarkerCable}
	if taped {
		r.Between, r.Needs = []claims.Witness{claims.Bench, claims.Marker}, []claims.Evidence{claims.BenchLength, claims.MarkerCable}
	}
	r.Check = func(c *claims.Case) claims.Result {
		tape, ok := c.TapeLength()
		l := span{tape, tape*(1-tapeTolerance) - tapeToleranceLeast, tape*(1+tapeTolerance) + tapeToleranceLeast}
		switch {
		case taped:
		case ok:
			return notApplicable("the length was taped, and the tape counts")
		default:
			claimed := c.Claims.Length.Value
			off := max(claimed*lengthTolerance, lengthToleranceLeast)
			l = span{claimed, claimed - off, claimed + off}
		}
		d, ok := c.Near.Summary.Latency.Get()
		if !ok {
			return notApplicable("the marker declares no valid latency")
		}
		return check(c, l, d)
	}
	return &r
}

func fasterThanLight(c *claims.Case, l span, d vdo.Delay) claims.Result {
	most := mostDelay(c, d)
	if most == 0 {
		return notApplicable("the latency declared has no upper end")
	}
	return foundIf(l.shortest > float64(most)*lightMetrePerNs, func() claims.Values {
		return claims.Values{"length": metres(l.stated), "latency": say.Delay(d),
			"light": fmt.Sprintf("%.1f ns", l.shortest/lightMetrePerNs), "shortest": metres(l.shortest)}
	})
}

var lengthFasterThanLight = latencyRule(claims.Rule{
	ID: "length-faster-than-light", Sources: []claims.Citation{source.NatureLight, source.PDCableWord}, Kind: claims.Contradiction,
	Title: "the latency declared is shorter than light takes through the length claimed",
	Says:  "The seller claims {length}; the marker declares a latency of {latency}, and light takes {light} for {shortest}, the shortest length the claim allows.",
	Why:   "The marker belongs to a shorter cable, or the cable is shorter than claimed. Hosts use the latency to time the link.",
	Next:  "Measure the length from plug to plug.",
}, false, fasterThanLight)

var tapeFasterThanLight = latencyRule(claims.Rule{
	ID: "tape-length-faster-than-light", Sources: []claims.Citation{source.NatureLight, source.PDCableWord}, Kind: claims.Contradiction,
	Title: "the latency declared is shorter than light takes through the cable",
	Says:  "The tape shows {length}; the marker declares a latency of {latency}, and light takes {light} for {shortest}.",
	Why:   "The marker belongs to a shorter cable. Hosts use the latency to time the link.",
	Next:  "Measure before relying on anything this marker declares.",
}, true, fasterThanLight)

func unlikelyLength(c *claims.Case, l span, d vdo.Delay) claims.Result {
	if res := fasterThanLight(c, l, d); res.Status == claims.Found {
		return notApplicable("it is not even possible")
	}
	if c.Near.Summary.Product.Is(isActive) {
		return notApplicable("the latency of an active cable includes its electronics")
	}
	least, most := fits(d)
	return foundIf(l.longest < least || l.shortest > most, func() claims.Values {
		v := claims.Values{"length": metres(l.stated), "latency": say.Delay(d), "fits": "up to " + say.Metres(most)}
		switch {
		case math.IsInf(most, 1):
			v["fits"] = say.Metres(least) + " and more"
		case least > 0:
			v["fits"] = say.Metres(least) + " to " + say.Metres(most)
		}
		return v
	})
}

var claimedLengthUnlikely = latencyRule(claims.Rule{
	ID: "claimed-length-unlikely-for-latency", Sources: []claims.Citation{source.OwnReasoning, source.PDCableWord}, Kind: claims.Doubt,
	Title: "the latency declared is unusual for the length claimed",
	Says:  "The seller claims {length}; the marker declares a latency of {latency}, which fits {fits} (10 ns a metre by the standard's legend, 4.2 ns a metre in the fastest pairs).",
	Why:   "The marker may have been programmed for a cable of another length.",
	Next:  "Measure the length from plug to plug.",
}, false, unlikelyLength)

var tapeLengthUnlikely = latencyRule(claims.Rule{
	ID: "tape-length-unlikely-for-latency", Sources: []claims.Citation{source.OwnReasoning, source.PDCableWord}, Kind: claims.Doubt,
	Title: "the latency declared is unusual for the length by tape",
	Says:  "The tape shows {length}; the marker declares a latency of {latency}, which fits {fits} (10 ns a metre by the standard's legend, 4.2 ns a metre in the fastest pairs).",
	Why:   "The marker may have been programmed for a cable of another length.",
	Next:  "Measure before relying on anything this marker declares.",
}, true, unlikelyLength)

// practicalMetres are the practical lengths of passive Type-C to Type-C cables
// by speed (Table 3-1). A Gen 4 cable is taken like a Gen 3 one.
var practicalMetres = map[vdo.Speed]float64{
	vdo.USB2: 4, vdo.USB32Gen1: 2, vdo.USB32Gen2: 1, vdo.USB4Gen3: 0.8, vdo.USB4Gen4: 0.8,
}

// Practical lengths of active cables for USB 3.2, in copper and optically
// isolated.
const (
	practicalActiveMetres  = 5
	practicalOpticalMetres = 50
)

var lengthLongForMarker = &claims.Rule{
	ID:       "length-long-for-declared-speed",
	Sources:  []claims.Citation{source.TypeCLengths},
	Title:    "the cable is long for the speed its marker declares",
	Kind:     claims.Doubt,
	Property: claims.Length,
	Between:  []claims.Witness{claims.Bench, claims.Marker},
	Needs:    []claims.Evidence{claims.BenchLength, claims.MarkerCable},
	Says:     "The tape shows {length}; {practical} is the practical length of {what}.",
	Why:      "The published lengths are informative, so this proves nothing. A long cable may not reach its speed.",
	Next:     "Test the link at the speed declared.",
	Check: func(c *claims.Case) claims.Result {
		l, _ := c.TapeLength()
		s := c.Near.Summary
		p, _ := s.Product.Get()
		speed, ok := s.Speed.Get()
		var what string
		var most float64
		switch {
		case s.LinearRedriver().Or(false):
			return notApplicable("the cable has linear re-drivers, for which the table has no row")
		case p == vdo.ActiveType && s.Optical.Or(false):
			what, most = "an optical cable", practicalOpticalMetres
		case p == vdo.ActiveType:
			what, most = "an active cable", practicalActiveMetres
		case p == vdo.PassiveType && ok:
			what, most = "a passive cable of "+speed.String(), practicalMetres[speed]
		default:
			return notApplicable("the marker declares no speed that the table has")
		}
		return foundIf(l > most*(1+lengthTolerance), func() claims.Values {
			return claims.Values{"length": metres(l), "practical": metres(most), "what": what}
		})
	},
}

var claimedLengthLongForData = &claims.Rule{
	ID:       "claimed-length-long-for-claimed-data",
	Sources:  []claims.Citation{source.TypeCLengths},
	Title:    "the length claimed is long for a passive cable of the data rate claimed",
	Kind:     claims.Doubt,
	Property: claims.Length,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerLength, claims.SellerData},
	Under:    []string{"length-long-for-declared-speed"},
	Says:     "The seller claims {data} over {length}; {practical} is the practical length of such a cable without electronics.",
	Why:      "The published lengths are informative, so this proves nothing. Such a cable is usually active.",
	Next:     "Ask the seller whether the cable is active, and test the link.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		switch {
		case ok && p.Legacy():
			return notApplicable("the lengths are those of Type-C to Type-C cables")
		case c.Claims.Active.Value:
			return notApplicable("it is sold as active")
		}
		l := c.Claims.Length.Value
		most := practicalMetres[claims.PassiveSpeed(c.Claims.Data.Value)]
		return foundIf(l > most*(1+lengthTolerance), func() claims.Values {
			return claims.Values{"data": c.Claims.Data.Text, "length": metres(l), "practical": metres(most)}
		})
	},
}
