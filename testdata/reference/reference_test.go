// Package reference holds claims/bench against gonum, a library with its own
// code for the same mathematics. It is a module of its own, so that the library
// under test does not depend on gonum.
package reference

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// near compares relative to want, or absolutely where want is below 1e-300.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(math.Abs(want), 1e-300)) {
		t.Errorf("%s = %.17g, gonum %.17g, more than %g apart", what, got, want, tolerance)
	}
}

// Lower tails, from far out to just beside the median.
var tails = []float64{1e-12, 1e-9, 1e-6, 1e-4, 0.001, 0.005, 0.01, 0.02275, 0.025, 0.05, 0.1, 0.25, 0.4, 0.45, 0.499}

// Degrees of freedom as repeats and Welch-Satterthwaite give them.
var degrees = []float64{0.13, 0.3, 0.5, 1, 1.5, 1.7, 2, 2.7, 3, 4, 4.3, 5, 7.25, 9, 16.75, 19, 27.5127, 30, 50, 99.5, 145.38, 500, 999, 1000.5}

// lost is the part of a probability that gonum's CDF may lose: it forms
// ν/(ν+t²), which near t = 0 keeps t²/ν only to 1e-16, and raises it to ν/2.
func lost(t, nu float64) float64 {
	return 1e-14*math.Max(10, nu) + 2e-16*nu/math.Abs(t)
}

// byComplement is the part of a quantile lost where 1-p was rounded, which moves
// the tail p by 1e-16.
func byComplement(p float64) float64 {
	z := distuv.UnitNormal.Quantile(p)
	return 1e-16 / (p * math.Max(-z, z*z))
}

func TestStudentQuantile(t *testing.T) {
	for _, nu := range degrees {
		s := distuv.StudentsT{Sigma: 1, Nu: nu}
		// gonum inverts the incomplete beta function and loses digits with ν, most
		// of them far out. Our quantile in gonum's CDF shows that they are not ours.
		tolerance := 1e-11 * math.Max(1, nu)
		for _, p := range tails {
			at := fmt.Sprintf("(%g, ν=%g)", p, nu)
			q := bench.StudentQuantile(p, nu)
			near(t, "p, that is gonum's CDF of our quantile"+at, s.CDF(q), p, lost(q, nu))
			if p < 1e-6 {
				continue
			}
			near(t, "quantile"+at, q, s.Quantile(p), tolerance)
			near(t, "upper quantile"+at, bench.StudentQuantile(1-p, nu), -s.Quantile(p), tolerance+1e-15/p)
			near(t, "coverage factor"+at, bench.CoverageFactor(1-2*p, nu), -s.Quantile(p), tolerance+1e-15/p)
		}
	}
}

func TestStudentCDF(t *testing.T) {
	for _, nu := range degrees {
		s := distuv.StudentsT{Sigma: 1, Nu: nu}
		for _, x := range []float64{1e-6, 1e-3, 0.1, 0.3, 0.7, 1, 1.4, 1.96, 2, 2.5, 3, 4.5, 6, 8, 12, 40, 1000} {
			for _, x := range []float64{-x, x} {
				near(t, fmt.Sprintf("CDF(%g, ν=%g)", x, nu), bench.StudentCDF(x, nu), s.CDF(x), lost(x, nu))
			}
		}
	}
}

func TestNormal(t *testing.T) {
	inf := math.Inf(1)
	for _, p := range tails {
		// math.Erfcinv goes by way of 1-p.
		tolerance := 1e-13 + byComplement(p)
		near(t, fmt.Sprintf("z(%g)", p), bench.StudentQuantile(p, inf), distuv.UnitNormal.Quantile(p), tolerance)
		near(t, fmt.Sprintf("k(%g)", 1-2*p), bench.CoverageFactor(1-2*p, inf), -distuv.UnitNormal.Quantile(p), 2*tolerance)
	}
	for x := -8.0; x <= 8; x += 0.125 {
		near(t, fmt.Sprintf("Φ(%g)", x), bench.StudentCDF(x, inf), distuv.UnitNormal.CDF(x), 1e-14)
	}
}

// With many degrees of freedom gonum's own t loses its digits, but its normal
// quantile does not. The expansion in 1/ν about it (Abramowitz and Stegun 26.7.5)
// then has them all.
func TestManyDegreesOfFreedom(t *testing.T) {
	for _, nu := range []float64{1e5, 123456.7, 9.99e5, 1e6, 1.001e6, 1e7, 1e9, 1e11, 0.99e12, 1.01e12, 1e15} {
		for _, p := range tails {
			z := distuv.UnitNormal.Quantile(p)
			want := z + (math.Pow(z, 3)+z)/(4*nu) +
				(5*math.Pow(z, 5)+16*math.Pow(z, 3)+3*z)/(96*nu*nu) +
				(3*math.Pow(z, 7)+19*math.Pow(z, 5)+17*math.Pow(z, 3)-15*z)/(384*nu*nu*nu)
			at := fmt.Sprintf("(%g, ν=%g)", p, nu)
			near(t, "quantile"+at, bench.StudentQuantile(p, nu), want, 1e-11+byComplement(p))
			near(t, "CDF of the quantile"+at, bench.StudentCDF(want, nu), p, 1e-9)
		}
	}
}

// session makes readings of VBUS from currents and drops.
func session(amps, volts []float64) bench.Session {
	var s bench.Session
	for i := range amps {
		s.Readings = append(s.Readings, bench.Reading{CurrentAmp: amps[i], VBUSVolt: bench.Known(volts[i])})
	}
	return s
}

func evaluate(t *testing.T, s bench.Session) bench.Result {
	// Exact meters, stated as such, so that scatter is all there is.
	if s.Voltmeter == nil {
		s.Voltmeter = &quantity.Accuracy{}
	}
	if s.Ammeter == nil {
		s.Ammeter = &quantity.Accuracy{}
	}
	t.Helper()
	r, err := bench.Evaluate(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Several currents: the line by gonum's regression, and its standard errors by
// gonum's QR and inverse of the normal matrix.
func TestLine(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	for _, c := range []struct {
		name               string
		n                  int
		low, high          float64 // ampere
		ohm, offset, noise float64 // ohm, volt, volt
	}{
		{"three points", 3, 1, 3, 0.1, 0, 1e-4},
		{"an offset", 8, 0.5, 5, 0.15, 2e-3, 2e-4},
		{"many", 200, 0.1, 5, 0.08, -1e-4, 1e-6},
		{"a short span", 12, 4, 5.5, 0.12, 1e-3, 1e-5},
		{"reversed currents", 20, -5, 5, 0.09, 5e-6, 1e-5},
		{"large", 36, 1, 990, 0.9, 0.2, 0.05},
	} {
		t.Run(c.name, func(t *testing.T) {
			var amps, volts []float64
			for i := range c.n {
				amp := c.low + (c.high-c.low)*float64(i)/float64(c.n-1)
				amps = append(amps, amp)
				volts = append(volts, c.offset+c.ohm*amp+c.noise*rng.NormFloat64())
			}
			e := evaluate(t, session(amps, volts)).VBUS
			if e == nil || e.Line == nil {
				t.Fatal("no line")
			}
			l := *e.Line
			intercept, slope := stat.LinearRegression(amps, volts, nil, false)
			largest := math.Abs(intercept) + math.Abs(slope)*math.Max(math.Abs(c.low), c.high)
			near(t, "slope", l.SlopeOhm, slope, 1e-12)
			near(t, "intercept, as part of the drop", largest+l.InterceptVolt, largest+intercept, 1e-12)

			x := mat.NewDense(c.n, 2, nil)
			for i, amp := range amps {
				x.SetRow(i, []float64{1, amp})
			}
			y := mat.NewVecDense(c.n, volts)
			var b, residual mat.VecDense
			if err := b.SolveVec(x, y); err != nil {
				t.Fatal(err)
			}
			near(t, "slope by QR", l.SlopeOhm, b.AtVec(1), 1e-12)
			residual.MulVec(x, &b)
			residual.SubVec(y, &residual)
			dof := float64(c.n - 2)
			s := mat.Norm(&residual, 2) / math.Sqrt(dof)
			var normal, inverse mat.Dense
			normal.Mul(x.T(), x)
			if err := inverse.Inverse(&normal); err != nil {
				t.Fatal(err)
			}
			u0, u1 := s*math.Sqrt(inverse.At(0, 0)), s*math.Sqrt(inverse.At(1, 1))
			cov := s * s * inverse.At(0, 1)
			near(t, "residual deviation", l.ResidualVolt, s, 1e-8)
			near(t, "u(slope)", l.USlope, u1, 1e-8)
			near(t, "u(intercept)", l.UIntercept, u0, 1e-8)
			near(t, "1 + correlation", 1+l.Correlation, 1+cov/(u0*u1), 1e-8)
			for _, amp := range []float64{0, 1, c.high, -c.high} {
				_, u := l.At(amp)
				at := mat.NewVecDense(2, []float64{1, amp})
				near(t, fmt.Sprintf("u(line at %g A)", amp), u, s*math.Sqrt(mat.Inner(at, &inverse, at)), 1e-8)
			}

			// No accuracy is stated, so the line's scatter is all there is.
			near(t, "R", e.Ohm, slope, 1e-12)
			near(t, "u(R)", e.U, u1, 1e-8)
			near(t, "ν", e.DoF, dof, 1e-12)
			k := distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile((1 + bench.Coverage) / 2)
			near(t, "k", e.K, k, 1e-8)
			near(t, "U", e.Expanded, k*u1, 1e-8)
		})
	}
}

// One current: mean and deviation of drop over current.
func TestMeanAndDeviation(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 21))
	for _, n := range []int{2, 3, 5, 10, 101} {
		for _, scatter := range []float64{1e-2, 1e-4, 1e-7} {
			var amps, volts, ohms []float64
			for range n {
				amp := 3 * (1 + 0.01*(2*rng.Float64()-1))
				volt := 0.1 * amp * (1 + scatter*rng.NormFloat64())
				amps, volts, ohms = append(amps, amp), append(volts, volt), append(ohms, volt/amp)
			}
			mean, deviation := stat.MeanStdDev(ohms, nil)
			e := evaluate(t, session(amps, volts)).VBUS
			at := fmt.Sprintf(" of %d within %g", n, scatter)
			near(t, "R"+at, e.Ohm, mean, 1e-14)
			// The last digits of each ratio are rounding: 1e-16 of scatter.
			tolerance := 1e-13 + 1e-16/scatter
			near(t, "u(R)"+at, e.U, stat.StdErr(deviation, float64(n)), tolerance)
			near(t, "ν"+at, e.DoF, float64(n-1), 1e-12)
			near(t, "k"+at, e.K, distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile((1+bench.Coverage)/2), 1e-9)
		}
	}
}

// Both ways up: the mean of the worse, the scatter of both pooled.
func TestPooledDeviation(t *testing.T) {
	up := []float64{0.1001, 0.1004, 0.0999, 0.1002}
	down := []float64{0.1031, 0.1027, 0.1036}
	var s bench.Session
	for _, v := range up {
		s.Readings = append(s.Readings, bench.Reading{CurrentAmp: 1, VBUSVolt: bench.Known(v), Flip: bench.FlipUp})
	}
	for _, v := range down {
		s.Readings = append(s.Readings, bench.Reading{CurrentAmp: 1, VBUSVolt: bench.Known(v), Flip: bench.FlipDown})
	}
	e := evaluate(t, s).VBUS
	near(t, "R", e.Ohm, stat.Mean(down, nil), 1e-14)
	pooled := math.Sqrt((3*stat.Variance(up, nil) + 2*stat.Variance(down, nil)) / 5)
	near(t, "u", e.U, stat.StdErr(pooled, 3), 1e-12)
	near(t, "ν", e.DoF, 5, 1e-12)
}

// Nulls at several currents give an offset and a resistance, which are subtracted.
func TestNullLine(t *testing.T) {
	amps := []float64{1, 2, 3, 4, 5}
	nulls := []float64{1.1e-3, 2.3e-3, 3.2e-3, 4.5e-3, 5.4e-3}
	var s bench.Session
	for range 3 {
		s.Readings = append(s.Readings, bench.Reading{CurrentAmp: 2, VBUSVolt: bench.Known(0.2)})
	}
	for i := range amps {
		s.Nulls = append(s.Nulls, bench.Reading{CurrentAmp: amps[i], VBUSVolt: bench.Known(nulls[i])})
	}
	e := evaluate(t, s).VBUS
	offset, slope := stat.LinearRegression(amps, nulls, nil, false)
	near(t, "R", e.Ohm, (0.2-offset-2*slope)/2, 1e-14)
}

// The probability of conformity of a decision, by t and by the normal.
func TestProbabilityWithin(t *testing.T) {
	for _, nu := range []float64{1, 2.5, 4, 9.7, 60, math.Inf(1)} {
		cdf := distuv.UnitNormal.CDF
		if !math.IsInf(nu, 1) {
			cdf = distuv.StudentsT{Sigma: 1, Nu: nu}.CDF
		}
		for _, u := range []float64{1e-4, 1e-3} {
			for _, ohm := range []float64{0.097, 0.0995, 0.1002, 0.102} {
				d := bench.Decide(bench.Estimate{Ohm: ohm, U: u, DoF: nu}, 0.1, bench.Acceptance{})
				if !d.ProbabilityWithin().Known {
					t.Fatal("no probability")
				}
				near(t, fmt.Sprintf("P(%g Ω, u=%g, ν=%g)", ohm, u, nu), d.ProbabilityWithin().Value, cdf((0.1-ohm)/u), 1e-11)
			}
		}
	}
}
