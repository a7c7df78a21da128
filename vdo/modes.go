package vdo

// SVIDPair is one word of a Discover SVIDs reply. A zero ends the list.
//
// Source: PD R3.2 V1.2, Discover SVIDs (6.4.12.4).
type SVIDPair uint32

const (
	svidFirst  span = 31<<8 + 16
	svidSecond span = 15<<8 + 0
)

// First is the SVID in the upper half.
func (w SVIDPair) First() uint16 { return uint16(svidFirst.get(uint32(w))) }

// Second is the SVID in the lower half.
func (w SVIDPair) Second() uint16 { return uint16(svidSecond.get(uint32(w))) }

var svidPairLayout = Layout{
	name: "svid-pair", title: "Discover SVIDs VDO", since: "PD R2.0 and later",
	source: "PD R3.2 V1.2, Discover SVIDs (6.4.12.4)",
	fields: []Field{
		{bits: svidFirst, Name: "svid-first", Title: "First SVID", vals: svids},
		{bits: svidSecond, Name: "svid-second", Title: "Second SVID", vals: svids},
	},
}

// ThunderboltCable is the mode word a cable answers under SVID 0x8087.
//
// Source: Type-C R2.0, T F-11, with the Thunderbolt 3 Compatibility Updates ECN
// (bit 25).
type ThunderboltCable uint32

const (
	tbtReserved31 span = 31<<8 + 26
	tbtActive     span = 25<<8 + 25
	tbtReserved24 span = 24<<8 + 24
	tbtTraining   span = 23<<8 + 23
	tbtRetimer    span = 22<<8 + 22
	tbtOptical    span = 21<<8 + 21
	tbtRounded    span = 20<<8 + 19
	tbtSpeed      span = 18<<8 + 16
	tbtMode       span = 15<<8 + 0
)

// TBTSpeed is the speed code of a Thunderbolt 3 mode word.
type TBTSpeed uint8

const (
	TBTGen1   TBTSpeed = 0b001 // USB 3.1 Gen 1 cable, 10 Gbps a lane
	TBT10Gbps TBTSpeed = 0b010 // 10 Gbps a lane
	TBT20Gbps TBTSpeed = 0b011 // 10 and 20 Gbps a lane
)

// LaneGbps is the highest rate of one lane in Gbps; 0 for reserved codes.
func (s TBTSpeed) LaneGbps() float64 {
	switch s {
	case TBTGen1, TBT10Gbps:
		return 10
	case TBT20Gbps:
		return 20
	}
	return 0
}

// String is the speed in words, or says that the code is reserved.
func (s TBTSpeed) String() string { return tbtSpeeds.name(uint32(s)) }

// Mode is the mode code, 1 for Thunderbolt.
func (w ThunderboltCable) Mode() int { return int(tbtMode.get(uint32(w))) }

// Speed is the cable speed code.
func (w ThunderboltCable) Speed() TBTSpeed { return TBTSpeed(tbtSpeed.get(uint32(w))) }

// Rounded is the raw rounded-data code: 1 for third and fourth generation, 0
// for third generation non-rounded only.
func (w ThunderboltCable) Rounded() int { return int(tbtRounded.get(uint32(w))) }

// Optical reports whether the medium is optical.
func (w ThunderboltCable) Optical() bool { return tbtOptical.is(uint32(w)) }

// Retimer reports whether the cable has a re-timer.
func (w ThunderboltCable) Retimer() bool { return tbtRetimer.is(uint32(w)) }

// UnidirectionalTraining reports whether link training over LSRX runs one way.
func (w ThunderboltCable) UnidirectionalTraining() bool { return tbtTraining.is(uint32(w)) }

// Active reports whether the cable has electronics. Only cables of PD 3.x set it;
// a passive ID header with this bit set is a linear re-driver, not a lie.
func (w ThunderboltCable) Active() bool { return tbtActive.is(uint32(w)) }

var tbtSpeeds = &values{codes: []Code{
	{uint32(TBTGen1), "USB 3.1 Gen 1 cable, 10 Gbps a lane", Defined},
	{uint32(TBT10Gbps), "10 Gbps a lane", Defined},
	{uint32(TBT20Gbps), "10 and 20 Gbps a lane", Defined},
}}

var thunderboltCableLayout = Layout{
	name: "thunderbolt-cable", title: "Thunderbolt 3 cable mode word", since: "PD R2.0 and later, SVID 0x8087",
	source: "Type-C R2.0, T F-11, and the Thunderbolt 3 Compatibility Updates ECN",
	fields: []Field{
		{bits: tbtReserved31, Name: "reserved-31-26", Title: "Reserved"},
		{bits: tbtActive, Name: "active", Title: "Active", vals: yesNo, Note: "added by an ECN, PD 3.x cables only"},
		{bits: tbtReserved24, Name: "reserved-24", Title: "Reserved"},
		{bits: tbtTraining, Name: "link-training", Title: "Link training",
			vals: &values{codes: []Code{{0, "bidirectional, or passive", Defined}, {1, "unidirectional", Defined}}}},
		{bits: tbtRetimer, Name: "retimer", Title: "Re-timer", vals: yesNo},
		{bits: tbtOptical, Name: "medium", Title: "Physical medium", vals: media},
		{bits: tbtRounded, Name: "rounded", Title: "Generations",
			vals: &values{codes: []Code{
				{0, "third, non-rounded only", Defined},
				{1, "third and fourth, rounded and non-rounded", Defined},
			}}},
		{bits: tbtSpeed, Name: "speed", Title: "Cable speed", vals: tbtSpeeds},
		{bits: tbtMode, Name: "mode", Title: "Mode",
			vals: &values{number: hex4, codes: []Code{{1, "Thunderbolt", Defined}}}},
	},
}

// DisplayPortCable is the mode word a cable answers under SVID 0xFF01, in the
// form of DisplayPort Alt Mode 2.1. It has that content only where Version is not
// 0 and the answer came under structured version 2.1.
//
// Source: DP Alt Mode 2.1, Table 4-4. The signalling field is a bit mask there;
// one relay lists plain values.
type DisplayPortCable uint32

const (
	dpVersion    span = 31<<8 + 30
	dpComponent  span = 29<<8 + 28
	dpReserved27 span = 27<<8 + 27
	dpUHBR13     span = 26<<8 + 26
	dpReserved25 span = 25<<8 + 24
	dpUFPPins    span = 23<<8 + 16
	dpDFPPins    span = 15<<8 + 8
	dpReserved7  span = 7<<8 + 6
	dpSignalling span = 5<<8 + 2
	dpReserved1  span = 1<<8 + 0
)

// Bits of the signalling mask.
const (
	DPHBR3   = 1 << 0 // 8.1 Gbps a lane
	DPUHBR10 = 1 << 1 // 10 Gbps a lane
	DPUHBR20 = 1 << 2 // 20 Gbps a lane
)

// Version is the raw DP Alt Mode version: 0 for 2.0 or older, 1 for 2.1.
func (w DisplayPortCable) Version() int { return int(dpVersion.get(uint32(w))) }

// Component is the raw active component code: 0 passive, 1 re-timer, 2
// re-driver, 3 optical.
func (w DisplayPortCable) Component() int { return int(dpComponent.get(uint32(w))) }

// UHBR13 reports whether 13.5 Gbps a lane is supported.
func (w DisplayPortCable) UHBR13() bool { return dpUHBR13.is(uint32(w)) }

// UFPPins is the mask of pin assignments at the sink side, bit 0 for A.
func (w DisplayPortCable) UFPPins() uint8 { return uint8(dpUFPPins.get(uint32(w))) }

// DFPPins is the mask of pin assignments at the source side, bit 0 for A.
func (w DisplayPortCable) DFPPins() uint8 { return uint8(dpDFPPins.get(uint32(w))) }

// Signalling is the mask of DPHBR3, DPUHBR10 and DPUHBR20; bit 3 is not
// assigned.
func (w DisplayPortCable) Signalling() int { return int(dpSignalling.get(uint32(w))) }

// LaneGbps is the highest DisplayPort rate of one lane in Gbps: 8.1 (HBR3), 10,
// 13.5 or 20; 0 where the word states none.
func (w DisplayPortCable) LaneGbps() float64 {
	s := w.Signalling()
	switch {
	case s&DPUHBR20 != 0:
		return 20
	case w.UHBR13():
		return 13.5
	case s&DPUHBR10 != 0:
		return 10
	case s&DPHBR3 != 0:
		return 8.1
	}
	return 0
}

// maskNames words a bit mask: the names of the bits that are set, from bit 0.
// A bit without a name is not assigned; its number counts within the field.
func maskNames(none, separator string, names ...string) func(uint32) string {
	return func(n uint32) string {
		s := ""
		for i := uint32(0); n>>i != 0; i++ {
			if n>>i&1 == 0 {
				continue
			}
			if s != "" {
				s += separator
			}
			if i < uint32(len(names)) {
				s += names[i]
			} else {
				s += "(bit " + decimal(i) + " of the field, unassigned)"
			}
		}
		if s == "" {
			return none
		}
		return s
	}
}

var (
	pinAssignments = maskNames("none", " ", "A", "B", "C", "D", "E", "F")
	dpRates        = maskNames("none stated", ", ", "HBR3", "UHBR10", "UHBR20")
)

var displayPortCableLayout = Layout{
	name: "displayport-cable", title: "DisplayPort cable mode word", since: "DP Alt Mode 2.1, SVID 0xFF01",
	source: "DP Alt Mode 2.1, Table 4-4",
	fields: []Field{
		{bits: dpVersion, Name: "version", Title: "DP Alt Mode version",
			vals: &values{codes: []Code{{0, "2.0 or older", Defined}, {1, "2.1", Defined}}}},
		{bits: dpComponent, Name: "active-component", Title: "Active component",
			vals: &values{codes: []Code{
				{0, "none, passive", Defined}, {1, "re-timer", Defined},
				{2, "re-driver", Defined}, {3, "optical", Defined},
			}}},
		{bits: dpReserved27, Name: "reserved-27", Title: "Reserved"},
		{bits: dpUHBR13, Name: "uhbr13.5", Title: "UHBR13.5 supported", vals: yesNo},
		{bits: dpReserved25, Name: "reserved-25-24", Title: "Reserved"},
		{bits: dpUFPPins, Name: "ufp-pins", Title: "Pin assignments, sink side", vals: &values{number: pinAssignments}},
		{bits: dpDFPPins, Name: "dfp-pins", Title: "Pin assignments, source side", vals: &values{number: pinAssignments}},
		{bits: dpReserved7, Name: "reserved-7-6", Title: "Reserved"},
		{bits: dpSignalling, Name: "signalling", Title: "Signalling", vals: &values{number: dpRates}},
		{bits: dpReserved1, Name: "reserved-1-0", Title: "Reserved"},
	},
}

// A word whose layout nothing in the message tells.
const opaqueData span = 31<<8 + 0

var opaqueLayout = Layout{
	name: "data", title: "Data object without a known layout", since: "any",
	source: "the message does not say",
	fields: []Field{{bits: opaqueData, Name: "data", Title: "Data", vals: wordNumbers}},
}
