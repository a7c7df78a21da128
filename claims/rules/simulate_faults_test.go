package rules

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// Each plant makes one fault in a simulated cable that the rule of its name must
// find. It reports false where the cable is not fit for the fault. Wherever a
// number is planted, it lies outside the guard band.

func (w *world) claimPower(watts float64)  { w.rec.Claims[0].Power = amount(watts, quantity.Power) }
func (w *world) claimCurrent(amps float64) { w.rec.Claims[0].Current = amount(amps, quantity.Current) }
func (w *world) claimVoltage(volts float64) {
	w.rec.Claims[0].Voltage = amount(volts, quantity.Voltage)
}
func (w *world) claimLength(m float64)     { w.rec.Claims[0].Length = amount(m, quantity.Length) }
func (w *world) claimPlugs(p record.Plugs) { w.rec.Claims[0].Plugs = stated(p, string(p)) }
func (w *world) claimMarked(yes bool)      { w.rec.Claims[0].Marked = stated(yes, fmt.Sprint(yes)) }
func (w *world) claimActive(yes bool)      { w.rec.Claims[0].Active = stated(yes, fmt.Sprint(yes)) }
func (w *world) claimCertified()           { w.rec.Claims[0].Certified = stated(true, "true") }

func (w *world) claimModes(modes ...record.Mode) {
	w.rec.Claims[0].Modes = stated(modes, fmt.Sprint(modes))
}

func (w *world) claimVideo(text string, width, height int, hz float64) {
	w.rec.Claims[0].Video = stated(record.VideoClaim{Width: width, Height: height, Hz: hz}, text)
}

func (w *world) claimRate(gbps float64) {
	w.rec.Claims[0].Data = stated(record.DataClaim{Gbps: gbps}, fmt.Sprintf("%g Gbps", gbps))
}

func (w *world) claimStandard(name string, gbps float64) {
	w.rec.Claims[0].Data = stated(record.DataClaim{Gbps: gbps, Standard: name}, name)
}

// silence takes a marker that was asked and does not answer.
func (w *world) silence() bool {
	if w.legacy || w.captive {
		return false
	}
	w.marked = false
	return true
}

func (w *world) pd2() bool { return w.marked && w.near.structured == "1.0" }
func (w *world) pd3() bool { return w.marked && w.near.structured != "1.0" }

// passive is a cable that is passive by its ID header, of any revision.
func (w *world) passive() bool { return w.marked && strings.HasPrefix(w.near.oneLayout, "passive") }

// secondWord is an active cable of VDO version 1.3.
func (w *world) secondWord() bool { return w.marked && w.near.twoLayout == "active-cable-2" }

// older is a cable with an older connector that is sold as such.
func (w *world) older() bool { w.claimPlugs(w.plugs()); return w.legacy }

func (w *world) detachable() bool { return w.marked && !w.captive }

// onTape and byEye make sure that the bench looks; offTape and blind that it does
// not.
func (w *world) onTape() bool  { w.taped = true; return true }
func (w *world) offTape() bool { w.taped = false; return true }
func (w *world) byEye() bool   { w.seen = true; return true }
func (w *world) blind() bool   { w.seen = false; return true }

// sensed makes sure that both conductors are measured.
func (w *world) sensed() bool { w.unmeasured, w.loopOnly = false, false; return true }

// bad makes one conductor too poor for a current, by 4 % to 100 %.
func (w *world) bad(amps float64) bool {
	w.sensed()
	factor := w.between(1.04, 2)
	if w.chance(0.5) {
		w.vbus = factor * bench.LimitOhm(bench.VBUS, amps)
	} else {
		w.ground = factor * bench.LimitOhm(bench.Ground, amps)
	}
	return true
}

// modes gives the near plug a list of modes, and the modal bit.
func (w *world) modes(svids ...uint16) bool {
	w.near.svidsAsked, w.near.svids, w.near.tbt, w.near.dp = true, svids, 0, 0
	return w.near.set("modal", 1)
}

func (w *world) noModes() bool {
	w.near.svidsAsked, w.near.svids, w.near.tbt, w.near.dp = false, nil, 0, 0
	return w.near.set("modal", 0)
}

func (w *world) thunderbolt(field string, raw uint32) bool {
	w.modes(vdo.SVIDThunderbolt)
	w.near.tbt = compose("thunderbolt-cable", 0x000B0001, field, raw)
	return true
}

func (w *world) displayPort(field string, raw uint32) bool {
	w.modes(vdo.SVIDDisplayPort)
	w.near.structured = "2.1"
	w.near.dp = compose("displayport-cable", 0x401C1C1C, field, raw)
	return true
}

// vpd turns the marker into a VCONN-powered USB device.
func (w *world) vpd(word uint32) bool {
	if !w.pd3() {
		return false
	}
	w.noModes()
	w.farAsked = false
	w.near.oneLayout, w.near.one, w.near.twoLayout = "vpd", word, ""
	return w.near.set("product-type", uint32(vdo.VPDType)) && w.near.set("usb-device", 1)
}

// far asks the far plug of a cable that declares one, after a change.
func (w *world) farPlug(field string, raw uint32) bool { return w.farAsked && w.far.set(field, raw) }

func differing(options []float64, from float64) float64 {
	for _, o := range options {
		if o > from {
			return o
		}
	}
	return 0
}

// fasterThanMarker claims more than a marker of any kind declares.
func (w *world) fasterThanMarker() bool {
	switch w.IntN(6) {
	case 0:
		w.claimStandard("USB4 Gen 3", 40)
		return w.secondWord() && w.near.tbt == 0 && w.near.set("usb4", 1)
	case 1:
		w.claimStandard("USB 3.2 Gen 2x2", 20)
		return w.secondWord() && w.near.set("lanes", 0)
	case 2:
		w.claimStandard("USB 2.0", 0.48)
		return w.secondWord() && w.near.set("usb2", 1)
	case 3:
		w.claimStandard("USB4 Gen 3", 40)
		return w.marked && w.near.twoLayout == "active-cable-2-v12" && w.thunderbolt("rounded", 0)
	case 4:
		w.claimStandard("USB 3.2 Gen 2", 10)
		return w.passive() && w.speed == vdo.USB32Gen1
	}
	w.claimRate(differing([]float64{40, 80}, 2*w.speed.LaneGbps()))
	return w.pd3() && w.passive() && w.speed < vdo.USB4Gen3 && w.noModes()
}

// elsewhere claims something else in a second place.
func (w *world) elsewhere(first, second func(cl *record.Claims)) bool {
	w.rec.Claims[0].Source = stated("label", "label")
	first(&w.rec.Claims[0])
	other := record.Claims{Source: stated("page", "page")}
	second(&other)
	w.rec.Claims = append(w.rec.Claims, other)
	return true
}

func stating[T any](field func(*record.Claims) *record.Stated[T], v T) func(*record.Claims) {
	return func(cl *record.Claims) { *field(cl) = stated(v, fmt.Sprint(v)) }
}

// twice is a plant that claims two values of one property in two places.
func twice[T any](field func(*record.Claims) *record.Stated[T], a, b T) func(*world) bool {
	return func(w *world) bool { return w.elsewhere(stating(field, a), stating(field, b)) }
}

var plants = map[string]func(w *world) bool{
	// A seller who contradicts himself.
	"claimed-power-differs-by-source":     twice(func(cl *record.Claims) *record.Stated[float64] { return &cl.Power }, 60, 100),
	"claimed-current-differs-by-source":   twice(func(cl *record.Claims) *record.Stated[float64] { return &cl.Current }, 3, 5),
	"claimed-voltage-differs-by-source":   twice(func(cl *record.Claims) *record.Stated[float64] { return &cl.Voltage }, 48, 20),
	"claimed-length-differs-by-source":    twice(func(cl *record.Claims) *record.Stated[float64] { return &cl.Length }, 1, 2),
	"claimed-conductors-differ-by-source": twice(func(cl *record.Claims) *record.Stated[float64] { return &cl.Conductors }, 0.2e-6, 0.5e-6),
	"claimed-data-differs-by-source":      twice(func(cl *record.Claims) *record.Stated[record.DataClaim] { return &cl.Data }, record.DataClaim{Gbps: 10}, record.DataClaim{Gbps: 40}),
	"claimed-plugs-differ-by-source":      twice(func(cl *record.Claims) *record.Stated[record.Plugs] { return &cl.Plugs }, record.CToC, record.CToA),
	"claimed-active-differs-by-source":    twice(func(cl *record.Claims) *record.Stated[bool] { return &cl.Active }, true, false),
	"claimed-marked-differs-by-source":    twice(func(cl *record.Claims) *record.Stated[bool] { return &cl.Marked }, true, false),
	"claimed-certified-differs-by-source": twice(func(cl *record.Claims) *record.Stated[bool] { return &cl.Certified }, false, true),
	"claimed-modes-differ-by-source":      twice(func(cl *record.Claims) *record.Stated[[]record.Mode] { return &cl.Modes }, []record.Mode{record.Thunderbolt3}, []record.Mode{record.Thunderbolt4}),
	"claimed-video-differs-by-source":     twice(func(cl *record.Claims) *record.Stated[record.VideoClaim] { return &cl.Video }, record.VideoClaim{Width: 3840, Height: 2160, Hz: 60}, record.VideoClaim{Width: 7680, Height: 4320, Hz: 60}),

	// Power, current, voltage.
	"claimed-power-above-standard": func(w *world) bool { w.claimPower(w.between(241, 600)); return true },
	"claimed-power-above-marker": func(w *world) bool {
		tier := w.tier()
		w.claimPower(differing([]float64{100, 140, 180, 240}, float64(tier.Watts)))
		return w.pd3() && !w.captive && tier != tier240
	},
	"claimed-power-on-unmarked-cable":   func(w *world) bool { w.claimPower(100); return w.silence() },
	"claimed-current-above-marker":      func(w *world) bool { w.claimCurrent(5); return w.detachable() && w.amps == 3 },
	"claimed-current-on-unmarked-cable": func(w *world) bool { w.claimCurrent(5); return w.silence() },
	"claimed-current-below-3-a":         func(w *world) bool { w.claimCurrent(w.between(0.5, 2.9)); return !w.captive },
	"claimed-current-unpublished":       func(w *world) bool { w.claimCurrent(w.between(3.1, 4.9)); return true },
	"claimed-voltage-above-marker":      func(w *world) bool { w.claimVoltage(48); return w.pd3() && !w.captive && !w.epr },
	"claimed-voltage-on-unmarked-cable": func(w *world) bool { w.claimVoltage(28); return w.silence() },
	"claimed-voltage-above-standard":    func(w *world) bool { w.claimVoltage(w.between(51, 100)); return true },
	"claimed-power-over-legacy-cable":   func(w *world) bool { w.claimPower(60); return w.older() },
	"claimed-current-over-legacy-cable": func(w *world) bool { w.claimCurrent(5); return w.older() },
	"claimed-power-above-claimed-voltage-and-current": func(w *world) bool {
		w.claimPower(100)
		w.claimVoltage(20)
		w.claimCurrent(3)
		return true
	},
	"claimed-power-above-claimed-current": func(w *world) bool {
		w.claimPower(differing([]float64{100, 240}, w.between(60, 240)))
		w.claimCurrent(3)
		w.rec.Claims[0].Voltage.Known = false
		return !w.legacy && !w.captive
	},
	"claimed-power-above-claimed-voltage": func(w *world) bool {
		w.claimPower(240)
		w.claimVoltage(20)
		w.rec.Claims[0].Current.Known = false
		return !w.legacy
	},
	"claimed-power-unpublished":       func(w *world) bool { w.claimPower(w.between(61, 99)); return !w.legacy },
	"claimed-epr-voltage-without-5-a": func(w *world) bool { w.claimVoltage(48); w.claimCurrent(3); return !w.legacy && !w.captive },
	"marker-power-above-claim":        func(w *world) bool { w.claimPower(45); return w.marked && w.amps == 5 },

	// Copper.
	"bench-over-limit-at-claimed-current":  func(w *world) bool { w.claimPower(100); return !w.legacy && !w.captive && w.bad(5) },
	"bench-over-limit-at-stated-current":   func(w *world) bool { w.claimCurrent(5); return !w.captive && w.bad(5) },
	"bench-over-limit-at-declared-current": func(w *world) bool { return w.detachable() && w.bad(w.amps) },
	"bench-over-limit-at-3-a":              func(w *world) bool { return !w.captive && w.bad(3) },
	"bench-ground-over-limit": func(w *world) bool {
		w.vbus, w.ground = w.between(0.010, 0.060), w.between(0.053, 0.080)
		return w.sensed()
	},
	"bench-ground-worse-than-vbus": func(w *world) bool { w.ground = 2*w.vbus + 0.005; return w.sensed() },
	"resistance-above-claimed-conductors": func(w *world) bool {
		w.rec.Claims[0].Conductors = amount(3*w.area, quantity.Area)
		return w.sensed() && w.onTape() && w.vbus > 0.090 // a Type-A end can add 40 mΩ by itself
	},
	"resistance-below-claimed-conductors": func(w *world) bool {
		w.rec.Claims[0].Conductors = amount(w.area/4, quantity.Area)
		return w.sensed() && w.onTape() && w.vbus > 0.060
	},
	"bench-vbus-conducts-against-marker": func(w *world) bool { return w.marked && w.sensed() && w.near.set("vbus-through", 0) },

	// Data.
	"claimed-data-above-marker":      func(w *world) bool { return w.fasterThanMarker() },
	"claimed-data-above-standard":    func(w *world) bool { w.claimRate(w.between(121, 900)); return true },
	"claimed-data-on-unmarked-cable": func(w *world) bool { w.claimRate(10); w.claimPlugs(w.plugs()); return w.silence() },
	"claimed-data-over-legacy-cable": func(w *world) bool { w.claimRate(40); return w.older() },
	"marker-data-above-claim":        func(w *world) bool { w.claimRate(0.48); return w.marked && w.speed > vdo.USB2 },
	// Modes and pictures.
	"claimed-thunderbolt-without-mode": func(w *world) bool {
		w.claimModes(record.Thunderbolt4)
		return w.marked && w.noModes()
	},
	"claimed-thunderbolt-above-marker": func(w *world) bool {
		w.claimModes(record.Thunderbolt5)
		return w.pd3() && w.speed < vdo.USB4Gen3 && !w.active && w.thunderbolt("speed", uint32(vdo.TBT10Gbps))
	},
	"claimed-thunderbolt-3-without-mode": func(w *world) bool {
		w.claimModes(record.Thunderbolt3)
		return w.passive() && w.noModes()
	},
	"thunderbolt-generation-not-stated": func(w *world) bool {
		w.claimModes(record.Thunderbolt4)
		return w.pd3() && w.speed >= vdo.USB4Gen3 && w.thunderbolt("speed", uint32(vdo.TBT20Gbps))
	},
	"claimed-displayport-not-carried": func(w *world) bool {
		w.claimModes(record.DisplayPort)
		return w.marked && (w.speed == vdo.USB2 || !w.passive()) && w.noModes()
	},
	"claimed-modes-on-unmarked-cable": func(w *world) bool { w.claimModes(record.DisplayPort); return w.silence() },
	"claimed-modes-over-legacy-cable": func(w *world) bool { w.claimModes(record.DisplayPort); return w.older() },
	"claimed-modes-over-usb-2": func(w *world) bool {
		w.claimModes(record.Thunderbolt4)
		w.claimActive(false)
		w.claimRate(0.48)
		return !w.captive
	},
	"claimed-thunderbolt-above-claimed-data": func(w *world) bool {
		w.claimModes(record.Thunderbolt5)
		w.claimRate(40)
		return true
	},
	"claimed-video-above-marker": func(w *world) bool {
		w.claimVideo("16K120", 15360, 8640, 120)
		return w.passive() && w.pd3() && !w.active && w.speed < vdo.USB4Gen4
	},
	"claimed-video-only-compressed": func(w *world) bool {
		w.claimVideo("8K60", 7680, 4320, 60)
		return w.passive() && w.pd3() && (w.speed == vdo.USB32Gen1 || w.speed == vdo.USB32Gen2) && w.noModes()
	},
	"claimed-video-on-unmarked-cable": func(w *world) bool { w.claimVideo("4K60", 3840, 2160, 60); return w.silence() },
	"claimed-video-over-legacy-cable": func(w *world) bool { w.claimVideo("4K60", 3840, 2160, 60); return w.older() },
	"thunderbolt-word-reserved-codes": func(w *world) bool { return w.pd3() && w.thunderbolt("speed", 4+uint32(w.IntN(4))) },
	"displayport-word-reserved-codes": func(w *world) bool { return w.pd3() && w.displayPort("reserved-27", 1) },
	"displayport-word-without-rate":   func(w *world) bool { return w.pd3() && w.displayPort("signalling", 0) },
	"displayport-pins-withdrawn":      func(w *world) bool { return w.pd3() && w.displayPort("dfp-pins", 0x02) },
	"thunderbolt-slower-than-cable-word": func(w *world) bool {
		return w.pd3() && w.speed >= vdo.USB4Gen3 && w.thunderbolt("speed", uint32(vdo.TBT10Gbps))
	},
	"thunderbolt-mode-over-usb-2-wires": func(w *world) bool {
		return w.passive() && w.speed == vdo.USB2 && w.thunderbolt("speed", uint32(vdo.TBT20Gbps))
	},

	// Length.
	"claimed-length-differs-from-tape": func(w *world) bool { w.claimLength(w.length * w.between(1.2, 3)); return w.onTape() },
	"length-faster-than-light": func(w *world) bool {
		w.claimLength(w.between(3.4, 10))
		return w.passive() && w.offTape() && w.near.set("latency", 1)
	},
	"tape-length-faster-than-light": func(w *world) bool {
		return w.marked && w.length > 3.1 && w.onTape() && w.near.set("latency", 1)
	},
	"claimed-length-unlikely-for-latency": func(w *world) bool {
		w.claimLength(w.between(2.7, 3.2))
		return w.passive() && w.offTape() && w.near.set("latency", 1)
	},
	"tape-length-unlikely-for-latency": func(w *world) bool {
		return w.passive() && w.length > 2.45 && w.length < 2.95 && w.onTape() && w.near.set("latency", 1)
	},
	"length-long-for-declared-speed": func(w *world) bool {
		w.length = w.between(2.5, 5)
		return w.passive() && !w.active && w.speed > vdo.USB2 && w.onTape()
	},
	"claimed-length-long-for-claimed-data": func(w *world) bool {
		w.claimLength(w.between(1, 3))
		w.claimRate(40)
		w.claimActive(false)
		return !w.legacy
	},

	// Plugs, marking, activity.
	"claimed-plugs-differ-from-seen": func(w *world) bool { w.claimPlugs(record.CToMicroB); return w.byEye() },
	"claimed-plugs-differ-from-marker": func(w *world) bool {
		w.claimPlugs(record.CToC)
		return w.marked && w.blind() && w.near.set("plug-type", uint32(vdo.EndCaptive))
	},
	"seen-plugs-differ-from-marker": func(w *world) bool {
		return w.pd2() && !w.captive && w.byEye() && w.near.set("plug-type", uint32(vdo.EndTypeA))
	},
	"captive-code-on-detachable-cable": func(w *world) bool {
		return w.detachable() && w.byEye() && w.near.set("plug-type", uint32(vdo.EndCaptive))
	},
	"legacy-cable-answers": func(w *world) bool { w.claimPlugs(record.CToA); return w.marked },
	"seen-legacy-cable-answers": func(w *world) bool {
		w.rec.Claims[0].Plugs.Known, w.rec.Claims[0].Plugs.Value = false, ""
		if !w.marked {
			return false
		}
		w.legacy = true // what is seen
		return w.byEye()
	},
	"claimed-marked-but-silent":    func(w *world) bool { w.claimMarked(true); return w.silence() },
	"claimed-unmarked-but-answers": func(w *world) bool { w.claimMarked(false); return w.marked },
	"claimed-unmarked-where-marking-is-required": func(w *world) bool {
		w.claimMarked(false)
		w.claimRate(10)
		w.claimPlugs(w.plugs())
		return !w.legacy && !w.captive
	},
	"claimed-active-on-unmarked-cable": func(w *world) bool {
		w.claimActive(true)
		w.claimPlugs(record.CToC)
		return w.silence()
	},
	"claimed-marked-over-legacy-cable": func(w *world) bool { w.claimMarked(true); return w.older() },
	"claimed-active-differs-from-marker": func(w *world) bool {
		w.claimActive(!w.active)
		return w.marked && !w.near.svidsAsked
	},

	// Certification.
	"claimed-certified-without-xid": func(w *world) bool { w.claimCertified(); w.near.cert = 0; return w.marked },
	"certificate-differs-from-xid": func(w *world) bool {
		w.rec.Claims[0].Certificate = stated("7", "7")
		w.near.cert = 8000
		return w.marked
	},
	"claimed-certified-without-number": func(w *world) bool { w.claimCertified(); w.rec.Claims[0].Certificate.Known = false; return true },
	"claimed-certified-without-vendor-id": func(w *world) bool {
		w.claimCertified()
		return w.marked && w.near.set("vendor-id", noVendorID)
	},
	"claimed-certified-in-withdrawn-power-class": func(w *world) bool { w.claimCertified(); w.claimPower(100); return true },
	"claimed-certified-but-5-a-without-epr": func(w *world) bool {
		w.claimCertified()
		w.rec.Claims[0].Power = record.Stated[float64]{}
		return w.marked && w.near.set("epr", 0) && w.near.set("max-voltage", 0) && w.amps == 5
	},
	"claimed-certified-at-10-gbps": func(w *world) bool { w.claimCertified(); w.claimRate(10); return !w.legacy && !w.captive },

	// The marker alone: header and identity.
	"header-object-position-set": func(w *world) bool { w.near.position = 1 + uint32(w.IntN(7)); return w.marked },
	"header-reserved-bit-set":    func(w *world) bool { w.near.reserved = true; return w.marked },
	"header-version-reserved": func(w *world) bool {
		if !w.pd3() || w.near.svidsAsked {
			return false
		}
		w.near.structured = []string{"reserved", "invalid"}[w.IntN(2)]
		return true
	},
	"object-count-wrong": func(w *world) bool {
		if w.near.svidsAsked || w.near.oneLayout == "active-cable-early" {
			return false // a second word may follow, and another rule tells
		}
		if w.chance(0.5) {
			w.near.extraObject = true
		} else {
			w.near.words = 3
		}
		return w.marked
	},
	"product-type-reserved":        func(w *world) bool { return w.marked && w.near.set("product-type", []uint32{1, 2, 5, 7}[w.IntN(4)]) },
	"product-type-not-a-cable":     func(w *world) bool { return w.marked && w.near.set("product-type", 0) },
	"plug-says-it-is-a-host":       func(w *world) bool { return w.marked && w.near.set("usb-host", 1) },
	"cable-says-it-is-a-device":    func(w *world) bool { return w.marked && w.near.set("usb-device", 1) },
	"vpd-not-a-device":             func(w *world) bool { return w.vpd(0) && w.near.set("usb-device", 0) },
	"port-product-type-on-plug":    func(w *world) bool { return w.pd3() && w.near.set("product-type-dfp", 1+uint32(w.IntN(7))) },
	"connector-code-reserved":      func(w *world) bool { return w.pd3() && w.near.set("connector", 1) },
	"connector-says-receptacle":    func(w *world) bool { return w.pd3() && w.near.set("connector", 2) },
	"product-id-without-vendor-id": func(w *world) bool { return w.marked && w.near.set("vendor-id", noVendorID) },
	"vendor-id-zero":               func(w *world) bool { return w.marked && w.near.set("vendor-id", 0) },
	"identity-not-programmed": func(w *world) bool {
		w.near.cert, w.near.product = 0, 0
		return w.marked && w.near.set("vendor-id", 0)
	},
	"xid-without-vendor-id": func(w *world) bool {
		w.near.cert, w.near.product = 8000, 0
		return w.marked && w.near.set("vendor-id", noVendorID)
	},
	"xid-proves-nothing-by-itself": func(w *world) bool { w.near.cert = 8000; return w.marked },
	"release-not-decimal":          func(w *world) bool { w.near.product |= 0xA; return w.marked },
	"modal-bit-without-modes":      func(w *world) bool { return w.marked && w.modes() },
	"modes-without-modal-bit":      func(w *world) bool { return w.marked && w.modes(vdo.SVIDThunderbolt) && w.near.set("modal", 0) },
	"svid-list-without-end": func(w *world) bool {
		w.near.endless = true
		return w.marked && w.modes(vdo.SVIDThunderbolt, vdo.SVIDDisplayPort)
	},
	"marker-gives-no-identity":   func(w *world) bool { w.near.noIdentity, w.farAsked = true, false; return w.marked },
	"one-plug-gives-no-identity": func(w *world) bool { w.near.noIdentity = true; return w.farAsked },
	"plugs-disagree-on-power":    func(w *world) bool { return w.farPlug("vbus-current", uint32(vdo.Current3A)) && w.amps == 5 },
	"plugs-disagree-on-speed":    func(w *world) bool { return w.farPlug("speed", uint32(vdo.USB2)) },
	"plugs-disagree-on-identity": func(w *world) bool { return w.farPlug("vendor-id", 0x2FA2) },
	"far-plug-answers-though-not-declared": func(w *world) bool {
		w.far, w.farAsked = w.near, true
		w.far.svidsAsked, w.far.tbt, w.far.dp = false, 0, 0
		return w.marked && (w.passive() || w.near.set("far-plug", 0))
	},

	// The marker alone: cable words.
	"reserved-bits-set": func(w *world) bool {
		field := []string{"reserved-20", "reserved-8-7", "reserved-4-3", "reserved-23-20", "reserved-15", "reserved-20-16", "reserved-17", "receptacle"}[w.IntN(8)]
		return w.marked && w.near.set(field, 1)
	},
	"latency-invalid":    func(w *world) bool { return w.marked && w.near.set("latency", []uint32{0, 11, 15}[w.IntN(3)]) },
	"plug-type-reserved": func(w *world) bool { return w.pd3() && w.near.set("plug-type", uint32(w.IntN(2))) },
	"termination-reserved": func(w *world) bool {
		if w.passive() {
			return w.near.set("termination", 2+uint32(w.IntN(2)))
		}
		return w.marked && w.near.set("termination", uint32(w.IntN(2)))
	},
	"passive-needs-vconn-without-modes": func(w *world) bool {
		return w.pd3() && w.passive() && w.noModes() && w.near.set("termination", uint32(vdo.VCONNRequired))
	},
	"voltage-code-deprecated": func(w *world) bool { return w.pd3() && w.near.set("max-voltage", 1+uint32(w.IntN(2))) },
	"current-code-invalid":    func(w *world) bool { return w.marked && w.near.set("vbus-current", 3) },
	"speed-code-reserved": func(w *world) bool {
		return w.marked && w.near.set("speed", 5+uint32(w.IntN(3))) && w.near.oneLayout != "active-cable-1-v12"
	},
	"vdo-version-reserved": func(w *world) bool { return w.pd3() && w.near.set("vdo-version", 4+uint32(w.IntN(4))) },
	"epr-without-50-v-5-a": func(w *world) bool { return w.epr && w.near.set("max-voltage", 0) },
	"50-v-without-epr":     func(w *world) bool { return w.epr && w.near.set("epr", 0) },
	"5-a-20-v-class-deprecated": func(w *world) bool {
		w.claimPower(100)
		return w.marked && w.amps == 5 && !w.epr && w.near.set("vbus-current", uint32(vdo.Current5A))
	},
	"vbus-not-through-though-not-isolated": func(w *world) bool { return w.marked && w.near.set("vbus-through", 0) },
	"far-plug-with-one-end-active": func(w *world) bool {
		return w.marked && !w.passive() && w.near.set("far-plug", 1) && w.near.set("termination", uint32(vdo.OneEndActive))
	},
	"word-count-differs-from-vdo-version": func(w *world) bool {
		return w.marked && w.near.oneLayout == "active-cable-early" && w.near.set("vdo-version", vdo.VDOVersion12)
	},
	"header-minor-version-under-1-0": func(w *world) bool { w.near.minor = 1; return w.pd2() },
	"mode-header-wrong": func(w *world) bool {
		w.near.modePosition = 1
		return w.marked && w.near.svidsAsked && len(w.near.svids) > 0
	},
	"u3-power-reserved": func(w *world) bool { return w.marked && w.near.set("u3-power", 7) },
	"usb-2-absent-though-not-isolated": func(w *world) bool {
		return w.secondWord() && w.near.set("usb2", 1) && w.near.set("usb2-hub-hops", 0)
	},
	"hub-hops-without-usb-2":            func(w *world) bool { return w.marked && w.near.set("usb2", 1) && w.near.set("usb2-hub-hops", 1) },
	"one-lane-above-gen-2":              func(w *world) bool { return w.secondWord() && w.speed >= vdo.USB4Gen3 && w.near.set("lanes", 0) },
	"generation-bit-differs-from-speed": func(w *world) bool { return w.secondWord() && w.speed >= vdo.USB32Gen2 && w.near.set("generation", 0) },
	"usb4-declared-below-gen-2":         func(w *world) bool { return w.secondWord() && w.speed == vdo.USB32Gen1 && w.near.set("usb4", 0) },
	"asymmetric-mode-below-gen-4":       func(w *world) bool { return w.secondWord() && w.speed < vdo.USB4Gen4 && w.near.set("asymmetric", 1) },
	"isolated-but-not-optical":          func(w *world) bool { return w.secondWord() && w.near.set("isolated", 1) },
	"isolated-but-vbus-through":         func(w *world) bool { return w.secondWord() && w.near.set("isolated", 1) && w.near.set("medium", 1) },
	"shutdown-not-above-operating-temperature": func(w *world) bool {
		return w.marked && w.near.set("shutdown-temperature", 50)
	},
	"temperature-not-plausible":             func(w *world) bool { return w.marked && w.near.set("max-temperature", 111+uint32(w.IntN(140))) },
	"sideband-missing-for-its-modes":        func(w *world) bool { return w.secondWord() && w.speed >= vdo.USB32Gen2 && w.near.set("sbu", 1) },
	"vpd-impedance-below-10-milliohm":       func(w *world) bool { return w.vpd(0x00000001 | 4<<7 | 33<<1) },
	"vpd-fields-set-without-charge-through": func(w *world) bool { return w.vpd(33 << 7) },
}
