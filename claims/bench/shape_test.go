package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// normalPart is a normal contribution in ohm of a known standard uncertainty.
func normalPart(u float64) Contribution { return spread(Repeats, TypeB, u, math.Inf(1)) }

// JCGM 101 §9.2 (values from memory, confirmed by draws): four rectangular inputs of
// standard deviation 1, and one of them of 10.
func TestAdditiveModel(t *testing.T) {
	one := math.Sqrt(3) // half-width of a standard deviation of 1
	at := func(s shape, p float64) float64 {
		lo, hi := 0.0, 10*s.u
		for range 100 {
			if mid := (lo + hi) / 2; s.probability(mid) > (1+p)/2 {
				hi = mid
			} else {
				lo = mid
			}
		}
		return lo
	}
	four := shapeOf(inOhms(rect(one), rect(one), rect(one), rect(one)))
	near(t, "u", four.u, 2, 1e-12)
	near(t, "four alike, 95 %", at(four, 0.95), 3.88, 0.005)
	large := shapeOf(inOhms(rect(one), rect(one), rect(one), rect(10*one)))
	near(t, "u", large.u, 10.15, 0.005)
	near(t, "one of 10, 95 %", at(large, 0.95), 17.0, 0.05)
	near(t, "four normal, 95 %", at(shapeOf(inOhms(normalPart(1), normalPart(1), normalPart(1), normalPart(1))), 0.95), 3.92, 0.005)
}

// EA-4/02 S9 (from memory, recomputed): a hand-held multimeter at 100 V, whose digit
// dominates: k = 1.65, U = 0.05 V.
func TestEA402S9(t *testing.T) {
	s := shapeOf(inOhms(rect(0.05), rect(0.011), normalPart(0.001)))
	near(t, "u", s.u, 0.030, 0.0005)
	near(t, "U", s.expanded(), 0.05, 0.005)
	near(t, "k of the digit alone, 95 %", 0.95*math.Sqrt(3), 1.65, 0.005)
	near(t, "k", s.expanded()/s.u, 1.65, 0.08) // of all parts, 95.45 %
}

// Drawn from the distributions that are stated, the interval holds 95.45 %, and a limit
// has the probability that is told, whatever parts dominate.
func TestShapeByDraws(t *testing.T) {
	const n = 200_000
	rng := rand.New(rand.NewPCG(1, 101))
	for _, c := range []struct {
		normal float64
		half   []float64
	}{
		{1, nil},
		{0, []float64{1}},
		{0.2, []float64{1}},
		{1, []float64{1}},
		{0, []float64{1, 1}},
		{0, []float64{1, 0.4}},
		{0.1, []float64{1, 0.9, 0.3}},
		{0.3, []float64{1, 1, 1, 1, 1, 1, 1}},
		{0.01, []float64{1, 0.1, 0.02}},
		{0.001, []float64{1, 0.1, 0.1, 0.1, 0.1, 0.1}},
		{0.05, []float64{1, 0.2, 0.2, 0.2}},
		{1e-6, []float64{1, 0.6}},
	} {
		rows := []Contribution{normalPart(c.normal)}
		for _, a := range c.half {
			rows = append(rows, rect(a))
		}
		s := shapeOf(inOhms(rows...))
		U := s.expanded()
		inside, below := 0, 0
		limit := 0.6 * s.u
		for range n {
			x := c.normal * rng.NormFloat64()
			for _, a := range c.half {
				x += a * (2*rng.Float64() - 1)
			}
			if math.Abs(x) <= U {
				inside++
			}
			if x <= limit {
				below++
			}
		}
		name := fmt.Sprintf("normal %g, rectangular %v", c.normal, c.half)
		near(t, name+": coverage", float64(inside)/n, Coverage, 4*math.Sqrt(Coverage*(1-Coverage)/n)+1e-4)
		near(t, name+": probability", float64(below)/n, s.probability(limit), 4*math.Sqrt(0.2/n)+1e-3)
		near(t, name+": probability at U", s.probability(U), (1+Coverage)/2, 1e-9)
		near(t, name+": and at -U", s.probability(-U), (1-Coverage)/2, 1e-9)
		if U > s.bound*(1+1e-12) {
			t.Errorf("%s: U = %g is wider than the bound %g", name, U, s.bound)
		}
	}
}

// The integrals of the normal distribution function: their derivatives are one another.
func TestIntegrals(t *testing.T) {
	for _, sigma := range []float64{0, 0.5, 2} {
		for m := 1; m <= 5; m++ {
			for x := -3.05; x < 4; x += 0.5 {
				const h = 1e-4
				above, _ := integrals(x+h, sigma, m)
				below, _ := integrals(x-h, sigma, m)
				_, less := integrals(x, sigma, m)
				near(t, fmt.Sprintf("σ %g, order %d at %g", sigma, m, x), (above-below)/(2*h), less, 1e-6*(1+math.Abs(less)))
			}
		}
	}
}

// Fisher's F at the 95 % and 97.5 % points that GUM H.5.2.5 prints for 9 and 40 degrees of
// freedom, 2.12 and 2.45; and t² where there is one.
func TestFisher(t *testing.T) {
	near(t, "F 2.12", fTail(2.12, 9, 40), 0.05, 0.001)
	near(t, "F 2.45", fTail(2.45, 9, 40), 0.025, 0.0005)
	for _, nu := range []float64{1, 3, 8.5, 40} {
		for _, x := range []float64{0.1, 1, 2.5, 12} {
			relative(t, "t²", fTail(x*x, 1, nu), 2*StudentCDF(-x, nu), 1e-11)
		}
	}
	near(t, "nothing", fTail(0, 2, 3), 1, 0)
}
