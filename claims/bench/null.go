package bench

import (
	"math"
	"slices"
)

// null is the fixture alone, for one conductor: drop = offset + ohm·I.
//
// Nulls with the current off give the offset, nulls at one current the resistance, and
// nulls at several currents a line, with both. Offset and resistance are linear in the
// null's drops, by alpha and beta.
type null struct {
	taken    bool
	offset   float64 // V
	ohm      float64 // Ω
	amp      float64 // mean magnitude of the currents other than 0, A
	off      bool    // there are nulls with the current off
	several  bool    // at several currents, or with the current on and off
	points   []point
	alpha    []float64 // offset = Σ alpha·V
	beta     []float64 // ohm = Σ beta·V
	residual *residuals
	dof      float64
}

// nullOf fits the nulls of one conductor. Of the loop, a null of both conductors counts
// as their sum.
func (ev *evaluation) nullOf(c Conductor) null {
	var n null
	for _, r := range ev.nulls {
		d := r.drop(c)
		if !d.Known && c == Loop && r.VBUSVolt.Known && r.GroundVolt.Known {
			d = Known(r.VBUSVolt.Value + r.GroundVolt.Value)
		}
		if d.Known {
			n.points = append(n.points, r.point(d.Value))
		}
	}
	if n.taken = len(n.points) > 0; !n.taken {
		return n
	}
	size := len(n.points)
	room := make([]float64, 3*size)
	n.alpha, n.beta = room[:size:size], room[size:2*size:2*size]
	n.residual = &residuals{v: room[2*size:]}
	var on, mean, squares float64
	lo, hi := math.Inf(1), 0.0
	for _, p := range n.points {
		a := math.Abs(p.amp)
		mean += p.amp / float64(size)
		squares += p.amp * p.amp
		lo, hi = math.Min(lo, a), math.Max(hi, a)
		if a > 0 {
			on++
			n.amp += a
		}
	}
	if on > 0 {
		n.amp /= on
	}
	n.off = on < float64(size)
	n.several = hi-lo > severalCurrents*hi
	used := 1.0
	switch {
	case hi == 0:
		for i := range n.points {
			n.alpha[i] = 1 / float64(size)
		}
	case n.several:
		used = 2
		sxx := squares - float64(size)*mean*mean
		for i, p := range n.points {
			n.beta[i] = (p.amp - mean) / sxx
			n.alpha[i] = 1/float64(size) - mean*n.beta[i]
		}
	default:
		for i, p := range n.points {
			n.beta[i] = p.amp / squares
		}
	}
	for i, p := range n.points {
		n.offset += n.alpha[i] * p.volt
		n.ohm += n.beta[i] * p.volt
	}
	for i, p := range n.points {
		n.residual.v[i] = p.volt - n.offset - n.ohm*p.amp
	}
	n.dof = math.Max(0, float64(size)-used)
	return n
}

// local is the resistance by which an error of a null's current acts: of the mean at one
// current, Σ I·V / Σ I², to the last digit, which is the outside calculation's too.
func (n *null) local(p point) float64 {
	if n.several {
		return n.ohm
	}
	return 2*n.ohm - p.volt/p.amp
}

// nullUse is how one estimate depends on the nulls: by weight for each null's drop, in Ω/V.
type nullUse struct {
	index    []int // of the null in the session
	weight   []float64
	residual *residuals
	amp      []float64
	dof      float64
}

// residuals are what the fit of the nulls leaves of each, in V. Those of two conductors
// combine null by null.
type residuals struct {
	v    []float64
	made []madeOf[residuals]
}

// madeOf remembers a combination, so that it is one input however often it is asked for.
type madeOf[T any] struct {
	ca, cb float64
	other  *T
	is     *T
}

// combined returns the combination ca·one + cb·other, by make where it is not among made.
func combined[T any](made *[]madeOf[T], ca float64, other *T, cb float64, build func() *T) *T {
	for _, m := range *made {
		if m.ca == ca && m.cb == cb && m.other == other {
			return m.is
		}
	}
	is := build()
	*made = append(*made, madeOf[T]{ca, cb, other, is})
	return is
}

// use returns the dependence of an estimate that takes off offset times perOffset and ohm.
func (n *null) use(perOffset float64) *nullUse {
	if !n.taken {
		return nil
	}
	u := &nullUse{dof: n.dof, residual: n.residual, index: make([]int, len(n.points)),
		weight: make([]float64, len(n.points)), amp: make([]float64, len(n.points))}
	for i, p := range n.points {
		u.index[i] = p.index
		u.weight[i] = -(n.alpha[i]*perOffset + n.beta[i])
		u.amp[i] = math.Abs(p.amp)
	}
	return u
}

// row is the scatter of the nulls: their own where they show it, else that of the readings.
func (u *nullUse) row(e *Estimate) (Contribution, bool) {
	squares := 0.0
	for _, w := range u.weight {
		squares += w * w
	}
	var variance, dof float64
	var pool *float64
	if u.dof > 0 {
		for _, r := range u.residual.v {
			variance += r * r
		}
		variance, dof = variance/u.dof, u.dof
	} else if e.set != nil {
		amp := 0.0
		for _, a := range u.amp {
			amp = math.Max(amp, a)
		}
		if amp == 0 {
			amp = e.set.meanAmp()
		}
		var ok bool
		if variance, dof, pool, ok = e.set.noise(amp); !ok {
			return Contribution{}, false
		}
	}
	if !(variance*squares > 0) {
		return Contribution{}, false
	}
	return Contribution{Source: NullRepeats, Type: TypeA, Distribution: Normal, U: math.Sqrt(variance), Unit: "V",
		Sensitivity: -math.Sqrt(squares), DoF: dof, pool: pool,
		Origin: Origin{Source: NullRepeats, Conductor: e.Conductor, Null: true, of: e.of, nulls: u.residual}}, true
}

// with returns the dependence of ca·a + cb·b, nil unless both take off the same nulls in
// the same way.
func (u *nullUse) with(ca float64, v *nullUse, cb float64) *nullUse {
	if u == nil || v == nil || !slices.Equal(u.index, v.index) {
		return nil
	}
	for i := range u.weight {
		if math.Abs(u.weight[i]-v.weight[i]) > 1e-9*math.Abs(u.weight[i]) {
			return nil
		}
	}
	r := combined(&u.residual.made, ca, v.residual, cb, func() *residuals {
		r := &residuals{v: make([]float64, len(u.residual.v))}
		for i := range r.v {
			r.v[i] = ca*u.residual.v[i] + cb*v.residual.v[i]
		}
		return r
	})
	return &nullUse{index: u.index, weight: u.weight, amp: u.amp, dof: u.dof, residual: r}
}
