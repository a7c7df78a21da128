package vdo

// VPD is the word of a VCONN-powered USB device, which may pass charging
// current through.
//
// Source: PD R3.2 V1.0, VPD VDO table (T 6-45). VBUS is in steps of 2 mΩ and ground in
// steps of 1 mΩ, as two chip makers' firmware headers quote it; one other relay has 2 mΩ
// for ground.
type VPD uint32

const (
	vpdHardware   span = 31<<8 + 28
	vpdFirmware   span = 27<<8 + 24
	vpdVersion    span = 23<<8 + 21
	vpdReserved20 span = 20<<8 + 17
	vpdVoltage    span = 16<<8 + 15
	vpdCurrent    span = 14<<8 + 14
	vpdReserved13 span = 13<<8 + 13
	vpdVBUS       span = 12<<8 + 7
	vpdGround     span = 6<<8 + 1
	vpdThrough    span = 0<<8 + 0
)

// Hardware is the vendor's hardware version, 0 to 15.
func (w VPD) Hardware() int { return int(vpdHardware.get(uint32(w))) }

// Firmware is the vendor's firmware version, 0 to 15.
func (w VPD) Firmware() int { return int(vpdFirmware.get(uint32(w))) }

// Version is the raw VDO version; only VDOVersion10 is assigned.
func (w VPD) Version() int { return int(vpdVersion.get(uint32(w))) }

// MaxVoltage is the code of the highest VBUS voltage. All but 20 V are
// deprecated by PD R3.2 V1.0.
func (w VPD) MaxVoltage() MaxVoltage { return MaxVoltage(vpdVoltage.get(uint32(w))) }

// ChargeThrough reports whether charging current passes through.
func (w VPD) ChargeThrough() bool { return vpdThrough.is(uint32(w)) }

// ChargeThroughAmps is 3 or 5. It counts only where ChargeThrough is true.
func (w VPD) ChargeThroughAmps() int { return 3 + 2*int(vpdCurrent.get(uint32(w))) }

// VBUSMilliohm is the impedance of the VBUS path in mΩ, in steps of 2. Values
// under 10 are not allowed. It counts only where ChargeThrough is true.
func (w VPD) VBUSMilliohm() int { return vpdVBUSStep * int(vpdVBUS.get(uint32(w))) }

// GroundMilliohm is the impedance of the ground path in mΩ, in steps of 1.
// Values under 10 are not allowed. It counts only where ChargeThrough is true.
func (w VPD) GroundMilliohm() int { return vpdGroundStep * int(vpdGround.get(uint32(w))) }

const (
	vpdVBUSStep   = 2  // mΩ
	vpdGroundStep = 1  // mΩ
	vpdLeast      = 10 // mΩ
)

// impedances are the meanings of an impedance in steps of step mΩ. Those below 10 mΩ are
// reserved.
func impedances(step uint32) *values {
	v := &values{number: func(n uint32) string { return decimal(n*step) + " mΩ" }}
	for n := uint32(0); n*step < vpdLeast; n++ {
		v.codes = append(v.codes, Code{n, decimal(n*step) + " mΩ, below the " + decimal(vpdLeast) + " mΩ allowed", Reserved})
	}
	return v
}

func noChargeThrough(w uint32) bool { return !VPD(w).ChargeThrough() }

var vpdLayout = Layout{
	name: "vpd", title: "VPD VDO", since: "PD R3.0 and later",
	source: "PD R3.2 V1.0, VPD VDO table (T 6-45)",
	fields: []Field{
		{bits: vpdHardware, Name: "hardware-version", Title: "Hardware version", vals: numbers},
		{bits: vpdFirmware, Name: "firmware-version", Title: "Firmware version", vals: numbers},
		{bits: vpdVersion, Name: "vdo-version", Title: "VDO version", vals: versionOne},
		{bits: vpdReserved20, Name: "reserved-20-17", Title: "Reserved"},
		{bits: vpdVoltage, Name: "max-voltage", Title: "Maximum VBUS voltage",
			vals: &values{codes: []Code{
				{uint32(Max20V), "20 V", Defined},
				{uint32(Max30V), "30 V once, deprecated", Deprecated},
				{uint32(Max40V), "40 V once, deprecated", Deprecated},
				{uint32(Max50V), "50 V once, deprecated", Deprecated},
			}}},
		{bits: vpdCurrent, Name: "charge-through-current", Title: "Charge-through current",
			vals: &values{codes: []Code{{0, "3 A", Defined}, {1, "5 A", Defined}}},
			off:  noChargeThrough, Note: "ignored without charge-through"},
		{bits: vpdReserved13, Name: "reserved-13", Title: "Reserved"},
		{bits: vpdVBUS, Name: "vbus-impedance", Title: "VBUS impedance", vals: impedances(vpdVBUSStep),
			off: noChargeThrough, Note: "ignored without charge-through"},
		{bits: vpdGround, Name: "ground-impedance", Title: "Ground impedance", vals: impedances(vpdGroundStep),
			off: noChargeThrough, Note: "ignored without charge-through"},
		{bits: vpdThrough, Name: "charge-through", Title: "Charge-through", vals: yesNo},
	},
}
