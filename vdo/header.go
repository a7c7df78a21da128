package vdo

// VDMHeader is the first word of a vendor-defined message.
//
// Source: PD R3.2 V1.2, Structured VDM Header table (T 6.33) and the clause on
// unstructured messages.
type VDMHeader uint32

const (
	hdrSVID       span = 31<<8 + 16
	hdrStructured span = 15<<8 + 15
	hdrMajor      span = 14<<8 + 13
	hdrMinor      span = 12<<8 + 11
	hdrPosition   span = 10<<8 + 8
	hdrType       span = 7<<8 + 6
	hdrReserved   span = 5<<8 + 5
	hdrCommand    span = 4<<8 + 0

	hdrVendorData span = 14<<8 + 0 // unstructured
)

// Standard or vendor identifiers a cable may answer for.
const (
	SVIDPowerDelivery = 0xFF00 // USB PD's own: Discover Identity and Discover SVIDs
	SVIDDisplayPort   = 0xFF01 // DisplayPort Alt Mode, assigned to VESA
	SVIDThunderbolt   = 0x8087 // Thunderbolt 3
)

// Command is the command code of a structured VDM.
type Command uint8

const (
	DiscoverIdentity Command = 1 // who are you: ID header, Cert Stat, Product, product type words
	DiscoverSVIDs    Command = 2 // which standards and vendors do you answer for
	DiscoverModes    Command = 3 // the mode words of one SVID
	EnterMode        Command = 4 // begin the mode named by the object position
	ExitMode         Command = 5 // end it
	Attention        Command = 6 // the sender wants to be asked; it is not answered
)

// ID is the command's name in JSON; empty for codes without a common meaning.
func (c Command) ID() string {
	switch c {
	case DiscoverIdentity:
		return "discover-identity"
	case DiscoverSVIDs:
		return "discover-svids"
	case DiscoverModes:
		return "discover-modes"
	case EnterMode:
		return "enter-mode"
	case ExitMode:
		return "exit-mode"
	case Attention:
		return "attention"
	}
	return ""
}

// String is the command's name in the specification, or says that the code is reserved.
func (c Command) String() string { return commands.name(uint32(c)) }

// CommandType says whether a structured VDM asks or answers.
type CommandType uint8

const (
	Request CommandType = 0b00 // asks
	ACK     CommandType = 0b01 // done, or here is what was asked for
	NAK     CommandType = 0b10 // no, or not understood
	Busy    CommandType = 0b11 // not now
)

// ID is the type's name in JSON.
func (t CommandType) ID() string {
	switch t {
	case Request:
		return "request"
	case ACK:
		return "ack"
	case NAK:
		return "nak"
	}
	return "busy"
}

// String is the type's name, as "ACK".
func (t CommandType) String() string { return commandTypes.name(uint32(t)) }

// Structured tells a structured VDM from a vendor's own.
func (h VDMHeader) Structured() bool { return hdrStructured.is(uint32(h)) }

// SVID is the standard or vendor identifier; in an unstructured message the
// vendor's USB ID.
func (h VDMHeader) SVID() uint16 { return uint16(hdrSVID.get(uint32(h))) }

// Major is the raw code of the structured version: 0 is 1.0 (PD 2.0), 1 is 2.x
// (PD 3.x), 2 and 3 are reserved.
func (h VDMHeader) Major() int { return int(hdrMajor.get(uint32(h))) }

// Minor is the raw code of the minor version: 0 is 2.0, 1 is 2.1 (PD R3.1 V1.6
// and later), 2 and 3 are invalid.
func (h VDMHeader) Minor() int { return int(hdrMinor.get(uint32(h))) }

// Version is the structured version as "1.0", "2.0" or "2.1"; empty for
// reserved codes and unstructured messages.
func (h VDMHeader) Version() string {
	if !h.Structured() {
		return ""
	}
	switch {
	case h.Major() == 0:
		return "1.0"
	case h.Major() == 1 && h.Minor() == 0:
		return "2.0"
	case h.Major() == 1 && h.Minor() == 1:
		return "2.1"
	}
	return ""
}

// Position is the object position, 0 to 7.
func (h VDMHeader) Position() int { return int(hdrPosition.get(uint32(h))) }

// Type tells a request from its answers.
func (h VDMHeader) Type() CommandType { return CommandType(hdrType.get(uint32(h))) }

// Command is the command code.
func (h VDMHeader) Command() Command { return Command(hdrCommand.get(uint32(h))) }

// ReservedBit is bit 5, which a sender leaves 0.
func (h VDMHeader) ReservedBit() bool { return hdrReserved.is(uint32(h)) }

// askedMask has the bits that say what a header asks or answers.
var askedMask = hdrSVID.mask() | hdrStructured.mask() | hdrType.mask() | hdrCommand.mask()

// Is reports whether the header answers or asks the given command under the given
// SVID.
func (h VDMHeader) Is(svid uint16, c Command, t CommandType) bool {
	// One comparison for all fields: every message goes through here.
	asked := uint32(svid)<<hdrSVID.low() | 1<<hdrStructured.low() | uint32(t)<<hdrType.low() | uint32(c)<<hdrCommand.low()
	return uint32(h)&askedMask == asked
}

var (
	svids = &values{number: hex4, codes: []Code{
		{0x0000, "none", Defined},
		{SVIDThunderbolt, "Thunderbolt", Defined},
		{SVIDPowerDelivery, "USB PD", Defined},
		{SVIDDisplayPort, "DisplayPort", Defined},
		{0xFF02, "MHL", Defined},
	}}
	structuredBit = &values{codes: []Code{{0, "unstructured", Defined}, {1, "structured", Defined}}}
	majors        = &values{codes: []Code{{0, "1.0", Defined}, {1, "2.x", Defined}}}
	minors        = &values{codes: []Code{
		{0, "x.0", Defined}, {1, "x.1", Defined},
		{2, "invalid (2)", Reserved}, {3, "invalid (3)", Reserved},
	}}
	commandTypes = &values{codes: []Code{
		{uint32(Request), "request", Defined}, {uint32(ACK), "ACK", Defined},
		{uint32(NAK), "NAK", Defined}, {uint32(Busy), "BUSY", Defined},
	}}
	commands = &values{codes: []Code{
		{0, "reserved (0)", Reserved},
		{uint32(DiscoverIdentity), "Discover Identity", Defined},
		{uint32(DiscoverSVIDs), "Discover SVIDs", Defined},
		{uint32(DiscoverModes), "Discover Modes", Defined},
		{uint32(EnterMode), "Enter Mode", Defined},
		{uint32(ExitMode), "Exit Mode", Defined},
		{uint32(Attention), "Attention", Defined},
		{7, "reserved (7)", Reserved}, {8, "reserved (8)", Reserved},
		{9, "reserved (9)", Reserved}, {10, "reserved (10)", Reserved},
		{11, "reserved (11)", Reserved}, {12, "reserved (12)", Reserved},
		{13, "reserved (13)", Reserved}, {14, "reserved (14)", Reserved},
		{15, "reserved (15)", Reserved},
	}, number: func(n uint32) string { return "command " + decimal(n) + " of the SVID" }}
)

var vdmHeaderLayout = Layout{
	name: "vdm-header", title: "Structured VDM header", since: "PD R2.0 and later",
	source: "PD R3.2 V1.2, Structured VDM Header table",
	fields: []Field{
		{bits: hdrSVID, Name: "svid", Title: "SVID", vals: svids},
		{bits: hdrStructured, Name: "structured", Title: "VDM type", vals: structuredBit},
		{bits: hdrMajor, Name: "version-major", Title: "Structured version, major", vals: majors},
		{bits: hdrMinor, Name: "version-minor", Title: "Structured version, minor", vals: minors,
			Note: "reserved zero before PD R3.1 V1.6"},
		{bits: hdrPosition, Name: "object-position", Title: "Object position", vals: numbers},
		{bits: hdrType, Name: "command-type", Title: "Command type", vals: commandTypes},
		{bits: hdrReserved, Name: "reserved-5", Title: "Reserved"},
		{bits: hdrCommand, Name: "command", Title: "Command", vals: commands},
	},
}

var unstructuredLayout = Layout{
	name: "unstructured-header", title: "Unstructured VDM header", since: "PD R2.0 and later",
	source: "PD R3.2 V1.2, Unstructured VDM",
	fields: []Field{
		{bits: hdrSVID, Name: "vendor-id", Title: "Vendor ID", vals: identifiers},
		{bits: hdrStructured, Name: "structured", Title: "VDM type", vals: structuredBit},
		{bits: hdrVendorData, Name: "vendor-data", Title: "Vendor's own use", vals: identifiers},
	},
}

// Layout gives the bit table that fits the word.
func (h VDMHeader) Layout() *Layout {
	if h.Structured() {
		return &vdmHeaderLayout
	}
	return &unstructuredLayout
}
