package bench

// NoteKind is what there is to say about an evaluation.
type NoteKind uint8

// The kinds of note. Value and Expanded of the Note are in the unit named here.
const (
	// AccuracyAssumed: nothing is on record of a meter, and its accuracy is an
	// assumption.
	AccuracyAssumed NoteKind = iota + 1
	// SingleReading: no repeat, so the scatter of readings and matings is not
	// in the uncertainty.
	SingleReading
	// NullNotTaken: leads and fixture are in the result.
	NullNotTaken
	// NullAtOtherCurrent: the null was taken at a current more than a quarter
	// away from the reading's; Value is the null's current in ampere.
	NullAtOtherCurrent
	// OffsetRemains: the line does not go through zero; Value is the intercept
	// in volt.
	OffsetRemains
	// HeatingOrContact: the resistance changes with the current; Value is the
	// change in ohm from the smallest to the largest current.
	HeatingOrContact
	// OrientationDiffers: flip up and flip down differ, where either was read
	// more than once; Value is up minus down in ohm.
	OrientationDiffers
	// LoopDisagrees: the loop as measured is not the sum of the conductors;
	// Value is measured minus summed in ohm.
	LoopDisagrees
	// GroundAboveVBUS: ground has more resistance than VBUS, though its limit
	// is half; Value is ground minus VBUS in ohm.
	GroundAboveVBUS
	// FewRepeats: less than four readings, or matings where they are noted; Value is
	// their number.
	FewRepeats
	// PrintedDisagrees: the rig printed another resistance than the readings give;
	// Value is printed minus read in ohm.
	PrintedDisagrees
	// UnitSlip: a resistance as no cable has, and as one has it a thousandfold smaller
	// or larger; Value is the resistance in ohm.
	UnitSlip
)

var noteKinds = [...]string{
	AccuracyAssumed:    "accuracy-assumed",
	SingleReading:      "single-reading",
	NullNotTaken:       "null-not-taken",
	NullAtOtherCurrent: "null-at-other-current",
	OffsetRemains:      "offset-remains",
	HeatingOrContact:   "heating-or-contact",
	OrientationDiffers: "orientation-differs",
	LoopDisagrees:      "loop-disagrees",
	GroundAboveVBUS:    "ground-above-vbus",
	FewRepeats:         "few-repeats",
	PrintedDisagrees:   "printed-disagrees",
	UnitSlip:           "unit-slip",
}

// String returns the kind as a phrase in kebab-case.
func (k NoteKind) String() string {
	if int(k) < len(noteKinds) {
		return noteKinds[k]
	}
	return ""
}

// MarshalText returns the same phrase as String. It never fails.
func (k NoteKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Note is something a reader of a result has to know. Where it rests on a
// number, the number exceeds its expanded uncertainty.
type Note struct {
	Kind      NoteKind  // what there is to say; names the unit of Value
	Conductor Conductor // zero where it is about the session
	Value     float64   // unit by Kind; zero where there is none
	Expanded  float64   // expanded uncertainty of Value, same unit
	Text      string    // one clause with the numbers
}
