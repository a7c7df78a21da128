package claims

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// caseOf makes a case from the sections of a record.
func caseOf(t testing.TB, sections string) *Case {
	t.Helper()
	for rec, err := range record.Read(strings.NewReader("gainsay: 1\ncable: test\n"+sections), "test.yaml") {
		if err != nil {
			t.Fatal(err)
		}
		c, err := newCase(rec, nil, bench.Assumption{})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	t.Fatal("no record")
	return nil
}

// TestLevels: a level is named after its power, the levels rise, and every tier is
// one of them, the highest the last.
func TestLevels(t *testing.T) {
	all, last := Levels(), 0
	for _, l := range all {
		if l.Watts != l.Volts*l.Amps || l.Watts <= last {
			t.Errorf("%s after %d W", l, last)
		}
		last = l.Watts
	}
	for _, tier := range Tiers() {
		if !slices.Contains(all, tier) {
			t.Errorf("%s is no level", tier)
		}
	}
	if all[len(all)-1] != Tiers()[0] {
		t.Errorf("the highest level is %s", all[len(all)-1])
	}
}

// TestRating: the highest tier that marker and bench both support, the witness
// that limits it, and whether more evidence could change it. Markers are PD 3.x
// passive cable words; resistances are in mΩ, printed by an exact rig. Limits by
// USB Type-C §4.4.1: 100 and 50 mΩ at 5 A, 166.7 and 83.3 mΩ at 3 A.
func TestRating(t *testing.T) {
	const (
		silent   = ""
		unmarked = "marker: {asked: true}\n"
		refused  = "marker: {near: FF00A081}\n"
		m60      = `marker: {near: "FF00A041 18602FA1 0 0 00082022"}` + "\n"
		m100     = `marker: {near: "FF00A041 18602FA1 0 0 00082042"}` + "\n"
		m240     = `marker: {near: "FF00A041 18602FA1 0 0 000A2642"}` + "\n"
		invalid  = `marker: {near: "FF00A041 18602FA1 0 0 00082002"}` + "\n"
		pd2      = `marker: {near: "FF008041 18002FA1 0 0 00082051"}` + "\n"
		no50V    = `marker: {near: "FF00A041 18602FA1 0 0 000A2042"}` + "\n"
		legacy   = "claims: {plugs: c-to-a}\n"
	)
	ohms := func(v, g string) string {
		return "bench: {ohmmeter: 0.01 mΩ, vbus: " + v + " mohm, ground: " + g + " mohm}\n"
	}
	five, three, none := ohms("90", "45"), ohms("120", "60"), ohms("170", "60")
	near5 := ohms("99.999", "45")
	tests := map[string]struct {
		sections string
		watts    int
		limited  string
		settled  bool
	}{
		"nothing":                    {silent, 0, "", false},
		"marker alone":               {m240, 0, "", false},
		"bench alone, 5 A":           {five, 60, "", false},
		"bench alone, 3 A":           {three, 60, "bench", true},
		"bench alone, under 3 A":     {none, 0, "bench", true},
		"unmarked, 5 A":              {unmarked + five, 60, "marker", true},
		"unmarked, 3 A":              {unmarked + three, 60, "marker bench", true},
		"refused, 5 A":               {refused + five, 60, "marker", false},
		"60 W marker, 5 A":           {m60 + five, 60, "marker", true},
		"60 W marker, near 5 A":      {m60 + near5, 60, "marker bench", true},
		"100 W marker, 5 A":          {m100 + five, 100, "marker", true},
		"100 W marker, 3 A":          {m100 + three, 60, "bench", true},
		"100 W marker, near 5 A":     {m100 + near5, 60, "bench", false},
		"240 W marker, 5 A":          {m240 + five, 240, "", true},
		"240 W marker, 3 A":          {m240 + three, 60, "bench", true},
		"240 W marker, under 3 A":    {m240 + none, 0, "bench", true},
		"invalid current, 5 A":       {invalid + five, 60, "marker", true},
		"PD 2.0 marker, 5 A":         {pd2 + five, 100, "marker", false},
		"EPR without 50 V, 5 A":      {no50V + five, 100, "marker", true},
		"legacy, 5 A":                {legacy + five, 15, "seller", true},
		"legacy, under 3 A":          {legacy + none, 0, "bench", true},
		"VBUS alone":                 {m100 + "bench: {ohmmeter: 0.01 mΩ, vbus: 90 mohm}\n", 0, "bench", false},
		"VBUS alone, over":           {m100 + "bench: {ohmmeter: 0.01 mΩ, vbus: 170 mohm}\n", 0, "bench", true},
		"loop proves 5 A":            {m240 + "bench: {ohmmeter: 0.01 mΩ, loop: 49 mohm}\n", 240, "", true},
		"loop proves 3 A":            {m240 + "bench: {ohmmeter: 0.01 mΩ, loop: 83.0 mohm}\n", 60, "bench", false},
		"loop proves nothing":        {m240 + "bench: {ohmmeter: 0.01 mΩ, loop: 140 mohm}\n", 0, "bench", false},
		"loop disproves 5 A":         {m240 + "bench: {ohmmeter: 0.01 mΩ, loop: 151 mohm}\n", 0, "bench", false},
		"loop disproves 3 A":         {m240 + "bench: {ohmmeter: 0.01 mΩ, loop: 251 mohm}\n", 0, "bench", true},
		"loop and VBUS give ground":  {m240 + "bench: {ohmmeter: 0.01 mΩ, loop: 140 mohm, vbus: 95 mohm}\n", 240, "", true},
		"c-to-c, 240 W marker, 5 A":  {"claims: {plugs: c-to-c}\n" + m240 + five, 240, "", true},
		"far plug alone, 5 A":        {`marker: {far: "FF00A041 20602FA1 0 0 006A3E5B 46503209"}` + "\n" + five, 240, "", true},
		"VBUS does not run through":  {`marker: {near: "FF00A041 20602FA1 0 0 006A3E4B 46503209"}` + "\n" + five, 0, "marker", true},
		"VPD with charge-through 5A": {`marker: {near: "FF00A041 74602FA1 0 0 110050C3"}` + "\n" + five, 100, "marker", true},
		"VPD without charge-through": {`marker: {near: "FF00A041 74602FA1 0 0 11000000"}` + "\n" + five, 0, "marker", true},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			r := caseOf(t, strings.NewReplacer(" 0 0 ", " 00000000 00000000 ").Replace(tt.sections)).Rating()
			var limited []string
			for _, w := range r.LimitedBy {
				limited = append(limited, string(w))
			}
			got := []any{r.PowerW, strings.Join(limited, " "), r.Settled}
			if diff := cmp.Diff([]any{tt.watts, tt.limited, tt.settled}, got); diff != "" {
				t.Errorf("-want +got:\n%s%s", diff, r.Reason)
			}
			if r.PowerW > r.VoltageV*r.CurrentA {
				t.Errorf("%d W from %d V and %d A", r.PowerW, r.VoltageV, r.CurrentA)
			}
		})
	}
}

// TestTiers: USB Type-C R2.0, Table 3-1 and 4.4.1 (3 A and 5 A at 20 V), R2.1, 3.11
// (48 V and 5 A); a legacy cable gives 5 V and 3 A.
func TestTiers(t *testing.T) {
	want := []Tier{{Watts: 240, Volts: 48, Amps: 5}, {Watts: 100, Volts: 20, Amps: 5}, {Watts: 60, Volts: 20, Amps: 3}}
	if diff := cmp.Diff(want, Tiers()); diff != "" {
		t.Error(diff)
	}
	if want := (Tier{Watts: 15, Volts: 5, Amps: 3}); tierLegacy != want {
		t.Errorf("%v", tierLegacy)
	}
}

// TestSupport: what marker and copper support, each by itself, and why.
func TestSupport(t *testing.T) {
	for _, tt := range []struct {
		sections string
		support  func(*Case) Support
		want     Tier
		settled  bool
		why      string // its beginning
	}{
		{near(ack2, vpdID, 0, 0, 0x110050C3), (*Case).MarkerSupport, tier100, true, "The marker is a VCONN-powered device that declares charge-through at 5 A"},
		{near(ack2, vpdID, 0, 0, 0x110010C3), (*Case).MarkerSupport, tier60, true, "The marker declares 3 A"},
		{passive("vbus-current", 0), (*Case).MarkerSupport, tier60, true, "The marker declares no valid current"},
		{passive("vbus-current", 1), (*Case).MarkerSupport, tier60, true, "The marker declares 3 A"},
		{passive("vbus-current", 2), (*Case).MarkerSupport, tier100, true, "The marker declares 5 A without EPR"},
		{near(ack2, passiveID, 0, 0, 0x000A2042), (*Case).MarkerSupport, tier100, true, "The marker declares 5 A and EPR, but not 50 V"},
		{near(ack2, passiveID, 0, 0, 0x000A2642), (*Case).MarkerSupport, tier240, true, "The marker declares 5 A, 50 V and EPR"},
		{near(ack1, passiveID, 0, 0, 0x00082051), (*Case).MarkerSupport, tier100, false, "The marker declares 5 A in a PD 2.0 answer"},
		{near(ack2, activeID, 0, 0, 0x00483852, activeTwo), (*Case).MarkerSupport, tier100, true, "The marker declares 5 A without EPR"}, // VDO version 1.2
		{"", (*Case).MarkerSupport, tier60, false, "The marker was not read"},
		{"bench: {ohmmeter: 0.01 mΩ, vbus: 90 mohm, ground: 45 mohm}\n", benchSupport, tier240, true, "The copper is within the limits at 5 A: VBUS 90.00 ± 0.48 mΩ (limit 100 mΩ)"},
		{"bench: {ohmmeter: 0.01 mΩ, vbus: 120 mohm, ground: 60 mohm}\n", benchSupport, tier60, true, "The copper is within the limits at 3 A and over a limit at 5 A: VBUS 120.00 ± 0.48 mΩ (limit 100 mΩ)"},
		{"bench: {ohmmeter: 0.01 mΩ, vbus: 100 mohm, ground: 45 mohm}\n", benchSupport, tier60, false, "The copper is within the limits at 3 A and not settled at 5 A: VBUS 100.00 ± 0.48 mΩ (limit 100 mΩ)"},
		{"bench: {ohmmeter: 0.01 mΩ, vbus: 170 mohm, ground: 60 mohm}\n", benchSupport, Tier{}, true, "The copper is over a limit at 3 A"},
		{"", benchSupport, Tier{}, false, "No resistance was measured"},
	} {
		got := tt.support(caseOf(t, tt.sections))
		if got.Tier != tt.want || got.Settled != tt.settled || !strings.HasPrefix(got.Why, tt.why) {
			t.Errorf("%s: %+v, want %v, %t, %q", tt.sections, got, tt.want, tt.settled, tt.why)
		}
	}
	if got := verb(bench.Within); got != "within the limits" {
		t.Error(got)
	}
	if s := (vdo.Summary{Volts: vdo.Some(50), Amps: vdo.Some(5)}); s.EPRWhole() {
		t.Error("50 V and 5 A alone make an EPR cable")
	}
}

// TestNumbers: one conductor whose meter's accuracy is assumed.
func TestNumbers(t *testing.T) {
	got := benchSupport(caseOf(t, "bench: {vbus: 175 mohm}\n")).Why
	want := "The copper is over a limit at 3 A, which every Type-C cable must carry: VBUS 175.0 ± 4.4 mΩ (limit 166.7 mΩ)" +
		" (the accuracy of a meter is assumed)."
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestWhatIsKnown(t *testing.T) {
	e := &bench.Estimate{}
	for _, tt := range []struct {
		r        bench.Result
		loopOnly bool
		unsensed bench.Conductor
	}{
		{bench.Result{}, false, 0},
		{bench.Result{Loop: e}, true, 0},
		{bench.Result{VBUS: e}, false, bench.Ground},
		{bench.Result{Ground: e}, false, bench.VBUS},
		{bench.Result{VBUS: e, Loop: e}, false, bench.Ground},
		{bench.Result{Ground: e, Loop: e}, false, bench.VBUS},
		{bench.Result{VBUS: e, Ground: e, Loop: e}, false, 0},
	} {
		if got := tt.r.LoopOnly(); got != tt.loopOnly {
			t.Errorf("%+v: loop alone %t", tt.r, got)
		}
		if got := tt.r.Unsensed(); got != tt.unsensed {
			t.Errorf("%+v: unsensed %v", tt.r, got)
		}
	}
}

// TestNeededAmps: 3 A up to 60 W, and 63 W with a programmable supply at 21 V; else 5 A.
func TestNeededAmps(t *testing.T) {
	for watts, want := range map[float64]float64{15: 3, 60: 3, 63: 3, 63.1: 5, 100: 5, 240: 5} {
		if got := NeededAmps(watts); got != want {
			t.Errorf("%v W: %v A, want %v", watts, got, want)
		}
	}
}

func TestSellerAmps(t *testing.T) {
	for sections, want := range map[string]float64{
		"": 0, "claims: {voltage: 20 V}\n": 0,
		"claims: {current: 2 A}\n": 3, "claims: {current: 4 A}\n": 4, "claims: {power: 60 W}\n": 3, "claims: {power: 100 W}\n": 5,
		"claims: {power: 100 W, current: 3 A}\n": 5, "claims: {power: 60 W, current: 5 A}\n": 5, "claims: {power: 20 W, plugs: c-to-a}\n": 3,
		"claims: {power: 66 W, voltage: 11 V, current: 6 A, plugs: c-to-a}\n": 6, "claims: {power: 66 W, voltage: 11 V, plugs: c-to-a}\n": 6,
	} {
		got, ok := caseOf(t, sections).SellerAmps()
		if ok != (want > 0) || ok && got != want {
			t.Errorf("%s: %v A, %t, want %v", sections, got, ok, want)
		}
	}
}

func TestTierFor(t *testing.T) {
	for w, want := range map[float64]Tier{1: tier60, 60: tier60, 60.1: tier100, 100: tier100, 140: tier240, 180: tier240, 240: tier240} {
		if got, ok := TierFor(w); !ok || got != want {
			t.Errorf("%v W: %v, %t", w, got, ok)
		}
	}
	if got, ok := TierFor(240.1); ok {
		t.Errorf("240.1 W: %v", got)
	}
}
