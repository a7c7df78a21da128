package vdo

// Plug says whose answer a message is. On the wire the ordered set that opens
// a packet tells it: SOP′ reaches the cable plug next to the VCONN source, SOP″
// the plug at the far end, SOP the port partner behind the cable.
//
// The zero value is PlugUnknown: nothing in the text said which.
type Plug uint8

const (
	PlugUnknown Plug = iota // nothing said which
	PlugNear                // SOP′
	PlugFar                 // SOP″
	PlugPartner             // SOP: the port partner, not the cable
)

// String gives the word used in reports and JSON.
func (p Plug) String() string {
	switch p {
	case PlugNear:
		return "near"
	case PlugFar:
		return "far"
	case PlugPartner:
		return "partner"
	}
	return "unknown"
}

// Revision is the specification revision carried in bits 7:6 of a PD message
// header. PD 3.0, 3.1 and 3.2 share one code.
//
// The zero value is RevisionUnknown: no header was seen and the caller said
// nothing. It is not the wire code 00b, which is Revision1.
type Revision uint8

const (
	RevisionUnknown Revision = iota // no header, and the caller said nothing
	Revision1                       // 00b, PD 1.0
	Revision2                       // 01b, PD 2.0
	Revision3                       // 10b, PD 3.x
)

// String gives the form used in reports and JSON.
func (r Revision) String() string {
	switch r {
	case Revision1:
		return "1.0"
	case Revision2:
		return "2.0"
	case Revision3:
		return "3.x"
	}
	return "unknown"
}

// pd2 reports whether the revision means the layouts of PD 2.0, where no VDM header
// says so.
func (r Revision) pd2() bool { return r == Revision1 || r == Revision2 }
