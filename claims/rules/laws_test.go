package rules

import (
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
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

func report(t *testing.T, rec *record.Record) *claims.Report {
	t.Helper()
	r, err := usual.Check(rec)
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
		for _, silent := range []claims.Witness{claims.Seller, claims.Marker, claims.Bench} {
			rec := *simulated(seed).record()
			switch silent {
			case claims.Seller:
				rec.Claims = nil
			case claims.Marker:
				rec.Marker = record.MarkerWords{}
			case claims.Bench:
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
	contradicted := 0
	for seed := range uint64(lawTries) {
		with := simulated(seed).record()
		without := *with
		without.Bench = nil
		if !report(t, &without).Contradicted() {
			continue
		}
		contradicted++
		if !report(t, with).Contradicted() {
			t.Errorf("seed %d: contradicted without the bench, not with it", seed)
		}
	}
	if contradicted < lawTries/10 {
		t.Errorf("only %d of %d records are contradicted without the bench", contradicted, lawTries)
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
		var root claims.Finding
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
			if f.Under == "" && rank(f.Kind) > best {
				best = rank(f.Kind)
			}
			if certainty(f.Kind) > -max(best, rank(claims.Breach)) {
				t.Errorf("seed %d: %s, a %s, stands too late", seed, f.Rule, f.Kind)
			}
		}
	}
	if hung < lawTries/10 {
		t.Errorf("only %d findings hang under others", hung)
	}
}

// same holds that two reports are equal but for the last digits of sums taken in
// another order.
func same(t *testing.T, what string, want, got *claims.Report) {
	t.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-9, 0), cmpopts.IgnoreFields(claims.Measured{}, "Sessions")); diff != "" {
		t.Errorf("%s (-) (+):\n%s", what, diff)
	}
}

// fixtureDocuments are the texts of all fixtures' records.
func fixtureDocuments(t *testing.T) (docs []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(fixtureFolder, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		docs = append(docs, strings.Split(strings.TrimSuffix(string(text), "\n"), "\n---\n")...)
	}
	return docs
}

// TestFilesAndPlacesNeverMatter: a record gives the same report in whatever file
// and among whatever records it stands. That the order of its keys does not
// matter is held where records are read.
func TestFilesAndPlacesNeverMatter(t *testing.T) {
	docs := fixtureDocuments(t)
	if len(docs) < 300 {
		t.Fatalf("only %d documents", len(docs))
	}
	read := func(name string, docs ...string) (out []*claims.Report) {
		for rec, err := range record.Read(strings.NewReader(strings.Join(docs, "\n---\n")), name) {
			if err != nil {
				t.Error(err)
				continue
			}
			out = append(out, report(t, rec))
		}
		return out
	}
	alone := make([]*claims.Report, len(docs))
	for i, doc := range docs {
		got := read("alone.yaml", doc)
		if len(got) != 1 {
			t.Fatalf("%d reports for one document:\n%s", len(got), doc)
		}
		alone[i] = got[0]
	}
	order := rand.New(rand.NewPCG(1, 2)).Perm(len(docs))
	for part := range slices.Chunk(order, 100) {
		var texts []string
		for _, i := range part {
			texts = append(texts, docs[i])
		}
		got := read("together.yaml", texts...)
		if len(got) != len(part) {
			t.Fatalf("%d reports for %d documents", len(got), len(part))
		}
		for k, i := range part {
			same(t, docs[i], alone[i], got[k])
		}
	}
}

// TestOrderOfReadingsNeverMatters.
func TestOrderOfReadingsNeverMatters(t *testing.T) {
	var records []*record.Record
	for seed := range uint64(lawTries) {
		records = append(records, simulated(seed).record())
	}
	for _, doc := range fixtureDocuments(t) { // with flips, and several currents
		for rec, err := range record.Read(strings.NewReader(doc), "fixture.yaml") {
			if err != nil {
				t.Fatal(err)
			}
			records = append(records, rec)
		}
	}
	rng := rand.New(rand.NewPCG(1, 3))
	tried := 0
	for _, rec := range records {
		want := report(t, rec)
		moved := false
		for i := range rec.Bench {
			rs := rec.Bench[i].Readings
			moved = moved || len(rs) > 1
			rng.Shuffle(len(rs), func(i, j int) { rs[i], rs[j] = rs[j], rs[i] })
		}
		if moved {
			tried++
			same(t, "readings in another order", want, report(t, rec))
		}
	}
	if tried < lawTries/2 {
		t.Errorf("only %d records have several readings", tried)
	}
}

// TestOrderOfSessionsNeverMatters: sessions of one day that look at different
// things may stand in any order. Of two that measure the same, the later counts;
// a file has sessions oldest first, and one that has not is refused on reading.
func TestOrderOfSessionsNeverMatters(t *testing.T) {
	day := record.Stated[time.Time]{Value: time.Date(2026, 10, 5, 0, 0, 0, 0, time.UTC), Text: "2026-10-05", Known: true}
	rng := rand.New(rand.NewPCG(1, 4))
	for seed := range uint64(lawTries) {
		rec := simulated(seed).record()
		s := rec.Bench[0]
		taped := record.Session{Date: day, Length: s.Length}
		seen := record.Session{Date: day, Plugs: s.Plugs}
		s.Date, s.Length, s.Plugs = day, record.Stated[float64]{}, record.Stated[record.Plugs]{}
		rec.Bench = []record.Session{taped, seen, s}
		want := report(t, rec)
		rng.Shuffle(len(rec.Bench), func(i, j int) { rec.Bench[i], rec.Bench[j] = rec.Bench[j], rec.Bench[i] })
		same(t, "sessions in another order", want, report(t, rec))
	}
}

// TestBetterMarkerNeverRatesWorse: a marker that declares more, all else the
// same, never gives less power.
func TestBetterMarkerNeverRatesWorse(t *testing.T) {
	changed := 0
	better := []func(w *world) bool{
		func(w *world) bool { return w.near.set("vbus-current", uint32(vdo.Current5A)) },
		func(w *world) bool {
			return w.near.set("vbus-current", uint32(vdo.Current5A)) && w.near.set("max-voltage", uint32(vdo.Max50V)) && w.near.set("epr", 1)
		},
		func(w *world) bool { return w.near.set("speed", uint32(vdo.USB4Gen3)) },
	}
	for seed := range uint64(lawTries) {
		if !simulated(seed).marked {
			continue
		}
		a := report(t, simulated(seed).record()).Rating
		for i, change := range better {
			w := simulated(seed)
			if a.PowerW == 0 && w.near.noIdentity || !change(w) {
				continue
			}
			b := report(t, w.record()).Rating
			if b.PowerW < a.PowerW {
				t.Errorf("seed %d: %d W, with a marker that declares more (%d) %d W", seed, a.PowerW, i, b.PowerW)
			}
			if b.PowerW > a.PowerW {
				changed++
			}
		}
	}
	if changed == 0 {
		t.Error("a better marker never rated better: the test tests nothing")
	}
}

// TestBetterCopperNeverRatesWorse: less resistance in one conductor or in both,
// all else the same, never gives less power and never misses a limit that was kept.
func TestBetterCopperNeverRatesWorse(t *testing.T) {
	over := func(r *claims.Report) (n int) {
		for _, f := range r.Findings {
			if strings.HasPrefix(f.Rule, "bench-over-limit-") {
				n++
			}
		}
		return n
	}
	cleared, changed := 0, 0
	for seed := range uint64(lawTries) {
		a := report(t, simulated(seed).record())
		for _, part := range [][2]float64{{0.6, 1}, {1, 0.6}, {0.6, 0.6}, {0.98, 0.99}} {
			w := simulated(seed)
			w.vbus, w.ground = part[0]*w.vbus, part[1]*w.ground
			b := report(t, w.record())
			if b.Rating.PowerW < a.Rating.PowerW {
				t.Errorf("seed %d: %d W, with %v of the copper's resistance %d W", seed, a.Rating.PowerW, part, b.Rating.PowerW)
			}
			if b.Rating.PowerW > a.Rating.PowerW {
				changed++
			}
			if over(b) > over(a) {
				t.Errorf("seed %d: with %v of the resistance more limits are missed", seed, part)
			}
			if over(b) < over(a) {
				cleared++
			}
		}
	}
	if cleared == 0 || changed == 0 {
		t.Errorf("better copper kept %d more limits and rated better %d times: the test tests nothing", cleared, changed)
	}
}

// TestMoreEvidenceNeverRemoves: take any one piece of evidence away, and what is
// contradicted or breached without it is so with it, by the same rule or by one
// that this piece of evidence lets take its place, and a settled rating is not higher
// without it. With no ends on record a cable is taken for a detachable Type-C cable, of
// which other rules hold than of a captive or a legacy one.
func TestMoreEvidenceNeverRemoves(t *testing.T) {
	cl := func(f func(*record.Claims)) func(*record.Record) {
		return func(r *record.Record) { r.Claims = slices.Clone(r.Claims); f(&r.Claims[0]) }
	}
	session := func(f func(*record.Session)) func(*record.Record) {
		return func(r *record.Record) {
			r.Bench = slices.Clone(r.Bench)
			for i := range r.Bench {
				f(&r.Bench[i])
			}
		}
	}
	pieces := map[string]func(*record.Record){
		"power": cl(func(c *record.Claims) { c.Power = record.Stated[float64]{} }), "current": cl(func(c *record.Claims) { c.Current = record.Stated[float64]{} }),
		"voltage": cl(func(c *record.Claims) { c.Voltage = record.Stated[float64]{} }), "data": cl(func(c *record.Claims) { c.Data = record.Stated[record.DataClaim]{} }),
		"length": cl(func(c *record.Claims) { c.Length = record.Stated[float64]{} }), "plugs": cl(func(c *record.Claims) { c.Plugs = record.Stated[record.Plugs]{} }),
		"active": cl(func(c *record.Claims) { c.Active = record.Stated[bool]{} }), "marked": cl(func(c *record.Claims) { c.Marked = record.Stated[bool]{} }),
		"certified": cl(func(c *record.Claims) { c.Certified = record.Stated[bool]{} }), "certificate": cl(func(c *record.Claims) { c.Certificate = record.Stated[string]{} }),
		"modes": cl(func(c *record.Claims) { c.Modes = record.Stated[[]record.Mode]{} }), "video": cl(func(c *record.Claims) { c.Video = record.Stated[record.VideoClaim]{} }),
		"conductors": cl(func(c *record.Claims) { c.Conductors = record.Stated[float64]{} }),
		"tape":       session(func(s *record.Session) { s.Length = record.Stated[float64]{} }),
		"eye":        session(func(s *record.Session) { s.Plugs = record.Stated[record.Plugs]{} }),
		"bench":      func(r *record.Record) { r.Bench = nil },
		"far plug":   func(r *record.Record) { r.Marker.Far = record.Stated[record.Pasted]{} },
		"marker":     func(r *record.Record) { r.Marker = record.MarkerWords{} },
	}
	names := slices.Sorted(maps.Keys(pieces))
	kept := 0
	for seed := range uint64(lawTries / 2) {
		full := simulated(seed).record()
		with := report(t, full)
		for _, name := range names {
			less := *full
			pieces[name](&less)
			switch before, after := plugsOf(t, &less), plugsOf(t, full); {
			case before == "" && (after.Legacy() || after == record.CCaptive):
				continue // taken for a Type-C to Type-C cable, of which other rules hold
			case before != after && before != "":
				// The ends seen are others than claimed: other rules hold, and this is contradicted.
				if report(t, &less).Contradicted() && !with.Contradicted() {
					t.Errorf("seed %d: contradicted without the evidence %q, not with it", seed, name)
				}
				continue
			}
			lesser := report(t, &less)
			if with.Rating.Settled && lesser.Rating.Settled && lesser.Rating.PowerW > with.Rating.PowerW {
				t.Errorf("seed %d: settled at %d W without the evidence %q, at %d W with it", seed, lesser.Rating.PowerW, name, with.Rating.PowerW)
			}
			for _, f := range lesser.Findings {
				if f.Kind != claims.Contradiction && f.Kind != claims.Breach {
					continue
				}
				kept++
				if !slices.ContainsFunc(with.Findings, func(g claims.Finding) bool {
					return g.Rule == f.Rule || slices.Contains(takesPlace[f.Rule], g.Rule)
				}) {
					t.Errorf("seed %d: %s is found without the evidence %q, and not with it: %s", seed, f.Rule, name, f.Says)
				}
			}
		}
	}
	if kept < lawTries/2 {
		t.Errorf("only %d findings were looked at", kept)
	}
}

func plugsOf(t *testing.T, rec *record.Record) record.Plugs {
	t.Helper()
	c, err := newCase(rec, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := c.Plugs()
	return p
}

// takesPlace lists, by rule, those that say the same of better evidence.
var takesPlace = map[string][]string{
	"claimed-plugs-differ-from-marker":    {"claimed-plugs-differ-from-seen", "seen-plugs-differ-from-marker", "captive-code-on-detachable-cable"},
	"claimed-power-above-claimed-current": {"claimed-power-above-claimed-voltage-and-current", "claimed-epr-voltage-without-5-a"},
	"claimed-power-above-claimed-voltage": {"claimed-power-above-claimed-voltage-and-current"},
	"length-faster-than-light":            {"tape-length-faster-than-light", "claimed-length-differs-from-tape"},
	"resistance-above-claimed-conductors": {"claimed-length-differs-from-tape"},
	"legacy-cable-answers":                {"seen-legacy-cable-answers"},
	"seen-legacy-cable-answers":           {"legacy-cable-answers"},
}
