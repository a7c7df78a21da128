package bench

import (
	"math"

	"example.com/gainsay/claims/quantity"
)

// null is the fixture alone, for one conductor.
type null struct {
	taken     bool
	offset    float64 // volt, by nulls without current
	ohm       float64 // by nulls with current
	amp       float64 // mean current of the latter
	volt      float64 // mean drop of the latter, or the offset, as read
	uOffset   float64 // type A, volt
	uOhm      float64 // type A, ohm
	dofOffset float64
	dofOhm    float64
}

func nullOf(c Conductor, nulls []reading) null {
	var n null
	var offsets, amps, volts []float64
	for _, r := range nulls {
		d := r.drop(c)
		if !d.Known && c == Loop && r.VBUSVolt.Known && r.GroundVolt.Known {
			d = Known(r.VBUSVolt.Value + r.GroundVolt.Value)
		}
		switch {
		case !d.Known:
		case r.CurrentAmp == 0:
			offsets = append(offsets, d.Value)
		default:
			amps = append(amps, r.CurrentAmp)
			volts = append(volts, d.Value)
		}
	}
	n.taken = len(offsets)+len(amps) > 0
	if len(offsets) > 0 {
		var dev float64
		n.offset, dev = meanDeviation(offsets)
		n.uOffset, n.dofOffset = dev/math.Sqrt(float64(len(offsets))), float64(len(offsets)-1)
		n.volt = math.Abs(n.offset)
	}
	if len(amps) > 0 {
		for i := range volts {
			volts[i] -= n.offset
		}
		n.ohm, n.uOhm = fitThroughOrigin(amps, volts)
		n.dofOhm = float64(len(amps) - 1)
		for i := range amps {
			n.amp += math.Abs(amps[i]) / float64(len(amps))
			n.volt += math.Abs(volts[i]) / float64(len(amps))
		}
	}
	return n
}

// contributions returns what the null adds to the uncertainty of a resistance
// read at a current of amp; withOffset is false for a slope, which no offset
// moves.
func (n null) contributions(amp float64, volt *quantity.Accuracy, withOffset bool) []Contribution {
	if !n.taken {
		return nil
	}
	out := make([]Contribution, 0, 3)
	if n.uOhm > 0 {
		out = append(out, contribution(NullRepeats, TypeA, n.uOhm, -1, n.dofOhm))
	}
	if n.uOffset > 0 && withOffset {
		c := contribution(NullRepeats, TypeA, n.uOffset, -1/amp, n.dofOffset)
		c.Unit = "V"
		out = append(out, c)
	}
	if volt != nil {
		if n.amp > 0 {
			out = append(out, contribution(NullVoltmeter, TypeB, rectangular(volt.HalfWidth(n.volt)), -1/n.amp, math.Inf(1)))
		} else if withOffset {
			out = append(out, contribution(NullVoltmeter, TypeB, rectangular(volt.HalfWidth(n.volt)), -1/amp, math.Inf(1)))
		}
	}
	return out
}
