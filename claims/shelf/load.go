package shelf

import (
	"regexp"
	"strings"
	"sync"

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

// What a cable without a readable marker may be used for: 20 V and 3 A (USB
// Type-C R2.0, Table 4-3 and §4.6; more needs a marker's word).
const (
	unmarkedVolts = 20
	unmarkedAmps  = 3
)

// NeedsMarker says why a source asks a marker before it gives this level; it is
// empty where it need not.
func (l Level) NeedsMarker() string {
	var why []string
	if l.Amps > unmarkedAmps {
		why = append(why, "more than 3 A")
	}
	if l.Volts > unmarkedVolts {
		why = append(why, "more than 20 V")
	}
	return strings.Join(why, " and ")
}

// published are the fixed levels of USB PD with the most that the power rules
// give at each (USB PD R3.2, §10.2: 5, 9 and 15 V to 3 A, 20 V to 5 A, and the EPR
// levels to 5 A; from memory).
var published = []Level{{5, 3}, {9, 3}, {15, 3}, {20, 5}, {28, 5}, {36, 5}, {48, 5}}

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
		case volts > 48 || amps > 5:
			return bad(nil, "USB Power Delivery goes to 48 V and 5 A")
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
	for _, p := range published {
		if watts <= p.Volts*p.Amps {
			l.Levels = append(l.Levels, Level{p.Volts, watts / p.Volts})
		}
	}
	if l.Levels == nil {
		return bad(nil, "no published level gives so much; the highest is 240 W, 48 V at 5 A")
	}
	return l, nil
}

// Fit is whether a cable is shown fit for a load.
type Fit uint8

// The outcomes, in the order they are listed.
const (
	ShownFit  Fit = iota // marker and copper both allow it
	Unsettled            // neither forbids it, and one does not show it
	Unfit                // marker or copper forbids it
)

// String names the outcome.
func (f Fit) String() string {
	switch f {
	case ShownFit:
		return "fit"
	case Unsettled:
		return "not settled"
	}
	return "not fit"
}

// Verdict is one cable held against one level.
type Verdict struct {
	Level Level // what it is held against
	Fit   Fit   // what it comes to
	// Why says what keeps the cable from being shown fit, or what shows it.
	Why []string
	// FarEndVolt is the voltage left at the far end with the source at the level's
	// voltage, within FarEndWithin; LossWatt is the heat in the cable. They are not
	// known without the loop's resistance.
	FarEndVolt, LossWatt bench.Number
	FarEndWithin         float64 // 0 where the uncertainty is only a lower bound
}

// Hold holds a cable against a level. The marker has to let a source give it, and
// the copper has to keep the limits at its current, and at 3 A where that is more,
// since every Type-C cable must carry 3 A.
func (it *Item) Hold(l Level) Verdict {
	v := Verdict{Level: l, Fit: ShownFit}
	object := func(f Fit, why string) {
		if f > v.Fit {
			v.Fit = f
		}
		v.Why = append(v.Why, why)
	}
	m := it.Marker
	switch {
	case l.Volts <= float64(m.Tier.Volts) && l.Amps <= float64(m.Tier.Amps):
	case m.Settled:
		object(Unfit, m.Why)
	default:
		object(Unsettled, m.Why)
	}
	amps := max(l.Amps, unmarkedAmps)
	d := bench.DecideCable(it.Result, amps, it.Rule)
	switch d.Outcome {
	case bench.Over:
		object(Unfit, sentence(d.Why()))
	case bench.Undecided:
		object(Unsettled, sentence(d.Why()))
	}
	if v.Fit == ShownFit {
		v.Why = []string{sentence(d.Why())}
	}
	if loop := it.Result.Loop; loop != nil {
		v.FarEndVolt = bench.Known(bench.FarEndVolt(l.Volts, l.Amps, loop.Ohm))
		v.LossWatt = bench.Known(l.Amps * l.Amps * loop.Ohm)
		if !loop.LowerBound {
			v.FarEndWithin = l.Amps * loop.Expanded
		}
	}
	return v
}

// sentence makes a sentence of a clause.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// Held is one cable held against every level of a load. The first level counts:
// every source of that power has to offer it.
type Held struct {
	Item     *Item     // the cable
	Verdicts []Verdict // one for each level
}

// Fit is the outcome at the load's first level.
func (h Held) Fit() Fit { return h.Verdicts[0].Fit }

// Hold holds every cable against a load: those shown fit first, then those not
// settled, each in the order given.
func (l Load) Hold(items []*Item) []Held {
	var out [Unfit + 1][]Held
	for _, it := range items {
		h := Held{Item: it}
		for _, level := range l.Levels {
			h.Verdicts = append(h.Verdicts, it.Hold(level))
		}
		out[h.Fit()] = append(out[h.Fit()], h)
	}
	return append(append(out[ShownFit], out[Unsettled]...), out[Unfit]...)
}
