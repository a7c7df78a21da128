package rules

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"testing"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// The simulation draws true cables, with an honest seller, an honest marker and a
// noisy bench, and asks the whole catalogue about them: no contradiction and no
// breach may be found, except within the guard band of a limit. Then it plants
// one known lie or fault in a cable and asks the rule that is to find it.

var cables = flag.Int("cables", 4000, "cables the simulation draws of each sort, honest and planted")

// answerWords is what one plug of a simulated cable answers.
type answerWords struct {
	structured   string // 1.0, 2.0 or 2.1
	position     uint32
	reserved     bool
	id           uint32
	cert         uint32
	product      uint32
	oneLayout    string
	one          uint32
	twoLayout    string // empty: no second word
	two          uint32
	svids        []uint16
	svidsAsked   bool
	endless      bool // no closing zero
	tbt, dp      uint32
	words        int // words given, 0 for all
	noIdentity   bool
	extraObject  bool
	minor        uint32 // minor version bits under 1.0
	modePosition uint32 // object position in the answer to Discover SVIDs
}

func compose(layout string, w uint32, field string, raw uint32) uint32 {
	w, err := vdo.LayoutNamed(layout).Compose(w, vdo.Value{Field: field, Raw: raw})
	if err != nil {
		panic(err)
	}
	return w
}

func (a *answerWords) idLayout() string {
	if a.structured == "1.0" {
		return "id-header-pd2"
	}
	return "id-header"
}

// set puts a number into a field, wherever the answer has it.
func (a *answerWords) set(field string, raw uint32) bool {
	if field == "plug-type" && a.structured == "1.0" {
		field = "other-end" // its name in PD 2.0
	}
	for _, place := range []struct {
		layout string
		word   *uint32
	}{{a.idLayout(), &a.id}, {a.oneLayout, &a.one}, {a.twoLayout, &a.two}} {
		l := vdo.LayoutNamed(place.layout)
		if l == nil {
			continue
		}
		if w, err := l.Compose(*place.word, vdo.Value{Field: field, Raw: raw}); err == nil {
			*place.word = w
			return true
		}
	}
	return false
}

func (a *answerWords) header(svid uint32, command vdo.Command) uint32 {
	h := compose("vdm-header", 0, "svid", svid)
	h = compose("vdm-header", h, "structured", 1)
	h = compose("vdm-header", h, "command-type", uint32(vdo.ACK))
	h = compose("vdm-header", h, "command", uint32(command))
	version := map[string][2]uint32{"1.0": {0, 0}, "2.0": {1, 0}, "2.1": {1, 1}, "reserved": {2, 0}, "invalid": {1, 3}}[a.structured]
	h = compose("vdm-header", h, "version-major", version[0])
	return compose("vdm-header", h, "version-minor", version[1])
}

// text writes the answers out as a tester would paste them.
func (a *answerWords) text() string {
	h := a.header(vdo.SVIDPowerDelivery, vdo.DiscoverIdentity)
	h = compose("vdm-header", h, "object-position", a.position)
	if a.minor > 0 {
		h = compose("vdm-header", h, "version-minor", a.minor)
	}
	if a.reserved {
		h = compose("vdm-header", h, "reserved-5", 1)
	}
	words := []uint32{h, a.id, a.cert, a.product, a.one}
	if a.oneLayout == "" {
		words = words[:4]
	}
	if a.twoLayout != "" {
		words = append(words, a.two)
	}
	if a.extraObject {
		words = append(words, 0)
	}
	if a.words > 0 {
		words = words[:a.words]
	}
	if a.noIdentity {
		words = []uint32{compose("vdm-header", h, "command-type", uint32(vdo.NAK))}
	}
	if a.svidsAsked {
		list := slices.Clone(a.svids)
		if !a.endless {
			list = append(list, 0)
		}
		if len(list)%2 > 0 {
			list = append(list, 0)
		}
		if len(a.svids) == 0 {
			words = append(words, compose("vdm-header", a.header(vdo.SVIDPowerDelivery, vdo.DiscoverSVIDs), "command-type", uint32(vdo.NAK)))
		} else {
			words = append(words, compose("vdm-header", a.header(vdo.SVIDPowerDelivery, vdo.DiscoverSVIDs), "object-position", a.modePosition))
			for i := 0; i < len(list); i += 2 {
				words = append(words, uint32(list[i])<<16|uint32(list[i+1]))
			}
		}
	}
	if a.tbt != 0 {
		words = append(words, a.header(vdo.SVIDThunderbolt, vdo.DiscoverModes), a.tbt)
	}
	if a.dp != 0 {
		words = append(words, a.header(vdo.SVIDDisplayPort, vdo.DiscoverModes), a.dp)
	}
	b := make([]byte, 0, 9*len(words))
	for _, w := range words {
		b = fmt.Appendf(b, "%08X ", w)
	}
	return string(b)
}

// world is one simulated cable with its three witnesses.
type world struct {
	*rand.Rand
	rec record.Record

	// The truth.
	amps    float64
	epr     bool
	speed   vdo.Speed
	legacy  bool
	captive bool
	active  bool // electronics
	length  float64
	vbus    float64 // Ω, contacts included, at the bench's temperature
	ground  float64
	area    float64 // m² of each conductor

	marked    bool
	near, far answerWords
	farAsked  bool
	lesser    bool // one plug declares less than the other
	turned    bool // read with the cable turned round too

	// How the bench measures.
	unmeasured bool
	printed    bool
	loopOnly   bool
	taped      bool
	tape       float64 // m, 0 to draw one
	seen       bool
}

func (w *world) chance(p float64) bool { return w.Float64() < p }

func (w *world) between(a, b float64) float64 { return a + (b-a)*w.Float64() }

func stated[T any](v T, text string) record.Stated[T] {
	return record.Stated[T]{Value: v, Text: text, Known: true}
}

func amount(v float64, d quantity.Dimension) record.Stated[float64] {
	return stated(v, quantity.Format(v, d, 4))
}

const celsius20to23 = 1 + 0.00393*3 // the bench is at 23 °C

// honest draws a cable whose witnesses tell the truth.
func honest(rng *rand.Rand) *world {
	w := &world{Rand: rng, amps: 3}
	w.rec.Cable = stated("simulated", "simulated")
	w.rec.Claims = make([]record.Claims, 1)
	switch x := w.Float64(); {
	case x < 0.10: // unmarked: USB 2.0, 3 A
		w.length = w.between(0.3, 4)
	case x < 0.15:
		w.legacy = true
		w.speed = vdo.Speed(w.IntN(3))
		w.length = w.between(0.3, 1)
	default:
		w.marked = true
		w.captive = w.chance(0.05)
		w.drawMarker()
	}
	w.drawCopper()
	w.drawBench()
	w.drawClaims()
	w.vary()
	return w
}

func newRand(seed, stream uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, stream)) }

func (w *world) drawMarker() {
	a := &w.near
	a.structured = []string{"2.0", "2.1"}[w.IntN(2)]
	if w.chance(0.6) {
		w.amps, w.epr = 5, w.chance(0.6)
	}
	product, modal, fields := vdo.PassiveType, false, [][2]any{}
	put := func(field string, raw uint32) { fields = append(fields, [2]any{field, raw}) }
	end := uint32(vdo.EndTypeC)
	if w.captive {
		end = uint32(vdo.EndCaptive)
	}
	bit := func(b bool) uint32 {
		if b {
			return 1
		}
		return 0
	}
	tbt := func(active, retimer bool, speed vdo.TBTSpeed) {
		modal = true
		a.svidsAsked, a.svids = true, []uint16{vdo.SVIDThunderbolt}
		a.tbt = compose("thunderbolt-cable", 1, "speed", uint32(speed))
		a.tbt = compose("thunderbolt-cable", a.tbt, "rounded", 1)
		a.tbt = compose("thunderbolt-cable", a.tbt, "active", bit(active && a.structured != "1.0"))
		a.tbt = compose("thunderbolt-cable", a.tbt, "retimer", bit(retimer))
	}
	current := uint32(vdo.Current3A)
	practical := map[vdo.Speed]float64{vdo.USB2: 4, vdo.USB32Gen1: 2, vdo.USB32Gen2: 1, vdo.USB4Gen3: 0.8, vdo.USB4Gen4: 0.8}
	switch x := w.Float64(); {
	case x < 0.20: // PD 2.0, passive
		a.structured, w.epr = "1.0", false
		a.oneLayout = "passive-cable-pd2"
		w.speed = vdo.Speed(w.IntN(3))
		w.length = w.between(0.3, practical[w.speed])
		put("vbus-through", 1)
	case x < 0.24: // PD 2.0, active
		a.structured, w.epr, w.active, product = "1.0", false, true, vdo.ActiveType
		a.oneLayout = "active-cable-pd2"
		w.speed = vdo.Speed(1 + w.IntN(2))
		w.length = w.between(0.5, 5)
		put("vbus-through", 1)
		put("termination", uint32(vdo.BothEndsActive))
		w.farAsked = w.chance(0.5)
		put("far-plug", bit(w.farAsked))
	case x < 0.65: // passive
		a.oneLayout = "passive-cable"
		w.speed = vdo.Speed(w.IntN(5))
		w.length = w.between(0.3, practical[w.speed])
		if w.speed >= vdo.USB32Gen2 && w.chance(0.5) {
			tbt(false, false, []vdo.TBTSpeed{vdo.TBT10Gbps, vdo.TBT20Gbps}[bit(w.speed >= vdo.USB4Gen3)])
			put("termination", uint32(w.IntN(2)))
		}
		if a.structured == "2.1" && w.speed >= vdo.USB32Gen1 && w.chance(0.3) {
			modal = true
			a.svidsAsked = true
			a.svids = append(a.svids, vdo.SVIDDisplayPort)
			a.dp = 0x401C1C1C
		}
	case x < 0.73: // linear re-drivers: passive by the ID header
		a.oneLayout, w.active = "passive-cable", true
		w.speed = vdo.USB4Gen3
		w.length = w.between(0.8, 2)
		tbt(true, false, vdo.TBT20Gbps)
		put("termination", uint32(vdo.VCONNRequired))
	case x < 0.78: // active, one word
		w.active, w.epr, product = true, false, vdo.ActiveType
		a.oneLayout = "active-cable-early"
		w.speed = vdo.Speed(1 + w.IntN(2))
		w.length = w.between(0.5, 5)
		put("termination", uint32(vdo.OneEndActive))
		put("vbus-through", 1)
	case x < 0.83: // active, VDO version 1.2
		w.active, w.epr, product = true, false, vdo.ActiveType
		a.oneLayout, a.twoLayout = "active-cable-1-v12", "active-cable-2-v12"
		w.speed = vdo.Speed(1 + w.IntN(2))
		w.length = w.between(0.5, 5)
		put("vdo-version", vdo.VDOVersion12)
		put("termination", uint32(vdo.BothEndsActive))
		put("vbus-through", 1)
		put("signalling", uint32(w.speed-1))
		put("lanes", 1)
		put("max-temperature", 70)
		put("shutdown-temperature", 85)
	case x < 0.87: // active, for Thunderbolt 3, without SuperSpeed
		w.active, w.epr, product = true, false, vdo.ActiveType
		a.oneLayout, a.twoLayout = "active-cable-1", "active-cable-2"
		w.speed = vdo.USB2
		w.length = w.between(0.5, 2)
		tbt(true, true, vdo.TBT20Gbps)
		put("vdo-version", vdo.VDOVersion13)
		put("termination", uint32(vdo.BothEndsActive))
		put("vbus-through", 1)
		put("usb32", 1)
		put("usb4", 1)
		put("active-element", 1)
		put("max-temperature", 70)
		put("shutdown-temperature", 85)
	default: // active, VDO version 1.3
		w.active, product = true, vdo.ActiveType
		a.oneLayout, a.twoLayout = "active-cable-1", "active-cable-2"
		w.speed = vdo.Speed(1 + w.IntN(4))
		w.length = w.between(0.5, 5)
		put("vdo-version", vdo.VDOVersion13)
		put("termination", uint32(vdo.BothEndsActive))
		put("vbus-through", 1)
		put("lanes", 1)
		put("generation", bit(w.speed >= vdo.USB32Gen2))
		put("usb4", bit(w.speed < vdo.USB32Gen2))
		put("asymmetric", bit(w.speed == vdo.USB4Gen4 && w.chance(0.5)))
		put("active-element", bit(w.speed >= vdo.USB4Gen3))
		put("max-temperature", 60+uint32(w.IntN(20)))
		put("shutdown-temperature", 85)
		if w.speed >= vdo.USB4Gen3 {
			tbt(true, true, vdo.TBT20Gbps)
		}
		w.farAsked = w.chance(0.5)
		put("far-plug", bit(w.farAsked))
	}
	if w.amps == 5 {
		current = uint32(vdo.Current5A)
	}
	put("plug-type", end)
	put("vbus-current", current)
	put("latency", w.latencyCode())
	if w.epr {
		put("epr", 1)
		put("max-voltage", uint32(vdo.Max50V))
	}
	if a.oneLayout != "active-cable-1-v12" {
		put("speed", uint32(w.speed))
	}
	id := a.idLayout()
	a.id = compose(id, 0, "product-type", uint32(product))
	a.id = compose(id, a.id, "modal", bit(modal))
	a.id = compose(id, a.id, "vendor-id", 0x2FA1)
	if id == "id-header" && w.chance(0.8) {
		a.id = compose(id, a.id, "connector", 3)
	}
	a.product = compose("product", 0x00000100, "product-id", uint32(1+w.IntN(0xFFFE)))
	if w.chance(0.5) {
		a.cert = uint32(1 + w.IntN(1<<20))
	}
	for _, f := range fields {
		if !a.set(f[0].(string), f[1].(uint32)) {
			panic(fmt.Sprintf("%s has no field %s", a.oneLayout, f[0]))
		}
	}
	if w.farAsked {
		w.far = *a
		w.far.svidsAsked, w.far.svids, w.far.tbt, w.far.dp = false, nil, 0, 0
	}
}

// latencyCode is what an honest maker writes: by the legend, or by the delay of
// the wire, and of the electronics of an active cable.
func (w *world) latencyCode() uint32 {
	if w.chance(0.5) {
		return uint32(math.Ceil(w.length))
	}
	delay := w.length * w.between(4.2, 5.2)
	if w.active {
		delay += w.between(0, 5)
	}
	return 1 + uint32(delay/10)
}

// drawCopper draws wires and contacts that keep the limits at the cable's
// current, ground with its shield in parallel or without.
func (w *world) drawCopper() {
	vbusLimit, groundLimit := bench.LimitOhm(bench.VBUS, w.amps), bench.LimitOhm(bench.Ground, w.amps)
	w.ground = groundLimit * w.between(0.2, 1)
	low, high := 0.004, 0.024 // of Type-C at both ends
	if w.captive {
		low, high = low/2, high/2
	}
	groundContacts := math.Min(w.between(low, high), 0.5*w.ground)
	vbusContacts := w.between(low, high)
	wire := (w.ground - groundContacts) / w.between(0.5, 1)
	wire = math.Min(wire, vbusLimit-vbusContacts)
	w.vbus = wire + vbusContacts
	w.area = bench.CopperOhmMetre * w.length / (wire / celsius20to23)
}

func (w *world) drawBench() {
	w.unmeasured = w.chance(0.05)
	w.printed = w.chance(0.2)
	w.loopOnly = w.chance(0.1)
	w.taped = w.chance(0.7)
	w.seen = w.chance(0.7)
}

func (w *world) plugs() record.Plugs {
	switch {
	case w.legacy:
		return record.CToA
	case w.captive:
		return record.CCaptive
	}
	return record.CToC
}

// tier is what the cable is truly good for, as its marker can say it.
func (w *world) tier() claims.Tier {
	switch {
	case w.legacy:
		return tierLegacy
	case w.epr:
		return tier240
	case w.amps == 5:
		return tier100
	}
	return tier60
}

func (w *world) drawClaims() {
	cl := &w.rec.Claims[0]
	some := func() bool { return w.chance(0.6) }
	tier := w.tier()
	if some() {
		cl.Current = amount(w.amps, quantity.Current)
	}
	if some() && !w.legacy {
		cl.Voltage = amount(float64(tier.Volts), quantity.Voltage)
	}
	if some() {
		levels := []float64{15}
		if !w.legacy {
			levels = []float64{15, 27, 45, 60}
		}
		switch tier {
		case tier100:
			levels = []float64{100}
		case tier240:
			levels = []float64{140, 180, 240}
		}
		cl.Power = amount(levels[w.IntN(len(levels))], quantity.Power)
	}
	if some() {
		cl.Data = w.dataClaim()
	}
	if some() {
		cl.Length = amount(w.length*w.between(0.96, 1.04), quantity.Length)
	}
	if some() {
		cl.Plugs = stated(w.plugs(), string(w.plugs()))
	}
	if some() {
		cl.Active = stated(w.active, fmt.Sprint(w.active))
	}
	if some() {
		cl.Marked = stated(w.marked, fmt.Sprint(w.marked))
	}
	if w.marked && w.near.cert != 0 && some() {
		cl.Certified = stated(true, "true")
		cl.Certificate = stated(fmt.Sprint(w.near.cert), fmt.Sprint(w.near.cert))
	}
	if some() {
		cl.Conductors = amount(w.area, quantity.Area)
	}
	if w.near.tbt != 0 && w.speed == vdo.USB2 { // a Thunderbolt 3 cable
		if some() {
			cl.Modes = stated([]record.Mode{record.Thunderbolt3}, "thunderbolt-3")
		}
		if some() {
			cl.Data = stated(record.DataClaim{Gbps: 40}, "40 Gbps")
		}
	}
	passiveFast := w.marked && !w.active && w.speed >= vdo.USB32Gen1
	if passiveFast && some() {
		cl.Modes = stated([]record.Mode{record.DisplayPort}, "displayport")
		if w.near.tbt != 0 {
			cl.Modes.Value = append(cl.Modes.Value, record.Thunderbolt3)
			if w.speed >= vdo.USB4Gen3 {
				cl.Modes.Value = append(cl.Modes.Value, record.Thunderbolt4)
			}
		}
	}
	if passiveFast && some() {
		cl.Video = stated(record.VideoClaim{Width: 3840, Height: 2160, Hz: 60}, "4K60")
	}
}

func (w *world) dataClaim() record.Stated[record.DataClaim] {
	type data = record.DataClaim
	claims := map[vdo.Speed][]data{
		vdo.USB2:      {{Gbps: 0.48, Standard: "USB 2.0"}, {Gbps: 0.48}},
		vdo.USB32Gen1: {{Gbps: 5}, {Gbps: 5, Standard: "USB 3.2 Gen 1"}},
		vdo.USB32Gen2: {{Gbps: 10}, {Gbps: 10, Standard: "USB 3.2 Gen 2"}, {Gbps: 20, Standard: "USB 3.2 Gen 2x2"}},
		vdo.USB4Gen3:  {{Gbps: 40}, {Gbps: 40, Standard: "USB4 Gen 3"}},
		vdo.USB4Gen4:  {{Gbps: 80}, {Gbps: 80, Standard: "USB4 Gen 4"}},
	}[w.speed]
	if w.legacy {
		claims = claims[:2]
	}
	d := claims[w.IntN(len(claims))]
	if d.Standard != "" {
		return stated(d, d.Standard)
	}
	return stated(d, fmt.Sprintf("%g Gbps", d.Gbps))
}

var (
	simVoltmeter = quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6}
	simAmmeter   = quantity.Accuracy{Reading: 0.001, Fixed: 1e-3}
	simOhmmeter  = quantity.Accuracy{Reading: 0.005, Fixed: 0.5e-3}
)

// meter is one meter on one day: its error is fixed and within its accuracy.
func (w *world) meter(a quantity.Accuracy, noise float64) func(float64) float64 {
	gain, offset := w.between(-1, 1)*a.Reading, w.between(-1, 1)*a.Fixed
	return func(x float64) float64 { return x*(1+gain) + offset + noise*w.NormFloat64() }
}

// record writes down what the three witnesses say.
func (w *world) record() *record.Record {
	r := &w.rec
	r.Marker.Asked = stated(true, "true")
	if w.legacy && !w.marked && (w.seen || r.Claims[0].Plugs.Known) { // who knows does not ask
		r.Marker.Asked = record.Stated[bool]{}
	}
	if w.marked {
		text := w.near.text()
		r.Marker.Near = stated(record.Pasted{Text: text}, text)
		if w.farAsked {
			text := w.far.text()
			r.Marker.Far = stated(record.Pasted{Text: text}, text)
		}
		if w.turned {
			r.Marker.Turned = r.Marker.Near
		}
	}
	var s record.Session
	if w.taped {
		s.Length = amount(w.length*w.between(0.995, 1.005), quantity.Length)
		if w.tape > 0 {
			s.Length = amount(w.tape, quantity.Length)
		}
	}
	if w.seen {
		s.Plugs = stated(w.plugs(), string(w.plugs()))
	}
	s.Ambient = amount(23, quantity.Temperature)
	w.measure(&s)
	r.Bench = []record.Session{s}
	return r
}

func (w *world) measure(s *record.Session) {
	if w.unmeasured {
		return
	}
	if w.printed {
		s.Ohmmeter = stated(simOhmmeter, "")
		ohm := w.meter(simOhmmeter, 20e-6)
		if w.loopOnly {
			s.Loop = amount(ohm(w.vbus+w.ground), quantity.Resistance)
			return
		}
		s.VBUS, s.Ground = amount(ohm(w.vbus), quantity.Resistance), amount(ohm(w.ground), quantity.Resistance)
		return
	}
	s.Voltmeter, s.Ammeter = stated(simVoltmeter, ""), stated(simAmmeter, "")
	volt, amp := w.meter(simVoltmeter, 3e-6), w.meter(simAmmeter, 1e-4)
	amps := w.between(0.9, 3)
	fixture := w.between(0.5e-3, 2e-3)
	read := func(cable float64) record.Reading {
		var r record.Reading
		r.Current = amount(amp(amps), quantity.Current)
		drop := func(part float64) record.Stated[float64] {
			return amount(volt(amps*(cable*part+fixture)), quantity.Voltage)
		}
		if w.loopOnly {
			r.Loop = drop(w.vbus + w.ground)
		} else {
			r.VBUS, r.Ground = drop(w.vbus), drop(w.ground)
		}
		return r
	}
	for range 3 {
		s.Readings = append(s.Readings, read(1))
	}
	s.Nulls = []record.Reading{read(0)}
}

// nearLimit reports whether the bench's uncertainty reaches over a limit at the
// cable's current: the guard band, in which an honest cable may be contradicted, at a
// risk of one in forty.
func nearLimit(w *world, c *claims.Case) bool {
	return w.anyConductor(c, func(of bench.Conductor, truth float64, e *bench.Estimate) bool {
		return truth > bench.LimitOhm(of, w.amps)-e.Expanded
	})
}

// anyConductor reports whether something holds of a conductor that was measured, with its
// true resistance in Ω.
func (w *world) anyConductor(c *claims.Case, holds func(of bench.Conductor, truth float64, e *bench.Estimate) bool) bool {
	if c.Resistance == nil {
		return false
	}
	for of, truth := range map[bench.Conductor]float64{bench.VBUS: w.vbus, bench.Ground: w.ground, bench.Loop: w.vbus + w.ground} {
		if e := c.Resistance.Result.Estimate(of); e != nil && holds(of, truth, e) {
			return true
		}
	}
	return false
}

// tally counts by rule.
type tally struct {
	planted, caught  map[string]int
	honest           int
	inBand           int
	contradicted     map[string]int // contradictions and breaches on honest cables outside the guard band
	bandContradicted int
	doubts           map[string]int
	faults           []string

	raised, raisedContradicted int // cables with one claim raised above what is so
	bandRated, bandOverrated   int // reports within the guard band, and those rated above the truth
	falselyConfirmed           map[claims.Property]int
}

func newTally() *tally {
	return &tally{planted: map[string]int{}, caught: map[string]int{}, contradicted: map[string]int{}, doubts: map[string]int{},
		falselyConfirmed: map[claims.Property]int{}}
}

func (t *tally) fault(format string, args ...any) {
	if len(t.faults) < 20 {
		t.faults = append(t.faults, fmt.Sprintf(format, args...))
	}
}

func (t *tally) add(o *tally) {
	for id, n := range o.planted {
		t.planted[id] += n
	}
	for id, n := range o.caught {
		t.caught[id] += n
	}
	for id, n := range o.contradicted {
		t.contradicted[id] += n
	}
	for id, n := range o.doubts {
		t.doubts[id] += n
	}
	for p, n := range o.falselyConfirmed {
		t.falselyConfirmed[p] += n
	}
	t.raised += o.raised
	t.raisedContradicted += o.raisedContradicted
	t.bandRated += o.bandRated
	t.bandOverrated += o.bandOverrated
	t.honest += o.honest
	t.inBand += o.inBand
	t.bandContradicted += o.bandContradicted
	t.faults = append(t.faults, o.faults...)
}

func (t *tally) honestCable(seed uint64) {
	w := honest(newRand(seed, 1))
	w.toEdge()
	c, err := newCase(w.record(), nil)
	if err != nil {
		t.fault("seed %d: %v", seed, err)
		return
	}
	t.honest++
	band := nearLimit(w, c)
	if band {
		t.inBand++
	}
	contradicted := false
	for _, rule := range catalogue {
		switch res := rule.Ask(c); {
		case res.Status == claims.Broken:
			t.fault("seed %d: %s: %s", seed, rule.ID, res.Why)
		case res.Status != claims.Found:
		case rule.Kind == claims.Doubt:
			t.doubts[rule.ID]++
		case rule.Kind != claims.Contradiction && rule.Kind != claims.Breach:
		case band:
			contradicted = true
		default:
			t.contradicted[rule.ID]++
			t.fault("seed %d, honest: %s: %s", seed, rule.ID, rule.Sentence(res.Values))
		}
	}
	if contradicted {
		t.bandContradicted++
	}
	r, fault := usual.Check(&w.rec)
	if fault != nil {
		t.fault("seed %d: %v", seed, fault)
		return
	}
	t.judged(fmt.Sprintf("seed %d, honest", seed), w, c, r)
}

// plantedCable draws cables until one is fit for the fault, plants it and asks
// the rule.
func (t *tally) plantedCable(seed uint64, rule *claims.Rule, plant func(*world) bool) {
	for try := range uint64(2000) {
		w := honest(rand.New(rand.NewPCG(seed, 2+try)))
		if !plant(w) {
			continue
		}
		t.planted[rule.ID]++
		c, err := newCase(w.record(), nil)
		if err != nil {
			t.fault("seed %d, %s: %v", seed, rule.ID, err)
			return
		}
		if res := rule.Ask(c); res.Status == claims.Found {
			t.caught[rule.ID]++
		} else {
			t.fault("seed %d, try %d: %s is %s: %s %v\n%s", seed, try, rule.ID, res.Status, res.Why, res.Missing, w.rec.Marker.Near.Text)
		}
		r, fault := usual.Check(&w.rec)
		if fault != nil {
			t.fault("seed %d, %s: %v", seed, rule.ID, fault)
			return
		}
		lie := []claims.Property{}
		if rule.Kind == claims.Contradiction && slices.Contains(rule.Between, claims.Seller) {
			if len(w.rec.Claims) == 1 { // of several sources the lower may be right
				lie = append(lie, rule.Property)
			}
			if !slices.ContainsFunc(r.Claims, func(o claims.ClaimOutcome) bool {
				return o.Property == rule.Property && o.Standing == claims.Contradicted
			}) {
				t.fault("seed %d, try %d: %s is found, and no claim about %s is contradicted", seed, try, rule.ID, rule.Property)
			}
		}
		t.judged(fmt.Sprintf("seed %d, try %d, %s", seed, try, rule.ID), w, c, r, lie...)
		return
	}
	t.fault("%s: no cable was fit for the fault", rule.ID)
}

// TestSimulation draws -cables honest cables and as many with one fault each.
func TestSimulation(t *testing.T) {
	var ids []string
	for _, r := range catalogue {
		if plants[r.ID] != nil {
			ids = append(ids, r.ID)
		} else if r.Kind == claims.Contradiction || r.Kind == claims.Breach {
			t.Errorf("no fault is planted for %s", r.ID)
		}
	}
	for id := range plants {
		if usual.Rule(id) == nil {
			t.Errorf("a fault is planted for %s, which is no rule", id)
		}
	}
	total := newTally()
	var mu sync.Mutex
	var wg sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		wg.Go(func() {
			part := newTally()
			for i := worker; i < *cables; i += workers {
				part.honestCable(uint64(i))
				id := ids[i%len(ids)]
				part.plantedCable(uint64(i), usual.Rule(id), plants[id])
				part.raisedCable(uint64(i))
				for id, plant := range edgeFaults {
					part.plantedCable(uint64(i), usual.Rule(id), plant)
				}
			}
			mu.Lock()
			defer mu.Unlock()
			total.add(part)
		})
	}
	wg.Wait()
	for _, f := range total.faults {
		t.Error(f)
	}
	planted, caught := 0, 0
	for _, id := range ids {
		planted, caught = planted+total.planted[id], caught+total.caught[id]
		t.Logf("%-52s planted %6d, found %6d", id, total.planted[id], total.caught[id])
		if total.planted[id] == 0 || total.caught[id] < total.planted[id] {
			t.Errorf("%s: %d of %d planted faults found", id, total.caught[id], total.planted[id])
		}
	}
	t.Logf("honest cables %d, %d of them in the guard band of a limit; contradicted outside it %d, within it %d",
		total.honest, total.inBand, sum(total.contradicted), total.bandContradicted)
	t.Logf("faults planted %d, found %d, for %d rules", planted, caught, len(ids))
	t.Logf("claims raised %d, contradicted %d, confirmed %d: %v", total.raised, total.raisedContradicted, sum(total.falselyConfirmed), total.falselyConfirmed)
	t.Logf("reports in the guard band of 3 A or 5 A %d, rated above the truth %d", total.bandRated, total.bandOverrated)
	if total.bandOverrated > total.bandRated/40 {
		t.Errorf("%d of %d cables in the guard band are rated above the truth, more than one in forty", total.bandOverrated, total.bandRated)
	}
	for _, r := range catalogue {
		if n := total.doubts[r.ID]; n > 0 {
			t.Logf("doubt on honest cables: %-45s %7d, %.2f %%", r.ID, n, 100*float64(n)/float64(total.honest))
		}
	}
	if n := total.inBand; n == 0 || total.bandContradicted > n/10 {
		t.Errorf("%d of %d cables in the guard band are contradicted", total.bandContradicted, n)
	}
}

func sum[K comparable](m map[K]int) (n int) {
	for _, v := range m {
		n += v
	}
	return n
}
