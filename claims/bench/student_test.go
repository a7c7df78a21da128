package bench

import (
	"math"
	"testing"
)

// TestCoverageFactorTable: GUM Table G.2, as NIST TN 1297 Table B.1 prints it.
func TestCoverageFactorTable(t *testing.T) {
	levels := [...]float64{0.6827, 0.90, 0.95, 0.9545, 0.99, 0.9973}
	inf := math.Inf(1)
	rows := []struct {
		nu float64
		k  [6]float64
	}{
		{1, [6]float64{1.84, 6.31, 12.71, 13.97, 63.66, 235.80}},
		{2, [6]float64{1.32, 2.92, 4.30, 4.53, 9.92, 19.21}},
		{3, [6]float64{1.20, 2.35, 3.18, 3.31, 5.84, 9.22}},
		{4, [6]float64{1.14, 2.13, 2.78, 2.87, 4.60, 6.62}},
		{5, [6]float64{1.11, 2.02, 2.57, 2.65, 4.03, 5.51}},
		{6, [6]float64{1.09, 1.94, 2.45, 2.52, 3.71, 4.90}},
		{7, [6]float64{1.08, 1.89, 2.36, 2.43, 3.50, 4.53}},
		{8, [6]float64{1.07, 1.86, 2.31, 2.37, 3.36, 4.28}},
		{9, [6]float64{1.06, 1.83, 2.26, 2.32, 3.25, 4.09}},
		{10, [6]float64{1.05, 1.81, 2.23, 2.28, 3.17, 3.96}},
		{11, [6]float64{1.05, 1.80, 2.20, 2.25, 3.11, 3.85}},
		{12, [6]float64{1.04, 1.78, 2.18, 2.23, 3.05, 3.76}},
		{13, [6]float64{1.04, 1.77, 2.16, 2.21, 3.01, 3.69}},
		{14, [6]float64{1.04, 1.76, 2.14, 2.20, 2.98, 3.64}},
		{15, [6]float64{1.03, 1.75, 2.13, 2.18, 2.95, 3.59}},
		{16, [6]float64{1.03, 1.75, 2.12, 2.17, 2.92, 3.54}},
		{17, [6]float64{1.03, 1.74, 2.11, 2.16, 2.90, 3.51}},
		{18, [6]float64{1.03, 1.73, 2.10, 2.15, 2.88, 3.48}},
		{19, [6]float64{1.03, 1.73, 2.09, 2.14, 2.86, 3.45}},
		{20, [6]float64{1.03, 1.72, 2.09, 2.13, 2.85, 3.42}},
		{25, [6]float64{1.02, 1.71, 2.06, 2.11, 2.79, 3.33}},
		{30, [6]float64{1.02, 1.70, 2.04, 2.09, 2.75, 3.27}},
		// 90 % is printed 1.70; the exact value is 1.68957.
		{35, [6]float64{1.01, 1.69, 2.03, 2.07, 2.72, 3.23}},
		{40, [6]float64{1.01, 1.68, 2.02, 2.06, 2.70, 3.20}},
		{45, [6]float64{1.01, 1.68, 2.01, 2.06, 2.69, 3.18}},
		{50, [6]float64{1.01, 1.68, 2.01, 2.05, 2.68, 3.16}},
		{100, [6]float64{1.005, 1.660, 1.984, 2.025, 2.626, 3.077}},
		{inf, [6]float64{1.000, 1.645, 1.960, 2.000, 2.576, 3.000}},
	}
	for _, row := range rows {
		for i, p := range levels {
			// 68.27 % and its kin stand for 1, 2 and 3 sigma, exactly.
			switch i {
			case 0:
				p = math.Erf(1 / math.Sqrt2)
			case 3:
				p = Coverage
			case 5:
				p = math.Erf(3 / math.Sqrt2)
			}
			if got := CoverageFactor(p, row.nu); math.Abs(got-row.k[i]) > 0.01 {
				t.Errorf("k(%g, ν=%g) = %.5f, printed %g", p, row.nu, got, row.k[i])
			}
		}
	}
}

// Exact values by two independent programs.
func TestCoverageFactorExact(t *testing.T) {
	for _, row := range []struct{ nu, k95, k9545, one95 float64 }{
		{1, 12.706205, 13.967730, 6.313752},
		{2, 4.302653, 4.526537, 2.919986},
		{3, 3.182446, 3.306822, 2.353363},
		{4, 2.776445, 2.869309, 2.131847},
		{5, 2.570582, 2.648649, 2.015048},
		{9, 2.262157, 2.319806, 1.833113},
		{19, 2.093024, 2.140494, 1.729133},
		{math.Inf(1), 1.959964, 2.000000, 1.644854},
	} {
		near(t, "95 %", CoverageFactor(0.95, row.nu), row.k95, 1e-6)
		near(t, "95.45 %", CoverageFactor(0.9545, row.nu), row.k9545, 1.5e-4) // 95.45 % is rounded
		near(t, "95.45 %", CoverageFactor(Coverage, row.nu), row.k9545, 1e-6)
		near(t, "one-sided 95 %", StudentQuantile(0.95, row.nu), row.one95, 1e-6)
	}
}

// US 10 CFR 429 subpart B appendix A, one-sided 90, 95, 97.5 and 99 %.
func TestStudentQuantileOneSided(t *testing.T) {
	for nu, row := range map[float64][4]float64{
		4: {1.533, 2.132, 2.776, 3.747},
		9: {1.383, 1.833, 2.262, 2.821},
	} {
		for i, p := range [...]float64{0.90, 0.95, 0.975, 0.99} {
			near(t, "t", StudentQuantile(p, nu), row[i], 0.0006)
		}
	}
}

// z for the conformance probabilities of JCGM 106, 7.3, Table 1 (from memory,
// recomputed).
func TestNormalQuantile(t *testing.T) {
	for p, z := range map[float64]float64{
		0.80: 0.8416, 0.90: 1.2816, 0.95: 1.6449, 0.99: 2.3263, 0.999: 3.0902,
	} {
		near(t, "z", StudentQuantile(p, math.Inf(1)), z, 5e-5)
	}
	near(t, "z(.95)", StudentQuantile(0.95, math.Inf(1)), 1.644853626951, 1e-11)
	near(t, "t(.975, 4)", StudentQuantile(0.975, 4), 2.776445105, 1e-9)
	near(t, "Φ(1.4)", StudentCDF(1.4, math.Inf(1)), 0.919243340766, 1e-12)
}

// Closed forms: ν = 1 is Cauchy, ν = 2 and 4 are algebraic.
func TestStudentCDFClosedForms(t *testing.T) {
	for _, x := range []float64{-300, -7, -1.3, -0.2, 0, 1e-9, 0.4, 1, 2.5, 12, 1000} {
		near(t, "ν=1", StudentCDF(x, 1), 0.5+math.Atan(x)/math.Pi, 1e-14)
		near(t, "ν=2", StudentCDF(x, 2), 0.5+x/(2*math.Sqrt(2+x*x)), 1e-14)
		y := x / math.Sqrt(4+x*x)
		near(t, "ν=4", StudentCDF(x, 4), 0.5+0.75*(y-y*y*y/3), 1e-14)
	}
}

func TestStudentInverse(t *testing.T) {
	for _, nu := range []float64{0.13, 0.5, 1, 2.7, 4, 16.75, 99, 1999, 2001, 1e4, 1e7, 1e11, math.Inf(1)} {
		last := math.Inf(-1)
		for _, p := range []float64{1e-12, 1e-5, 0.01, 0.3, 0.4999, 0.5, 0.6, 0.9, 0.975, 0.99999} {
			q := StudentQuantile(p, nu)
			if !(q > last) {
				t.Errorf("ν=%g: quantile(%g) = %g does not grow", nu, p, q)
			}
			last = q
			if got := StudentCDF(q, nu); math.Abs(got-p) > 1e-9*p+1e-15 {
				t.Errorf("ν=%g: CDF(quantile(%g)) = %g", nu, p, got)
			}
		}
	}
	// Large ν goes over into the normal without a step.
	for _, nu := range []float64{1e5, 0.999e6, 1.001e6, 1e8, 1e13} {
		near(t, "large ν", StudentQuantile(0.975, nu), 1.959963984540054*(1+(1.959963984540054*1.959963984540054+1)/(4*nu)), 1e-8)
	}
}

func TestStudentBadArguments(t *testing.T) {
	nan := math.NaN()
	for _, got := range []float64{
		StudentCDF(nan, 3), StudentCDF(1, nan), StudentCDF(1, 0), StudentCDF(1, -2),
		StudentQuantile(0, 3), StudentQuantile(1, 3), StudentQuantile(nan, 3), StudentQuantile(0.5, 0),
		CoverageFactor(0, 3), CoverageFactor(1, 3), CoverageFactor(0.95, -1),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%g, want NaN", got)
		}
	}
	if StudentCDF(math.Inf(1), 3) != 1 || StudentCDF(math.Inf(-1), 3) != 0 {
		t.Error("the ends are not 0 and 1")
	}
}
