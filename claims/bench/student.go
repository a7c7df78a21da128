package bench

import "math"

// Coverage is the level of confidence of every expanded uncertainty here: the
// one for which k = 2 with infinite degrees of freedom (erf(√2), 95.45 %).
const Coverage = 0.954499736103641585599434725666933125

// CoverageFactor returns the two-sided factor k = t_p(ν) for a level of
// confidence p, 0 < p < 1, and ν degrees of freedom, ν > 0, which may be
// fractional or +Inf (GUM Table G.2). Outside these ranges it returns NaN.
func CoverageFactor(p, nu float64) float64 {
	if !(p > 0 && p < 1) {
		return math.NaN()
	}
	return -StudentQuantile((1-p)/2, nu)
}

// StudentCDF returns the probability that Student's t with ν degrees of
// freedom is at most t. With ν = +Inf it is the normal distribution. It
// returns NaN unless ν > 0.
func StudentCDF(t, nu float64) float64 {
	switch {
	case math.IsNaN(t) || !(nu > 0):
		return math.NaN()
	case t == 0:
		return 0.5
	case math.IsInf(t, 0) && t < 0:
		return 0
	case math.IsInf(t, 0):
		return 1
	}
	tail := studentTail(math.Abs(t), nu, lnBeta(nu/2, 0.5))
	if t < 0 {
		return tail
	}
	return 1 - tail
}

// manyDegrees is where Wallace's approximation takes over: its error falls with
// 1/ν², that of the continued fraction grows with ν.
const manyDegrees = 1e6

// studentTail returns P(T > t) for t > 0 by the incomplete beta function,
// I_{ν/(ν+t²)}(ν/2, 1/2)/2 (Abramowitz and Stegun 26.7.1 with 26.5). It takes
// ln B(ν/2, 1/2), which serves every t.
func studentTail(t, nu, lnB float64) float64 {
	t2 := t * t
	switch {
	case math.IsInf(t2, 0):
		return 0
	case math.IsInf(nu, 1):
		return 0.5 * math.Erfc(t/math.Sqrt2)
	case nu > manyDegrees:
		z := (8*nu + 1) / (8*nu + 3) * math.Sqrt(nu*math.Log1p(t2/nu))
		return 0.5 * math.Erfc(z/math.Sqrt2)
	}
	a, b := nu/2, 0.5
	x, y := nu/(nu+t2), t2/(nu+t2)
	if y == 0 {
		return 0.5
	}
	front := math.Exp(-a*math.Log1p(t2/nu) + b*math.Log(y) - lnB)
	if x < (a+1)/(a+b+2) {
		return 0.5 * front * betaFraction(a, b, x) / a
	}
	return 0.5 * (1 - front*betaFraction(b, a, y)/b)
}

// lnBeta returns ln B(a, b). For large a and b = 1/2 the difference of two
// large log-gammas loses digits, so Stirling's series takes over there.
func lnBeta(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if a < 1000 || b > 10 {
		la, _ := math.Lgamma(a)
		lb, _ := math.Lgamma(b)
		lab, _ := math.Lgamma(a + b)
		return la + lb - lab
	}
	lb, _ := math.Lgamma(b)
	// ln Γ(a) - ln Γ(a+b), with ln Γ(z) = (z-1/2) ln z - z + ln√2π + 1/(12z) - 1/(360z³)
	d := -(a-0.5)*math.Log1p(b/a) - b*math.Log(a+b) + b
	d += 1/(12*a) - 1/(12*(a+b)) - 1/(360*a*a*a) + 1/(360*math.Pow(a+b, 3))
	return lb + d
}

// betaFraction evaluates the continued fraction of the incomplete beta
// function (Abramowitz and Stegun 26.5.8) by the modified Lentz method.
func betaFraction(a, b, x float64) float64 {
	const tiny = 1e-300
	c, d := 1.0, 1-(a+b)*x/(a+1)
	if math.Abs(d) < tiny {
		d = tiny
	}
	d = 1 / d
	h := d
	for m := 1.0; m <= 10000; m++ {
		for _, k := range [2]float64{
			m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m)),
			-(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1)),
		} {
			d = 1 + k*d
			if math.Abs(d) < tiny {
				d = tiny
			}
			c = 1 + k/c
			if math.Abs(c) < tiny {
				c = tiny
			}
			d = 1 / d
			h *= d * c
		}
		if math.Abs(d*c-1) < 1e-16 {
			break
		}
	}
	return h
}

// StudentQuantile returns the t that StudentCDF maps to p, 0 < p < 1. With
// ν = +Inf it is the normal quantile. It returns NaN outside these ranges. Beyond
// 1e150, which only ν under 1 and absurdly small p reach, it is no longer exact.
func StudentQuantile(p, nu float64) float64 {
	if !(p > 0 && p < 1) || !(nu > 0) {
		return math.NaN()
	}
	if p == 0.5 {
		return 0
	}
	if p > 0.5 {
		return -StudentQuantile(1-p, nu)
	}
	z := math.Sqrt2 * math.Erfcinv(2*p)
	if math.IsInf(z, 0) || p < 1e-9 { // Erfcinv goes by way of 1 − 2p
		z = math.Sqrt(-2 * math.Log(p))
	} else if z < 3 && nu > 200 {
		return -expansion(z, nu)
	}
	lnB := lnBeta(nu/2, 0.5)
	tail := func(t float64) float64 { return studentTail(t, nu, lnB) }
	scale := math.Exp(-lnB) / math.Sqrt(nu)
	density := func(t float64) float64 { return scale * math.Exp(-(nu+1)/2*math.Log1p(t*t/nu)) }
	if nu > 1e12 { // the two agree to the last digits
		tail = func(t float64) float64 { return 0.5 * math.Erfc(t/math.Sqrt2) }
		density = func(t float64) float64 { return math.Exp(-t*t/2) / math.Sqrt(2*math.Pi) }
	}
	// Newton's steps on the logarithm of the tail, which keep their digits however
	// small p is, from the expansion in 1/ν where it is any good, within a bracket
	// that shrinks.
	lo, hi := 0.0, math.Inf(1)
	t := z * (1 + (z*z+1)/(4*nu))
	if nu > 3 && z*z < 3*nu {
		t = expansion(z, nu)
	}
	for range 400 {
		over := tail(t)
		step := (math.Log(over) - math.Log(p)) * over / density(t)
		if math.Abs(step) <= 1e-8*t { // the step after this one would be its square
			return -(t + step)
		}
		if over > p {
			lo = t
		} else {
			hi = t
		}
		next := t + step
		if !(next > lo && next < hi) {
			if math.IsInf(hi, 1) {
				next = 2 * t
			} else {
				next = lo + (hi-lo)/2
			}
		}
		if math.IsInf(next, 1) {
			return math.Inf(-1)
		}
		t = next
	}
	return -t
}

// expansion returns the t that belongs to the normal quantile z, by the terms up to
// 1/ν⁴ (Abramowitz and Stegun 26.7.5). What is left out is within 3e-11 of it for z up
// to 3 and ν beyond 200.
func expansion(z, nu float64) float64 {
	z2 := z * z
	g1 := (z2 + 1) / 4
	g2 := ((5*z2+16)*z2 + 3) / 96
	g3 := (((3*z2+19)*z2+17)*z2 - 15) / 384
	g4 := ((((79*z2+776)*z2+1482)*z2-1920)*z2 - 945) / 92160
	return z * (1 + (g1+(g2+(g3+g4/nu)/nu)/nu)/nu)
}
