package bench

import (
	"math"
	"slices"
)

// wideShare is the share of the standard uncertainty, as a ratio of standard
// uncertainties, from which a rectangular part keeps its shape; smaller ones count as
// normal. None does where the largest is below dominantShare: the sum is then normal but
// for 1 % of the fourth moment. mostWide is how many keep it, the largest first; with more
// the sum is close to normal. (Own choices; TestShapeByDraws has what they cost.)
const (
	wideShare     = 0.08
	dominantShare = 0.3
	mostWide      = 4
)

// shape is the distribution of a result about its estimate: the convolution of a normal
// part with rectangular ones, stretched by Student's factor where the scatter is known
// from few repeats.
//
// With N the normal part ⊗ rectangular parts, t = t_p(ν) and c = t/z_p, the distribution is
//
//	F(x) = T_ν(c·Φ⁻¹(N(x/c)))
//
// which is Student's t where nothing is wide, the convolution where ν is infinite
// (JCGM 101), and gives U = c·N⁻¹ at the level p.
type shape struct {
	sigma   float64 // of the normal part, Ω
	half    [mostWide]float64
	wide    int     // how many of half count
	u       float64 // combined standard uncertainty, Ω
	dof     float64
	stretch float64 // c
	wider   float64 // by how much U is raised to what the scatter alone asks for; at least 1
	bound   float64 // sum of the half-widths where every part is rectangular, else +Inf
}

// shapeOf works out the shape of a linear combination of inputs.
func shapeOf(rows []Contribution) shape {
	s := shape{stretch: 1, wider: 1}
	var floor float64
	s.u, s.dof, floor = combineRows(rows)
	all := true
	largest, variance := 0.0, 0.0
	for i := range rows {
		if r := &rows[i]; r.Distribution == Rectangular {
			s.bound += r.Ohm * math.Sqrt(3)
			largest = math.Max(largest, r.Ohm)
		} else {
			all = false
		}
	}
	keep := wideShare
	if largest < dominantShare*s.u {
		keep = 2 // none
	}
	for i := range rows {
		r := &rows[i]
		if r.Distribution != Rectangular || r.Ohm < keep*s.u {
			variance += r.Ohm * r.Ohm
			continue
		}
		half := r.Ohm * math.Sqrt(3)
		if s.wide == mostWide {
			least := s.half[mostWide-1]
			variance += math.Min(least, half) * math.Min(least, half) / 3
			if half <= least {
				continue
			}
			s.wide--
		}
		at := s.wide
		for ; at > 0 && s.half[at-1] < half; at-- {
			s.half[at] = s.half[at-1]
		}
		s.half[at] = half
		s.wide++
	}
	if !all {
		s.bound = math.Inf(1)
	}
	s.sigma = math.Sqrt(variance)
	if s.sigma < 1e-9*s.u {
		s.sigma = 0
	}
	if !math.IsInf(s.dof, 1) {
		s.stretch = CoverageFactor(Coverage, s.dof) / 2
		if U := s.expanded(); floor > U {
			s.wider = floor / U
		}
	}
	return s
}

// expanded returns the half-width that holds the level Coverage.
func (s *shape) expanded() float64 {
	switch {
	case s.u == 0:
		return 0
	case s.wide == 0:
		return math.Min(2*s.stretch*s.u, s.bound) * s.wider
	case s.wide == 1 && s.sigma == 0:
		return Coverage * s.half[0] * s.stretch * s.wider
	}
	const tail = (1 - Coverage) / 2
	lo, hi := 0.0, 3*s.u
	x := 1.9 * s.u
	for range 60 {
		over, density := s.lower(-x)
		if over > tail {
			lo = x
		} else {
			hi = x
		}
		next := (lo + hi) / 2
		if density > 0 {
			step := (over - tail) / density
			if math.Abs(step) <= 1e-8*s.u { // the step after this one would be its square
				x += step
				break
			}
			if x+step > lo && x+step < hi {
				next = x + step
			}
		}
		x = next
	}
	return math.Min(x*s.stretch, s.bound) * s.wider
}

// probability returns F(x), x in Ω from the estimate.
func (s *shape) probability(x float64) float64 {
	x /= s.wider
	switch {
	case s.u == 0 && x < 0:
		return 0
	case s.u == 0:
		return 1
	case s.wide == 0:
		return StudentCDF(x/s.u, s.dof)
	}
	below, _ := s.lower(-math.Abs(x) / s.stretch)
	below = math.Min(0.5, math.Max(0, below))
	if !math.IsInf(s.dof, 1) && below > 0 {
		below = StudentCDF(s.stretch*StudentQuantile(below, math.Inf(1)), s.dof)
	}
	if x > 0 {
		return 1 - below
	}
	return below
}

// lower returns N(x) and its density: with m rectangular parts of half-widths a,
//
//	N(x) = Σ ±G_m(x ± a₁ ± … ± a_m) / Π 2a
//
// where G_m is the m-th integral of the normal distribution function, and the sign is
// the product of the signs inside.
func (s *shape) lower(x float64) (p, density float64) {
	scale := 1.0
	for _, a := range s.half[:s.wide] {
		scale *= 2 * a
	}
	for signs := range 1 << s.wide {
		at, sign := x, 1.0
		for i, a := range s.half[:s.wide] {
			if signs>>i&1 == 0 {
				at += a
			} else {
				at -= a
				sign = -sign
			}
		}
		whole, less := integrals(at, s.sigma, s.wide)
		p += sign * whole
		density += sign * less
	}
	return p / scale, density / scale
}

// integrals returns the m-th and the (m-1)-th integral, m ≥ 1, from -∞ of the normal
// distribution function of standard deviation sigma, which may be 0:
// g_m = (s·g_{m-1} + g_{m-2})/m with g_0 = Φ and g_{-1} = φ.
func integrals(x, sigma float64, m int) (whole, less float64) {
	if sigma == 0 {
		if x <= 0 {
			return 0, 0
		}
		whole, less = x, 1
		for k := 2; k <= m; k++ {
			whole, less = whole*x/float64(k), whole
		}
		return whole, less
	}
	z := x / sigma
	if z < -9 { // below 1e-19
		return 0, 0
	}
	g1, g0 := 1.0, 0.0
	if z < 9 {
		g1, g0 = 0.5*math.Erfc(-z/math.Sqrt2), math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
	}
	factor := 1.0
	for k := 1; k <= m; k++ {
		g1, g0 = (z*g1+g0)/float64(k), g1
		factor *= sigma
	}
	return factor * g1, factor / sigma * g0
}

// combineRows returns the combined standard uncertainty and the effective degrees of
// freedom (Welch-Satterthwaite, GUM G.4.1). Parts whose scatter is one estimate share its
// degrees of freedom. floor is the largest expanded uncertainty of a part with scatter:
// with one or two degrees of freedom the formula would give less for all than for that
// part alone.
func combineRows(rows []Contribution) (u, dof, floor float64) {
	var room [16]part
	parts := room[:0]
	var pools [16]*float64
	for i := range rows {
		r := &rows[i]
		if r.pool != nil {
			at := slices.Index(pools[:min(len(parts), len(pools))], r.pool)
			if at >= 0 {
				parts[at].u = math.Hypot(parts[at].u, r.Ohm)
				continue
			}
			if len(parts) < len(pools) {
				pools[len(parts)] = r.pool
			}
		}
		parts = append(parts, part{r.Ohm, r.DoF})
	}
	for _, p := range parts {
		if p.dof < fewDegrees {
			floor = math.Max(floor, p.u*CoverageFactor(Coverage, p.dof))
		}
	}
	u, dof = combine(parts)
	return u, dof, floor
}

// fewDegrees is where the formula never gives less for all than for one part.
const fewDegrees = 12

// part is one independent part of an uncertainty.
type part struct{ u, dof float64 }

// combine returns the root sum of squares and the effective degrees of freedom of
// independent parts.
func combine(parts []part) (u, dof float64) {
	for _, p := range parts {
		u = math.Hypot(u, p.u)
	}
	if u == 0 {
		return 0, math.Inf(1)
	}
	var inverse float64
	for _, p := range parts {
		share := p.u / u * p.u / u
		inverse += share * share / p.dof
	}
	return u, 1 / inverse
}
