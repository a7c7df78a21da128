package vdo

// How plain numbers are worded.

func decimal(n uint32) string {
	var b [10]byte // 4294967295
	i := len(b)
	for {
		i--
		b[i] = byte('0' + n%10)
		if n /= 10; n == 0 {
			return string(b[i:])
		}
	}
}

func hex4(n uint32) string { return hex(n, 4) }

func hex8(n uint32) string { return hex(n, 8) }

func hex(n uint32, digits int) string {
	const figures = "0123456789ABCDEF"
	b := make([]byte, 2+digits)
	b[0], b[1] = '0', 'x'
	for i := len(b) - 1; i > 1; i-- {
		b[i] = figures[n&15]
		n >>= 4
	}
	return string(b)
}

// bcd reads a release number: 0x0210 is 2.10.
func bcd(n uint32) string {
	h := hex(n, 4)[2:]
	if h[0] == '0' {
		return h[1:2] + "." + h[2:]
	}
	return h[:2] + "." + h[2:]
}

func celsius(n uint32) string { return decimal(n) + " °C" }

var (
	numbers     = &values{number: decimal}
	wordNumbers = &values{number: hex8}
	identifiers = &values{number: hex4}
	releases    = &values{number: bcd}
	degrees     = &values{number: celsius}

	yesNo = &values{codes: []Code{{0, "no", Defined}, {1, "yes", Defined}}}
	// noYes is for the bits that say "supported" with 0.
	noYes = &values{codes: []Code{{0, "yes", Defined}, {1, "no", Defined}}}
)

// Latency is the delay code of a cable word. Zero is invalid on the wire.
type Latency uint8

// Delay is a range of one-way delay. The codes leave a gap: no code stands for a delay of
// more than 70 and less than 1000 ns, as an optical cable of some 15 to 200 m has, so a
// code next to the gap says less about such a cable than its numbers do.
type Delay struct {
	Over, UpTo int // ns; UpTo is 0 where the code gives no upper end
}

// Passive is the code's meaning in a passive cable, and in an active one that
// answers in the PD 2.0 layout. It reports false for invalid and reserved codes.
func (l Latency) Passive() (Delay, bool) {
	switch {
	case l >= 1 && l <= 7:
		return Delay{int(l-1) * 10, int(l) * 10}, true
	case l == 8:
		return Delay{Over: 70}, true
	}
	return Delay{}, false
}

// Active is the code's meaning in an active cable under PD 3.x, electronics
// included. It reports false for invalid and reserved codes.
func (l Latency) Active() (Delay, bool) {
	switch {
	case l <= 7:
		return l.Passive()
	case l <= 10:
		d := int(l-7) * 1000
		return Delay{d, d}, true
	}
	return Delay{}, false
}

var (
	shortLatency = []Code{
		{0, "invalid", Reserved},
		{1, "up to 10 ns, about 1 m", Defined},
		{2, "10 to 20 ns, about 2 m", Defined},
		{3, "20 to 30 ns, about 3 m", Defined},
		{4, "30 to 40 ns, about 4 m", Defined},
		{5, "40 to 50 ns, about 5 m", Defined},
		{6, "50 to 60 ns, about 6 m", Defined},
		{7, "60 to 70 ns, about 7 m", Defined},
	}
	passiveLatencies = &values{codes: append(shortLatency[:8:8],
		Code{8, "over 70 ns, more than about 7 m", Defined})}
	activeLatencies = &values{codes: append(shortLatency[:8:8],
		Code{8, "1000 ns, about 100 m", Defined},
		Code{9, "2000 ns, about 200 m", Defined},
		Code{10, "3000 ns, about 300 m", Defined})}
)

// Current is the VBUS current code.
type Current uint8

const (
	Current3A Current = 0b01 // 3 A
	Current5A Current = 0b10 // 5 A
)

// Amps is the current the code stands for, in amperes. It reports false for 00b
// and 11b.
func (c Current) Amps() (int, bool) {
	switch c {
	case Current3A:
		return 3, true
	case Current5A:
		return 5, true
	}
	return 0, false
}

// String gives the current, or the bare code for 00b and 11b, which mean
// different things in different words.
func (c Current) String() string {
	if a, ok := c.Amps(); ok {
		return decimal(uint32(a)) + " A"
	}
	return "code " + decimal(uint32(c))
}

var (
	// A receiver shall read 00b and 11b as 3 A: PD R3.2 V1.2, Passive Cable VDO.
	passiveCurrents = &values{codes: []Code{
		{0b00, "invalid, to be read as 3 A", Reserved},
		{uint32(Current3A), "3 A", Defined},
		{uint32(Current5A), "5 A", Defined},
		{0b11, "invalid, to be read as 3 A", Reserved},
	}}
	// 00b is in PD R3.0 V2.0 (T 6-39), and invalid in later relays.
	activeCurrents = &values{codes: []Code{
		{0b00, "Type-C default current in PD R3.0 V2.0, invalid later; neither 3 A nor 5 A", Defined},
		{uint32(Current3A), "3 A", Defined},
		{uint32(Current5A), "5 A", Defined},
		{0b11, "reserved (3)", Reserved},
	}}
	pd2Currents = &values{codes: []Code{
		{0b00, "reserved (1.5 A in the first PD 2.0 text)", Reserved},
		{uint32(Current3A), "3 A", Defined},
		{uint32(Current5A), "5 A", Defined},
		{0b11, "reserved (3)", Reserved},
	}}
)

// MaxVoltage is the code of the highest VBUS voltage.
type MaxVoltage uint8

const (
	Max20V MaxVoltage = 0b00 // 20 V
	Max30V MaxVoltage = 0b01 // deprecated
	Max40V MaxVoltage = 0b10 // deprecated
	Max50V MaxVoltage = 0b11 // 50 V
)

// Volts is the voltage a receiver shall assume: 20 or 50. The deprecated codes
// for 30 V and 40 V count as 20 V (PD R3.2 V1.2, Passive Cable VDO).
func (v MaxVoltage) Volts() int {
	if v == Max50V {
		return 50
	}
	return 20
}

// Deprecated reports whether the code is one of those no longer in use.
func (v MaxVoltage) Deprecated() bool { return v == Max30V || v == Max40V }

// String gives the voltage, and of a deprecated code what it is now to be read as.
func (v MaxVoltage) String() string { return maxVoltages.name(uint32(v)) }

var maxVoltages = &values{codes: []Code{
	{uint32(Max20V), "20 V", Defined},
	{uint32(Max30V), "30 V once, now to be read as 20 V", Deprecated},
	{uint32(Max40V), "40 V once, now to be read as 20 V", Deprecated},
	{uint32(Max50V), "50 V", Defined},
}}

// Speed is the highest USB signalling a cable word declares.
type Speed uint8

const (
	USB2      Speed = 0b000 // USB 2.0 only
	USB32Gen1 Speed = 0b001 // 5 Gbps a lane
	USB32Gen2 Speed = 0b010 // 10 Gbps a lane; also USB4 Gen 2
	USB4Gen3  Speed = 0b011 // 20 Gbps a lane
	USB4Gen4  Speed = 0b100 // 40 Gbps a lane
)

// ID is the speed's name in JSON, as "usb4-gen3"; empty for a reserved code.
func (s Speed) ID() string {
	switch s {
	case USB2:
		return "usb2"
	case USB32Gen1:
		return "usb32-gen1"
	case USB32Gen2:
		return "usb32-gen2"
	case USB4Gen3:
		return "usb4-gen3"
	case USB4Gen4:
		return "usb4-gen4"
	}
	return ""
}

// LaneGbps is the rate of one lane in Gbps; 0 for a reserved code.
func (s Speed) LaneGbps() float64 {
	switch s {
	case USB2:
		return 0.48
	case USB32Gen1:
		return 5
	case USB32Gen2:
		return 10
	case USB4Gen3:
		return 20
	case USB4Gen4:
		return 40
	}
	return 0
}

// Gbps is the rate the standard's name stands for: one lane for USB 3.2 Gen 1
// and Gen 2 (5 and 10 Gbps), both lanes for USB4 Gen 3 and Gen 4 (40 and 80
// Gbps); 0 for a reserved code.
func (s Speed) Gbps() float64 {
	if s == USB4Gen3 || s == USB4Gen4 {
		return 2 * s.LaneGbps()
	}
	return s.LaneGbps()
}

// Valid reports whether the code is assigned.
func (s Speed) Valid() bool { return s <= USB4Gen4 }

// String is the standard's name, as "USB4 Gen 3", or says that the code is reserved.
func (s Speed) String() string { return speeds.name(uint32(s)) }

var (
	speeds = &values{codes: []Code{
		{uint32(USB2), "USB 2.0 only", Defined},
		{uint32(USB32Gen1), "USB 3.2 Gen 1", Defined},
		{uint32(USB32Gen2), "USB 3.2 Gen 2, USB4 Gen 2", Defined},
		{uint32(USB4Gen3), "USB4 Gen 3", Defined},
		{uint32(USB4Gen4), "USB4 Gen 4", Defined},
	}}
	pd2Speeds = &values{codes: []Code{
		{uint32(USB2), "USB 2.0 only", Defined},
		{uint32(USB32Gen1), "USB 3.1 Gen 1", Defined},
		{uint32(USB32Gen2), "USB 3.1 Gen 1 and Gen 2", Defined},
	}}
)

// End is what a cable word says the plug leads to.
type End uint8

const (
	EndTypeA   End = 0b00 // PD 2.0 only
	EndTypeB   End = 0b01 // PD 2.0 only
	EndTypeC   End = 0b10 // detachable
	EndCaptive End = 0b11 // fixed to a device
)

// ID is the end's name in JSON.
func (e End) ID() string {
	switch e {
	case EndTypeA:
		return "type-a"
	case EndTypeB:
		return "type-b"
	case EndTypeC:
		return "type-c"
	}
	return "captive"
}

// String is the end in words, as "Type-C".
func (e End) String() string { return pd2Ends.name(uint32(e)) }

var (
	ends = &values{codes: []Code{
		{uint32(EndTypeC), "Type-C", Defined},
		{uint32(EndCaptive), "captive", Defined},
	}}
	pd2Ends = &values{codes: []Code{
		{uint32(EndTypeA), "Type-A", Defined},
		{uint32(EndTypeB), "Type-B", Defined},
		{uint32(EndTypeC), "Type-C", Defined},
		{uint32(EndCaptive), "captive", Defined},
	}}
)

// Termination says whether the plugs need VCONN and how many ends are active.
type Termination uint8

const (
	VCONNNotRequired Termination = 0b00 // passive
	VCONNRequired    Termination = 0b01 // passive
	OneEndActive     Termination = 0b10 // electronics at one end
	BothEndsActive   Termination = 0b11 // electronics at both ends
)

var (
	passiveTerminations = &values{codes: []Code{
		{uint32(VCONNNotRequired), "VCONN not required after discovery", Defined},
		{uint32(VCONNRequired), "VCONN required", Defined},
	}}
	activeTerminations = &values{codes: []Code{
		{uint32(OneEndActive), "one end active, one passive, VCONN required", Defined},
		{uint32(BothEndsActive), "both ends active, VCONN required", Defined},
	}}
)

// VDO versions of the PD 3.x cable words.
const (
	VDOVersion10 = 0b000 // every cable word of PD 3.x but the later ones of active cables
	VDOVersion12 = 0b010 // active only, PD R3.0 V1.2
	VDOVersion13 = 0b011 // active only, PD R3.0 V2.0 and later
)

var (
	versionOne    = &values{codes: []Code{{VDOVersion10, "1.0", Defined}}}
	earlyVersions = &values{codes: append([]Code{{VDOVersion10, "1.0", Defined}}, laterVersions...)}
	// With two cable words 000b is reserved.
	activeVersions = &values{codes: append([]Code{
		{VDOVersion10, "reserved; version 1.0 has one cable word", Reserved}}, laterVersions...)}
	laterVersions = []Code{
		{0b001, "1.1", Defined},
		{VDOVersion12, "1.2", Defined},
		{VDOVersion13, "1.3", Defined},
	}
)
