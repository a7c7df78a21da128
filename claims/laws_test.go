package claims

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/gainsay/claims/record"
)

// Laws that hold for every record, tried on simulated cables, honest ones and
// ones with a fault.

const lawTries = 600

// simulated draws a cable, every second one with a fault planted in it. The same
// seed gives the same cable.
func simulated(seed uint64) *world {
	var ids []string
	for id := range plants {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for try := range uint64(2000) {
		w := honest(rand.New(rand.NewPCG(seed, 7+try)))
		if seed%2 == 0 || plants[ids[int(seed/2)%len(ids)]](w) {
			return w
		}
	}
	return honest(rand.New(rand.NewPCG(seed, 7)))
}

func report(t *testing.T, rec *record.Record) *Report {
	t.Helper()
	r, err := Check(rec)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Broken) > 0 {
		t.Fatal(r.Broken)
	}
	return r
}

// TestSilenceNeverContradicts: a witness that says nothing is in no finding of
// two witnesses, and in no breach.
func TestSilenceNeverContradicts(t *testing.T) {
	for seed := range uint64(lawTries) {
		for _, silent := range []Witness{Seller, Marker, Bench} {
			rec := *simulated(seed).record()
			switch silent {
			case Seller:
				rec.Claims = record.Claims{}
			case Marker:
				rec.Marker = record.MarkerWords{}
			case Bench:
				rec.Bench = nil
			}
			for _, f := range report(t, &rec).Findings {
				if slices.Contains(f.Between, silent) {
					t.Fatalf("seed %d: the %s is silent, and yet: %s: %s", seed, silent, f.Rule, f.Says)
				}
			}
		}
	}
}

// TestMoreEvidenceKeepsTheVerdict: what is contradicted or breached without the
// bench is so with it, since the bench tells the truth and the lie still stands.
func TestMoreEvidenceKeepsTheVerdict(t *testing.T) {
	gainsaid := 0
	for seed := range uint64(lawTries) {
		with := simulated(seed).record()
		without := *with
		without.Bench = nil
		if !report(t, &without).Gainsaid() {
			continue
		}
		gainsaid++
		if !report(t, with).Gainsaid() {
			t.Errorf("seed %d: gainsaid without the bench, not with it", seed)
		}
	}
	if gainsaid < lawTries/10 {
		t.Errorf("only %d of %d records are gainsaid without the bench", gainsaid, lawTries)
	}
}

// TestBetterCopperNeverRatesWorse: less resistance, all else the same, never
// gives less power.
func TestBetterCopperNeverRatesWorse(t *testing.T) {
	changed := 0
	for seed := range uint64(lawTries) {
		worse, better := simulated(seed), simulated(seed)
		better.vbus, better.ground = better.vbus*0.7, better.ground*0.7
		a, b := report(t, worse.record()).Rating, report(t, better.record()).Rating
		if b.PowerW < a.PowerW {
			t.Errorf("seed %d: %d W, with better copper %d W", seed, a.PowerW, b.PowerW)
		}
		if b.PowerW > a.PowerW {
			changed++
		}
	}
	if changed == 0 {
		t.Error("better copper never rated better: the test tests nothing")
	}
}

// TestFindingsSayOneThingOnce: no two findings of one report have the same
// sentence.
func TestFindingsSayOneThingOnce(t *testing.T) {
	for seed := range uint64(lawTries) {
		said := map[string]string{}
		for _, f := range report(t, simulated(seed).record()).Findings {
			if other := said[f.Says]; other != "" {
				t.Errorf("seed %d: %s and %s both say: %s", seed, other, f.Rule, f.Says)
			}
			said[f.Says] = f.Rule
		}
	}
}

// TestEveryRootStandsBefore: what hangs under a root follows it, and a root
// counts and hangs under nothing.
func TestEveryRootStandsBefore(t *testing.T) {
	hung := 0
	for seed := range uint64(lawTries) {
		var root Finding
		best := 0
		for i, f := range report(t, simulated(seed).record()).Findings {
			switch {
			case f.Under == "":
				root = f
			case i == 0, f.Under != root.Rule, root.Waived != "":
				t.Errorf("seed %d: %s hangs under %q and follows %s", seed, f.Rule, f.Under, root.Rule)
			default:
				hung++
			}
			// The worst of each group is in order.
			if f.Under == "" && f.Kind.rank() > best {
				best = f.Kind.rank()
			}
			if certainty(f.Kind) > -max(best, Breach.rank()) {
				t.Errorf("seed %d: %s, a %s, stands too late", seed, f.Rule, f.Kind)
			}
		}
	}
	if hung < lawTries/10 {
		t.Errorf("only %d findings hang under others", hung)
	}
}
