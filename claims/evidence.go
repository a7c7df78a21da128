package claims

import "strings"

// Evidence is a piece of testimony that a rule needs.
type Evidence string

// The seller's claims, by the record's keys, then what the marker and the bench
// can say.
const (
	SellerPower       Evidence = "claims.power"       // a power is claimed, W
	SellerCurrent     Evidence = "claims.current"     // a current is claimed, A
	SellerVoltage     Evidence = "claims.voltage"     // a voltage is claimed, V
	SellerData        Evidence = "claims.data"        // a rate or standard is claimed
	SellerLength      Evidence = "claims.length"      // a length is claimed, m
	SellerPlugs       Evidence = "claims.plugs"       // the two ends are claimed
	SellerActive      Evidence = "claims.active"      // active or passive is claimed
	SellerMarked      Evidence = "claims.marked"      // a marker is claimed, or none
	SellerCertified   Evidence = "claims.certified"   // certification is claimed, or none
	SellerCertificate Evidence = "claims.certificate" // a certification number is claimed
	SellerModes       Evidence = "claims.modes"       // alternate modes are claimed
	SellerVideo       Evidence = "claims.video"       // a picture size and rate is claimed
	SellerConductors  Evidence = "claims.conductors"  // a wire gauge or cross-section is claimed

	// MarkerAsked: the marker was asked, whether or not it answered.
	MarkerAsked Evidence = "marker asked"
	// MarkerNear: the near plug answered with an identity.
	MarkerNear Evidence = "marker.near"
	// MarkerFar: a second plug answered with an identity, on SOP″ or with the cable turned.
	MarkerFar Evidence = "marker.far"
	// MarkerHeader: the near answer came with its VDM header.
	MarkerHeader Evidence = "marker.near VDM header"
	// MarkerCable: the near answer has a cable word.
	MarkerCable Evidence = "marker.near cable word"
	// MarkerSVIDs: Discover SVIDs was answered or refused.
	MarkerSVIDs Evidence = "marker SVIDs"
	// MarkerThunderbolt: the mode word under SVID 0x8087.
	MarkerThunderbolt Evidence = "marker Thunderbolt mode"

	// MarkerDisplayPort: the mode word under SVID 0xFF01, in the form of DisplayPort
	// Alt Mode 2.1.
	MarkerDisplayPort Evidence = "marker DisplayPort mode"
	// MarkerMessageHeader: the revision in the message header, beside a VDM header.
	MarkerMessageHeader Evidence = "marker.near message header"

	// BenchDrop: a resistance of some path.
	BenchDrop Evidence = "bench.readings"
	// BenchBoth: a resistance of VBUS and of ground.
	BenchBoth Evidence = "bench.readings of VBUS and ground"
	// BenchLength: a length by tape.
	BenchLength Evidence = "bench.length"
	// BenchPlugs: the plugs as seen.
	BenchPlugs Evidence = "bench.plugs"
	// BenchHeat: the temperature of the shell under load.
	BenchHeat Evidence = "bench.heat"
)

type evidenceText struct {
	what string // what is missing
	get  string // how to get it
}

var evidenceTexts = map[Evidence]evidenceText{
	SellerPower:       {"the power claimed", "note the wattage on the label or product page"},
	SellerCurrent:     {"the current claimed", "note the current on the label or product page"},
	SellerVoltage:     {"the voltage claimed", "note the voltage on the label or product page"},
	SellerData:        {"the data rate claimed", "note the data rate on the label or product page"},
	SellerLength:      {"the length claimed", "note the length on the label or product page"},
	SellerPlugs:       {"the plugs claimed", "note which plugs the seller names"},
	SellerActive:      {"whether it is sold as active", "note whether the seller claims active or passive"},
	SellerMarked:      {"whether a marker is claimed", "note whether the seller claims a marker"},
	SellerCertified:   {"whether certification is claimed", "note whether the seller claims certification"},
	SellerCertificate: {"a certification number", "note the certification number, if one is printed"},
	SellerModes:       {"the alternate modes claimed", "note DisplayPort or Thunderbolt claims"},
	SellerVideo:       {"the video claimed", "note the resolution and rate claimed"},
	SellerConductors:  {"the conductors claimed", "note the wire gauge printed on the sheath"},

	MarkerAsked:       {"whether the cable is marked", "read the marker with VCONN applied"},
	MarkerNear:        {"the marker's identity", "read Discover Identity on SOP′"},
	MarkerFar:         {"the identity of the other plug", "read Discover Identity on SOP″, or on SOP′ with the cable turned round"},
	MarkerHeader:      {"the VDM header of the answer", "note the word before the ID header too"},
	MarkerCable:       {"the cable word", "read the whole Discover Identity answer"},
	MarkerSVIDs:       {"the modes the marker lists", "read Discover SVIDs on SOP′"},
	MarkerThunderbolt: {"the Thunderbolt mode word", "read Discover Modes for SVID 0x8087 on SOP′"},

	MarkerDisplayPort:   {"the DisplayPort mode word", "read Discover Modes for SVID 0xFF01 on SOP′"},
	MarkerMessageHeader: {"the message header's revision", "note the 16-bit message header with the words"},

	BenchDrop:   {"the resistance", "measure the drop at a known current over VBUS and ground"},
	BenchBoth:   {"VBUS and ground separately", "measure the drop over VBUS and over ground, not only the loop"},
	BenchLength: {"the length by tape", "measure the length from plug to plug"},
	BenchPlugs:  {"a look at the plugs", "note which plugs you see"},
	BenchHeat:   {"the temperature of the shell", "load the cable for an hour and measure the shell"},
}

// Witness is who would have to testify: the first word of a piece of evidence says
// it.
func (e Evidence) Witness() Witness {
	switch {
	case strings.HasPrefix(string(e), "claims"):
		return Seller
	case strings.HasPrefix(string(e), "marker"):
		return Marker
	}
	return Bench
}

// What says in words what the evidence is.
func (e Evidence) What() string { return evidenceTexts[e].what }

// Get says how to obtain it.
func (e Evidence) Get() string { return evidenceTexts[e].get }
