package shelf

import (
	"math"
	"testing"
)

// TestClopperPearsonPublished holds the interval against R. G. Newcombe,
// Statistics in Medicine 17 (1998) 857, Table I, Clopper-Pearson at 95 % (quoted
// from memory, to the four places printed there).
func TestClopperPearsonPublished(t *testing.T) {
	tests := []struct {
		k, n      int
		low, high float64
	}{
		{81, 263, 0.2527, 0.3676},
		{15, 148, 0.0578, 0.1617},
		{0, 20, 0.0000, 0.1684},
		{1, 29, 0.0009, 0.1776},
	}
	for _, tt := range tests {
		low, high := ClopperPearson(tt.k, tt.n, 0.95)
		if math.Abs(low-tt.low) > 0.00005 || math.Abs(high-tt.high) > 0.00005 {
			t.Errorf("%d of %d: %.5f to %.5f, want %.4f to %.4f", tt.k, tt.n, low, high, tt.low, tt.high)
		}
	}
}

// TestClopperPearsonClosed: with none or all of the samples, the bounds have a
// closed form, 1 − (α/2)^(1/n) and (α/2)^(1/n).
func TestClopperPearsonClosed(t *testing.T) {
	for _, n := range []int{1, 2, 3, 10, 60, 1000, 100000} {
		for _, confidence := range []float64{0.5, 0.9, 0.95, 0.99} {
			want := math.Pow((1-confidence)/2, 1/float64(n))
			low, high := ClopperPearson(0, n, confidence)
			if low != 0 || math.Abs(high-(1-want)) > 1e-10 {
				t.Errorf("0 of %d at %v: %v to %v, want 0 to %v", n, confidence, low, high, 1-want)
			}
			low, high = ClopperPearson(n, n, confidence)
			if high != 1 || math.Abs(low-want) > 1e-10 {
				t.Errorf("%d of %d at %v: %v to %v, want %v to 1", n, n, confidence, low, high, want)
			}
		}
	}
}

// TestClopperPearsonLaws: the interval holds k/n, mirrors for n − k, shrinks with
// n and grows with the confidence; and its coverage is never below the
// confidence, which makes it exact.
func TestClopperPearsonLaws(t *testing.T) {
	for n := 1; n <= 30; n++ {
		var lows, highs []float64
		for k := 0; k <= n; k++ {
			low, high := ClopperPearson(k, n, 0.95)
			lows, highs = append(lows, low), append(highs, high)
			if share := float64(k) / float64(n); !(low <= share && share <= high) {
				t.Fatalf("%d of %d: %v to %v", k, n, low, high)
			}
			mlow, mhigh := ClopperPearson(n-k, n, 0.95)
			if math.Abs(low-(1-mhigh)) > 1e-12 || math.Abs(high-(1-mlow)) > 1e-12 {
				t.Fatalf("%d of %d does not mirror", k, n)
			}
			if wlow, whigh := ClopperPearson(k, n, 0.99); wlow > low || whigh < high {
				t.Fatalf("%d of %d: the interval at 99 %% is narrower", k, n)
			}
			if slow, shigh := ClopperPearson(2*k, 2*n, 0.95); shigh-slow >= high-low {
				t.Fatalf("%d of %d: more samples do not narrow it", k, n)
			}
		}
		for p := 0.005; p < 1; p += 0.01 {
			covered := 0.0
			for k := 0; k <= n; k++ {
				if lows[k] <= p && p <= highs[k] {
					covered += atMost(k, n, p)
					if k > 0 {
						covered -= atMost(k-1, n, p)
					}
				}
			}
			if covered < 0.95-1e-9 {
				t.Fatalf("n = %d, share %v: covered with %v", n, p, covered)
			}
		}
	}
	for _, bad := range [][2]int{{-1, 5}, {6, 5}, {0, 0}} {
		if low, high := ClopperPearson(bad[0], bad[1], 0.95); !math.IsNaN(low) || !math.IsNaN(high) {
			t.Errorf("%v gives %v to %v", bad, low, high)
		}
	}
}
