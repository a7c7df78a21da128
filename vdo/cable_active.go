package vdo

// ActiveCable1 is the first cable word of an active cable under PD 3.x. It has
// three forms, told apart by the number of objects and the VDO version:
// the early word that stands alone, the PD R3.0 V1.2 form (its speed is in the
// second word), and the form of PD R3.0 V2.0 and later.
//
// Source: PD R3.2 V1.0, Active Cable VDO table (T 6-43), and T 6-39 in PD R3.0
// V2.0, T 6-36 in V1.2. The early word is read in one relay only.
type ActiveCable1 uint32

const (
	active1Hardware    span = 31<<8 + 28
	active1Firmware    span = 27<<8 + 24
	active1Version     span = 23<<8 + 21
	active1Reserved20  span = 20<<8 + 20
	active1End         span = 19<<8 + 18
	active1EPR         span = 17<<8 + 17
	active1Latency     span = 16<<8 + 13
	active1Termination span = 12<<8 + 11
	active1Voltage     span = 10<<8 + 9
	active1NoSBU       span = 8<<8 + 8
	active1SBUActive   span = 7<<8 + 7
	active1Current     span = 6<<8 + 5
	active1Through     span = 4<<8 + 4
	active1FarPlug     span = 3<<8 + 3
	active1Speed       span = 2<<8 + 0

	active1Reserved8 span = 8<<8 + 7 // early word
)

// Hardware is the vendor's hardware version, 0 to 15.
func (w ActiveCable1) Hardware() int { return int(active1Hardware.get(uint32(w))) }

// Firmware is the vendor's firmware version, 0 to 15.
func (w ActiveCable1) Firmware() int { return int(active1Firmware.get(uint32(w))) }

// Version is the raw VDO version: VDOVersion10, VDOVersion12 or VDOVersion13.
func (w ActiveCable1) Version() int { return int(active1Version.get(uint32(w))) }

// End is what the plug leads to: Type-C or captive; other codes are reserved.
func (w ActiveCable1) End() End { return End(active1End.get(uint32(w))) }

// EPR reports whether the cable says it is built for Extended Power Range.
// Reserved before PD R3.1.
func (w ActiveCable1) EPR() bool { return active1EPR.is(uint32(w)) }

// Latency is the delay code; Latency.Active gives its meaning.
func (w ActiveCable1) Latency() Latency { return Latency(active1Latency.get(uint32(w))) }

// Termination is the raw termination code: OneEndActive or BothEndsActive.
func (w ActiveCable1) Termination() Termination {
	return Termination(active1Termination.get(uint32(w)))
}

// MaxVoltage is the code of the highest VBUS voltage.
func (w ActiveCable1) MaxVoltage() MaxVoltage { return MaxVoltage(active1Voltage.get(uint32(w))) }

// SBU reports whether the sideband wires are supported; the bit says so with 0.
// Not in the early word.
func (w ActiveCable1) SBU() bool { return !active1NoSBU.is(uint32(w)) }

// SBUActive reports whether the sideband wires pass electronics. It counts only
// where SBU is true.
func (w ActiveCable1) SBUActive() bool { return active1SBUActive.is(uint32(w)) }

// Current is the VBUS current code. It counts only where Through is true.
func (w ActiveCable1) Current() Current { return Current(active1Current.get(uint32(w))) }

// Through reports whether VBUS runs through the cable.
func (w ActiveCable1) Through() bool { return active1Through.is(uint32(w)) }

// FarPlug reports whether a SOP″ controller is present.
func (w ActiveCable1) FarPlug() bool { return active1FarPlug.is(uint32(w)) }

// Speed is the highest USB speed code. Reserved in the PD R3.0 V1.2 form.
func (w ActiveCable1) Speed() Speed { return Speed(active1Speed.get(uint32(w))) }

// active1Fields builds one of the three forms: versions are the meanings of bits 23 to
// 21, e is bit 17, sbu bits 8 to 7, speed bits 2 to 0.
func active1Fields(versions *values, e Field, sbu []Field, speed Field) []Field {
	noThrough := func(w uint32) bool { return !ActiveCable1(w).Through() }
	fields := []Field{
		{bits: active1Hardware, Name: "hardware-version", Title: "Hardware version", vals: numbers},
		{bits: active1Firmware, Name: "firmware-version", Title: "Firmware version", vals: numbers},
		{bits: active1Version, Name: "vdo-version", Title: "VDO version", vals: versions},
		{bits: active1Reserved20, Name: "reserved-20", Title: "Reserved"},
		{bits: active1End, Name: "plug-type", Title: "Plug leads to", vals: ends},
		e,
		{bits: active1Latency, Name: "latency", Title: "Latency", vals: activeLatencies},
		{bits: active1Termination, Name: "termination", Title: "Termination", vals: activeTerminations},
		{bits: active1Voltage, Name: "max-voltage", Title: "Maximum VBUS voltage", vals: maxVoltages},
	}
	fields = append(fields, sbu...)
	return append(fields,
		Field{bits: active1Current, Name: "vbus-current", Title: "VBUS current", vals: activeCurrents,
			off: noThrough, Note: "ignored when VBUS does not run through the cable"},
		Field{bits: active1Through, Name: "vbus-through", Title: "VBUS through cable", vals: yesNo},
		Field{bits: active1FarPlug, Name: "far-plug", Title: "SOP″ controller", vals: yesNo},
		speed)
}

var (
	active1Reserved17 = Field{bits: active1EPR, Name: "reserved-17", Title: "Reserved"}
	active1SpeedField = Field{bits: active1Speed, Name: "speed", Title: "Highest USB speed", vals: speeds}
	active1SBU        = []Field{
		{bits: active1NoSBU, Name: "sbu", Title: "SBU supported", vals: noYes},
		{bits: active1SBUActive, Name: "sbu-type", Title: "SBU type",
			vals: &values{codes: []Code{{0, "passive", Defined}, {1, "active", Defined}}},
			off:  func(w uint32) bool { return !ActiveCable1(w).SBU() },
			Note: "ignored when SBU is not supported"},
	}
)

var activeEarlyLayout = Layout{
	name: "active-cable-early", title: "Active Cable VDO, standing alone", since: "early PD R3.0, VDO version 1.0",
	source: "PD R3.0, Active Cable VDO before the second word (one relay)",
	fields: active1Fields(earlyVersions, active1Reserved17,
		[]Field{{bits: active1Reserved8, Name: "reserved-8-7", Title: "Reserved"}},
		active1SpeedField),
}

var active1V12Layout = Layout{
	name: "active-cable-1-v12", title: "Active Cable VDO 1, VDO version 1.2", since: "PD R3.0 V1.2",
	source: "PD R3.0 V1.2, Active Cable VDO1 table (T 6-36)",
	fields: active1Fields(activeVersions, active1Reserved17, active1SBU,
		Field{bits: active1Speed, Name: "reserved-2-0", Title: "Reserved", Note: "the speed is in the second word"}),
}

var active1Layout = Layout{
	name: "active-cable-1", title: "Active Cable VDO 1", since: "PD R3.0 V2.0 and later, VDO version 1.3",
	source: "PD R3.2 V1.0, Active Cable VDO 1 table (T 6-43)",
	fields: active1Fields(activeVersions,
		Field{bits: active1EPR, Name: "epr", Title: "EPR capable", vals: yesNo, Note: "reserved before PD R3.1"},
		active1SBU, active1SpeedField),
}

// ActiveCable2 is the second cable word of an active cable under PD 3.x, in the
// PD R3.0 V1.2 form or the form of PD R3.0 V2.0 and later.
//
// Source: PD R3.2 V1.0, Active Cable VDO 2 table (T 6-44); T 6-40 in PD R3.0
// V2.0, T 6-37 in V1.2.
type ActiveCable2 uint32

const (
	active2MaxTemp    span = 31<<8 + 24
	active2Shutdown   span = 23<<8 + 16
	active2Reserved15 span = 15<<8 + 15
	active2U3Power    span = 14<<8 + 12
	active2U3U0       span = 11<<8 + 11
	active2Optical    span = 10<<8 + 10
	active2Retimer    span = 9<<8 + 9
	active2NoUSB4     span = 8<<8 + 8
	active2Hops       span = 7<<8 + 6
	active2NoUSB2     span = 5<<8 + 5
	active2NoUSB32    span = 4<<8 + 4
	active2TwoLanes   span = 3<<8 + 3
	active2Isolated   span = 2<<8 + 2
	active2Asymmetric span = 1<<8 + 1
	active2Gen2       span = 0<<8 + 0

	active2Reserved10 span = 10<<8 + 8 // V1.2
	active2Signalling span = 1<<8 + 0  // V1.2
)

// MaxTemperature is the highest operating temperature inside the plug, in °C.
func (w ActiveCable2) MaxTemperature() int { return int(active2MaxTemp.get(uint32(w))) }

// Shutdown is the temperature, in °C, at which the signal conditioners switch
// off.
func (w ActiveCable2) Shutdown() int { return int(active2Shutdown.get(uint32(w))) }

// U3Power is the raw code of the power drawn in U3 or CLd.
func (w ActiveCable2) U3Power() int { return int(active2U3Power.get(uint32(w))) }

// U3ToU0ViaU3S reports whether the cable leaves U3 by way of U3S.
func (w ActiveCable2) U3ToU0ViaU3S() bool { return active2U3U0.is(uint32(w)) }

// Optical reports whether the medium is optical rather than copper. Reserved in
// the V1.2 form.
func (w ActiveCable2) Optical() bool { return active2Optical.is(uint32(w)) }

// Retimer reports whether the active element is a re-timer rather than a
// re-driver. Reserved in the V1.2 form.
func (w ActiveCable2) Retimer() bool { return active2Retimer.is(uint32(w)) }

// USB4 reports whether USB4 is supported; the bit says so with 0. Reserved in the
// V1.2 form.
func (w ActiveCable2) USB4() bool { return !active2NoUSB4.is(uint32(w)) }

// HubHops is the number of USB 2.0 hub hops the cable uses up, 0 to 3.
func (w ActiveCable2) HubHops() int { return int(active2Hops.get(uint32(w))) }

// USB2 reports whether USB 2.0 is supported; the bit says so with 0.
func (w ActiveCable2) USB2() bool { return !active2NoUSB2.is(uint32(w)) }

// USB32 reports whether USB 3.2 is supported; the bit says so with 0.
func (w ActiveCable2) USB32() bool { return !active2NoUSB32.is(uint32(w)) }

// Lanes is the number of USB 3.2 lanes supported, 1 or 2.
func (w ActiveCable2) Lanes() int { return 1 + int(active2TwoLanes.get(uint32(w))) }

// Isolated reports whether the cable is optically isolated. Reserved in the V1.2
// form.
func (w ActiveCable2) Isolated() bool { return active2Isolated.is(uint32(w)) }

// Asymmetric reports whether USB4 asymmetric mode is supported. Reserved before
// late PD R3.1.
func (w ActiveCable2) Asymmetric() bool { return active2Asymmetric.is(uint32(w)) }

// Gen2 reports whether the cable says it is USB Gen 2 or higher. The exact
// generation is in the first word.
func (w ActiveCable2) Gen2() bool { return active2Gen2.is(uint32(w)) }

// SpeedV12 is the speed of the V1.2 form, whose first word has none: Gen 1 or
// Gen 2. It reports false for the reserved codes.
func (w ActiveCable2) SpeedV12() (Speed, bool) {
	switch active2Signalling.get(uint32(w)) {
	case 0:
		return USB32Gen1, true
	case 1:
		return USB32Gen2, true
	}
	return 0, false
}

var u3Powers = &values{codes: []Code{
	{0, "more than 10 mW", Defined},
	{1, "5 to 10 mW", Defined},
	{2, "1 to 5 mW", Defined},
	{3, "0.5 to 1 mW", Defined},
	{4, "0.2 to 0.5 mW", Defined},
	{5, "50 to 200 µW", Defined},
	{6, "less than 50 µW", Defined},
}}

var (
	u3Transitions = &values{codes: []Code{{0, "direct", Defined}, {1, "by way of U3S", Defined}}}
	media         = &values{codes: []Code{{0, "copper", Defined}, {1, "optical", Defined}}}
	elements      = &values{codes: []Code{{0, "re-driver", Defined}, {1, "re-timer", Defined}}}
	lanes         = &values{codes: []Code{{0, "one", Defined}, {1, "two", Defined}}}
	generations   = &values{codes: []Code{{0, "Gen 1", Defined}, {1, "Gen 2 or higher", Defined}}}
	signalling12  = &values{codes: []Code{{0, "Gen 1", Defined}, {1, "Gen 2", Defined}}}
)

// active2Fields builds one of the two forms: middle is bits 10 to 8, tail bits
// 2 to 0.
func active2Fields(middle, tail []Field) []Field {
	fields := []Field{
		{bits: active2MaxTemp, Name: "max-temperature", Title: "Maximum operating temperature", vals: degrees},
		{bits: active2Shutdown, Name: "shutdown-temperature", Title: "Shutdown temperature", vals: degrees},
		{bits: active2Reserved15, Name: "reserved-15", Title: "Reserved"},
		{bits: active2U3Power, Name: "u3-power", Title: "Power in U3 or CLd", vals: u3Powers},
		{bits: active2U3U0, Name: "u3-to-u0", Title: "U3 to U0 transition", vals: u3Transitions},
	}
	fields = append(fields, middle...)
	fields = append(fields,
		Field{bits: active2Hops, Name: "usb2-hub-hops", Title: "USB 2.0 hub hops used", vals: numbers},
		Field{bits: active2NoUSB2, Name: "usb2", Title: "USB 2.0 supported", vals: noYes},
		Field{bits: active2NoUSB32, Name: "usb32", Title: "USB 3.2 supported", vals: noYes},
		Field{bits: active2TwoLanes, Name: "lanes", Title: "USB 3.2 lanes", vals: lanes})
	return append(fields, tail...)
}

var active2V12Layout = Layout{
	name: "active-cable-2-v12", title: "Active Cable VDO 2, VDO version 1.2", since: "PD R3.0 V1.2",
	source: "PD R3.0 V1.2, Active Cable VDO2 table (T 6-37)",
	fields: active2Fields(
		[]Field{{bits: active2Reserved10, Name: "reserved-10-8", Title: "Reserved"}},
		[]Field{
			{bits: active2Isolated, Name: "reserved-2", Title: "Reserved"},
			{bits: active2Signalling, Name: "signalling", Title: "USB SuperSpeed signalling", vals: signalling12},
		}),
}

var active2Layout = Layout{
	name: "active-cable-2", title: "Active Cable VDO 2", since: "PD R3.0 V2.0 and later, VDO version 1.3",
	source: "PD R3.2 V1.0, Active Cable VDO 2 table (T 6-44)",
	fields: active2Fields(
		[]Field{
			{bits: active2Optical, Name: "medium", Title: "Physical medium", vals: media},
			{bits: active2Retimer, Name: "active-element", Title: "Active element", vals: elements},
			{bits: active2NoUSB4, Name: "usb4", Title: "USB4 supported", vals: noYes},
		},
		[]Field{
			{bits: active2Isolated, Name: "isolated", Title: "Optically isolated", vals: yesNo},
			{bits: active2Asymmetric, Name: "asymmetric", Title: "USB4 asymmetric mode", vals: yesNo,
				Note: "reserved before late PD R3.1"},
			{bits: active2Gen2, Name: "generation", Title: "USB generation", vals: generations},
		}),
}
