package bench

import "math"

// set holds the whole results of the readings of one conductor, so that the type A
// uncertainty comes from them: the correlation of drop and current is right by itself
// (GUM H.2, approach 2). Two sets of the same readings combine reading by reading, which
// makes the correlation of two conductors right as well.
type set struct {
	index  []int // of the reading in the session
	flip   []Flip
	mating []int
	y      []float64 // the resistance by each reading, Ω; of a line, the point's distance from it, V
	amp    []float64 // magnitude of the current, A
	sxx    float64   // of a line: Σ(I - mean I)², A²; 0 where y are resistances
	lost   float64   // of a line: degrees of freedom that the fit takes

	made  []madeOf[set]
	known bool // whether what follows is worked out
	scatter
}

// scatter is what a set shows about repeats. The scatter is pooled over both ways up;
// what lies between the ways up is none.
type scatter struct {
	groups     []group
	of         []int   // the group of each reading
	within     float64 // variance of readings within a mating, Ω²
	dofWithin  float64
	between    float64 // variance of the means of matings, Ω²
	dofBetween float64
	inverse    float64 // mean of 1/n over the matings
}

// group is the readings of one mating one way up.
type group struct {
	flip   Flip
	mating int
	n      int
	mean   float64
	rest   float64
	left   float64 // of the differences from the rounded mean
}

// betweenLevel is the probability, under no scatter between matings, below which the
// scatter between them is significant (F test, GUM H.5.2.5). GUM has 5 % with 10 groups;
// with 3 or 5, and 5 %, a real scatter often passes for none, and the interval holds the
// truth 90 times in 100. With one half it is 94 and more: .ci/coverage.
const betweenLevel = 0.5

// work fills in the scatter.
func (s *set) work() {
	if s.known {
		return
	}
	s.known = true
	if s.sxx > 0 {
		for _, y := range s.y {
			s.within += y * y
		}
		s.dofWithin = math.Max(0, float64(len(s.y))-s.lost)
		if s.dofWithin > 0 {
			s.within /= s.dofWithin
		} else {
			s.within = 0
		}
		return
	}
	s.of = make([]int, len(s.y))
	s.groups = make([]group, 0, 4)
	var many map[[2]int]int
	for i, y := range s.y {
		g := -1
		if many != nil {
			if at, ok := many[[2]int{int(s.flip[i]), s.mating[i]}]; ok {
				g = at
			}
		} else {
			for j := len(s.groups) - 1; j >= 0; j-- {
				if s.groups[j].flip == s.flip[i] && s.groups[j].mating == s.mating[i] {
					g = j
					break
				}
			}
		}
		if g < 0 {
			g = len(s.groups)
			s.groups = append(s.groups, group{flip: s.flip[i], mating: s.mating[i]})
			if many != nil {
				many[[2]int{int(s.flip[i]), s.mating[i]}] = g
			} else if g == 16 {
				many = map[[2]int]int{}
				for j, o := range s.groups {
					many[[2]int{int(o.flip), o.mating}] = j
				}
			}
		}
		s.of[i] = g
		s.groups[g].n++
		s.groups[g].mean += y
	}
	for j := range s.groups {
		s.groups[j].mean /= float64(s.groups[j].n)
	}
	// In two passes, the first corrected, which keeps the digits.
	for i, y := range s.y {
		g := &s.groups[s.of[i]]
		g.rest += y - g.mean
	}
	for j := range s.groups {
		g := &s.groups[j]
		g.mean += g.rest / float64(g.n)
		s.inverse += 1 / float64(g.n) / float64(len(s.groups))
	}
	for i, y := range s.y {
		g := &s.groups[s.of[i]]
		d := y - g.mean
		s.within += d * d
		g.left += d
	}
	for _, g := range s.groups {
		s.within -= g.left * g.left / float64(g.n)
	}
	s.within = math.Max(0, s.within)
	s.dofWithin = float64(len(s.y) - len(s.groups))
	if s.dofWithin > 0 {
		s.within /= s.dofWithin
	}
	for _, f := range flips {
		mean, n := s.means(f)
		if n < 2 {
			continue
		}
		for _, g := range s.groups {
			if g.flip == f {
				s.between += (g.mean - mean) * (g.mean - mean)
			}
		}
		s.dofBetween += float64(n - 1)
	}
	if s.dofBetween > 0 {
		s.between /= s.dofBetween
	}
}

// means returns the mean of the means of the matings one way up, and their number.
func (s *set) means(f Flip) (mean float64, n int) {
	for _, g := range s.groups {
		if g.flip == f {
			mean += g.mean
			n++
		}
	}
	if n > 0 {
		mean /= float64(n)
	}
	return mean, n
}

// typeA returns the standard uncertainty of one way up with its degrees of freedom. Not
// ok without a repeat.
func (s *set) typeA(f Flip) (u, dof float64, ok bool) {
	u, dof, _, ok = s.estimate(f)
	return u, dof, ok
}

// estimate is typeA, and the estimate of variance that it rests on.
func (s *set) estimate(f Flip) (u, dof float64, pool *float64, ok bool) {
	s.work()
	if s.sxx > 0 {
		return math.Sqrt(s.within / s.sxx), s.dofWithin, &s.within, s.dofWithin > 0
	}
	inverse, n := 0.0, 0.0
	for _, g := range s.groups {
		if g.flip == f {
			inverse += 1 / float64(g.n)
			n++
		}
	}
	if n == 0 {
		return 0, 0, nil, false
	}
	inverse /= n * n // of the variance of a reading, in that of the mean of means
	switch {
	case s.dofWithin == 0 && s.dofBetween == 0:
		return 0, 0, nil, false
	case s.dofBetween == 0:
		return math.Sqrt(s.within * inverse), s.dofWithin, &s.within, true
	case s.dofWithin == 0:
		return math.Sqrt(s.between / n), s.dofBetween, &s.between, true
	}
	if F := s.between / (s.within * s.inverse); s.within > 0 && fTail(F, s.dofBetween, s.dofWithin) > betweenLevel {
		// Not significant: all of it is scatter of readings (GUM H.5.2.6).
		dof = s.dofWithin + s.dofBetween
		pooled := (s.within*s.dofWithin + s.between/s.inverse*s.dofBetween) / dof
		if pooled < s.within {
			return math.Sqrt(s.within * inverse), s.dofWithin, &s.within, true
		}
		return math.Sqrt(pooled * inverse), dof, &s.inverse, true
	}
	return math.Sqrt(s.between / n), s.dofBetween, &s.between, true
}

// noise returns the variance of a single drop as read, in V² at a current in A, where
// repeats show it: the scatter within matings, else that between them.
func (s *set) noise(amp float64) (variance, dof float64, pool *float64, ok bool) {
	s.work()
	switch {
	case s.dofWithin > 0 && s.sxx > 0:
		return s.within, s.dofWithin, &s.within, true
	case s.dofWithin > 0:
		return s.within * amp * amp, s.dofWithin, &s.within, true
	case s.dofBetween > 0:
		return s.between * amp * amp, s.dofBetween, &s.between, true
	}
	return 0, 0, nil, false
}

// meanAmp is the mean magnitude of the currents.
func (s *set) meanAmp() float64 {
	mean := 0.0
	for _, a := range s.amp {
		mean += a / float64(len(s.amp))
	}
	return mean
}

// fTail returns P(F > f) of Fisher's F with a and b degrees of freedom, f ≥ 0
// (Abramowitz and Stegun 26.6.2).
func fTail(f, a, b float64) float64 {
	if f <= 0 {
		return 1
	}
	return betaRegularized(b/2, a/2, b/(b+a*f), a*f/(b+a*f))
}

// betaRegularized returns I_x(a, b), with y = 1 - x.
func betaRegularized(a, b, x, y float64) float64 {
	if x <= 0 {
		return 0
	}
	if y <= 0 {
		return 1
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(a*math.Log(x) + b*math.Log(y) + lab - la - lb)
	if x < (a+1)/(a+b+2) {
		return front * betaFraction(a, b, x) / a
	}
	return 1 - front*betaFraction(b, a, y)/b
}
