package vdo

// CablePD2 is the cable word of PD 2.0 (structured version 1.0), one layout for
// passive and active cables. It has no voltage field: bits 10 to 7 say whether
// the SuperSpeed lanes' directions can be changed.
//
// Source: PD R2.0 V1.3, T 6-28 (passive) and T 6-29 (active).
type CablePD2 uint32

const (
	pd2Hardware    span = 31<<8 + 28
	pd2Firmware    span = 27<<8 + 24
	pd2Reserved    span = 23<<8 + 20
	pd2End         span = 19<<8 + 18
	pd2Receptacle  span = 17<<8 + 17
	pd2Latency     span = 16<<8 + 13
	pd2Termination span = 12<<8 + 11
	pd2SSTX1       span = 10<<8 + 10
	pd2SSTX2       span = 9<<8 + 9
	pd2SSRX1       span = 8<<8 + 8
	pd2SSRX2       span = 7<<8 + 7
	pd2Current     span = 6<<8 + 5
	pd2Through     span = 4<<8 + 4
	pd2FarPlug     span = 3<<8 + 3
	pd2Speed       span = 2<<8 + 0
)

// Hardware is the vendor's hardware version, 0 to 15.
func (w CablePD2) Hardware() int { return int(pd2Hardware.get(uint32(w))) }

// Firmware is the vendor's firmware version, 0 to 15.
func (w CablePD2) Firmware() int { return int(pd2Firmware.get(uint32(w))) }

// End is what the cable leads to.
func (w CablePD2) End() End { return End(pd2End.get(uint32(w))) }

// Latency is the delay code; Latency.Passive gives its meaning for both types.
func (w CablePD2) Latency() Latency { return Latency(pd2Latency.get(uint32(w))) }

// Termination is the raw termination code.
func (w CablePD2) Termination() Termination { return Termination(pd2Termination.get(uint32(w))) }

// SSTX1 reports whether the lane's direction is configurable.
func (w CablePD2) SSTX1() bool { return pd2SSTX1.is(uint32(w)) }

// SSTX2 reports whether the lane's direction is configurable.
func (w CablePD2) SSTX2() bool { return pd2SSTX2.is(uint32(w)) }

// SSRX1 reports whether the lane's direction is configurable.
func (w CablePD2) SSRX1() bool { return pd2SSRX1.is(uint32(w)) }

// SSRX2 reports whether the lane's direction is configurable.
func (w CablePD2) SSRX2() bool { return pd2SSRX2.is(uint32(w)) }

// Current is the VBUS current code.
func (w CablePD2) Current() Current { return Current(pd2Current.get(uint32(w))) }

// Through reports whether VBUS runs through the cable.
func (w CablePD2) Through() bool { return pd2Through.is(uint32(w)) }

// FarPlug reports whether an active cable has a SOP″ controller.
func (w CablePD2) FarPlug() bool { return pd2FarPlug.is(uint32(w)) }

// Speed is the signalling code; codes above USB32Gen2 are reserved here.
func (w CablePD2) Speed() Speed { return Speed(pd2Speed.get(uint32(w))) }

var (
	directions = &values{codes: []Code{{0, "fixed", Defined}, {1, "configurable", Defined}}}
	pd2Plugs   = &values{codes: []Code{
		{0, "plug", Defined},
		{1, "receptacle in the first PD 2.0 text, reserved since", Reserved},
	}}
)

func pd2Fields(terminations *values, farPlug Field) []Field {
	return []Field{
		{bits: pd2Hardware, Name: "hardware-version", Title: "Hardware version", vals: numbers},
		{bits: pd2Firmware, Name: "firmware-version", Title: "Firmware version", vals: numbers},
		{bits: pd2Reserved, Name: "reserved-23-20", Title: "Reserved"},
		{bits: pd2End, Name: "other-end", Title: "Other end", vals: pd2Ends},
		{bits: pd2Receptacle, Name: "receptacle", Title: "Plug or receptacle", vals: pd2Plugs},
		{bits: pd2Latency, Name: "latency", Title: "Latency", vals: passiveLatencies},
		{bits: pd2Termination, Name: "termination", Title: "Termination", vals: terminations},
		{bits: pd2SSTX1, Name: "sstx1-direction", Title: "SSTX1 direction", vals: directions},
		{bits: pd2SSTX2, Name: "sstx2-direction", Title: "SSTX2 direction", vals: directions},
		{bits: pd2SSRX1, Name: "ssrx1-direction", Title: "SSRX1 direction", vals: directions},
		{bits: pd2SSRX2, Name: "ssrx2-direction", Title: "SSRX2 direction", vals: directions},
		{bits: pd2Current, Name: "vbus-current", Title: "VBUS current", vals: pd2Currents},
		{bits: pd2Through, Name: "vbus-through", Title: "VBUS through cable", vals: yesNo},
		farPlug,
		{bits: pd2Speed, Name: "speed", Title: "USB SuperSpeed signalling", vals: pd2Speeds},
	}
}

var passivePD2Layout = Layout{
	name: "passive-cable-pd2", title: "Cable VDO, passive, PD 2.0", since: "structured version 1.0",
	source: "PD R2.0 V1.3, Passive Cable VDO table (T 6-28)",
	fields: pd2Fields(passiveTerminations,
		Field{bits: pd2FarPlug, Name: "reserved-3", Title: "Reserved"}),
}

var activePD2Layout = Layout{
	name: "active-cable-pd2", title: "Cable VDO, active, PD 2.0", since: "structured version 1.0",
	source: "PD R2.0 V1.3, Active Cable VDO table (T 6-29)",
	fields: pd2Fields(activeTerminations,
		Field{bits: pd2FarPlug, Name: "far-plug", Title: "SOP″ controller", vals: yesNo}),
}
