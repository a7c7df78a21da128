package rules

import (
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// Populations beside the usual cable, each lawful and truly described.

// vary turns some honest cables into odd but lawful ones.
func (w *world) vary() {
	for _, p := range []struct {
		share float64
		turn  func(*world) bool
	}{
		{0.04, (*world).askedUnderPD2}, {0.03, (*world).lesserPlug}, {0.10, (*world).turnedRound},
		{0.05, (*world).programmable}, {0.05, (*world).fastest}, {0.05, (*world).tunnel},
		{0.03, (*world).silentDevice},
	} {
		if w.chance(p.share) {
			p.turn(w)
		}
	}
}

// toEdge puts some honest cables on the edge of a tolerance or a limit.
func (w *world) toEdge() {
	switch x := w.Float64(); {
	case x < 0.05:
		w.edgeOfLength()
	case x < 0.08 && !w.lesser: // whose copper keeps the limits of the better plug
		w.edgeOfLimit()
	}
}

// askedUnderPD2 is a passive cable of PD 3.x that a PD 2.0 port asked: the answer cannot
// show EPR, Gen 3 or Gen 4, and the seller truly claims them.
func (w *world) askedUnderPD2() bool {
	if !w.pd2() || !w.passive() || w.speed != vdo.USB32Gen2 || w.length > 0.8 {
		return false
	}
	w.speed = vdo.USB4Gen3 + vdo.Speed(w.IntN(2))
	w.rec.Claims[0].Data = w.dataClaim()
	if w.amps == 5 {
		w.epr = true
		w.claimPower([]float64{140, 180, 240}[w.IntN(3)])
		w.claimVoltage(48)
	}
	return true
}

// lesserPlug is a cable of 5 A whose one plug declares 3 A only, whichever is read as
// near, and is sold by that.
func (w *world) lesserPlug() bool {
	if !w.farAsked || w.captive || w.amps != 5 {
		return false
	}
	w.far.set("vbus-current", uint32(vdo.Current3A))
	w.far.set("epr", 0)
	w.far.set("max-voltage", uint32(vdo.Max20V))
	if w.chance(0.5) {
		w.near.one, w.far.one = w.far.one, w.near.one
	}
	w.amps, w.epr, w.lesser = 3, false, true
	claims := &w.rec.Claims[0]
	claims.Power, claims.Current, claims.Voltage = record.Stated[float64]{}, record.Stated[float64]{}, record.Stated[float64]{}
	w.claimPower(60)
	return true
}

// turnedRound is a cable read with both ends at the reader: the marker is one, or two
// alike.
func (w *world) turnedRound() bool {
	if !w.marked || w.captive || w.farAsked {
		return false
	}
	w.turned = true
	return true
}

// programmable is a cable sold by the upper end of SPR PPS, 21 V.
func (w *world) programmable() bool {
	if w.legacy || w.epr {
		return false
	}
	w.rec.Claims[0] = record.Claims{}
	w.claimVoltage(21)
	w.claimCurrent(w.amps)
	w.claimPower(21 * w.amps)
	return true
}

// fastest is a cable at the upper end of data: 80 Gbps both ways, or 120 Gbps one way.
func (w *world) fastest() bool {
	if w.speed != vdo.USB4Gen4 {
		return false
	}
	w.claimRate(80)
	if w.active {
		w.claimStandard("USB4 Gen 4", 80)
		if a := vdo.ActiveCable2(w.near.two); a.Asymmetric() {
			w.claimRate(120)
		}
	}
	return true
}

// tunnel is an active Thunderbolt or USB4 cable sold for video, with a DisplayPort mode of
// its own or without, when the video runs inside Thunderbolt or USB4.
func (w *world) tunnel() bool {
	if !w.active || w.near.tbt == 0 || w.near.structured != "2.1" {
		return false
	}
	w.claimVideo("4K60", 3840, 2160, 60)
	if w.near.svidsAsked && w.chance(0.5) {
		w.near.svids = append(w.near.svids, vdo.SVIDDisplayPort)
		w.near.dp = 0x601C1C1C // with a re-driver
		w.claimModes(record.DisplayPort)
	}
	return true
}

// silentDevice is a cable fixed to a device, with no marker, as a dock's may be.
func (w *world) silentDevice() bool {
	if !w.captive {
		return false
	}
	w.marked, w.farAsked, w.seen = false, false, true
	w.near = answerWords{}
	w.rec.Claims[0].Marked = record.Stated[bool]{}
	w.rec.Claims[0].Certified, w.rec.Claims[0].Certificate = record.Stated[bool]{}, record.Stated[string]{}
	return true
}

// edgeMillimetres is what a claimed length in mm may be off: the larger of 10 % and 6 cm,
// the edge included (common practice).
func edgeMillimetres(claimed int) int { return max(claimed/10, 60) }

// edgeOfLength is a cable whose claim is off by all that the tolerance allows, or one
// millimetre less.
func (w *world) edgeOfLength() bool { return w.lengthOff(-w.IntN(2)) }

// lengthOff claims a length in whole centimetres, whose tenth is whole in mm, that is off
// by the tolerance and some millimetres more. The tape shows the true length but for the
// last centimetre.
func (w *world) lengthOff(more int) bool {
	const step = 10
	length, sign := w.length*1000, 1
	if w.chance(0.5) {
		sign = -1
	}
	claimed := int(length) / step * step
	for claimed+sign*edgeMillimetres(claimed) > int(length) {
		claimed -= step
	}
	for claimed+sign*edgeMillimetres(claimed) < int(length)-step {
		claimed += step
	}
	if claimed <= 0 {
		return false
	}
	w.taped = true
	w.claimLength(float64(claimed) / 1000)
	w.tape = float64(claimed+sign*(edgeMillimetres(claimed)+more)) / 1000
	return w.tape > 0
}

// edgeOfLimit is a cable whose resistance lies on a limit at its current.
func (w *world) edgeOfLimit() bool {
	if w.chance(0.5) {
		w.vbus = bench.LimitOhm(bench.VBUS, w.amps)
	} else {
		w.ground = bench.LimitOhm(bench.Ground, w.amps)
	}
	w.rec.Claims[0].Conductors = record.Stated[float64]{} // the wire is drawn with the resistance
	return true
}

// The edges from outside: one count above a tolerance is found, by the rule of its name.
var edgeFaults = map[string]func(*world) bool{
	"claimed-length-differs-from-tape": func(w *world) bool { return w.lengthOff(1) },
}

// raisings each raise one claim above what is so. They report the property, empty where
// the cable is not fit for it. The claim may be contradicted or left open, never confirmed.
var raisings = []func(*world) claims.Property{
	func(w *world) claims.Property {
		if w.captive {
			return "" // a device's own cable is judged by what the device needs
		}
		w.claimPower(differing([]float64{64, 70, 100, 106, 140, 180, 240, 250, 300, 500}, max(63, 1.05*float64(w.tier().Watts))))
		return claims.Power
	},
	func(w *world) claims.Property {
		if w.captive {
			return ""
		}
		w.claimCurrent(w.amps + []float64{1, 2, 3}[w.IntN(3)])
		return claims.Current
	},
	func(w *world) claims.Property {
		if w.captive || w.amps == 5 && !w.epr && w.chance(0.5) {
			return ""
		}
		w.claimVoltage([]float64{28, 36, 48}[w.IntN(3)])
		if w.epr {
			w.claimVoltage([]float64{54, 60, 100}[w.IntN(3)])
		}
		return claims.Voltage
	},
	func(w *world) claims.Property {
		if w.near.tbt != 0 { // it tunnels, so more is so than the cable word says
			return ""
		}
		switch {
		case w.speed < vdo.USB32Gen1:
			w.claimRate([]float64{5, 10, 20, 40, 80}[w.IntN(5)])
		case w.speed < vdo.USB4Gen3:
			w.claimRate([]float64{40, 80, 120}[w.IntN(3)])
		case w.speed < vdo.USB4Gen4:
			w.claimRate([]float64{80, 120, 160}[w.IntN(3)])
		default:
			w.claimRate([]float64{160, 400}[w.IntN(2)])
		}
		return claims.Data
	},
	func(w *world) claims.Property {
		switch {
		case w.near.tbt != 0, w.speed >= vdo.USB4Gen3:
			return ""
		case w.speed < vdo.USB32Gen1:
			w.claimStandard("USB 3.2 Gen 1", 5)
		case w.speed < vdo.USB32Gen2:
			w.claimStandard("USB 3.2 Gen 2", 10)
		default:
			w.claimStandard("USB4 Gen 3", 40)
		}
		return claims.Data
	},
	func(w *world) claims.Property {
		w.claimLength(w.length*w.between(1.17, 2) + 0.07)
		return claims.Length
	},
	func(w *world) claims.Property { // one even gauge thicker
		w.rec.Claims[0].Conductors = amount(w.area*w.between(1.59, 2.5), quantity.Area)
		return claims.Conductors
	},
	func(w *world) claims.Property {
		if w.marked && w.near.cert != 0 {
			return ""
		}
		w.claimCertified()
		return claims.Certified
	},
	func(w *world) claims.Property {
		if w.near.tbt != 0 || w.speed >= vdo.USB32Gen2 && !w.active {
			return ""
		}
		w.claimModes([]record.Mode{record.Thunderbolt3, record.Thunderbolt4, record.Thunderbolt5}[w.IntN(3)])
		return claims.Modes
	},
	func(w *world) claims.Property {
		if w.speed != vdo.USB2 || w.near.tbt != 0 {
			return ""
		}
		w.claimModes(record.DisplayPort)
		return claims.Modes
	},
	func(w *world) claims.Property {
		if w.speed != vdo.USB2 || w.near.tbt != 0 {
			return ""
		}
		w.claimVideo("4K60", 3840, 2160, 60)
		return claims.Video
	},
	func(w *world) claims.Property {
		w.claimActive(!w.active)
		return claims.Activity
	},
	func(w *world) claims.Property {
		if w.captive {
			return ""
		}
		w.claimMarked(!w.marked)
		return claims.Marking
	},
}

// judged checks the whole report of a world: the rating is not above the truth, and
// nothing is confirmed that is not so, given the properties whose claims are not so.
func (t *tally) judged(what string, w *world, c *claims.Case, r *claims.Report, untrue ...claims.Property) {
	band := nearLimit(w, c) || nearTier(w, c)
	if truth := w.trueWatts(); r.Rating.PowerW > truth {
		if band {
			t.bandOverrated++
		} else {
			t.fault("%s: rated %d W, is fit for %d W\n%s", what, r.Rating.PowerW, truth, w.rec.Marker.Near.Text)
		}
	}
	if band {
		t.bandRated++
	}
	for _, o := range r.Claims {
		if o.Standing == claims.Confirmed && slices.Contains(untrue, o.Property) {
			if !band {
				t.fault("%s: %s %s is confirmed and is not so", what, o.Property, o.Claimed)
			}
			t.falselyConfirmed[o.Property]++
		}
	}
}

// trueWatts is what the copper of the cable is fit for, whatever its marker says.
func (w *world) trueWatts() int {
	fit := func(amps float64) bool {
		return w.vbus <= bench.LimitOhm(bench.VBUS, amps) && w.ground <= bench.LimitOhm(bench.Ground, amps)
	}
	switch {
	case w.unmeasured || fit(bestAmps(tier240)):
		return tier240.Watts
	case fit(claims.LeastAmps):
		return tier60.Watts
	}
	return 0
}

func bestAmps(t claims.Tier) float64 { return float64(t.Amps) }

// nearTier reports whether the bench's uncertainty reaches over a limit at 3 A or 5 A.
func nearTier(w *world, c *claims.Case) bool {
	return w.anyConductor(c, func(of bench.Conductor, truth float64, e *bench.Estimate) bool {
		return slices.ContainsFunc([]float64{claims.LeastAmps, bestAmps(tier240)}, func(amps float64) bool {
			return math.Abs(truth-bench.LimitOhm(of, amps)) < e.Expanded
		})
	})
}

// raisedCable draws a cable, raises one claim and asks for the report.
func (t *tally) raisedCable(seed uint64) {
	for try := range uint64(200) {
		w := honest(newRand(seed, 5000+try))
		lie := raisings[int(seed)%len(raisings)](w)
		if lie == "" {
			continue
		}
		t.raised++
		rec := w.record()
		what := fmt.Sprintf("seed %d, try %d, raised %s", seed, try, lie)
		c, err := newCase(rec, nil)
		if err != nil {
			t.fault("%s: %v", what, err)
			return
		}
		r, fault := usual.Check(rec)
		if fault != nil {
			t.fault("%s: %v", what, fault)
			return
		}
		if slices.ContainsFunc(r.Claims, func(o claims.ClaimOutcome) bool { return o.Property == lie && o.Standing == claims.Contradicted }) {
			t.raisedContradicted++
		}
		t.judged(what, w, c, r, lie)
		return
	}
	t.fault("no cable was fit for raising %d", int(seed)%len(raisings))
}
