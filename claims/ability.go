package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
)

// Ability is one thing that a cable can or cannot carry. A claim is a question to the
// table of abilities: what is excluded contradicts it, what is shown confirms it, and
// what is open leaves it not shown. No rule decides for itself what "40 Gbps" needs.
type Ability string

// The abilities, by the names of their standards.
const (
	CanUSB2           Ability = "USB 2.0"                                // 480 Mbps
	CanUSB32Gen1      Ability = "USB 3.2 Gen 1"                          // 5 Gbps, one lane
	CanUSB32Gen1x2    Ability = "USB 3.2 Gen 1x2"                        // 10 Gbps, two lanes
	CanUSB32Gen2      Ability = "USB 3.2 Gen 2"                          // 10 Gbps, one lane
	CanUSB32Gen2x2    Ability = "USB 3.2 Gen 2x2"                        // 20 Gbps, two lanes
	CanUSB4Gen2       Ability = "USB4 Gen 2"                             // 20 Gbps, two lanes
	CanUSB4Gen3       Ability = "USB4 Gen 3"                             // 40 Gbps, two lanes
	CanUSB4Gen4       Ability = "USB4 Gen 4"                             // 80 Gbps, two lanes
	CanUSB4Asymmetric Ability = "USB4 Gen 4 asymmetric"                  // 120 Gbps one way, 40 the other
	CanThunderbolt3   Ability = "Thunderbolt 3"                          // 20 or 40 Gbps
	CanThunderbolt4   Ability = "Thunderbolt 4"                          // 40 Gbps
	CanThunderbolt5   Ability = "Thunderbolt 5"                          // 80 Gbps
	CanDisplayPort    Ability = "DisplayPort Alt Mode"                   // over the fast pairs themselves
	CanTunnel         Ability = "DisplayPort inside USB4 or Thunderbolt" // a picture as part of another link
)

// Abilities lists them in the order of the table.
func Abilities() []Ability {
	return []Ability{CanUSB2, CanUSB32Gen1, CanUSB32Gen1x2, CanUSB32Gen2, CanUSB32Gen2x2, CanUSB4Gen2, CanUSB4Gen3,
		CanUSB4Gen4, CanUSB4Asymmetric, CanThunderbolt3, CanThunderbolt4, CanThunderbolt5, CanDisplayPort, CanTunnel}
}

// State is what the evidence says of an ability.
type State uint8

const (
	Open     State = iota // the evidence does not decide it
	Shown                 // the marker declares it
	Excluded              // ends, marker or silence exclude it
)

// String names the state.
func (s State) String() string { return [...]string{"open", "shown", "excluded"}[s] }

// Ground is what excludes an ability.
type Ground uint8

const (
	ByNothing  Ground = iota // it is not excluded
	ByMarker                 // the marker declares less
	BySilence                // a cable with the ability must be marked, and no marker answers
	ByEnds                   // an older connector does not carry it
	ByStandard               // no published cable carries it
)

// Answerable is what the table says of one ability.
type Answerable struct {
	State State  // shown, excluded or open
	By    Ground // what excludes it
	// Why is the reason as a clause without a full stop, empty where it is shown in the
	// plain way.
	Why    string
	Source Citation // the published place it rests on
	// Missing is the evidence that would show it, where it is open.
	Missing []Evidence
}

func shown(by Citation) Answerable { return Answerable{State: Shown, Source: by} }

func excluded(by Ground, source Citation, why string) Answerable {
	return Answerable{State: Excluded, By: by, Source: source, Why: why}
}

func open(source Citation, why string, missing ...Evidence) Answerable {
	return Answerable{State: Open, Source: source, Why: why, Missing: missing}
}

// The reasons that several abilities share.
const (
	whyAskPD3   = "the marker answered in the PD 2.0 layout, which ends at USB 3.1 Gen 2; read the marker again under PD 3.x"
	whyAskModes = "the marker declares modes, and its Thunderbolt mode word is not recorded"
	whyNoSpeed  = "the marker declares no valid speed"
)

// Can asks the table for an ability. With two plugs the lesser answer counts.
func (c *Case) Can(a Ability) Answerable {
	ends := c.Ends()
	if len(ends) == 0 {
		return c.canUnmarked(a)
	}
	out := ends[0].canMarked(a)
	for _, end := range ends[1:] {
		switch next := end.canMarked(a); {
		case next.State == Excluded && out.State != Excluded, next.State == Open && out.State == Shown:
			out = next
		}
	}
	if out.State == Shown && c.Evasive() != "" {
		return open(source.PDIdentity, "the "+c.Evasive()+" plug gave no identity", MarkerNear)
	}
	return out
}

// overLegacy is the most that each cable with an older connector carries: one lane of
// USB 3.2 Gen 2, where the connector has SuperSpeed contacts. A receptacle of Micro-B in
// an adapter is one of USB 2.0 (USB Type-C R2.0, §3.6.2).
func overLegacy(p record.Plugs, a Ability) bool {
	switch a {
	case CanUSB2:
		return true
	case CanUSB32Gen1, CanUSB32Gen2:
		return p != record.CToMiniB && p != record.CToMicroBJack
	}
	return false
}

// canUnmarked is the table where no marker has given an identity.
func (c *Case) canUnmarked(a Ability) Answerable {
	p, known := c.Plugs()
	if known && p.Legacy() {
		if !overLegacy(p, a) {
			return excluded(ByEnds, source.TypeCLegacy, fmt.Sprintf("a %s cable cannot carry it", p))
		}
		return open(source.TypeCLegacy, "the wires of a cable with an older connector were not tested", BenchPlugs)
	}
	switch {
	case c.Marker() != MarkerAbsent:
		return open(source.PDIdentity, "no marker's identity is recorded", MarkerNear)
	case known && p == record.CCaptive:
		return open(source.TypeCCaptive, "a captive cable needs no marker, and nothing else shows it", MarkerNear)
	case a == CanUSB2:
		return open(source.TypeCCables, "USB 2.0 needs no marker, and its wires were not tested", MarkerNear)
	case !known && overLegacy(record.CToA, a):
		return open(source.TypeCLegacy, PlugsUnknown, SellerPlugs)
	}
	return excluded(BySilence, source.TypeCCables, "a Type-C cable that carries it must be marked, and no marker answers")
}

// PlugsUnknown is why an ability is open where no plugs are on record.
const PlugsUnknown = "no plugs are recorded, and a cable with an older connector may carry this without a marker"

// canMarked is the table for one plug that gave an identity.
func (c *Case) canMarked(a Ability) Answerable {
	s := &c.Near.Summary
	p, typed := s.Product.Get()
	if !typed || !p.Cable() {
		return open(source.PDProductType, "the marker identifies itself as something other than a cable", MarkerCable)
	}
	switch a {
	case CanThunderbolt3, CanThunderbolt4, CanThunderbolt5:
		return c.canThunderbolt(a)
	case CanDisplayPort:
		return c.canDisplayPort()
	case CanTunnel:
		return c.canTunnel()
	}
	if !hasCableWord(&c.Near.Identity) {
		return open(source.PDCableWord, "the answer has no cable word", MarkerCable)
	}
	speed, declared := s.Speed.Get()
	switch {
	case p == vdo.ActiveType:
		return c.canActive(a, speed, declared)
	case !declared && c.ThunderboltGbps() == ThunderboltLaneGbps && (a == CanUSB4Gen3 || a == CanUSB4Gen2):
		return shown(source.TypeCTBT)
	case !declared:
		return open(source.PDCableWord, whyNoSpeed, MarkerCable)
	}
	return c.canPassive(a, speed)
}

// passiveNeeds is the speed code a passive cable declares at least for each ability. By
// Table 3-1 a Gen 1 cable is also a USB4 Gen 2 cable, and passive wires have both lanes.
var passiveNeeds = map[Ability]vdo.Speed{
	CanUSB2: vdo.USB2, CanUSB32Gen1: vdo.USB32Gen1, CanUSB32Gen1x2: vdo.USB32Gen1, CanUSB32Gen2: vdo.USB32Gen2,
	CanUSB32Gen2x2: vdo.USB32Gen2, CanUSB4Gen2: vdo.USB32Gen1, CanUSB4Gen3: vdo.USB4Gen3, CanUSB4Gen4: vdo.USB4Gen4,
	CanUSB4Asymmetric: vdo.USB4Gen4,
}

func (c *Case) canPassive(a Ability, speed vdo.Speed) Answerable {
	s := &c.Near.Summary
	need := passiveNeeds[a]
	lane := c.ThunderboltGbps()
	gen3 := speed >= vdo.USB4Gen3 || lane == ThunderboltLaneGbps
	switch {
	case speed == vdo.USB2 && a != CanUSB2:
		return c.below(a, speed)
	case a == CanUSB4Asymmetric && gen3:
		return open(source.USB4V2, "passive wires have no direction, and no marker of a passive cable declares asymmetric mode", MarkerCable)
	case speed >= need:
		return shown(source.PDCableWord)
	case a == CanUSB4Gen3 && lane == ThunderboltLaneGbps:
		return shown(source.TypeCTBT)
	case need <= vdo.USB32Gen2:
		return c.below(a, speed)
	case a == CanUSB4Gen4 && gen3 && !s.LinearRedriver().Or(false):
		return open(source.USB4V2, "USB4 Version 2.0 also runs at 80 Gbps over passive 40 Gbps cables up to about 1 m, and the marker does not declare Gen 4", MarkerCable)
	case s.PD2:
		return open(source.PD2CableWord, whyAskPD3, MarkerNear)
	case c.ModesOpen(vdo.SVIDThunderbolt):
		return open(source.TypeCTBT, whyAskModes, MarkerThunderbolt)
	}
	return c.below(a, speed)
}

// below is an ability that needs more than the marker declares.
func (c *Case) below(a Ability, speed vdo.Speed) Answerable {
	return excluded(ByMarker, source.PDCableWord, fmt.Sprintf("%s needs more than the marker declares, %s", a, speed))
}

// canActive is the table for an active cable, which carries only the signals that its
// electronics are made for. Which those are stands in its second word.
func (c *Case) canActive(a Ability, speed vdo.Speed, declared bool) Answerable {
	s := &c.Near.Summary
	no := func(bit int, what string) Answerable {
		return excluded(ByMarker, source.PDActive2, fmt.Sprintf("bit %d of the second cable word declares no %s", bit, what))
	}
	switch a {
	case CanUSB2:
		if s.USB2.Is(isFalse) {
			return no(5, "USB 2.0")
		}
		return shown(source.PDCableWord)
	case CanUSB4Gen2, CanUSB4Gen3, CanUSB4Gen4, CanUSB4Asymmetric:
		return c.canActiveUSB4(a, speed, declared)
	}
	// USB 3.2. Without it a tunnel may carry the same traffic at up to 10 Gbps.
	var out Answerable
	need, two := vdo.USB32Gen1, a == CanUSB32Gen1x2 || a == CanUSB32Gen2x2
	if a == CanUSB32Gen2 || a == CanUSB32Gen2x2 {
		need = vdo.USB32Gen2
	}
	switch lanes, stated := s.Lanes.Get(); {
	case s.USB32.Is(isFalse):
		out = no(4, "USB 3.2")
	case !declared:
		return open(source.PDCableWord, whyNoSpeed, MarkerCable)
	case s.PD2 && speed == vdo.USB2 && c.ModesOpen(vdo.SVIDThunderbolt):
		return open(source.TypeCTBT, whyAskModes, MarkerThunderbolt)
	case speed < need:
		out = c.below(a, speed)
	case two && !stated:
		return open(source.PDActive2, "the answer does not state the number of lanes", MarkerCable)
	case two && lanes < 2:
		return excluded(ByMarker, source.PDActive2, "it needs two lanes, and bit 3 of the second cable word declares one")
	default:
		return shown(source.PDActive2)
	}
	if a == CanUSB32Gen1 || a == CanUSB32Gen2 {
		switch tunnel := c.canTunnel(); tunnel.State {
		case Shown:
			return open(source.USB4V2, "the marker does not declare native USB 3.2; USB4 and Thunderbolt hosts carry USB 3.2 traffic at 10 Gbps inside their own", MarkerCable)
		case Open:
			tunnel.Why = "the marker does not declare native USB 3.2, and " + tunnel.Why
			return tunnel
		}
	}
	return out
}

func (c *Case) canActiveUSB4(a Ability, speed vdo.Speed, declared bool) Answerable {
	s := &c.Near.Summary
	need := map[Ability]vdo.Speed{CanUSB4Gen2: vdo.USB32Gen2, CanUSB4Gen3: vdo.USB4Gen3, CanUSB4Gen4: vdo.USB4Gen4, CanUSB4Asymmetric: vdo.USB4Gen4}[a]
	lane := c.ThunderboltGbps()
	byTBT := a == CanUSB4Gen2 && lane >= 10 || a == CanUSB4Gen3 && lane >= ThunderboltLaneGbps
	usb4, stated := s.USB4.Get()
	switch {
	case s.PD2:
		if modal, ok := s.Modal.Get(); ok && !modal && speed == vdo.USB2 {
			return c.below(a, speed)
		}
		return open(source.PD2CableWord, "the marker answered in the PD 2.0 layout, which does not declare whether an active cable carries USB4; read the marker again under PD 3.x", MarkerNear)
	case stated && !usb4:
		return excluded(ByMarker, source.PDActive2, "bit 8 of the second cable word declares no USB4")
	case !stated:
		return c.canOldActiveUSB4(byTBT)
	case declared && speed >= need:
		if a == CanUSB4Asymmetric && s.Asymmetric.Is(isFalse) {
			return excluded(ByMarker, source.PDActive2, "bit 1 of the second cable word declares no asymmetric mode")
		}
		return shown(source.PDActive2)
	case byTBT:
		return shown(source.TypeCTBT)
	case !declared:
		return open(source.PDCableWord, whyNoSpeed, MarkerCable)
	case need <= vdo.USB4Gen3 && c.ModesOpen(vdo.SVIDThunderbolt):
		return open(source.TypeCTBT, whyAskModes, MarkerThunderbolt)
	}
	return c.below(a, speed)
}

// canOldActiveUSB4 is USB4 over an active cable from before VDO version 1.3, which
// serves it only by a Thunderbolt mode word that supports the fourth generation.
func (c *Case) canOldActiveUSB4(fastEnough bool) Answerable {
	m, ok := c.Near.Summary.Thunderbolt.Get()
	has, known := c.Near.HasThunderbolt()
	const fourth = 1
	switch {
	case ok && m.Rounded() == fourth && fastEnough:
		return shown(source.TypeCTBT)
	case ok && m.Rounded() == fourth:
		return excluded(ByMarker, source.TypeCTBT, "its Thunderbolt mode word "+say.Word(uint32(m))+" declares a lower rate")
	case ok:
		return excluded(ByMarker, source.TypeCTBT, fmt.Sprintf("an active cable from before VDO version 1.3 carries USB4 only where bits 20..19 of its Thunderbolt mode word are 1, and %s has %d there", say.Word(uint32(m)), m.Rounded()))
	case known && !has:
		return excluded(ByMarker, source.TypeCTBT, "an active cable from before VDO version 1.3 carries USB4 only with a Thunderbolt mode word, and it has none")
	}
	return open(source.TypeCTBT, "the Thunderbolt mode word is not recorded", MarkerThunderbolt)
}

// ModesOpen reports whether the marker may still state something under an SVID: it
// supports modes, and neither its word nor a refusal is on record.
func (c *Case) ModesOpen(svid uint16) bool {
	s := &c.Near.Summary
	if s.Modal.Is(isFalse) && !s.SVIDs.Known() {
		return false
	}
	word := s.Thunderbolt.Known()
	if svid == vdo.SVIDDisplayPort {
		word = s.DisplayPort.Known()
	}
	return !word && !s.HasSVID(svid).Is(isFalse)
}

// ThunderboltGbps is the rate of a lane in Gbps that the Thunderbolt mode word declares,
// 0 without one.
func (c *Case) ThunderboltGbps() float64 {
	if m, ok := c.Near.Summary.Thunderbolt.Get(); ok {
		return m.Speed().LaneGbps()
	}
	return 0
}

// canThunderbolt is the table for the brand names: the marker has to answer for the mode,
// and to declare the rate. A marker states no generation above Thunderbolt 3, so 4 and 5
// are never shown by it.
func (c *Case) canThunderbolt(a Ability) Answerable {
	out, speed := c.ThunderboltMode(a), c.ThunderboltSpeed(a)
	if speed.State == Excluded || speed.State == Open && out.State == Shown {
		out = speed
	}
	if out.State == Shown && a != CanThunderbolt3 {
		return open(source.TypeCTBT, "no marker declares a generation above Thunderbolt 3", MarkerThunderbolt)
	}
	return out
}

// ThunderboltMode is whether the marker answers for Thunderbolt.
func (c *Case) ThunderboltMode(a Ability) Answerable {
	switch has, known := c.Near.HasThunderbolt(); {
	case has:
		return shown(source.TypeCTBT)
	case !known:
		return open(source.TypeCTBT, "the modes of the marker were not read", MarkerSVIDs)
	case a == CanThunderbolt3 && c.Near.Summary.Product.Is(isPassive):
		return open(source.TypeCTBT, "passive cables may run Thunderbolt 3 without the mode, and nothing shows that this one does", MarkerThunderbolt)
	}
	return excluded(ByMarker, source.TypeCTBT, "the marker does not answer for SVID 0x8087")
}

// ThunderboltSpeed is whether the marker declares the rate that a generation needs.
func (c *Case) ThunderboltSpeed(a Ability) Answerable {
	s := &c.Near.Summary
	passive := s.Product.Is(isPassive)
	speed, declared := s.Speed.Get()
	lane, _ := s.LaneGbps().Get()
	if passive && declared && speed == vdo.USB32Gen1 {
		lane = max(lane, 10) // by the speed codes of the mode word
	}
	need := thunderboltLane[a]
	switch {
	case lane >= need && passive && declared && speed == vdo.USB2:
		return open(source.TypeCTBT, "the cable word declares USB 2.0 only, and the Thunderbolt mode word a rate over fast pairs; one of the words is wrong", MarkerCable)
	case lane >= need:
		return shown(source.TypeCTBT)
	case a == CanThunderbolt5 && passive && lane == ThunderboltLaneGbps && !s.LinearRedriver().Or(false):
		return open(source.USB4V2, "USB4 Version 2.0 also runs at 80 Gbps over passive 40 Gbps cables, and the marker does not declare Gen 4", MarkerCable)
	case passive && declared && speed == vdo.USB2 && !s.Thunderbolt.Known():
		return excluded(ByMarker, source.PDCableWord, "a passive cable for USB 2.0 has no fast pairs")
	case need <= ThunderboltLaneGbps && c.ModesOpen(vdo.SVIDThunderbolt):
		return open(source.TypeCTBT, whyAskModes, MarkerThunderbolt)
	case s.PD2 && need > vdo.USB32Gen2.LaneGbps():
		return open(source.PD2CableWord, whyAskPD3, MarkerNear)
	case !declared && !s.Thunderbolt.Known():
		return open(source.PDCableWord, whyNoSpeed, MarkerCable)
	}
	return excluded(ByMarker, source.TypeCTBT, fmt.Sprintf("%s needs %s a lane, and the marker declares %s", a, say.Gbps(need), say.Speed(s)))
}

// ModeAbility is the ability that a mode claimed asks for, empty for none of the table.
func ModeAbility(m record.Mode) Ability {
	switch m {
	case record.DisplayPort:
		return CanDisplayPort
	case record.Thunderbolt3:
		return CanThunderbolt3
	case record.Thunderbolt4:
		return CanThunderbolt4
	case record.Thunderbolt5:
		return CanThunderbolt5
	}
	return ""
}

// ThunderboltLaneGbps is the highest rate the Thunderbolt 3 mode word can state.
const ThunderboltLaneGbps = 20

// thunderboltLane is the rate of a lane in Gbps that each generation needs of a cable at
// least. Thunderbolt 4 and 5 are known as 40 and 80 Gbps over two lanes; a Thunderbolt 3
// cable may run at half its rate.
var thunderboltLane = map[Ability]float64{CanThunderbolt3: 10, CanThunderbolt4: 20, CanThunderbolt5: 40}

// ThunderboltNeedsGbps is the rate of a lane in Gbps that a Thunderbolt generation needs of a
// cable at least; 0 for other abilities.
func ThunderboltNeedsGbps(a Ability) float64 { return thunderboltLane[a] }

func (c *Case) canDisplayPort() Answerable {
	s := &c.Near.Summary
	rate, ok := s.DisplayPortRate().Get()
	switch {
	case !ok && s.HasSVID(vdo.SVIDThunderbolt).Or(false) && !s.Thunderbolt.Known():
		return open(source.DPCable, "the cable lists Thunderbolt, and only the Thunderbolt mode word tells a passive cable from a linear re-driver, which carries no DisplayPort", MarkerThunderbolt)
	case !ok && s.PD2 && s.Thunderbolt.Known():
		return open(source.DPCable, whyAskPD3, MarkerNear)
	case !ok:
		return open(source.DPCable, "the recorded answers do not decide DisplayPort", MarkerSVIDs, MarkerDisplayPort)
	case rate.LaneGbps > 0:
		return shown(source.DPCable)
	}
	return excluded(ByMarker, source.DPCable, "from what the marker declares a host concludes that the cable carries no DisplayPort Alt Mode")
}

// canTunnel is DisplayPort inside USB4 or Thunderbolt: any cable on which one of them
// runs carries it.
func (c *Case) canTunnel() Answerable {
	out := Answerable{State: Excluded}
	for _, way := range []Ability{CanUSB4Gen2, CanThunderbolt3} {
		switch next := c.canMarked(way); {
		case next.State == Shown:
			return next
		case next.State == Open && out.State == Excluded, out.Why == "":
			out = next
		}
	}
	return out
}

// standardAbility is the ability that a named standard asks for.
func standardAbility(standard string) Ability { return Ability(standard) }

// CanRate asks for a bare rate in Gbps. The ability meant is the fastest that a seller
// names by that rate; others that reach it leave the claim open.
func (c *Case) CanRate(gbps float64) Answerable {
	if AboveStandard(record.DataClaim{Gbps: gbps}) {
		return excluded(ByStandard, source.USB4V2, fmt.Sprintf("no published cable carries more than %d Gbps both ways, or %d Gbps one way", MostGbps, AsymmetricGbps))
	}
	meant, others := rateAbilities(gbps)
	var best Answerable
	for i, a := range meant {
		next := c.rateBy(a, gbps)
		if i == 0 || better(next, best) {
			best = next
		}
	}
	if best.State == Shown && gbps > 5 && gbps <= 20 && c.passiveGen1() {
		return open(source.TypeCUSB4, fmt.Sprintf("the marker declares %s, which reaches the rate as USB 3.2 Gen 1x2 up to 10 Gbps or USB4 Gen 2 up to 20 Gbps; sellers usually mean USB 3.2 Gen 2", vdo.USB32Gen1), MarkerCable)
	}
	if best.State != Excluded {
		return best
	}
	var ways []string
	for _, a := range others {
		if next := c.rateBy(a, gbps); next.State != Excluded {
			ways = append(ways, string(a))
		}
	}
	if len(ways) == 0 {
		return best
	}
	return open(source.TypeCUSB4, fmt.Sprintf("%s; the cable can still reach the rate as %s", best.Why, strings.Join(ways, " or ")), MarkerCable)
}

// passiveGen1 reports whether a plug declares a passive cable of USB 3.2 Gen 1.
func (c *Case) passiveGen1() bool {
	for _, end := range c.Ends() {
		s := &end.Near.Summary
		if v, ok := s.Speed.Get(); ok && v == vdo.USB32Gen1 && s.Product.Is(isPassive) {
			return true
		}
	}
	return false
}

func better(a, b Answerable) bool {
	rank := [...]int{Shown: 2, Open: 1, Excluded: 0}
	return rank[a.State] > rank[b.State]
}

// rateBy asks for an ability that is meant by a rate: Thunderbolt 3 runs at 20 or 40 Gbps.
func (c *Case) rateBy(a Ability, gbps float64) Answerable {
	out := c.Can(a)
	if a != CanThunderbolt3 || out.State == Excluded || gbps <= 20 {
		return out
	}
	for _, end := range c.Ends() {
		lane, _ := end.Near.Summary.LaneGbps().Get()
		switch {
		case lane >= ThunderboltLaneGbps:
		case end.ModesOpen(vdo.SVIDThunderbolt):
			return open(source.TypeCTBT, whyAskModes, MarkerThunderbolt)
		default:
			return excluded(ByMarker, source.TypeCTBT, "the marker declares "+say.Speed(&end.Near.Summary))
		}
	}
	return out
}

// AsymmetricGbps is the rate of USB4 Version 2.0 one way where the other has 40 Gbps.
const AsymmetricGbps = 120

// MostGbps is the highest rate both ways that a published cable carries.
const MostGbps = 80

// rateAbilities lists what a bare rate means in the trade, and what else reaches it.
func rateAbilities(gbps float64) (meant, others []Ability) {
	switch {
	case gbps <= vdo.USB2.Gbps():
		return []Ability{CanUSB2}, []Ability{CanUSB32Gen1, CanUSB32Gen2, CanUSB4Gen2, CanThunderbolt3}
	case gbps <= 5:
		return []Ability{CanUSB32Gen1}, []Ability{CanUSB4Gen2, CanThunderbolt3}
	case gbps <= 10:
		return []Ability{CanUSB32Gen2}, []Ability{CanUSB32Gen1x2, CanUSB4Gen2, CanThunderbolt3}
	case gbps <= 20:
		return []Ability{CanUSB32Gen2x2, CanUSB4Gen2, CanUSB4Gen3, CanThunderbolt3}, nil
	case gbps <= 40:
		return []Ability{CanUSB4Gen3, CanThunderbolt3}, nil
	case gbps <= MostGbps:
		return []Ability{CanUSB4Gen4}, nil
	}
	return []Ability{CanUSB4Asymmetric}, nil
}

// CanCarryData asks for a claim of data: a standard's name, or a bare rate.
func (c *Case) CanCarryData(d record.DataClaim) Answerable {
	if d.Standard != "" {
		return c.Can(standardAbility(d.Standard))
	}
	return c.CanRate(d.Gbps)
}

// PassiveSpeed is the speed code by which a passive cable carries a claim of data
// (USB Type-C R2.0, Table 3-1).
func PassiveSpeed(d record.DataClaim) vdo.Speed {
	a := standardAbility(d.Standard)
	if a == "" {
		meant, _ := rateAbilities(d.Gbps)
		a = meant[0]
	}
	return passiveNeeds[a]
}

// AboveStandard reports whether no published cable carries a claim of data.
func AboveStandard(d record.DataClaim) bool { return d.Gbps > MostGbps && d.Gbps != AsymmetricGbps }

func isPassive(p vdo.ProductType) bool { return p == vdo.PassiveType }
