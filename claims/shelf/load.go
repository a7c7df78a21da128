package shelf

import (
	"fmt"
	"regexp"
	"strings"
	"sync"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

// Level is a voltage and a current that a source offers.
type Level struct {
	Volts, Amps float64 // V and A, above zero
}

// String is the level as "20 V 3.25 A".
func (l Level) String() string {
	return quantity.Format(l.Volts, quantity.Voltage, 4) + " " + quantity.Format(l.Amps, quantity.Current, 3)
}

// NeedsMarker says why a source asks a marker before it gives this level; it is
// empty where it need not.
func (l Level) NeedsMarker() string {
	var why []string
	if l.Amps > claims.LeastAmps {
		why = append(why, fmt.Sprintf("more than %d A", claims.LeastAmps))
	}
	if l.Volts > claims.SPRVolts {
		why = append(why, fmt.Sprintf("more than %d V", claims.SPRVolts))
	}
	return strings.Join(why, " and ")
}

// Load is what a cable is to carry: one level, or a power with every published
// level that gives it, the lowest voltage first.
type Load struct {
	Text   string  // as asked for
	Watts  float64 // W; of a level, its volts times its amperes
	Levels []Level // at least one
}

var loadPair = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*([0-9.,]+\s*[A-Za-zµμ]+)[\s,/@×x]+([0-9.,]+\s*[A-Za-zµμ]+)\s*$`)
})

// ParseLoad reads a level, as "20 V 3.25 A", up to 48 V and 5 A, or a power, as
// "65 W", up to 240 W. The error is an *Error with the cause ErrLoad; below it is a
// *quantity.Error where a part is no quantity.
func ParseLoad(text string) (Load, error) {
	bad := func(err error, wrong string) (Load, error) {
		return Load{}, &Error{Text: text, Wrong: wrong, Want: `write it like "20 V 3.25 A" or "65 W"`, Err: ErrLoad, Cause: err}
	}
	highest := claims.Tiers()[0]
	if m := loadPair().FindStringSubmatch(text); m != nil {
		first, second := m[1], m[2]
		if strings.HasSuffix(strings.ToLower(first), "a") {
			first, second = second, first
		}
		volts, err := quantity.Parse(first, quantity.Voltage)
		if err != nil {
			return bad(err, err.Error())
		}
		amps, err := quantity.Parse(second, quantity.Current)
		if err != nil {
			return bad(err, err.Error())
		}
		switch {
		case !(volts > 0) || !(amps > 0):
			return bad(nil, "not above zero")
		case volts > float64(highest.Volts) || amps > float64(highest.Amps):
			return bad(nil, fmt.Sprintf("USB Power Delivery goes to %d V and %d A", highest.Volts, highest.Amps))
		}
		return Load{Text: text, Watts: volts * amps, Levels: []Level{{volts, amps}}}, nil
	}
	watts, err := quantity.Parse(strings.TrimSpace(text), quantity.Power)
	if err != nil {
		return bad(err, "neither a voltage with a current nor a power")
	}
	if !(watts > 0) {
		return bad(nil, "not above zero")
	}
	l := Load{Text: text, Watts: watts}
	for _, p := range claims.Levels() {
		level := Level{float64(p.Volts), watts / float64(p.Volts)}
		if n := len(l.Levels); watts <= float64(p.Watts) && (n == 0 || l.Levels[n-1].Volts != level.Volts) {
			l.Levels = append(l.Levels, level)
		}
	}
	if l.Levels == nil {
		return bad(nil, "no published level gives so much; the highest is "+highest.String())
	}
	return l, nil
}

// Verdict is one cable held against one level.
type Verdict struct {
	Level Level      // what it is held against
	Fit   claims.Fit // the outcome
	// Why says what keeps the cable from being shown fit, or what shows it.
	Why []string
	// FarEndVolt is the voltage left at the far end with the source at the level's
	// voltage, within FarEndWithin; LossWatt is the heat in the cable. They are not
	// known without the loop's resistance.
	FarEndVolt, LossWatt bench.Number
	FarEndWithin         float64 // V
}

// Hold holds a cable against a level. The marker has to let a source give it, and
// the copper has to keep the limits at its current, and at 3 A where that is more,
// since every Type-C cable must carry 3 A.
func (it *Item) Hold(l Level) Verdict {
	v := Verdict{Level: l}
	v.Fit, v.Why = claims.FitFor(it.Marker, it.Result, it.Acceptance, l.Volts, l.Amps)
	if v.Fit == claims.ShownFit { // never without what speaks against the cable
		v.Why = append(v.Why, it.Caveats...)
	}
	if loop := it.Result.Loop; loop != nil {
		v.FarEndVolt = bench.Known(bench.FarEndVolt(l.Volts, l.Amps, loop.Ohm))
		v.LossWatt = bench.Known(l.Amps * l.Amps * loop.Ohm)
		v.FarEndWithin = l.Amps * loop.Expanded
	}
	return v
}

// Held is one cable held against every level of a load. The first level counts:
// every source of that power has to offer it.
type Held struct {
	Item     *Item     // the cable
	Verdicts []Verdict // one for each level
}

// Fit is the outcome at the load's first level.
func (h Held) Fit() claims.Fit { return h.Verdicts[0].Fit }

// Hold holds every cable against a load: those shown fit first, then those not
// settled, each in the order given.
func (l Load) Hold(items []*Item) []Held {
	var out [claims.Unfit + 1][]Held
	for _, it := range items {
		h := Held{Item: it}
		for _, level := range l.Levels {
			h.Verdicts = append(h.Verdicts, it.Hold(level))
		}
		out[h.Fit()] = append(out[h.Fit()], h)
	}
	return append(append(out[claims.ShownFit], out[claims.Unsettled]...), out[claims.Unfit]...)
}
