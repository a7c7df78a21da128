package bench

import (
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims/quantity"
)

// slope evaluates several currents. It also says whether the resistance changes
// with the current, beyond what the uncertainty allows.
//
// The slope is linear in the drops, by (I - mean I)/Σ(I - mean I)². An instrument's error
// is common at one current and independent between currents, so it does not cancel.
func (ev *evaluation) slope(c Conductor, f Flip, points []point, n *null) (e Estimate, curved bool) {
	amps, volts := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		amps[i], volts[i] = p.amp, p.volt-n.offset-n.ohm*p.amp
	}
	e = ev.begin(c, f, Slope, points)
	line, ok := fitLine(amps, volts)
	if !ok {
		return e, false
	}
	e.Ohm, e.Line = line.SlopeOhm, &line
	weight := line.weights(amps)
	e.set = &set{index: make([]int, len(points)), flip: make([]Flip, len(points)), mating: make([]int, len(points)),
		y: make([]float64, len(points)), amp: make([]float64, len(points)), sxx: line.sxx, lost: 2}
	local := make([]float64, len(points))
	raw := line.SlopeOhm + n.ohm
	for i, p := range points {
		e.set.index[i], e.set.flip[i], e.set.mating[i], e.set.amp[i] = p.index, f, p.mating, math.Abs(p.amp)
		e.set.y[i] = volts[i] - line.InterceptVolt - line.SlopeOhm*amps[i]
		local[i] = raw
	}
	if s := slopesByMating(points, amps, volts); s != nil {
		var matings int
		e.set = s
		s.work()
		e.Ohm, matings = s.means(f)
		weight = matingWeights(points, amps, matings)
		e.Line = nil
	}
	ev.inputs(&e, points, weight, local, n, n.use(0))
	if !(e.Ohm > 0) || e.Line == nil {
		return e, false
	}

	if rise, ok := ev.curve(&e, points, amps, volts, raw, n); ok && math.Abs(rise.Ohm) > rise.Expanded && math.Abs(rise.Ohm) > 0.01*e.Ohm {
		what := "rises: heating, or a bad contact"
		if rise.Ohm < 0 {
			what = "falls: a film on the contacts, or a bad contact"
		}
		ev.r.note(Note{HeatingOrContact, c, rise.Ohm, rise.Expanded, fmt.Sprintf("%s: the resistance changes by %s from the smallest to the largest current, it %s; the largest current counts", c.Name(), ohms(rise.Ohm, rise.Expanded), what)})
		return e, true
	}
	if off := ev.intercept(&e, points, amps, raw, n); math.Abs(off.Ohm) > off.Expanded {
		ev.r.note(Note{OffsetRemains, c, off.Ohm, off.Expanded, fmt.Sprintf("%s: the line meets zero current at %s: thermal EMF, a null not subtracted, or a resistance that changes with the current; the slope is free of an offset", c.Name(), quantity.FormatUncertain(off.Ohm, off.Expanded, quantity.Voltage))})
	}
	return e, false
}

// curve is the change of resistance from the smallest to the largest current, linear in
// the drops like the slope.
func (ev *evaluation) curve(line *Estimate, points []point, amps, volts []float64, raw float64, n *null) (Estimate, bool) {
	weight, dof, residual, ok := curvature(amps, volts)
	if !ok {
		return Estimate{}, false
	}
	e := Estimate{Conductor: line.Conductor, of: ev.of}
	local := make([]float64, len(points))
	squares := 0.0
	for i := range points {
		e.Ohm += weight[i] * volts[i]
		squares += weight[i] * weight[i]
		local[i] = raw
	}
	if dof > 0 {
		e.Budget = append(e.Budget, Contribution{Source: Repeats, Type: TypeA, Distribution: Normal, U: residual, Unit: "V", Sensitivity: math.Sqrt(squares), DoF: dof})
	}
	own := e.Budget
	ev.inputs(&e, points, weight, local, n, nil)
	e.Budget = append(e.Budget, own...)
	e.settle()
	return e, true
}

// intercept is the drop at zero current, in V, linear in the drops like the slope.
func (ev *evaluation) intercept(line *Estimate, points []point, amps []float64, raw float64, n *null) Estimate {
	l := line.Line
	e := Estimate{Conductor: line.Conductor, of: ev.of, Ohm: l.InterceptVolt}
	slopes := l.weights(amps)
	weight, local := make([]float64, len(points)), make([]float64, len(points))
	for i := range points {
		weight[i] = 1/float64(len(points)) - l.mean*slopes[i]
		local[i] = raw
	}
	use := n.use(0)
	if use != nil {
		for i, a := range n.alpha {
			use.weight[i] = -a
		}
	}
	ev.inputs(&e, points, weight, local, n, use)
	if l.UIntercept > 0 {
		e.Budget = append(e.Budget, Contribution{Source: Repeats, Type: TypeA, Distribution: Normal, U: l.UIntercept, Unit: "V", Sensitivity: 1, DoF: l.DoF})
	}
	e.settle()
	return e
}

// slopesByMating returns one slope for each mating, nil unless there are several matings
// and each has several currents.
func slopesByMating(points []point, amps, volts []float64) *set {
	var order []int
	for _, p := range points {
		if !slices.Contains(order, p.mating) {
			if order = append(order, p.mating); len(order) > 100 {
				return nil
			}
		}
	}
	if len(order) < 2 {
		return nil
	}
	s := &set{}
	for _, m := range order {
		var x, y []float64
		var some []point
		for i, p := range points {
			if p.mating == m {
				x, y, some = append(x, amps[i]), append(y, volts[i]), append(some, p)
			}
		}
		line, ok := fitLine(x, y)
		if !ok || !several(some) {
			return nil
		}
		amp, _ := means(some)
		s.index, s.mating, s.flip = append(s.index, some[0].index), append(s.mating, m), append(s.flip, some[0].flip)
		s.y, s.amp = append(s.y, line.SlopeOhm), append(s.amp, amp)
	}
	return s
}

// matingWeights are those of the mean of the slopes of matings.
func matingWeights(points []point, amps []float64, matings int) []float64 {
	out := make([]float64, len(points))
	done := map[int]bool{}
	for _, first := range points {
		if done[first.mating] {
			continue
		}
		done[first.mating] = true
		var x []float64
		var at []int
		for i, p := range points {
			if p.mating == first.mating {
				x, at = append(x, amps[i]), append(at, i)
			}
		}
		line, _ := fitLine(x, x)
		for i, w := range line.weights(x) {
			out[at[i]] = w / float64(matings)
		}
	}
	return out
}
