package claims

import (
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// Tier is a published class of cable power.
type Tier struct {
	Watts, Volts, Amps int // W, V and A of the class
}

// The tiers of a Type-C to Type-C cable. Sources: USB Type-C R2.0 (3 A and 5 A at
// 20 V), R2.1 §3.11 (EPR: 48 V and 5 A, reported as 50 V). 100 W is a class no
// longer certified.
var (
	tier60  = Tier{60, 20, 3}
	tier100 = Tier{100, 20, 5}
	tier240 = Tier{240, 48, 5}

	// tierLegacy is a cable with an older connector at one end: 3 A, and 5 V,
	// since without a CC wire from end to end there is no Power Delivery.
	tierLegacy = Tier{15, 5, 3}
)

// LegacyTier is the class of a cable with an older connector at one end: 15 W, without Power
// Delivery.
func LegacyTier() Tier { return tierLegacy }

// Tiers lists the tiers of a Type-C to Type-C cable, highest first.
func Tiers() []Tier { return []Tier{tier240, tier100, tier60} }

// String is the tier as "240 W (48 V, 5 A)".
func (t Tier) String() string { return fmt.Sprintf("%d W (%d V, %d A)", t.Watts, t.Volts, t.Amps) }

// TierFor is the lowest tier that gives a power; it reports false above the
// highest.
func TierFor(watts float64) (Tier, bool) {
	for _, t := range []Tier{tier60, tier100, tier240} {
		if watts <= float64(t.Watts) {
			return t, true
		}
	}
	return Tier{}, false
}

// LeastAmps is the current in A that every Type-C cable must carry, legacy ones
// included (USB Type-C R2.0, Table 3-1 and §4.4.1). A source needs no marker's word for
// it.
const LeastAmps = 3

// SPRVolts is the highest voltage in V without EPR, for which a source needs no marker's
// word (USB Type-C R2.0, Table 3-1).
const SPRVolts = 20

const (
	// PPSVolts is the voltage in V that a programmable power supply reaches without EPR
	// (USB PD R3.x, from memory).
	PPSVolts = 21
	// MostUnmarkedWatts is the power in W that it reaches at 3 A, without a marker.
	MostUnmarkedWatts = PPSVolts * LeastAmps
)

// levels are the fixed levels of USB PD that a power is named after: 3 A at 5, 9, 15 and
// 20 V, then 5 A at 20 V and at the EPR voltages (USB PD R3.2, §10.2; from memory).
var levels = [...]Tier{{15, 5, 3}, {27, 9, 3}, {45, 15, 3}, {60, 20, 3}, {100, 20, 5}, {140, 28, 5}, {180, 36, 5}, {240, 48, 5}}

// Levels lists the fixed levels of USB PD, the lowest power first.
func Levels() []Tier { return slices.Clone(levels[:]) }

// Rating is what a cable is shown to carry.
type Rating struct {
	PowerW   int `json:"power_w,omitempty"`   // absent where no tier is shown
	VoltageV int `json:"voltage_v,omitempty"` // of the tier, V
	CurrentA int `json:"current_a,omitempty"` // of the tier, A
	// LimitedBy names the witnesses that keep it from the next tier; empty at the
	// highest.
	LimitedBy []Witness `json:"limited_by"`
	// Settled: more evidence of the kinds in hand or missing could not change it.
	Settled bool   `json:"settled"`
	Reason  string `json:"reason"` // in sentences, with the numbers
}

// Support is the tier that one witness supports.
type Support struct {
	Tier    Tier   // zero where none is supported
	Settled bool   // more evidence from this witness could not change it
	Why     string // one sentence
}

// Rating is what the cable is shown to carry.
func (c *Case) Rating() Rating {
	m, b := c.MarkerSupport(), benchSupport(c)
	r := Rating{LimitedBy: []Witness{}}
	t := c.shownTier(m)
	r.PowerW, r.VoltageV, r.CurrentA = t.Watts, t.Volts, t.Amps
	if t != tier240 {
		switch _, seen := c.SeenPlugs(); {
		case m.Tier != t:
		case t == tierLegacy && !seen:
			r.LimitedBy = append(r.LimitedBy, Seller)
		case t == tierLegacy:
			r.LimitedBy = append(r.LimitedBy, Bench)
		case c.Marker() != MarkerSilent:
			r.LimitedBy = append(r.LimitedBy, Marker)
		}
		if c.Resistance != nil && b.Tier.Amps <= t.Amps && t.Amps < tier240.Amps {
			r.LimitedBy = appendNew(r.LimitedBy, Bench)
		}
	}
	// A witness that is not settled matters only where it could move the rating.
	markerDecides := m.Settled && b.Tier.Amps >= m.Tier.Amps
	benchDecides := b.Settled && b.Tier.Amps <= tier60.Amps
	r.Settled = m.Settled && b.Settled || markerDecides || benchDecides
	r.Reason = m.Why + " " + b.Why
	return r
}

// MarkerSupport is the tier that the marker, or its absence, lets a source use.
// Resistance plays no part in it. With two plugs the lesser counts, and nothing is
// settled.
func (c *Case) MarkerSupport() Support {
	ends := c.Ends()
	if len(ends) == 0 {
		return c.unmarkedSupport()
	}
	out := ends[0].NearSupport()
	if evasive := c.Evasive(); evasive != "" && out.Tier.Watts > tier60.Watts {
		out = Support{Tier: tier60, Why: out.Why}
		out.Why += " The " + evasive + " plug gave no identity; a source at that end offers 20 V and 3 A at most."
	}
	if c.plugsDiffer() {
		out.Settled = false
		if len(ends) > 1 {
			out.Why += " The two plugs differ, and the lesser one counts."
		}
	}
	return out
}

// unmarkedSupport is the tier of a cable that gave no identity.
func (c *Case) unmarkedSupport() Support {
	plugs, known := c.Plugs()
	switch {
	case known && plugs.Legacy():
		return legacySupport(plugs)
	case known && plugs == record.CCaptive && c.Marker() <= MarkerAbsent:
		return Support{tier100, false, "A captive cable is part of its device and needs no marker."}
	}
	switch c.Marker() {
	case MarkerSilent:
		return Support{tier60, false, "The marker was not read; a cable without a readable marker counts as 20 V, 3 A."}
	case MarkerAbsent:
		return Support{tier60, true, "A cable without a marker counts as 20 V, 3 A."}
	}
	return Support{tier60, false, "The marker gave no identity; a cable without a readable marker counts as 20 V, 3 A."}
}

func legacySupport(plugs record.Plugs) Support {
	return Support{tierLegacy, true, fmt.Sprintf("A %s cable has no CC wire from end to end, so Power Delivery does not work over it: 5 V, 3 A.", plugs)}
}

// NearSupport is the tier that one plug's answer supports, which is Near.
func (c *Case) NearSupport() Support {
	if plugs, known := c.Plugs(); known && plugs.Legacy() {
		return legacySupport(plugs)
	}
	s := c.Near.Summary
	p, _ := s.Product.Get()
	switch {
	case s.Through.Is(isFalse):
		return Support{Tier{}, true, "The marker declares that VBUS does not run through the cable."}
	case p == vdo.VPDType && !s.ChargeThrough.Or(false):
		return Support{Tier{}, true, "The marker is a VCONN-powered device without charge-through."}
	case p == vdo.VPDType && s.Amps.Or(3) == 5:
		return Support{tier100, true, "The marker is a VCONN-powered device that declares charge-through at 5 A; EPR is not entered through one."}
	}
	amps, declared := s.Amps.Get()
	switch {
	case c.Near.DefaultCurrent():
		return Support{tier60, false, "The marker declares the default current, which is neither 3 A nor 5 A, so it shows nothing."}
	case !declared:
		return Support{tier60, true, "The marker declares no valid current; receivers use 3 A, 20 V."}
	case amps < tier100.Amps:
		return Support{tier60, true, "The marker declares 3 A, which is 20 V at most."}
	case s.EPRWhole():
		return Support{tier240, true, "The marker declares 5 A, 50 V and EPR."}
	case s.PD2:
		return Support{tier100, false, "The marker declares 5 A in a PD 2.0 answer, which has no voltage field: 20 V. EPR is not settled; read the marker again under PD 3.x."}
	case s.EPR.Or(false):
		return Support{tier100, true, "The marker declares 5 A and EPR, but not 50 V: 20 V."}
	}
	return Support{tier100, true, "The marker declares 5 A without EPR: 20 V."}
}

func isFalse(b bool) bool { return !b }

// benchSupport is the tier the copper supports: a current, since resistance does
// not limit voltage.
func benchSupport(c *Case) Support {
	five, ok := c.Carries(5)
	if !ok {
		return Support{Tier{}, false, "No resistance was measured, so nothing is shown."}
	}
	three, _ := c.Carries(LeastAmps)
	settled := !c.benchDoubted() // where the bench contradicts itself, nothing is
	switch {
	case five.Outcome == bench.Within:
		return Support{tier240, settled, "The copper is within the limits at 5 A: " + c.Numbers(five) + "."}
	case three.Outcome == bench.Within:
		return Support{tier60, settled && five.Outcome == bench.Over,
			"The copper is within the limits at 3 A and " + verb(five.Outcome) + " at 5 A: " + c.Numbers(five) + "."}
	}
	return Support{Tier{}, settled && three.Outcome == bench.Over,
		"The copper is " + verb(three.Outcome) + " at 3 A, which every Type-C cable must carry: " + c.Numbers(three) + "."}
}

func verb(o bench.Outcome) string {
	switch o {
	case bench.Within:
		return "within the limits"
	case bench.Over:
		return "over a limit"
	}
	return "not settled"
}

// Numbers gives what was measured against each limit, in words.
func (c *Case) Numbers(d bench.CableDecision) string {
	r := c.Resistance.Result
	decisions := d.Decisions
	if r.LoopOnly() {
		decisions = decisions[:1] // against the sum; the second is told below
	}
	var parts []string
	for i := range decisions {
		one := &decisions[i]
		if !worstOf(decisions, i) {
			continue
		}
		parts = append(parts, say.Conductor(one.Conductor)+" "+say.Ohm(&one.Estimate)+
			" (limit "+quantity.Format(one.LimitOhm, quantity.Resistance, 4)+")")
	}
	s := strings.Join(parts, ", ")
	switch missing := r.Unsensed(); {
	case d.Outcome != bench.Undecided:
	case r.LoopOnly():
		s += "; a loop reading passes only below the ground limit, " + say.Limit(c.Acceptance, bench.Ground, d.CurrentAmp)
	case missing != 0:
		s += "; " + say.Conductor(missing) + " was not measured"
	default:
		s += "; too near the limit to decide"
	}
	for i := range decisions {
		if decisions[i].Assumed {
			return s + " (the accuracy of a meter is assumed)"
		}
	}
	return s
}

// worstOf reports whether the resistance is the largest of its conductor among the ways up.
func worstOf(ds []bench.Decision, at int) bool {
	for i := range ds {
		if one := &ds[i]; one.Conductor == ds[at].Conductor && (one.Estimate.Ohm > ds[at].Estimate.Ohm || i < at && one.Estimate.Ohm == ds[at].Estimate.Ohm) {
			return false
		}
	}
	return true
}

// NeededAmps is the current a claimed power needs: 3 A up to 60 W, else 5 A. A
// programmable supply gives 63 W at 3 A.
func NeededAmps(watts float64) float64 {
	if watts <= MostUnmarkedWatts {
		return float64(tier60.Amps)
	}
	return float64(tier100.Amps)
}

// ClaimedAmps is the current in A at which the bench judges the power claimed. Over a
// legacy cable it is the current that the seller states, or what volts and watts stated
// give, since other charging schemes set their own voltage; else the 3 A of every cable.
func (c *Case) ClaimedAmps() float64 {
	watts := c.Claims.Power.Value
	if p, ok := c.Plugs(); !ok || !p.Legacy() {
		return NeededAmps(watts)
	}
	amps, stated := c.Claims.Current.Get()
	if !stated {
		if volts, ok := c.Claims.Voltage.Get(); ok && volts > 0 {
			amps = watts / volts
		}
	}
	return max(amps, LeastAmps)
}

// SellerAmps is the current in A that the seller's words come to: the current
// claimed, or what the power claimed needs, and never less than the 3 A of every
// Type-C cable. It reports false where neither is claimed.
func (c *Case) SellerAmps() (float64, bool) {
	most, known := float64(LeastAmps), false
	for _, one := range c.bySource() {
		if amps, ok := one.Claims.Current.Get(); ok {
			most, known = max(most, amps), true
		}
		if one.Claims.Power.Known {
			most, known = max(most, one.ClaimedAmps()), true
		}
	}
	return most, known
}
