package bench

import "math"

// Line is a straight line fitted to drop over current: slope is the
// resistance, intercept an offset (thermal EMF, or a null not subtracted).
// Formulas: GUM H.3.
type Line struct {
	SlopeOhm      float64 // the resistance, Ω
	InterceptVolt float64 // the offset, V
	USlope        float64 // standard error, ohm; 0 with two points
	UIntercept    float64 // standard error, volt
	Correlation   float64 // of slope and intercept
	ResidualVolt  float64 // standard deviation about the line
	DoF           float64 // n-2
	SpanAmp       float64 // largest current less smallest, signed
	sxx, mean     float64 // Σ(I - mean I)² in A², mean I in A
}

// weights returns by how much the slope changes with each drop, in Ω/V.
func (l Line) weights(amps []float64) []float64 {
	out := make([]float64, len(amps))
	for i, a := range amps {
		out[i] = (a - l.mean) / l.sxx
	}
	return out
}

// fitLine fits y = intercept + slope·x by least squares. It needs two different
// x.
func fitLine(x, y []float64) (Line, bool) {
	n := float64(len(x))
	if len(x) < 2 {
		return Line{}, false
	}
	mx, my := mean(x), mean(y)
	var sxx, sxy, x2 float64
	lo, hi := x[0], x[0]
	for i := range x {
		dx := x[i] - mx
		sxx += dx * dx
		sxy += dx * (y[i] - my)
		x2 += x[i] * x[i]
		lo, hi = math.Min(lo, x[i]), math.Max(hi, x[i])
	}
	if sxx == 0 {
		return Line{}, false
	}
	l := Line{SlopeOhm: sxy / sxx, DoF: n - 2, SpanAmp: hi - lo, sxx: sxx, mean: mx}
	l.InterceptVolt = my - l.SlopeOhm*mx
	if x2 > 0 {
		l.Correlation = -mx * n / math.Sqrt(n*x2)
	}
	if n > 2 {
		var squares float64
		for i := range x {
			// About the means, so that a small slope keeps its digits.
			r := (y[i] - my) - l.SlopeOhm*(x[i]-mx)
			squares += r * r
		}
		l.ResidualVolt = math.Sqrt(squares / (n - 2))
		l.USlope = l.ResidualVolt / math.Sqrt(sxx)
		l.UIntercept = l.ResidualVolt * math.Sqrt(x2/(n*sxx))
	}
	return l, true
}

// At returns the line's value at a current and its standard uncertainty.
func (l Line) At(amp float64) (volt, u float64) {
	v := l.UIntercept*l.UIntercept + amp*amp*l.USlope*l.USlope + 2*amp*l.Correlation*l.UIntercept*l.USlope
	return l.InterceptVolt + amp*l.SlopeOhm, math.Sqrt(math.Max(0, v))
}

// mean is corrected by the mean of what it leaves, which keeps the digits.
func mean(xs []float64) (m float64) {
	n := float64(len(xs))
	for _, x := range xs {
		m += x / n
	}
	rest := 0.0
	for _, x := range xs {
		rest += x - m
	}
	return m + rest/n
}
