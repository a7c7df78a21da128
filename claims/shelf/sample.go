package shelf

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Causes of an error of [Risks.Plan].
var (
	ErrSample = errors.New("not a sampling question") // shares or risks that no plan can keep
	ErrLarge  = errors.New("plan too large")          // more than MaxSample to test
)

// Bounds of what a plan may be.
const (
	MaxLot    = 1_000_000 // cables in a lot
	MaxSample = 100_000   // cables to test
)

// Risks is what a sampling plan has to keep. A share is a fraction of the lot that fails,
// a risk is a probability; both lie between 0 and 1.
type Risks struct {
	Lot       int     // cables in the lot; 0 for a production without an end
	Good, Bad float64 // the share a good lot has at most, and a bad lot at least
	Producer  float64 // the risk that a good lot is rejected
	Consumer  float64 // the risk that a bad lot is accepted
}

// UsualRisks are those of sample and shelf where no others are given (common practice):
// 1 % and 10 % of failures, rejected and accepted by mistake in 5 % and 10 % of lots.
func UsualRisks() Risks { return Risks{Good: 0.01, Bad: 0.10, Producer: 0.05, Consumer: 0.10} }

// Plan says how many cables of a lot are tested at random, and how many of them may fail.
type Plan struct {
	Lot   int // cables in the lot; 0 for a production without an end
	Test  int // how many are tested
	Allow int // the lot is accepted where no more than these fail
}

// GoodLot and BadLot are the shares that the risks are worked out at: of a lot, the nearest
// whole number of cables, down for a good lot and up for a bad one.
func (r Risks) GoodLot() float64 { return r.share(r.Good, math.Floor) }

// BadLot is the share of a bad lot; see GoodLot.
func (r Risks) BadLot() float64 { return r.share(r.Bad, math.Ceil) }

func (r Risks) share(of float64, whole func(float64) float64) float64 {
	if r.Lot == 0 {
		return of
	}
	return float64(wholeCables(of, r.Lot, whole)) / float64(r.Lot)
}

// wholeCables is a number of cables, where 7 % of 100 is 7 whatever the last binary digit.
func wholeCables(share float64, lot int, whole func(float64) float64) int {
	n := share * float64(lot)
	if near := math.Round(n); math.Abs(n-near) <= 1e-9*float64(lot) {
		return int(near)
	}
	return int(whole(n))
}

// check reports what no plan can keep.
func (r Risks) check() error {
	fraction := func(v float64) bool { return v > 0 && v < 1 }
	fail := func(format string, args ...any) error {
		return fmt.Errorf("%w: %s", ErrSample, fmt.Sprintf(format, args...))
	}
	switch {
	case r.Lot < 0 || r.Lot > MaxLot:
		return fail("a lot of %d; a lot has 1 to %d cables, leave it out for a production without an end", r.Lot, MaxLot)
	case !(r.Good >= 0 && r.Good < 1) || !(r.Bad > 0 && r.Bad <= 1):
		return fail("shares of %v and %v; a share lies between 0 and 100 %%", r.Good, r.Bad)
	case !fraction(r.Producer) || !fraction(r.Consumer):
		return fail("risks of %v and %v; a risk lies between 0 and 100 %%, both excluded", r.Producer, r.Consumer)
	case r.Good >= r.Bad:
		return fail("a good lot has %v %% of failures and a bad one %v %%; the good share must be the smaller", 100*r.Good, 100*r.Bad)
	case r.Producer+r.Consumer >= 1:
		return fail("risks of %v %% and %v %%; together they must stay below 100 %%, or no test is needed", 100*r.Producer, 100*r.Consumer)
	}
	return nil
}

// Plan gives the smallest plan that keeps both risks: exact, by the hypergeometric
// distribution for a lot and by the binomial one without. The error wraps [ErrSample]
// where the question has no answer, [ErrLarge] where more than MaxSample would be tested.
//
// The probability of acceptance falls with every further cable tested and rises with every
// further failure allowed. So for each number allowed the fewest tests that keep the
// consumer's risk are found, and the first that keeps the producer's risk too is smallest.
func (r Risks) Plan() (Plan, error) {
	if err := r.check(); err != nil {
		return Plan{}, err
	}
	most := MaxSample
	if r.Lot > 0 {
		most = min(most, r.Lot)
	}
	// What testing one more takes from the probability of acceptance, added up exactly as
	// far as float64 goes; each candidate is worked out anew before it counts.
	good, bad := r.GoodLot(), r.BadLot()
	p := Plan{Lot: r.Lot}
	accepted := 1.0 // of a bad lot
	for n := 0; n <= most; {
		if accepted <= r.Consumer*(1+1e-6) {
			p.Test = n
			if p.Accepts(bad) <= atEdge(r.Consumer) {
				if 1-p.Accepts(good) <= atEdge(r.Producer) {
					return p, nil
				}
				p.Allow++
				accepted += p.exactly(n, p.Allow, bad)
				continue
			}
		}
		accepted -= p.lastPasses(n, bad)
		n++
	}
	if most == r.Lot { // every cable tested leaves no risk
		return Plan{Lot: r.Lot, Test: r.Lot, Allow: wholeCables(r.Good, r.Lot, math.Floor)}, nil
	}
	return Plan{}, fmt.Errorf("%w: more than %d cables; set the shares further apart, or allow larger risks", ErrLarge, MaxSample)
}

// atEdge lets a risk be met exactly, whatever the last digits.
func atEdge(risk float64) float64 { return risk * (1 + 1e-9) }

// lastPasses is how much less likely acceptance gets by testing one more than n: just the
// number allowed have failed, and the next one fails too.
func (p Plan) lastPasses(n int, share float64) float64 {
	at := p.exactly(n, p.Allow, share)
	if p.Lot == 0 {
		return at * share
	}
	return at * float64(wholeCables(share, p.Lot, math.Round)-p.Allow) / float64(p.Lot-n)
}

// exactly is the probability that k of n tested fail.
func (p Plan) exactly(n, k int, share float64) float64 {
	if p.Lot > 0 {
		return hypergeometric(k, n, wholeCables(share, p.Lot, math.Round), p.Lot)
	}
	return binomial(k, n, share)
}

// Accepts is the probability that a lot with a share of failures is accepted: the plan's
// operating characteristic. Of a lot, the share is taken as the nearest whole number of
// cables. It gives NaN unless 0 <= share <= 1 and 0 <= Allow <= Test (<= Lot).
func (p Plan) Accepts(share float64) float64 {
	if !(share >= 0 && share <= 1) || p.Test < 0 || p.Allow < 0 || p.Allow > p.Test || p.Lot < 0 || p.Lot > 0 && p.Test > p.Lot {
		return math.NaN()
	}
	sum := 0.0
	for k := 0; k <= p.Allow; k++ {
		sum += p.exactly(p.Test, k, share)
	}
	return min(sum, 1)
}

// binomial is the probability of exactly k of n at a share.
func binomial(k, n int, share float64) float64 {
	switch {
	case k < 0 || k > n:
		return 0
	case share == 0 || share == 1:
		if (share == 0) == (k == 0) && (share == 1) == (k == n) {
			return 1
		}
		return 0
	}
	return math.Exp(lnChoose(n, k) + float64(k)*math.Log(share) + float64(n-k)*math.Log1p(-share))
}

// hypergeometric is the probability of exactly k failures among n taken from a lot of
// which some fail.
func hypergeometric(k, n, fail, lot int) float64 {
	if k < 0 || k > n || k > fail || n-k > lot-fail {
		return 0
	}
	return math.Exp(lnChoose(fail, k) + lnChoose(lot-fail, n-k) - lnChoose(lot, n))
}

// lnChoose is the logarithm of n over k.
func lnChoose(n, k int) float64 {
	if k == 0 || k == n {
		return 0
	}
	a, _ := math.Lgamma(float64(n) + 1)
	b, _ := math.Lgamma(float64(k) + 1)
	c, _ := math.Lgamma(float64(n-k) + 1)
	return a - b - c
}

// Point is one point of an operating characteristic.
type Point struct {
	Share   float64 // of failures in the lot
	Failing int     // the same in cables; 0 without a lot
	Accepts float64 // probability that the lot is accepted
}

// Characteristic is the plan's operating characteristic from no failures to twice the
// share of a bad lot, the shares of good and bad among its points.
func (r Risks) Characteristic(p Plan) []Point {
	shares := []float64{r.GoodLot(), r.BadLot()}
	const steps = 5
	for i := range 2*steps + 1 {
		share := r.BadLot() * float64(i) / steps
		if p.Lot > 0 {
			share = float64(wholeCables(share, p.Lot, math.Round)) / float64(p.Lot)
		}
		shares = append(shares, min(share, 1))
	}
	slices.Sort(shares)
	var out []Point
	for i, s := range shares {
		if i > 0 && s-shares[i-1] < 1e-12 {
			continue
		}
		point := Point{Share: s, Accepts: p.Accepts(s)}
		if p.Lot > 0 {
			point.Failing = wholeCables(s, p.Lot, math.Round)
		}
		out = append(out, point)
	}
	return out
}

// LotInterval is the exact interval for the number of failures in a lot of which k of n
// tested failed: the numbers at which k or more, and k or fewer, are seen with a
// probability above (1-confidence)/2 each. As ClopperPearson, but for a lot that the
// sample is a part of. It reports false unless 0 <= k <= n <= lot <= MaxLot, n > 0 and
// 0 < confidence < 1.
func LotInterval(k, n, lot int, confidence float64) (low, high int, ok bool) {
	if k < 0 || k > n || n <= 0 || n > lot || lot > MaxLot || !(confidence > 0 && confidence < 1) {
		return 0, 0, false
	}
	tail := (1 - confidence) / 2
	atMost := func(k, fail int) float64 {
		return Plan{Lot: lot, Test: n, Allow: k}.Accepts(float64(fail) / float64(lot))
	}
	// Both ends are found by halving: the tails rise and fall with the number of failures.
	low, high = k, lot-(n-k)
	if k > 0 {
		below, at := k-1, high
		for at-below > 1 {
			if mid := (below + at) / 2; 1-atMost(k-1, mid) > tail {
				at = mid
			} else {
				below = mid
			}
		}
		low = at
	}
	if k < n {
		at, above := k, high+1
		for above-at > 1 {
			if mid := (at + above) / 2; atMost(k, mid) > tail {
				at = mid
			} else {
				above = mid
			}
		}
		high = at
	}
	return low, high, true
}
