package bench

import (
	"fmt"
	"math"
	"slices"

	"example.com/gainsay/claims/quantity"
)

// point is one reading of one conductor.
type point struct {
	index  int
	flip   Flip
	mating int
	at     int
	amp    float64
	volt   float64 // as read
}

func (r reading) point(volt float64) point {
	return point{index: r.index, flip: r.Flip, mating: r.Mating, at: r.at, amp: r.CurrentAmp, volt: volt}
}

// conductor evaluates one conductor each way up; the estimates go by Flip, nil where there
// is none.
func (ev *evaluation) conductor(c Conductor, n *null) (out [len(flips)]*Estimate) {
	points := make([]point, 0, len(ev.readings))
	for _, r := range ev.readings {
		if d := r.drop(c); d.Known {
			points = append(points, r.point(d.Value))
		}
	}
	if len(points) == 0 {
		return out
	}
	all := ratios(points, n)
	ev.readingSlips(c, all)
	for _, f := range flips {
		some := points
		if slices.ContainsFunc(points, func(p point) bool { return p.flip != f }) {
			some = make([]point, 0, len(points))
			for _, p := range points {
				if p.flip == f {
					some = append(some, p)
				}
			}
		}
		if len(some) == 0 {
			continue
		}
		e := ev.orientation(c, f, some, all, n)
		switch {
		case !(e.Ohm+e.Expanded >= 0) || !finite(e.Ohm):
			what := fmt.Sprintf("the readings give %s", ohms(e.Ohm, e.Expanded))
			if n.taken {
				what += fmt.Sprintf(", the null of %s taken off", inVolt(n.offset+n.ohm*math.Abs(e.amp)))
			}
			ev.fail("readings", some[0].index, c.String(), ErrNoResistance, "a drop above that of the null at the same current", "%s", what)
			continue
		case e.Ohm > maxOhm:
			ev.fail("readings", some[0].index, c.String(), ErrOutOfRange, "a resistance of at most "+inOhm(maxOhm), "%s", inOhm(e.Ohm))
			continue
		}
		e.Ohm = math.Max(e.Ohm, minOhm)
		out[f] = &e
	}
	if out == ([len(flips)]*Estimate{}) {
		return out
	}
	if !n.taken {
		ev.r.note(Note{NullNotTaken, c, 0, 0, fmt.Sprintf("%s: no null was taken; leads and fixture count as cable", c.Name())})
	} else if amp := points[0].amp; n.amp > 0 && !n.several && math.Abs(n.amp-math.Abs(amp)) > 0.25*math.Abs(amp) {
		ev.r.note(Note{NullAtOtherCurrent, c, n.amp, 0, fmt.Sprintf("%s: the null was taken at %s, the readings at %s; it was scaled", c.Name(), quantity.Format(n.amp, quantity.Current, 3), quantity.Format(math.Abs(amp), quantity.Current, 3))})
	}
	ev.repeats(c, out)
	return out
}

// repeats remarks on what the repeats of one conductor leave open, of the way up with the
// fewest.
func (ev *evaluation) repeats(c Conductor, found [len(flips)]*Estimate) {
	fewest, one := 0.0, false
	for _, e := range found {
		if e == nil {
			continue
		}
		dof := 0.0
		if e.set != nil {
			if _, d, ok := e.set.typeA(e.Flip); ok {
				dof = d
			}
		}
		if fewest == 0 || dof+1 < fewest {
			fewest = dof + 1
		}
		one = one || e.Matings == 1
	}
	switch {
	case fewest == 1:
		ev.r.note(Note{SingleReading, c, 0, 0, fmt.Sprintf("%s: one reading; how far readings and matings scatter is not in the uncertainty", c.Name())})
	case one:
		ev.r.note(Note{FewRepeats, c, 1, 0, fmt.Sprintf("%s: one mating; how far matings scatter is not in the uncertainty", c.Name())})
	case fewest == 2:
		ev.r.note(Note{FewRepeats, c, fewest, 0, fmt.Sprintf("%s: scatter from two repeats; the interval is many times wider for that, and holds the truth 95 to 99 times in 100", c.Name())})
	case fewest > 2 && fewest < 4:
		ev.r.note(Note{FewRepeats, c, fewest, 0, fmt.Sprintf("%s: scatter from three repeats; the interval is twice as wide for that, and holds the truth 94 to 98 times in 100", c.Name())})
	}
}

// ratios returns the resistance by each reading, null taken off.
func ratios(points []point, n *null) *set {
	size := len(points)
	ints := make([]int, 2*size)
	floats := make([]float64, 2*size)
	s := &set{index: ints[:size:size], mating: ints[size:], flip: make([]Flip, size), y: floats[:size:size], amp: floats[size:]}
	for i, p := range points {
		s.index[i], s.flip[i], s.mating[i] = p.index, p.flip, p.mating
		s.y[i] = (p.volt-n.offset)/p.amp - n.ohm
		s.amp[i] = math.Abs(p.amp)
	}
	return s
}

// orientation evaluates one conductor one way up.
func (ev *evaluation) orientation(c Conductor, f Flip, points []point, all *set, n *null) Estimate {
	if several(points) {
		e, curved := ev.slope(c, f, points, n)
		if !curved {
			return e
		}
		// A line means nothing then. What counts is the resistance at the
		// current nearest to use: the largest.
		points = largestCurrent(points)
		all = ratios(points, n)
	}
	return ev.ratio(c, f, points, all, n)
}

func several(points []point) bool {
	lo, hi, largest := points[0].amp, points[0].amp, 0.0
	for _, p := range points {
		lo, hi, largest = math.Min(lo, p.amp), math.Max(hi, p.amp), math.Max(largest, math.Abs(p.amp))
	}
	return hi-lo > severalCurrents*largest
}

func largestCurrent(points []point) []point {
	var largest float64
	for _, p := range points {
		largest = math.Max(largest, math.Abs(p.amp))
	}
	var out []point
	for _, p := range points {
		if math.Abs(p.amp) > (1-severalCurrents/2)*largest {
			out = append(out, p)
		}
	}
	return out
}

// ratio takes the mean of drop over current: of the readings of a mating, then of the matings.
func (ev *evaluation) ratio(c Conductor, f Flip, points []point, all *set, n *null) Estimate {
	e := ev.begin(c, f, Ratio, points)
	e.set = all
	all.work()
	var matings int
	e.Ohm, matings = all.means(f)
	weight := make([]float64, len(points))
	local := make([]float64, len(points))
	perOffset := 0.0
	at := 0 // the point in the set, which has those of other ways up too
	for i, p := range points {
		for all.index[at] != p.index {
			at++
		}
		weight[i] = 1 / p.amp / float64(all.groups[all.of[at]].n*matings)
		local[i] = (p.volt - n.offset) / p.amp
		perOffset += weight[i]
	}
	ev.inputs(&e, points, weight, local, n, n.use(perOffset))
	return e
}

// begin starts an estimate with what the points are.
func (ev *evaluation) begin(c Conductor, f Flip, how How, points []point) Estimate {
	e := Estimate{Conductor: c, How: how, Flip: f, N: len(points), Assumed: ev.volt.assumed || ev.amp.assumed, of: ev.of}
	e.amp, e.volt = means(points)
	if slices.ContainsFunc(points, func(p point) bool { return p.mating != 0 }) {
		seen := map[int]bool{}
		for _, p := range points {
			seen[p.mating] = true
		}
		e.Matings = len(seen)
	}
	return e
}

// means returns the mean magnitudes of current and drop as read.
func means(points []point) (amp, volt float64) {
	n := float64(len(points))
	for _, p := range points {
		amp += math.Abs(p.amp) / n
		volt += math.Abs(p.volt) / n
	}
	return amp, volt
}
