package claims

import (
	"testing"

	"example.com/gainsay/claims/record"
)

// TestHighest: of what several places claim, the highest of each counts, whichever place
// has it, and also where one place is silent.
func TestHighest(t *testing.T) {
	const (
		less   = "power: 60 W, current: 3 A, voltage: 20 V, length: 1 m, data: 10 Gbps, video: 4K30"
		more   = "power: 240 W, current: 5 A, voltage: 48 V, length: 2 m, data: 40 Gbps, video: 4K60"
		silent = "marked: true"
	)
	want := highest(recordOf(t, "claims: {"+more+"}\n").Claims)
	for _, places := range [][2]string{{less, more}, {more, less}, {silent, more}, {more, silent}, {more, more}} {
		rec := recordOf(t, "claims: [{source: label, "+places[0]+"}, {source: page, "+places[1]+"}]\n")
		got := highest(rec.Claims)
		for name, pair := range map[string][2]any{
			"power": {got.Power.Value, want.Power.Value}, "current": {got.Current.Value, want.Current.Value},
			"voltage": {got.Voltage.Value, want.Voltage.Value}, "length": {got.Length.Value, want.Length.Value},
			"data": {got.Data.Value, want.Data.Value}, "video": {got.Video.Value, want.Video.Value},
		} {
			if pair[0] != pair[1] {
				t.Errorf("%q: %s is %v, want %v", places, name, pair[0], pair[1])
			}
		}
	}
	if got := highest(nil); got.Power.Known || got.Data != (record.Claims{}).Data {
		t.Errorf("nothing claimed: %+v", got)
	}
}
