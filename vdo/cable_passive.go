package vdo

// PassiveCable is the cable word of a passive cable under PD 3.x.
//
// Source: PD R3.2 V1.2, Passive Cable VDO table (T 6.42); T 6-38 in PD R3.0
// V2.0, where bit 17 is still reserved and 100b is not yet a speed.
type PassiveCable uint32

const (
	passiveHardware    span = 31<<8 + 28
	passiveFirmware    span = 27<<8 + 24
	passiveVersion     span = 23<<8 + 21
	passiveReserved20  span = 20<<8 + 20
	passiveEnd         span = 19<<8 + 18
	passiveEPR         span = 17<<8 + 17
	passiveLatency     span = 16<<8 + 13
	passiveTermination span = 12<<8 + 11
	passiveVoltage     span = 10<<8 + 9
	passiveReserved8   span = 8<<8 + 7
	passiveCurrent     span = 6<<8 + 5
	passiveReserved4   span = 4<<8 + 3
	passiveSpeed       span = 2<<8 + 0
)

// Hardware is the vendor's hardware version, 0 to 15.
func (w PassiveCable) Hardware() int { return int(passiveHardware.get(uint32(w))) }

// Firmware is the vendor's firmware version, 0 to 15.
func (w PassiveCable) Firmware() int { return int(passiveFirmware.get(uint32(w))) }

// Version is the raw VDO version; only VDOVersion10 is assigned.
func (w PassiveCable) Version() int { return int(passiveVersion.get(uint32(w))) }

// End is what the plug leads to: Type-C or captive; other codes are reserved.
func (w PassiveCable) End() End { return End(passiveEnd.get(uint32(w))) }

// EPR reports whether the cable says it is built for Extended Power Range. The
// bit was reserved before PD R3.1.
func (w PassiveCable) EPR() bool { return passiveEPR.is(uint32(w)) }

// Latency is the delay code; Latency.Passive gives its meaning.
func (w PassiveCable) Latency() Latency { return Latency(passiveLatency.get(uint32(w))) }

// Termination is the raw termination code: VCONNNotRequired or VCONNRequired.
func (w PassiveCable) Termination() Termination {
	return Termination(passiveTermination.get(uint32(w)))
}

// MaxVoltage is the code of the highest VBUS voltage.
func (w PassiveCable) MaxVoltage() MaxVoltage { return MaxVoltage(passiveVoltage.get(uint32(w))) }

// Current is the VBUS current code.
func (w PassiveCable) Current() Current { return Current(passiveCurrent.get(uint32(w))) }

// Speed is the highest USB speed code.
func (w PassiveCable) Speed() Speed { return Speed(passiveSpeed.get(uint32(w))) }

var passiveCableLayout = Layout{
	name: "passive-cable", title: "Passive Cable VDO", since: "PD R3.0 and later",
	source: "PD R3.2 V1.2, Passive Cable VDO table (T 6.42)",
	fields: []Field{
		{bits: passiveHardware, Name: "hardware-version", Title: "Hardware version", vals: numbers},
		{bits: passiveFirmware, Name: "firmware-version", Title: "Firmware version", vals: numbers},
		{bits: passiveVersion, Name: "vdo-version", Title: "VDO version", vals: versionOne},
		{bits: passiveReserved20, Name: "reserved-20", Title: "Reserved"},
		{bits: passiveEnd, Name: "plug-type", Title: "Plug leads to", vals: ends},
		{bits: passiveEPR, Name: "epr", Title: "EPR capable", vals: yesNo, Note: "reserved before PD R3.1"},
		{bits: passiveLatency, Name: "latency", Title: "Latency", vals: passiveLatencies},
		{bits: passiveTermination, Name: "termination", Title: "Termination", vals: passiveTerminations},
		{bits: passiveVoltage, Name: "max-voltage", Title: "Maximum VBUS voltage", vals: maxVoltages},
		{bits: passiveReserved8, Name: "reserved-8-7", Title: "Reserved"},
		{bits: passiveCurrent, Name: "vbus-current", Title: "VBUS current", vals: passiveCurrents},
		{bits: passiveReserved4, Name: "reserved-4-3", Title: "Reserved"},
		{bits: passiveSpeed, Name: "speed", Title: "Highest USB speed", vals: speeds},
	},
}
