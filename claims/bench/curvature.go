package bench

import "math"

// curvature fits drop = offset + R·I + b·I·|I|. The change of resistance from the smallest
// to the largest current, b·(|I|max-|I|min), is the sum of weight times drop. residual is
// the standard deviation about the fit, V, with dof degrees of freedom. Not ok unless
// there are enough different currents.
func curvature(amps, volts []float64) (weight []float64, dof, residual float64, ok bool) {
	n := len(amps)
	if n < 3 {
		return nil, 0, 0, false
	}
	lo, hi := math.Inf(1), 0.0
	for _, a := range amps {
		lo, hi = math.Min(lo, math.Abs(a)), math.Max(hi, math.Abs(a))
	}
	// Orthogonal columns by Gram-Schmidt: 1, x, x|x|, with x = I/|I|max. The last
	// coefficient does not depend on the others' scale.
	columns := [3][]float64{}
	for _, a := range amps {
		x := a / hi
		columns[0] = append(columns[0], 1)
		columns[1] = append(columns[1], x)
		columns[2] = append(columns[2], x*math.Abs(x))
	}
	rest := append([]float64(nil), volts...)
	var norm float64
	for j := range columns {
		col := columns[j]
		for k := range j {
			project(col, columns[k])
		}
		norm = dot(col, col)
		if norm < 1e-6*float64(n) {
			return nil, 0, 0, false
		}
		project(rest, col)
	}
	if dof = float64(n - 3); dof > 0 {
		residual = math.Sqrt(dot(rest, rest) / dof)
	}
	scale := (1 - lo/hi) / hi / norm // the coefficient is in volt for x = 1
	weight = columns[2]
	for i := range weight {
		weight[i] *= scale
	}
	return weight, dof, residual, true
}

func dot(a, b []float64) (s float64) {
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// project takes from v its part along w and returns the coefficient.
func project(v, w []float64) float64 {
	c := dot(v, w) / dot(w, w)
	for i := range v {
		v[i] -= c * w[i]
	}
	return c
}
