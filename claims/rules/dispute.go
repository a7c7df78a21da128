package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/internal/video"
	"example.com/gainsay/claims/record"
)

// Rules about a seller who claims different things in different places. Each compares one
// property: where two places disagree, they cannot both be right.
var disputeRules = []*claims.Rule{
	powerDisputed, currentDisputed, voltageDisputed, dataDisputed, lengthDisputed, plugsDisputed, activeDisputed,
	markedDisputed, certifiedDisputed, modesDisputed, videoDisputed, conductorsDisputed,
}

// disputes finds what two places say differently about a property; ordered says that the
// lesser of two claims is part of the greater, so that only the greater is disputed.
type disputes struct {
	text    func(*record.Claims) (string, bool)
	differ  func(a, b *record.Claims) bool
	size    func(*record.Claims) float64
	ordered bool
}

// amountDisputes compares quantities, apart by more than a share that rounding explains.
func amountDisputes(field func(*record.Claims) record.Stated[float64], share float64, ordered bool) disputes {
	return disputes{
		text: func(cl *record.Claims) (string, bool) { s := field(cl); return s.Text, s.Known },
		differ: func(a, b *record.Claims) bool {
			x, y := field(a).Value, field(b).Value
			return math.Abs(x-y) > share*max(x, y)
		},
		size: func(cl *record.Claims) float64 { return field(cl).Value }, ordered: ordered,
	}
}

func sameDisputes[T comparable](field func(*record.Claims) record.Stated[T]) disputes {
	return disputes{
		text: func(cl *record.Claims) (string, bool) {
			s := field(cl)
			if b, ok := any(s.Value).(bool); ok {
				return say.YesOrNo(b), s.Known
			}
			return s.Text, s.Known
		},
		differ: func(a, b *record.Claims) bool { return field(a).Value != field(b).Value },
	}
}

var disputeOf = map[claims.Property]disputes{
	claims.Power:      amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Power }, 0.001, true),
	claims.Current:    amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Current }, 0.001, true),
	claims.Voltage:    amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Voltage }, 0.001, true),
	claims.Length:     amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Length }, 0.02, false),
	claims.Conductors: amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Conductors }, 0.03, false),
	claims.Plugs:      sameDisputes(func(cl *record.Claims) record.Stated[record.Plugs] { return cl.Plugs }),
	claims.Activity:   sameDisputes(func(cl *record.Claims) record.Stated[bool] { return cl.Active }),
	claims.Marking:    sameDisputes(func(cl *record.Claims) record.Stated[bool] { return cl.Marked }),
	claims.Certified:  sameDisputes(func(cl *record.Claims) record.Stated[bool] { return cl.Certified }),
	claims.Data: {
		text: func(cl *record.Claims) (string, bool) { return cl.Data.Text, cl.Data.Known },
		differ: func(a, b *record.Claims) bool {
			x, y := a.Data.Value, b.Data.Value
			return x.Gbps != y.Gbps || x.Standard != "" && y.Standard != "" && x.Standard != y.Standard
		},
		size: func(cl *record.Claims) float64 { return cl.Data.Value.Gbps }, ordered: true,
	},
	claims.Video: {
		text:   func(cl *record.Claims) (string, bool) { return cl.Video.Text, cl.Video.Known },
		differ: func(a, b *record.Claims) bool { return a.Video.Value != b.Video.Value },
		size:   func(cl *record.Claims) float64 { return video.PixelClock(cl.Video.Value) }, ordered: true,
	},
	claims.Modes: {
		text:   func(cl *record.Claims) (string, bool) { return cl.Modes.Text, thunderboltOf(cl) != "" },
		differ: func(a, b *record.Claims) bool { return thunderboltOf(a) != thunderboltOf(b) },
	},
}

func thunderboltOf(cl *record.Claims) (highest record.Mode) {
	for _, m := range cl.Modes.Value {
		if isThunderbolt(m) && m > highest {
			highest = m
		}
	}
	return highest
}

// disputed reports whether another place contradicts what one says. Where claims are
// ordered, the lesser is part of the greater, so that it is not.
func (d *disputes) disputed(cl *record.Claims, sold []record.Claims) bool {
	for i := range sold {
		other := &sold[i]
		_, known := d.text(other)
		if known && d.differ(cl, other) && !(d.ordered && d.size(cl) < d.size(other)) {
			return true
		}
	}
	return false
}

func disputeRule(r claims.Rule, e claims.Evidence) *claims.Rule {
	r.Sources = []claims.Citation{source.OwnLogic}
	r.Kind = claims.Contradiction
	r.Between = []claims.Witness{claims.Seller}
	r.Needs = []claims.Evidence{e}
	r.Says = "The seller contradicts himself: {claims}."
	r.Why = "A buyer who reads one place expects another cable than a buyer who reads the other."
	r.Next = "Ask the seller which is meant. The cable is judged by the higher claim."
	r.AllPlaces = true
	r.Check = func(c *claims.Case) claims.Result {
		d := disputeOf[r.Property]
		var texts []string
		var places []int
		for i := range c.Sold {
			cl := &c.Sold[i]
			text, known := d.text(cl)
			if !known {
				continue
			}
			texts = append(texts, fmt.Sprintf("%s in %s", text, cl.Place(i)))
			if d.disputed(cl, c.Sold) {
				places = append(places, i)
			}
		}
		switch {
		case len(texts) < 2:
			return notApplicable("the seller states this in one place at most")
		case places == nil:
			return pass()
		}
		res := found(claims.Values{"claims": strings.Join(slices.Compact(texts), ", ")})
		res.Places = places
		return res
	}
	return &r
}

var powerDisputed = disputeRule(claims.Rule{ID: "claimed-power-differs-by-source", Property: claims.Power,
	Title: "the seller claims another power in another place"}, claims.SellerPower)

var currentDisputed = disputeRule(claims.Rule{ID: "claimed-current-differs-by-source", Property: claims.Current,
	Title: "the seller claims another current in another place"}, claims.SellerCurrent)

var voltageDisputed = disputeRule(claims.Rule{ID: "claimed-voltage-differs-by-source", Property: claims.Voltage,
	Title: "the seller claims another voltage in another place"}, claims.SellerVoltage)

var dataDisputed = disputeRule(claims.Rule{ID: "claimed-data-differs-by-source", Property: claims.Data,
	Title: "the seller claims another data rate in another place"}, claims.SellerData)

var lengthDisputed = disputeRule(claims.Rule{ID: "claimed-length-differs-by-source", Property: claims.Length,
	Title: "the seller claims another length in another place"}, claims.SellerLength)

var plugsDisputed = disputeRule(claims.Rule{ID: "claimed-plugs-differ-by-source", Property: claims.Plugs,
	Title: "the seller claims other plugs in another place"}, claims.SellerPlugs)

var activeDisputed = disputeRule(claims.Rule{ID: "claimed-active-differs-by-source", Property: claims.Activity,
	Title: "the seller calls the cable active in one place and passive in another"}, claims.SellerActive)

var markedDisputed = disputeRule(claims.Rule{ID: "claimed-marked-differs-by-source", Property: claims.Marking,
	Title: "the seller claims a marker in one place and denies it in another"}, claims.SellerMarked)

var certifiedDisputed = disputeRule(claims.Rule{ID: "claimed-certified-differs-by-source", Property: claims.Certified,
	Title: "the seller claims certification in one place and denies it in another"}, claims.SellerCertified)

var modesDisputed = disputeRule(claims.Rule{ID: "claimed-modes-differ-by-source", Property: claims.Modes,
	Title: "the seller claims another Thunderbolt generation in another place"}, claims.SellerModes)

var videoDisputed = disputeRule(claims.Rule{ID: "claimed-video-differs-by-source", Property: claims.Video,
	Title: "the seller claims another picture in another place"}, claims.SellerVideo)

var conductorsDisputed = disputeRule(claims.Rule{ID: "claimed-conductors-differ-by-source", Property: claims.Conductors,
	Title: "the seller claims another conductor size in another place"}, claims.SellerConductors)
