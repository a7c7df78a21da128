package claims

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims/record"
)

// Rules about a seller who claims different things in different places. Each compares one
// property: where two places disagree, they cannot both be right.
var disputeRules = []*Rule{
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
				return yesOrNo(b), s.Known
			}
			return s.Text, s.Known
		},
		differ: func(a, b *record.Claims) bool { return field(a).Value != field(b).Value },
	}
}

var disputeOf = map[Property]disputes{
	Power:      amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Power }, 0.001, true),
	Current:    amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Current }, 0.001, true),
	Voltage:    amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Voltage }, 0.001, true),
	Length:     amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Length }, 0.02, false),
	Conductors: amountDisputes(func(cl *record.Claims) record.Stated[float64] { return cl.Conductors }, 0.03, false),
	Plugs:      sameDisputes(func(cl *record.Claims) record.Stated[record.Plugs] { return cl.Plugs }),
	Activity:   sameDisputes(func(cl *record.Claims) record.Stated[bool] { return cl.Active }),
	Marking:    sameDisputes(func(cl *record.Claims) record.Stated[bool] { return cl.Marked }),
	Certified:  sameDisputes(func(cl *record.Claims) record.Stated[bool] { return cl.Certified }),
	Data: {
		text: func(cl *record.Claims) (string, bool) { return cl.Data.Text, cl.Data.Known },
		differ: func(a, b *record.Claims) bool {
			x, y := a.Data.Value, b.Data.Value
			return x.Gbps != y.Gbps || x.Standard != "" && y.Standard != "" && x.Standard != y.Standard
		},
		size: func(cl *record.Claims) float64 { return cl.Data.Value.Gbps }, ordered: true,
	},
	Video: {
		text:   func(cl *record.Claims) (string, bool) { return cl.Video.Text, cl.Video.Known },
		differ: func(a, b *record.Claims) bool { return a.Video.Value != b.Video.Value },
		size:   func(cl *record.Claims) float64 { return pixelClock(cl.Video.Value) }, ordered: true,
	},
	Modes: {
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

// disputed is the rule by which other places of the seller contradict a claim, nil where
// none does.
func (c *Case) disputed(cl *record.Claims, p Property) *Rule {
	d, ok := disputeOf[p]
	if !ok {
		return nil
	}
	if _, known := d.text(cl); !known {
		return nil
	}
	for i := range c.Sold {
		other := &c.Sold[i]
		if _, known := d.text(other); !known || !d.differ(cl, other) {
			continue
		}
		if d.ordered && d.size(cl) < d.size(other) {
			continue // the lesser claim is part of the greater
		}
		for _, r := range disputeRules {
			if r.Property == p {
				return r
			}
		}
	}
	return nil
}

func disputeRule(r Rule, e Evidence) *Rule {
	r.Sources = []Citation{ownLogic}
	r.Kind = Contradiction
	r.Between = []Witness{Seller}
	r.Needs = []Evidence{e}
	r.Says = "The seller contradicts himself: {claims}."
	r.Why = "A buyer who reads one place expects another cable than a buyer who reads the other."
	r.Next = "Ask the seller which is meant. The cable is judged by the higher claim."
	r.selfDispute = true
	r.Check = func(c *Case) Result {
		d := disputeOf[r.Property]
		var texts []string
		var first *record.Claims
		differ := false
		for i := range c.Sold {
			cl := &c.Sold[i]
			text, known := d.text(cl)
			if !known {
				continue
			}
			texts = append(texts, fmt.Sprintf("%s in %s", text, sourceName(cl, i)))
			if first == nil {
				first = cl
			} else if d.differ(first, cl) {
				differ = true
			}
		}
		if len(texts) < 2 {
			return notApplicable("the seller states this in one place at most")
		}
		return foundIf(differ, func() Values { return Values{"claims": strings.Join(slices.Compact(texts), ", ")} })
	}
	return &r
}

var powerDisputed = disputeRule(Rule{ID: "claimed-power-differs-by-source", Property: Power,
	Title: "the seller claims another power in another place"}, SellerPower)

var currentDisputed = disputeRule(Rule{ID: "claimed-current-differs-by-source", Property: Current,
	Title: "the seller claims another current in another place"}, SellerCurrent)

var voltageDisputed = disputeRule(Rule{ID: "claimed-voltage-differs-by-source", Property: Voltage,
	Title: "the seller claims another voltage in another place"}, SellerVoltage)

var dataDisputed = disputeRule(Rule{ID: "claimed-data-differs-by-source", Property: Data,
	Title: "the seller claims another data rate in another place"}, SellerData)

var lengthDisputed = disputeRule(Rule{ID: "claimed-length-differs-by-source", Property: Length,
	Title: "the seller claims another length in another place"}, SellerLength)

var plugsDisputed = disputeRule(Rule{ID: "claimed-plugs-differ-by-source", Property: Plugs,
	Title: "the seller claims other plugs in another place"}, SellerPlugs)

var activeDisputed = disputeRule(Rule{ID: "claimed-active-differs-by-source", Property: Activity,
	Title: "the seller calls the cable active in one place and passive in another"}, SellerActive)

var markedDisputed = disputeRule(Rule{ID: "claimed-marked-differs-by-source", Property: Marking,
	Title: "the seller claims a marker in one place and denies it in another"}, SellerMarked)

var certifiedDisputed = disputeRule(Rule{ID: "claimed-certified-differs-by-source", Property: Certified,
	Title: "the seller claims certification in one place and denies it in another"}, SellerCertified)

var modesDisputed = disputeRule(Rule{ID: "claimed-modes-differ-by-source", Property: Modes,
	Title: "the seller claims another Thunderbolt generation in another place"}, SellerModes)

var videoDisputed = disputeRule(Rule{ID: "claimed-video-differs-by-source", Property: Video,
	Title: "the seller claims another picture in another place"}, SellerVideo)

var conductorsDisputed = disputeRule(Rule{ID: "claimed-conductors-differ-by-source", Property: Conductors,
	Title: "the seller claims another conductor size in another place"}, SellerConductors)
