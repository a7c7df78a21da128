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
}

// fitLine fits y = intercept + slope·x by least squares. It needs two different
// x.
func fitLine(x, y []float64) (Line, bool) {
	n := float64(len(x))
	if len(x) < 2 {
		return Line{}, false
	}
	mx, _ := meanDeviation(x)
	my, _ := meanDeviation(y)
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
	l := Line{SlopeOhm: sxy / sxx, DoF: n - 2, SpanAmp: hi - lo}
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

// fitThroughOrigin fits y = slope·x: resistance when no offset is allowed.
func fitThroughOrigin(x, y []float64) (slope, u float64) {
	var xx, xy float64
	for i := range x {
		xx += x[i] * x[i]
		xy += x[i] * y[i]
	}
	slope = xy / xx
	var squares float64
	for i := range x {
		r := y[i] - slope*x[i]
		squares += r * r
	}
	if len(x) > 1 {
		u = math.Sqrt(squares / float64(len(x)-1) / xx)
	}
	return slope, u
}
