package claims

// Witness is one of the three that speak for a cable.
type Witness string

const (
	Seller Witness = "seller" // label, product page, packaging
	Marker Witness = "marker" // the chip's words
	Bench  Witness = "bench"  // measured drops, a tape measure, what the eye sees
)

// Kind is what a finding amounts to.
type Kind string

// The kinds; What says what they mean.
const (
	Contradiction Kind = "contradiction" // between witnesses
	Breach        Kind = "breach"        // of a requirement, by one witness
	Doubt         Kind = "doubt"         // nothing is shown
	Remark        Kind = "remark"        // nothing is wrong
)

// What says in words what the kind means.
func (k Kind) What() string {
	switch k {
	case Contradiction:
		return "two witnesses cannot both be right"
	case Breach:
		return "one witness, taken alone, breaks a published requirement"
	case Doubt:
		return "possible, but unusual, or not settled by the evidence"
	case Remark:
		return "worth knowing"
	}
	return ""
}

// Kinds lists the kinds, worst first.
func Kinds() []Kind { return []Kind{Contradiction, Breach, Doubt, Remark} }

func (k Kind) rank() int {
	for i, kind := range Kinds() {
		if k == kind {
			return i
		}
	}
	return len(Kinds())
}

// Property is a question that witnesses testify to. Those that a seller can
// claim have the key of the record's claims.
type Property string

const (
	Power        Property = "power"        // how much the cable carries, W
	Current      Property = "current"      // how much current, A
	Voltage      Property = "voltage"      // how high a voltage, V
	Data         Property = "data"         // rate or standard
	Length       Property = "length"       // of the cable, in m
	Plugs        Property = "plugs"        // what is at both ends
	Activity     Property = "active"       // whether there are electronics in the path of the data
	Marking      Property = "marked"       // whether there is a marker
	Certified    Property = "certified"    // whether USB-IF certified it
	Certificate  Property = "certificate"  // the certification number (XID)
	Modes        Property = "modes"        // alternate modes
	Video        Property = "video"        // picture size and rate
	Conductors   Property = "conductors"   // gauge or cross-section of the wire
	Identity     Property = "identity"     // who made the marker, what it calls itself
	MarkerFormat Property = "marker words" // the form of the marker's answer
)

// Standing is how a claim of the seller ends.
type Standing string

const (
	Confirmed    Standing = "confirmed"    // marker or bench show it, and nothing contradicts it
	Contradicted Standing = "contradicted" // a finding says that it cannot be right
	NotShown     Standing = "not shown"    // the evidence does not decide it
	NotRead      Standing = "not read"     // its words were not understood
)
