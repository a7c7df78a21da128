package frame

import "example.com/gainsay/vdo"

// Set is an ordered set: the four K-codes that open a packet and say for whom it
// is, or that stand alone as a reset.
type Set uint8

const (
	SetUnknown          Set = iota // none that is known
	SOP                            // to and from the port partner
	SOPPrime                       // SOP′, the plug next to the VCONN source
	SOPDoublePrime                 // SOP″, the plug at the far end
	SOPPrimeDebug                  // SOP′_Debug, not for cables' answers
	SOPDoublePrimeDebug            // SOP″_Debug, not for cables' answers
	HardReset                      // to the port partner
	CableReset                     // to the plugs
)

// SetSymbols is the number of K-codes in an ordered set.
const SetSymbols = 4

var sets = [...]struct {
	name    string
	symbols [SetSymbols]Symbol // in the order of the wire
	plug    vdo.Plug
}{
	SetUnknown:          {name: "unknown ordered set"},
	SOP:                 {"SOP", [...]Symbol{Sync1, Sync1, Sync1, Sync2}, vdo.PlugPartner},
	SOPPrime:            {"SOP′", [...]Symbol{Sync1, Sync1, Sync3, Sync3}, vdo.PlugNear},
	SOPDoublePrime:      {"SOP″", [...]Symbol{Sync1, Sync3, Sync1, Sync3}, vdo.PlugFar},
	SOPPrimeDebug:       {"SOP′_Debug", [...]Symbol{Sync1, Rst2, Rst2, Sync3}, vdo.PlugUnknown},
	SOPDoublePrimeDebug: {"SOP″_Debug", [...]Symbol{Sync1, Rst2, Sync3, Sync2}, vdo.PlugUnknown},
	HardReset:           {"Hard Reset", [...]Symbol{Rst1, Rst1, Rst1, Rst2}, vdo.PlugUnknown},
	CableReset:          {"Cable Reset", [...]Symbol{Rst1, Sync1, Rst1, Sync3}, vdo.PlugUnknown},
}

func (s Set) known() bool { return s > SetUnknown && int(s) < len(sets) }

// Symbols are the K-codes in the order of the wire.
func (s Set) Symbols() ([SetSymbols]Symbol, bool) {
	if !s.known() {
		return [SetSymbols]Symbol{}, false
	}
	return sets[s].symbols, true
}

// String is the set's name, as "SOP′" or "Hard Reset".
func (s Set) String() string {
	if int(s) >= len(sets) {
		s = SetUnknown
	}
	return sets[s].name
}

// Plug is who is spoken with. Debug sets and resets are PlugUnknown.
func (s Set) Plug() vdo.Plug {
	if !s.known() {
		return vdo.PlugUnknown
	}
	return sets[s].plug
}

// Reset tells the sets that stand alone: no message and no EOP follows.
func (s Set) Reset() bool { return s == HardReset || s == CableReset }

// MatchSet finds the ordered set. One K-code of the four may be wrong, as a
// receiver may accept (common practice; PD physical layer chapter, from memory):
// wrong is then its index, else -1. Where three K-codes fit two sets the answer
// is SetUnknown: nothing decides between them.
func MatchSet(k [SetSymbols]Symbol) (s Set, wrong int) {
	found, at, several := SetUnknown, -1, false
	for s := SOP; s.known(); s++ {
		misses, last := 0, -1
		for i, want := range sets[s].symbols {
			if k[i] != want {
				misses, last = misses+1, i
			}
		}
		switch misses {
		case 0:
			return s, -1
		case 1:
			several = found != SetUnknown
			found, at = s, last
		}
	}
	if several {
		return SetUnknown, -1
	}
	return found, at
}
