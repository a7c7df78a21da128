package shelf

import "math"

// ClopperPearson is the exact interval for the share of a population from which k
// of n samples have a property: the shares at which k or more, and k or fewer,
// would be seen with a probability of (1-confidence)/2 each. The population is
// taken as large against the sample. It gives NaN unless 0 <= k <= n, n > 0 and
// 0 < confidence < 1.
//
// Source: C. J. Clopper and E. S. Pearson, Biometrika 26 (1934) 404.
func ClopperPearson(k, n int, confidence float64) (low, high float64) {
	if k < 0 || k > n || n <= 0 || !(confidence > 0 && confidence < 1) {
		return math.NaN(), math.NaN()
	}
	tail := (1 - confidence) / 2
	low, high = 0, 1
	if k > 0 {
		low = bisect(func(p float64) bool { return 1-atMost(k-1, n, p) < tail })
	}
	if k < n {
		high = bisect(func(p float64) bool { return atMost(k, n, p) > tail })
	}
	return low, high
}

// bisect finds where a condition that holds at 0 ceases to hold on the way to 1.
func bisect(holds func(float64) bool) float64 {
	low, high := 0.0, 1.0
	for range 100 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}

// atMost is the probability of k or fewer of n at a share p, 0 < p < 1.
func atMost(k, n int, p float64) float64 {
	if k > n/2 {
		return 1 - atMost(n-k-1, n, 1-p) // the shorter sum
	}
	sum := 0.0
	all, _ := math.Lgamma(float64(n) + 1)
	for i := 0; i <= k; i++ {
		a, _ := math.Lgamma(float64(i) + 1)
		b, _ := math.Lgamma(float64(n-i) + 1)
		sum += math.Exp(all - a - b + float64(i)*math.Log(p) + float64(n-i)*math.Log1p(-p))
	}
	return min(sum, 1)
}
