package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
)

// ShelfVerdict is one cable held against one level of a load.
type ShelfVerdict struct {
	Volts       float64  `json:"volts"`                  // of the level, V
	Amps        float64  `json:"amps"`                   // of the level, A
	Fit         string   `json:"fit"`                    // fit, not settled or not fit
	Why         []string `json:"why"`                    // in sentences
	NeedsMarker string   `json:"needs_marker,omitempty"` // why a source asks for one
	// FarEndV, with its expanded uncertainty, and LossW are absent without the
	// loop's resistance.
	FarEndV        *float64 `json:"far_end_v,omitempty"`
	FarEndExpanded *float64 `json:"far_end_expanded,omitempty"` // expanded uncertainty of FarEndV, V
	LossW          *float64 `json:"loss_w,omitempty"`           // heat in the cable, W
}

// ShelfLoad is a load with what the shelf has for it, by level.
type ShelfLoad struct {
	Asked  string       `json:"asked"`  // the load as given
	Levels []LevelCount `json:"levels"` // the lowest voltage first
}

// LevelCount counts the outcomes at one level.
type LevelCount struct {
	Volts      float64 `json:"volts"`       // of the level, V
	Amps       float64 `json:"amps"`        // of the level, A
	Fit        int     `json:"fit"`         // cables shown fit
	NotSettled int     `json:"not_settled"` // cables for which it is not settled
	NotFit     int     `json:"not_fit"`     // cables shown not fit
}

// NewShelfVerdicts gives the published form of a cable held against a load.
func NewShelfVerdicts(h shelf.Held) []ShelfVerdict {
	var out []ShelfVerdict
	for _, v := range h.Verdicts {
		one := ShelfVerdict{Volts: v.Level.Volts, Amps: v.Level.Amps, Fit: v.Fit.String(), Why: v.Why, NeedsMarker: v.Level.NeedsMarker()}
		if v.FarEndVolt.Known {
			one.FarEndV, one.LossW = figures(v.FarEndVolt.Value), figures(v.LossWatt.Value)
			if v.FarEndWithin > 0 {
				one.FarEndExpanded = figures(v.FarEndWithin)
			}
		}
		out = append(out, one)
	}
	return out
}

// NewShelfLoad counts what a shelf has for a load.
func NewShelfLoad(l shelf.Load, held []shelf.Held) *ShelfLoad {
	out := &ShelfLoad{Asked: l.Text}
	for i, level := range l.Levels {
		n := LevelCount{Volts: level.Volts, Amps: level.Amps}
		for _, h := range held {
			switch h.Verdicts[i].Fit {
			case claims.ShownFit:
				n.Fit++
			case claims.Unsettled:
				n.NotSettled++
			default:
				n.NotFit++
			}
		}
		out.Levels = append(out.Levels, n)
	}
	return out
}

// LoadText prints which cables are shown fit for a load, and why the others are
// not.
func LoadText(l shelf.Load, held []shelf.Held, style Style) string {
	var b strings.Builder
	first := l.Levels[0]
	writeWrapped(&b, "To carry "+first.String()+levelNote(first), style)
	b.WriteString("\n")
	levels := grid{head: []gridHead{{"Level", false}, {"Fit", true}, {"Not settled", true}, {"Not fit", true}, {"A marker", false}}}
	for i, n := range NewShelfLoad(l, held).Levels {
		levels.add(l.Levels[i].String(), fmt.Sprint(n.Fit), fmt.Sprint(n.NotSettled), fmt.Sprint(n.NotFit), markerNote(l.Levels[i]))
	}
	levels.write(&b, style)
	if len(l.Levels) > 1 {
		b.WriteString("\n")
		paragraph(&b, "", "", "These published levels give "+quantity.Format(l.Watts, quantity.Power, 4)+
			". Below, cables are held against the first, which every source of that power offers.")
	}
	for _, fit := range []claims.Fit{claims.ShownFit, claims.Unsettled, claims.Unfit} {
		t := grid{head: []gridHead{{"Cable", false}, {"Far end", true}, {"Loss", true}, {"Why", false}}}
		for _, h := range held {
			if h.Fit() != fit {
				continue
			}
			v := h.Verdicts[0]
			t.add(Plain(h.Item.Cable), farEndText(v), lossText(v), Plain(strings.Join(v.Why, " ")))
		}
		if len(t.rows) == 0 {
			continue
		}
		section(&b, map[claims.Fit]string{claims.ShownFit: "Shown fit", claims.Unsettled: "Not settled", claims.Unfit: "Not fit"}[fit], style)
		t.write(&b, style)
	}
	return b.String()
}

func writeWrapped(b *strings.Builder, text string, style Style) {
	for _, line := range wrap(text, Width) {
		b.WriteString(style.paint(bold, line) + "\n")
	}
}

// levelNote says at what current the copper is held.
func levelNote(l shelf.Level) string {
	if l.Amps < claims.LeastAmps {
		return fmt.Sprintf(", the copper held at %d A, which every Type-C cable must carry", claims.LeastAmps)
	}
	return ""
}

// markerNote says whether a source asks for a marker.
func markerNote(l shelf.Level) string {
	if why := l.NeedsMarker(); why != "" {
		return "is needed: " + why
	}
	return "is not needed"
}

// farEndText prints the voltage at the far end.
func farEndText(v shelf.Verdict) string {
	if !v.FarEndVolt.Known {
		return "-"
	}
	return fmt.Sprintf("%.2f V", v.FarEndVolt.Value)
}

// lossText prints the heat in the cable and its share of what the source gives.
func lossText(v shelf.Verdict) string {
	if !v.LossWatt.Known {
		return "-"
	}
	return fmt.Sprintf("%s, %.1f %%", quantity.Format(v.LossWatt.Value, quantity.Power, 3),
		100*v.LossWatt.Value/(v.Level.Volts*v.Level.Amps))
}
