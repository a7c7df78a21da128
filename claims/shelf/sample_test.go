package shelf

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"testing"
)

// accepts is the probability of at most allow failures among n, by whole numbers: of a lot
// of which some fail, or at a share in percent where lot is 0.
func accepts(lot, n, allow, failing int) float64 {
	choose := func(n, k int) *big.Int { return new(big.Int).Binomial(int64(n), int64(k)) }
	sum, all := new(big.Int), new(big.Int)
	if lot == 0 {
		all.Exp(big.NewInt(100), big.NewInt(int64(n)), nil)
	} else {
		all = choose(lot, n)
	}
	for k := 0; k <= min(allow, n); k++ {
		var ways *big.Int
		if lot == 0 {
			ways = choose(n, k)
			ways.Mul(ways, new(big.Int).Exp(big.NewInt(int64(failing)), big.NewInt(int64(k)), nil))
			ways.Mul(ways, new(big.Int).Exp(big.NewInt(int64(100-failing)), big.NewInt(int64(n-k)), nil))
		} else if k <= failing && n-k <= lot-failing {
			ways = new(big.Int).Mul(choose(failing, k), choose(lot-failing, n-k))
		} else {
			continue
		}
		sum.Add(sum, ways)
	}
	v, _ := new(big.Rat).SetFrac(sum, all).Float64()
	return v
}

// TestPlan holds plans against a search through all of them in whole numbers.
func TestPlan(t *testing.T) {
	for _, lot := range []int{0, 20, 50, 200, 500} {
		for _, q := range []struct{ good, bad int }{{1, 10}, {2, 8}, {5, 20}, {10, 30}} {
			r := Risks{Lot: lot, Good: float64(q.good) / 100, Bad: float64(q.bad) / 100, Producer: 0.05, Consumer: 0.10}
			good, bad := q.good, q.bad
			if lot > 0 {
				good, bad = q.good*lot/100, (q.bad*lot+99)/100
			}
			got, err := r.Plan()
			if err != nil {
				t.Fatal(err)
			}
			want := Plan{}
		search:
			for n := 1; n <= 400; n++ {
				for allow := 0; allow <= n && allow < 40; allow++ {
					if accepts(lot, n, allow, bad) > r.Consumer {
						break
					}
					if 1-accepts(lot, n, allow, good) <= r.Producer {
						want = Plan{lot, n, allow}
						break search
					}
				}
			}
			if got.Test != want.Test || 1-got.Accepts(r.GoodLot()) > r.Producer*(1+1e-9) || got.Accepts(r.BadLot()) > r.Consumer*(1+1e-9) {
				t.Errorf("%+v: %+v, want %+v", r, got, want)
			}
			if a, b := got.Accepts(r.BadLot()), accepts(lot, got.Test, got.Allow, bad); math.Abs(a-b) > 1e-9 {
				t.Errorf("%+v accepts a bad lot with %g, by whole numbers %g", got, a, b)
			}
		}
	}
}

// TestPlanErrors: questions without an answer.
func TestPlanErrors(t *testing.T) {
	usual := UsualRisks()
	for name, change := range map[string]func(*Risks){
		"good is bad":        func(r *Risks) { r.Good = r.Bad },
		"risk of 0":          func(r *Risks) { r.Consumer = 0 },
		"lot below 0":        func(r *Risks) { r.Lot = -1 },
		"lot too large":      func(r *Risks) { r.Lot = MaxLot + 1 },
		"share above 1":      func(r *Risks) { r.Bad = 1.1 },
		"share not a number": func(r *Risks) { r.Good = math.NaN() },
	} {
		r := usual
		change(&r)
		if p, err := r.Plan(); !errors.Is(err, ErrSample) {
			t.Errorf("%s: %+v, %v", name, p, err)
		}
	}
	near := Risks{Good: 0.100, Bad: 0.1001, Producer: 0.01, Consumer: 0.01}
	if p, err := near.Plan(); !errors.Is(err, ErrLarge) {
		t.Errorf("%+v, %v", p, err)
	}
}

// TestLotInterval holds each end against its definition, by whole numbers.
func TestLotInterval(t *testing.T) {
	const lot, confidence = 60, 0.95
	tail := (1 - confidence) / 2
	for n := 1; n <= lot; n += 7 {
		for k := 0; k <= n; k += max(1, n/5) {
			low, high, ok := LotInterval(k, n, lot, confidence)
			if !ok || low > high {
				t.Fatalf("%d of %d: %d to %d, %t", k, n, low, high, ok)
			}
			more := func(fail int) float64 { return 1 - accepts(lot, n, k-1, fail) } // k or more
			less := func(fail int) float64 { return accepts(lot, n, k, fail) }       // k or fewer
			if k > 0 && (more(low) <= tail || low > k && more(low-1) > tail) || k < n && (less(high) <= tail || high < lot-(n-k) && less(high+1) > tail) {
				t.Errorf("%d of %d: %d to %d", k, n, low, high)
			}
		}
	}
	if _, _, ok := LotInterval(3, 2, 10, 0.95); ok {
		t.Error("3 of 2")
	}
}

// TestLots: a batch is judged as soon as nothing that is still to come can change it.
func TestLots(t *testing.T) {
	plan, _ := Risks{Lot: 200, Good: 0.01, Bad: 0.10, Producer: 0.05, Consumer: 0.10}.Plan()
	for _, tt := range []struct {
		over, undecided, within int
		sizes                   []string
		want                    LotOutcome
		left                    int
	}{
		{0, 0, 0, []string{"200"}, LotContinue, plan.Test},
		{0, 0, plan.Test, []string{"200"}, LotAccept, 0},
		{plan.Allow, 0, plan.Test - plan.Allow, []string{"200"}, LotAccept, 0},
		{plan.Allow + 1, 0, 0, []string{"200"}, LotReject, 0},
		{plan.Allow, 1, plan.Test - plan.Allow - 1, []string{"200"}, LotContinue, 0},
		{0, 0, 3, []string{"200", "300"}, "", 0},
		{0, 0, 3, []string{"many"}, "", 0},
		{0, 0, 3, []string{"2"}, "", 0},
	} {
		b := Batch{Over: tt.over, Undecided: tt.undecided, Within: tt.within, Sampled: tt.over + tt.undecided + tt.within}
		l := b.judgeLot(tt.sizes, UsualRisks())
		b.Lot = l
		if l.Outcome != tt.want || (l.Wrong == "") != (tt.want != "") || b.Left() != tt.left {
			t.Errorf("%+v: %+v, left %d", tt, l, b.Left())
		}
	}
	if (Batch{}).judgeLot(nil, UsualRisks()) != nil {
		t.Error("a batch without a lot is judged")
	}
}

func ExampleRisks_Plan() {
	plan, err := Risks{Lot: 200, Good: 0.01, Bad: 0.10, Producer: 0.05, Consumer: 0.10}.Plan()
	fmt.Println(plan.Test, plan.Allow, err)
	_, err = Risks{Good: 0.5, Bad: 0.1, Producer: 0.05, Consumer: 0.10}.Plan()
	fmt.Println(errors.Is(err, ErrSample))
	// Output:
	// 35 1 <nil>
	// true
}
