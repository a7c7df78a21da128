// Package bench turns what a tester writes down at the bench into a
// resistance with its uncertainty, and that into a decision against the
// IR-drop limits of USB Type-C.
//
// The way through is Session (what was read), Evaluate (resistance of each
// conductor with its uncertainty budget), DecideCable (within, over or
// undecided at a current), and, where nothing is decided, Settle (what would
// decide it).
//
//	result, err := bench.Evaluate(session)
//	decision := bench.DecideCable(result, 5, bench.Acceptance{}) // at 5 A
//	fmt.Println(decision.Outcome, decision.Why())
//
// # The model
//
// Everything a result depends on is an input x with a standard uncertainty u, a
// distribution, degrees of freedom ν and an origin ([Contribution], [Origin]):
//
//	scatter of the readings       normal       s/√n, ν = n-1
//	scatter of the nulls          normal       their own, or that of the readings for one null
//	accuracy ±a of an instrument  rectangular  a/√3, for each current and range
//	last digit d of a display     rectangular  d/2/√3, unless the accuracy has counts
//	calibration U at k            normal       U/k
//
// The resistance of one conductor one way up is a sum over drops V and currents I:
//
//	R = Σ w·V - null    w = 1/(n·I) for a mean, (I - mean I)/Σ(I - mean I)² for a slope
//
// An error e of the voltmeter at one current in one range reaches R by Σ w·e(V), one of
// the ammeter by -Σ w·(dV/dI)·e(I). Values more than ten times apart are read in two
// ranges. Errors of one origin are one input; two origins are independent.
//
// A sum or a difference of two results adds the sensitivities of inputs of one origin, and
// takes scatter from the readings, one by one, that are behind both. So
//
//	y = Σ c·x,  u² = Σ c²·u²,  ν = u⁴ / Σ (c·u)⁴/ν
//
// with no correlation left to state. Matings of one way up are repeats: their means
// scatter (GUM H.5). The expanded uncertainty U holds 95.45 %: the normal part convolved
// with the rectangular ones that matter, times t(ν)/2; never less than any part with
// scatter asks for alone, and never more than the bound where all parts are bounded.
//
// In the code: readings.go checks what was read, instruments.go has the inputs of the
// meters, null.go the nulls, orientation.go and slope.go the sums over the readings of one
// way up, scatter.go repeats and matings, estimate.go sums and differences of results,
// shape.go the distribution and U, ways.go the measurements, decide.go and cable.go limits.
//
// All numbers are SI: ampere, volt, ohm, metre, watt. Temperatures are in
// degrees Celsius where they are a temperature and in kelvin where they are a
// difference. Uncertainty follows the GUM (JCGM 100:2008), decisions follow
// JCGM 106:2012 and ILAC-G8:09/2019.
//
// What is wrong in a session is an *[Error] with one of the causes below, several
// joined; the rest of the session is still worked out.
package bench

import "example.com/gainsay/claims/quantity"

// Conductor names what a resistance is measured over.
type Conductor uint8

// The conductors. The zero value is none of them.
const (
	VBUS   Conductor = iota + 1 // the supply path: wire and both mated contacts
	Ground                      // the return path: wire and both mated contacts
	Loop                        // there and back: VBUS and ground in series
)

// String returns "vbus", "ground" or "loop".
func (c Conductor) String() string {
	switch c {
	case VBUS:
		return "vbus"
	case Ground:
		return "ground"
	case Loop:
		return "loop"
	}
	return "none"
}

// Name returns "VBUS", "ground" or "loop", as people write it.
func (c Conductor) Name() string {
	if c == VBUS {
		return "VBUS"
	}
	return c.String()
}

// MarshalText returns the same word as String. It never fails.
func (c Conductor) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// Flip is which way up the plug was put in.
type Flip uint8

// The orientations. Rows A and B of the plug use different contacts, so the
// two ways up are two measurements, not two repeats.
const (
	FlipUnknown Flip = iota // not noted
	FlipUp                  // as the bench calls it; the other way is FlipDown
	FlipDown                // turned by half a turn against FlipUp
)

// String returns "unknown", "up" or "down".
func (f Flip) String() string {
	switch f {
	case FlipUp:
		return "up"
	case FlipDown:
		return "down"
	}
	return "unknown"
}

// known is f, or FlipUnknown where it is none of the three.
func (f Flip) known() Flip {
	if f > FlipDown {
		return FlipUnknown
	}
	return f
}

// MarshalText returns the same word as String. It never fails.
func (f Flip) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// Number is a number that may not have been taken. The zero Number was not.
type Number struct {
	Value float64 // counts only where Known
	Known bool    // whether it was taken
}

// Known returns x as a number that was taken.
func Known(x float64) Number { return Number{Value: x, Known: true} }

// Reading is one test current with the drops it caused. A drop is signed like
// the current: after current reversal both are negative.
type Reading struct {
	CurrentAmp float64 // not zero in a reading; in a null reading zero means: taken with the current off
	VBUSVolt   Number  // drop over the supply path, V
	GroundVolt Number  // drop over the return path, V
	LoopVolt   Number  // drop over both in series, V
	Flip       Flip    // which way up the plug was
	// Mating is which plugging-in of the cable it is, from 1. Readings of one mating one
	// way up are repeats within it. Zero, not noted, is one mating.
	Mating int

	// One step of the last digit noted, in A or V; 0 where it does not count, as of a
	// nominal current.
	CurrentDigit, VBUSDigit, GroundDigit, LoopDigit float64
}

// digit returns the step of the last digit of the drop over c, V.
func (r Reading) digit(c Conductor) float64 {
	switch c {
	case VBUS:
		return r.VBUSDigit
	case Ground:
		return r.GroundDigit
	}
	return r.LoopDigit
}

// drop returns the drop over c. For the loop it is the loop's own reading, not
// the sum of the two conductors.
func (r Reading) drop(c Conductor) Number {
	switch c {
	case VBUS:
		return r.VBUSVolt
	case Ground:
		return r.GroundVolt
	case Loop:
		return r.LoopVolt
	}
	return Number{}
}

// Printed holds resistances that a rig prints, in ohm.
type Printed struct {
	VBUSOhm   Number // supply path, Ω
	GroundOhm Number // return path, Ω
	LoopOhm   Number // both in series, Ω
	// Digit is one step of the finest last digit among them, Ω; 0 where it does not count.
	Digit float64
}

func (p Printed) ohm(c Conductor) Number {
	switch c {
	case VBUS:
		return p.VBUSOhm
	case Ground:
		return p.GroundOhm
	case Loop:
		return p.LoopOhm
	}
	return Number{}
}

// Session is one sitting at the bench with one cable.
type Session struct {
	// Readings are repeats, both ways up, or several currents, in any mix.
	Readings []Reading
	// Nulls are the fixture alone, same leads. A null taken with current is
	// the fixture's resistance and is scaled to the reading's current. A null
	// with current zero is an offset voltage and is subtracted as it is.
	Nulls []Reading

	// Voltmeter and Ammeter are the stated accuracies. Nil means not stated: the
	// accuracy is then as Assume has it, unless the calibration is known.
	Voltmeter *quantity.Accuracy
	Ammeter   *quantity.Accuracy // of the test current

	// Printed are resistances that the rig printed, a measurement beside the readings. No
	// null is taken off.
	Printed  Printed
	Ohmmeter *quantity.Accuracy // accuracy of the printed resistances, in ohm

	// Calibrated are the standard uncertainties of calibrations, added to the accuracies
	// in quadrature; 0 where there is none.
	Calibrated struct{ VoltmeterVolt, AmmeterAmp, OhmmeterOhm float64 }
	// Assume is what is taken of an instrument of which nothing is known; the zero value
	// is AssumedAccuracy.
	Assume Assumption

	AmbientCelsius Number // °C of the room, -60 to 150
	// AmbientWithinKelvin is the half-width of what the ambient temperature
	// may be. Zero means not stated; AssumedAmbientWithinKelvin is then used
	// where temperature matters.
	AmbientWithinKelvin float64

	CopperCelsius Number // °C of the conductors while they were read, -60 to 150
	// Steady says that the readings were constant at their current: the copper was as
	// warm as that current makes it.
	Steady bool

	Ends [2]Plug // the plugs of both ends

	LengthMetre Number // by tape
	// LengthWithinMetre is the half-width of what the length may be. Zero
	// means not stated; AssumedLengthWithin is then used where it matters.
	LengthWithinMetre float64
}

// Assumption is an accuracy for each instrument of which nothing is on record.
type Assumption struct {
	Voltmeter, Ammeter, Ohmmeter *quantity.Accuracy // in V, A and Ω; nil for AssumedAccuracy
}

// AssumedAccuracy is 2 % of the reading and one milli of the unit, V, A or Ω (common
// practice for a hand-held meter of which nothing is known).
var AssumedAccuracy = quantity.Accuracy{Reading: 0.02, Fixed: 1e-3}
