package shelf

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
)

func TestParseLoad(t *testing.T) {
	pair := map[string]Level{
		"20 V 3.25 A": {20, 3.25}, "20V 3.25A": {20, 3.25}, "20V/5A": {20, 5}, "3 A 9 V": {9, 3}, "48 V, 5 A": {48, 5},
		"5V@500mA": {5, 0.5}, "20V x 5A": {20, 5},
	}
	for text, want := range pair {
		l, err := ParseLoad(text)
		if err != nil || len(l.Levels) != 1 || l.Levels[0] != want {
			t.Errorf("%q gives %v, %v; want %v", text, l.Levels, err, want)
		}
	}
	// By the power rules: 3 A up to 15 V, 5 A from 20 V on.
	power := map[string][]Level{
		"15 W":  {{5, 3}, {9, 15.0 / 9}, {15, 1}, {20, 0.75}, {28, 15.0 / 28}, {36, 15.0 / 36}, {48, 15.0 / 48}},
		"65 W":  {{20, 3.25}, {28, 65.0 / 28}, {36, 65.0 / 36}, {48, 65.0 / 48}},
		"140 W": {{28, 5}, {36, 140.0 / 36}, {48, 140.0 / 48}},
		"240W":  {{48, 5}},
	}
	for text, want := range power {
		l, err := ParseLoad(text)
		if diff := cmp.Diff(want, l.Levels); err != nil || diff != "" {
			t.Errorf("%q: %v (-want +got):\n%s", text, err, diff)
		}
	}
	for text, says := range map[string]string{
		"": "neither", "20 V": "neither", "3 A": "neither", "241 W": "no published level", "20 V 6 A": "48 V and 5 A", "50 V 1 A": "48 V and 5 A",
		"0 W": "not above zero", "-5 W": "not above zero", "0 V 1 A": "not above zero", "20 W 3 A": "power", "1,500 V 1 A": "two", "20": "neither",
	} {
		var own *Error
		if _, err := ParseLoad(text); !errors.As(err, &own) || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: error %v, want one that says %q", text, err, says)
		}
	}
}

// The markers: 5 A without EPR, 5 A with EPR and 50 V, none.
const (
	marker100 = `{near: "FF00A041 18602FA1 00000000 01020100 00082042"}`
	marker240 = `{near: "FF00A041 18602FA1 00000000 01020100 000A2643"}`
	unmarked  = `{asked: true}`
	unread    = `{}`
)

func TestHold(t *testing.T) {
	good, three, near := "vbus: 80 mohm, ground: 30 mohm", "vbus: 120 mohm, ground: 60 mohm", "vbus: 99.9 mohm, ground: 30 mohm"
	bad := "vbus: 200 mohm, ground: 60 mohm"
	tests := []struct {
		name, marker, bench, load string
		fit                       claims.Fit
		says                      string
	}{
		{"marker and copper give it", marker100, good, "20 V 5 A", claims.ShownFit, "keep their limits at 5 A"},
		{"EPR", marker240, good, "48 V 5 A", claims.ShownFit, ""},
		{"no EPR", marker100, good, "28 V 1 A", claims.Unfit, "without EPR"},
		{"unmarked is enough", unmarked, good, "20 V 3 A", claims.ShownFit, ""},
		{"unmarked is not enough", unmarked, good, "20 V 3.25 A", claims.Unfit, "without a marker"},
		{"unread is enough", unread, good, "20 V 3 A", claims.ShownFit, ""},
		{"unread is not settled", unread, good, "20 V 3.25 A", claims.Unsettled, "not read"},
		{"the copper is over", marker100, three, "20 V 5 A", claims.Unfit, "over"},
		{"the copper is within at less", marker100, three, "20 V 3.25 A", claims.ShownFit, ""},
		{"too near the limit", marker100, near, "20 V 5 A", claims.Unsettled, "not decided"},
		{"over at 3 A is fit for nothing", marker100, bad, "5 V 0.5 A", claims.Unfit, "over"},
		{"not measured", marker100, "plugs: c-to-c", "20 V 3 A", claims.Unsettled, "o resistance"},
		{"legacy at 5 V", unread, "plugs: c-to-a, " + good, "5 V 3 A", claims.ShownFit, ""},
		{"legacy has no PD", unread, "plugs: c-to-a, " + good, "9 V 2 A", claims.Unfit, "Power Delivery does not work"},
		{"both object, the worse counts", unread, bad, "20 V 5 A", claims.Unfit, "over"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := fill(t, "gainsay: 1\ncable: a\nmarker: "+tt.marker+"\nbench: {ohmmeter: 0.5 % + 0.1 mohm, "+tt.bench+"}\n")
			l, err := ParseLoad(tt.load)
			if err != nil {
				t.Fatal(err)
			}
			v := l.Hold(s.Items())[0].Verdicts[0]
			if v.Fit != tt.fit || !strings.Contains(strings.Join(v.Why, " "), tt.says) {
				t.Errorf("%s: %q; want %s, %q", v.Fit, v.Why, tt.fit, tt.says)
			}
		})
	}
}

// TestFarEnd: 80 + 30 mΩ at 20 V and 5 A leave 20 − 0.55 V, and 2.75 W stay in the
// cable.
func TestFarEnd(t *testing.T) {
	v := fill(t, three).Items()[0].Hold(Level{20, 5})
	if math.Abs(v.FarEndVolt.Value-19.45) > 1e-12 || math.Abs(v.LossWatt.Value-2.75) > 1e-12 {
		t.Errorf("far end %v, loss %v", v.FarEndVolt, v.LossWatt)
	}
	if v := fill(t, three).Items()[2].Hold(Level{20, 5}); v.FarEndVolt.Known || v.LossWatt.Known {
		t.Error("a far end without a measurement")
	}
	if got := (Level{28, 5}).NeedsMarker(); got != "more than 3 A and more than 20 V" {
		t.Errorf("28 V 5 A needs a marker for %q", got)
	}
	if got := (Level{20, 3}).NeedsMarker(); got != "" {
		t.Errorf("20 V 3 A needs a marker for %q", got)
	}
}

func TestHeldOrder(t *testing.T) {
	l, _ := ParseLoad("20 V 3 A")
	var got []string
	for _, h := range l.Hold(fill(t, three).Items()) {
		got = append(got, h.Item.Cable+" "+h.Fit().String())
	}
	if diff := cmp.Diff([]string{"a fit", "b fit", "c not settled"}, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func FuzzParseLoad(f *testing.F) {
	f.Add("20 V 3.25 A")
	f.Add("65 W")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLoad(text)
		if err != nil {
			return
		}
		for _, level := range l.Levels {
			if !(level.Volts > 0 && level.Volts <= 48 && level.Amps > 0 && level.Amps <= 5) {
				t.Errorf("%q gives %v", text, level)
			}
		}
	})
}
