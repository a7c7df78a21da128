package bench

import (
	"fmt"

	"example.com/gainsay/claims/quantity"
)

// CautionKind is what a caution is about.
type CautionKind uint8

// The kinds of caution. Value and Threshold of the Caution are in the unit named
// here.
const (
	// WarmVerdict: within at ambient, no longer shown within when RiseKelvin
	// warmer. Value and Threshold are zero.
	WarmVerdict CautionKind = iota + 1
	// HeatAboveLimit: more heat than in a cable just at its limits; watt.
	HeatAboveLimit
	// SheathWarm: the sheath's rise, roughly, is above RiseKelvin; kelvin.
	SheathWarm
	// ContactSuspect: the resistance rose with the test current; ohm, against
	// its uncertainty.
	ContactSuspect
)

var cautionKinds = [...]string{
	WarmVerdict: "warm-verdict", HeatAboveLimit: "heat-above-limit",
	SheathWarm: "sheath-warm", ContactSuspect: "contact-suspect",
}

// String returns the kind as a phrase in kebab-case.
func (k CautionKind) String() string {
	if int(k) < len(cautionKinds) {
		return cautionKinds[k]
	}
	return ""
}

// MarshalText returns the same phrase as String. It never fails.
func (k CautionKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Caution is what the numbers warn of. The absence of one shows nothing.
type Caution struct {
	Kind      CautionKind // what it is about; names the unit of the next two
	Value     float64     // the number that is too large
	Threshold float64     // what it is held against
	Source    string      // of the threshold
	Text      string      // one clause with the numbers
}

// Cautions returns what to mind when a cable is used at a current in ampere. warm is
// r.Risen(RiseKelvin), which callers most often have at hand.
func Cautions(r, warm Result, amp float64, by Acceptance) []Caution {
	var out []Caution
	at := func() string { return quantity.Format(amp, quantity.Current, 3) }
	for _, n := range r.Notes {
		if n.Kind == HeatingOrContact && n.Value > 0 {
			out = append(out, Caution{ContactSuspect, n.Value, n.Expanded, "GUM 5.1.2, its expanded uncertainty",
				fmt.Sprintf("%s: the resistance rises with the current; a contact may get hot, stop and look before testing at more", n.Conductor.Name())})
		}
	}
	if DecideCable(r, amp, by).Outcome == Within {
		if warm := DecideCable(warm, amp, by); warm.Outcome != Within {
			out = append(out, Caution{WarmVerdict, 0, 0, "copper, IEC 60028: 0.393 %/K",
				fmt.Sprintf("within at %s as measured, %s with the copper %d K warmer", at(), map[Outcome]string{Over: "over", Undecided: "not decided"}[warm.Outcome], RiseKelvin)})
		}
	}
	if h, ok := HeatAt(r, amp); ok {
		if limit := LoopLimitVolt * amp; h.Watt > limit {
			out = append(out, Caution{HeatAboveLimit, h.Watt, limit, "USB Type-C §4.4.1",
				fmt.Sprintf("%s of heat at %s, a cable at its limits has %s", quantity.Format(h.Watt, quantity.Power, 3), at(), quantity.Format(limit, quantity.Power, 3))})
		}
		if k := h.SheathKelvin; k.Known && k.Value > RiseKelvin {
			out = append(out, Caution{SheathWarm, k.Value, RiseKelvin, "USB Type-C §3.7.8.4; heat transfer from memory",
				fmt.Sprintf("%s per metre at %s, roughly %.0f K on the sheath; for what may be touched see IEC 62368-1 and ISO 13732-1", quantity.Format(h.WattPerMetre.Value, quantity.Power, 3), at(), k.Value)})
		}
	}
	return out
}
