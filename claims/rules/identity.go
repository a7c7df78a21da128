package rules

import (
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/vdo"
)

// Rules about who the marker says it is, about its two plugs, and about codes of
// its identity words.
var identityRules = []*claims.Rule{
	productIDWithoutVendorID, vendorIDZero, xidWithoutVendorID, identityUnprogrammed,
	connectorReserved, connectorReceptacle, releaseNotDecimal,
	vdoVersionReserved, wordCountAgainstVersion, speedReserved, headerRevisionDiffers,
	plugsDisagreeOnPower, plugsDisagreeOnSpeed, plugsDisagreeOnIdentity,
	modalWithoutSVIDs, svidsWithoutModal, svidsUnterminated,
	noIdentity, onePlugWithoutIdentity,
	vpdImpedanceTooLow, vpdFieldsWithoutChargeThrough,
}

const noVendorID = 0xFFFF

var productIDWithoutVendorID = markerRule(claims.Rule{
	ID: "product-id-without-vendor-id", Sources: []claims.Citation{source.PDVendorID}, Kind: claims.Breach, Property: claims.Identity,
	Title: "the marker has a product ID but no vendor ID",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The vendor ID is 0xFFFF, which means none; then the product ID shall be 0. It is {product}.",
	Why:   "Nobody assigned that product ID.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		if s.VendorID.Or(0) != noVendorID {
			return notApplicable("the vendor has an ID")
		}
		pid, ok := s.ProductID.Get()
		if !ok {
			return undecided("the answer has no Product word", claims.MarkerCable)
		}
		return foundIf(pid != 0, func() claims.Values { return claims.Values{"product": say.ID(pid)} })
	},
})

var vendorIDZero = markerRule(claims.Rule{
	ID: "vendor-id-zero", Sources: []claims.Citation{source.CommonPractice, source.PDIDHeader}, Kind: claims.Doubt, Property: claims.Identity,
	Title: "the vendor ID is not assigned",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} has vendor ID 0x0000, which is not assigned. A vendor without an ID uses 0xFFFF.",
	Why:   "The marker was not programmed after it left the chip maker, or was programmed without care.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		if blankIdentity(c.Near.Summary) {
			return notApplicable("the whole identity is blank; see identity-not-programmed")
		}
		id, _ := c.Near.Identity.ID()
		return foundIf(id.VendorID() == 0, func() claims.Values { return claims.Values{"word": say.Word(uint32(id))} })
	},
})

func blankIdentity(s vdo.Summary) bool {
	return s.VendorID.Or(1) == 0 && s.CertificationID.Or(1) == 0 && s.ProductID.Or(1) == 0 && s.Release.Or(1) == 0
}

var identityUnprogrammed = markerRule(claims.Rule{
	ID: "identity-not-programmed", Sources: []claims.Citation{source.OwnReasoning, source.PDIdentity}, Kind: claims.Doubt, Property: claims.Identity,
	Title: "vendor, certification and product are all zero",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "Vendor ID, XID, product ID and release are all zero{rest}: the identity was never programmed.",
	Why:   "The cable word may be the chip maker's default, which does not describe this cable.",
	Next:  "Rely on the bench, not on this marker.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		if !s.ProductID.Known() {
			return undecided("the answer has no Product word", claims.MarkerCable)
		}
		rest := ", and the cable word is not"
		if c.Near.Identity.Blank() {
			rest = ", like every other word"
		}
		return foundIf(blankIdentity(s), func() claims.Values { return claims.Values{"rest": rest} })
	},
})

var xidWithoutVendorID = markerRule(claims.Rule{
	ID: "xid-without-vendor-id", Sources: []claims.Citation{source.OwnReasoning, source.PDVendorID, source.PDCertStat}, Kind: claims.Doubt, Property: claims.Certified,
	Title: "the marker has an XID but no vendor ID",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The vendor ID is 0xFFFF, which means none, and the XID is {xid}. USB-IF assigns XIDs to vendors with an ID.",
	Why:   "The XID was probably copied from another product.",
	Next:  "Look the XID up and compare the product it names with the one in hand.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		if s.VendorID.Or(0) != noVendorID {
			return notApplicable("the vendor has an ID")
		}
		x, ok := s.CertificationID.Get()
		if !ok {
			return undecided("the answer has no Cert Stat word", claims.MarkerCable)
		}
		return foundIf(x != 0, func() claims.Values { return claims.Values{"xid": xidText(x)} })
	},
})

// connectorRule is found where the connector field of the ID header, which came
// with PD 3.0, holds a code.
func connectorRule(r claims.Rule, code int) *claims.Rule {
	r.Property = claims.Plugs
	r.Needs = []claims.Evidence{claims.MarkerNear}
	r.Check = func(c *claims.Case) claims.Result {
		if c.Near.Summary.PD2 {
			return notApplicable("these bits are reserved in the PD 2.0 layout; see reserved-bits-set")
		}
		id, _ := c.Near.Identity.ID()
		return foundIf(id.Connector() == code, func() claims.Values { return claims.Values{"word": say.Word(uint32(id))} })
	}
	return markerRule(r)
}

var connectorReserved = connectorRule(claims.Rule{
	Window: sincePD3,
	ID:     "connector-code-reserved", Sources: []claims.Citation{source.PDIDHeader}, Kind: claims.Breach,
	Title: "the connector type is a reserved code",
	Says:  "The ID header {word} has connector code 1 in bits 22..21, which is reserved.",
	Why:   programmingWhy, Next: programmingNext,
}, 1)

var connectorReceptacle = connectorRule(claims.Rule{
	Window: sincePD3,
	ID:     "connector-says-receptacle", Sources: []claims.Citation{source.OwnReasoning, source.PDIDHeader}, Kind: claims.Doubt,
	Title: "the marker of a plug declares a receptacle",
	Says:  "The ID header {word} has connector code 2, receptacle, in bits 22..21; a cable's marker sits in a plug.",
	Why:   "The word may be copied from a device.", Next: programmingNext,
}, 2)

var releaseNotDecimal = markerRule(claims.Rule{
	ID: "release-not-decimal", Sources: []claims.Citation{source.PDProduct}, Kind: claims.Doubt, Property: claims.Identity,
	Title: "the release number is not binary-coded decimal",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The Product word has release 0x{release} in bits 15..0; each of its digits should be 0 to 9.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		rel, ok := c.Near.Summary.Release.Get()
		if !ok {
			return undecided("the answer has no Product word", claims.MarkerCable)
		}
		text := fmt.Sprintf("%04X", rel)
		return foundIf(strings.ContainsAny(text, "ABCDEF"), func() claims.Values { return claims.Values{"release": text} })
	},
})

var vdoVersionReserved = markerRule(claims.Rule{
	Window: sincePD3,
	ID:     "vdo-version-reserved", Sources: []claims.Citation{source.PDCableWord, source.PDVPD}, Kind: claims.Breach,
	Title: "the version of the cable word is a reserved code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has VDO version {raw} in bits {bits}: {meaning}.",
	Why:   "A receiver cannot tell the layout of the word.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result { return codeRule(c, "vdo-version", vdo.Reserved) },
})

var wordCountAgainstVersion = markerRule(claims.Rule{
	ID: "word-count-differs-from-vdo-version", Sources: []claims.Citation{source.OwnReasoning, source.PDActive1}, Kind: claims.Doubt,
	Title: "the VDO version of an active cable does not match its number of words",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The Active Cable VDO {word} has VDO version code {version} in bits 23..21 and came {count}; {published}.",
	Why:   "Receivers choose the layout by one or the other, and read different values.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		w, ok := c.Near.Identity.Active1()
		if !ok {
			return notApplicable("the marker is not an active cable of PD 3.x")
		}
		if w.Version() >= vdo.VDOVersion13 {
			return notApplicable("from version 1.3 the number of words is fixed; see object-count-wrong")
		}
		_, two := c.Near.Identity.Active2()
		if two && w.Version() == vdo.VDOVersion10 {
			return notApplicable("the version is reserved; see vdo-version-reserved")
		}
		v := claims.Values{"word": say.Word(uint32(w)), "version": fmt.Sprint(w.Version()), "count": "alone",
			"published": "only version 1.0 stands alone"}
		if two {
			v["count"], v["published"] = "with a second one", "a second word came with version 1.2"
		}
		return foundIf(slices.Contains(c.Near.Identity.Assumptions(), vdo.AssumedForm), func() claims.Values { return v })
	},
})

var speedReserved = markerRule(claims.Rule{
	ID: "speed-code-reserved", Sources: []claims.Citation{source.PDCableWord, source.PD2CableWord}, Kind: claims.Breach, Property: claims.Data,
	Title: "the USB speed is a reserved code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has speed code {raw} in bits {bits}: {meaning}.",
	Why:   "Hosts fall back to USB 2.0, or do not use the cable.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result { return codeRule(c, "speed", vdo.Reserved) },
})

var headerRevisionDiffers = markerRule(claims.Rule{
	ID: "header-revision-differs-from-version", Sources: []claims.Citation{source.OwnReasoning, source.PDVersions}, Kind: claims.Doubt,
	Title: "the message header and the VDM header have different revisions",
	Needs: []claims.Evidence{claims.MarkerMessageHeader},
	Says:  "The message header has PD revision {revision}, the VDM header structured version {version}; {odd}.",
	Why:   "Each revision has its own layout of the cable word, so it is not certain which one applies.",
	Next:  "Read the marker again under PD 3.x, and record the message header with the words.",
	Check: func(c *claims.Case) claims.Result {
		r := c.Near.Identity
		h, _ := r.Header()
		version := h.Version()
		if version == "" {
			return notApplicable("the structured version is a reserved code; see header-version-reserved")
		}
		v := claims.Values{"version": version}
		switch rev := r.Context().Revision; {
		case rev <= vdo.Revision2 && h.Major() > 0:
			v["revision"], v["odd"] = "2.0 or older", "PD 2.0 has version 1.0 only"
		case rev == vdo.Revision3 && h.Major() == 0:
			v["revision"], v["odd"] = "3.x", "the marker may answer in the version of the request"
		default:
			return pass()
		}
		return found(v)
	},
})

// differs notes a question on which two plugs declare different things.
func differs[T comparable](notes []string, what string, one, other *claims.Answer, of func(*vdo.Summary) vdo.Maybe[T], text func(T) string) []string {
	a, okA := of(&one.Summary).Get()
	b, okB := of(&other.Summary).Get()
	if okA && okB && a != b {
		notes = append(notes, fmt.Sprintf("%s: %s %s, %s %s", what, text(a), one.Name, text(b), other.Name))
	}
	return notes
}

// plugsRule is found where near and far plug disagree.
func plugsRule(r claims.Rule, compare func(one, other *claims.Answer) []string) *claims.Rule {
	r.Sources = []claims.Citation{source.OwnReasoning, source.PDIdentity}
	r.Kind = claims.Doubt
	r.Needs = []claims.Evidence{claims.MarkerFar}
	r.Says = "The two plugs of the cable disagree. {differences}."
	r.Why = "What a host does then depends on which end it is plugged into."
	r.Next = "Read both plugs once more, each from its own end. If it stays so, go by the lesser of the two."
	r.Check = func(c *claims.Case) claims.Result {
		ends := c.Ends()
		if len(ends) < 2 {
			return pass()
		}
		var notes []string
		for _, end := range ends[1:] {
			notes = append(notes, compare(&ends[0].Near, &end.Near)...)
		}
		return foundIf(len(notes) > 0, func() claims.Values { return claims.Values{"differences": strings.Join(notes, "; ")} })
	}
	return markerRule(r)
}

func unit(u string) func(int) string { return func(n int) string { return fmt.Sprintf("%d %s", n, u) } }

var plugsDisagreeOnPower = plugsRule(claims.Rule{
	ID: "plugs-disagree-on-power", Property: claims.Power,
	Title: "near and far plug declare different power",
}, func(one, other *claims.Answer) []string {
	notes := differs(nil, "Current", one, other, func(s *vdo.Summary) vdo.Maybe[int] { return s.Amps }, unit("A"))
	notes = differs(notes, "Voltage", one, other, func(s *vdo.Summary) vdo.Maybe[int] { return s.Volts }, unit("V"))
	return differs(notes, "EPR", one, other, func(s *vdo.Summary) vdo.Maybe[bool] { return s.EPR }, say.YesOrNo)
})

var plugsDisagreeOnSpeed = plugsRule(claims.Rule{
	ID: "plugs-disagree-on-speed", Property: claims.Data,
	Title: "near and far plug declare different speeds",
}, func(one, other *claims.Answer) []string {
	return differs(nil, "Speed", one, other, func(s *vdo.Summary) vdo.Maybe[vdo.Speed] { return s.Speed }, vdo.Speed.String)
})

var plugsDisagreeOnIdentity = plugsRule(claims.Rule{
	ID: "plugs-disagree-on-identity", Property: claims.Identity,
	Title: "near and far plug name different products",
}, func(one, other *claims.Answer) []string {
	notes := differs(nil, "Product type", one, other, func(s *vdo.Summary) vdo.Maybe[vdo.ProductType] { return s.Product }, vdo.ProductType.String)
	notes = differs(notes, "Vendor ID", one, other, func(s *vdo.Summary) vdo.Maybe[uint16] { return s.VendorID }, say.ID)
	notes = differs(notes, "Product ID", one, other, func(s *vdo.Summary) vdo.Maybe[uint16] { return s.ProductID }, say.ID)
	return differs(notes, "XID", one, other, func(s *vdo.Summary) vdo.Maybe[uint32] { return s.CertificationID }, func(x uint32) string { return fmt.Sprint(x) })
})

var modalWithoutSVIDs = markerRule(claims.Rule{
	ID: "modal-bit-without-modes", Sources: []claims.Citation{source.OwnReasoning, source.PDIDHeader, source.PDSVIDs}, Kind: claims.Doubt, Property: claims.Modes,
	Title: "the marker declares modes but lists none",
	Needs: []claims.Evidence{claims.MarkerNear, claims.MarkerSVIDs},
	Says:  "The ID header {word} declares modes in bit 26; Discover SVIDs listed none.",
	Why:   "A host finds no mode, or the list was cut off.",
	Next:  "Read Discover SVIDs again.",
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		n, _ := c.Near.ListedSVIDs()
		return foundIf(id.Modal() && n == 0, func() claims.Values { return claims.Values{"word": say.Word(uint32(id))} })
	},
})

var svidsWithoutModal = markerRule(claims.Rule{
	ID: "modes-without-modal-bit", Sources: []claims.Citation{source.OwnReasoning, source.PDIDHeader, source.PDSVIDs}, Kind: claims.Doubt, Property: claims.Modes,
	Title: "the marker lists modes, but its identity declares none",
	Needs: []claims.Evidence{claims.MarkerNear, claims.MarkerSVIDs},
	Says:  "Discover SVIDs listed {count}; the ID header {word} declares no modes in bit 26.",
	Why:   "A host that follows the identity does not use the modes.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		n, _ := c.Near.ListedSVIDs()
		return foundIf(!id.Modal() && n > 0, func() claims.Values {
			return claims.Values{"word": say.Word(uint32(id)), "count": fmt.Sprintf("%d SVID", n)}
		})
	},
})

var svidsUnterminated = markerRule(claims.Rule{
	ID: "svid-list-without-end", Sources: []claims.Citation{source.PDSVIDs}, Kind: claims.Remark, Property: claims.Modes,
	Title: "the list of SVIDs does not end with a zero",
	Needs: []claims.Evidence{claims.MarkerSVIDs},
	Says:  "The list ends with 0x{last} and without the closing zero.",
	Why:   "A host may request the rest. Some products omit the zero.",
	Next:  "Read Discover SVIDs again until a zero or a refusal comes.",
	Check: func(c *claims.Case) claims.Result {
		var last vdo.SVIDPair
		listed := false
		for _, r := range c.Near.Replies {
			h, ok := r.Header()
			if !ok || !h.Is(vdo.SVIDPowerDelivery, vdo.DiscoverSVIDs, vdo.ACK) {
				continue
			}
			for _, w := range r.Words()[1:] {
				last, listed = vdo.SVIDPair(w), true
				if last.First() == 0 || last.Second() == 0 {
					return pass()
				}
			}
		}
		if !listed {
			return notApplicable("Discover SVIDs was refused")
		}
		return found(claims.Values{"last": fmt.Sprintf("%04X", last.Second())})
	},
})

var noIdentity = markerRule(claims.Rule{
	ID: "marker-gives-no-identity", Sources: []claims.Citation{source.PDIdentity}, Kind: claims.Doubt, Property: claims.Marking,
	Title: "the marker answers, but not with an identity",
	Needs: []claims.Evidence{claims.MarkerAsked},
	Says:  "The marker answered {answer}, but no identity.",
	Why:   "Sources treat the cable as unmarked: 20 V and 3 A.",
	Next:  "Read Discover Identity again; wait a while if the marker was busy.",
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() == claims.MarkerAbsent {
			return notApplicable("the cable is unmarked")
		}
		answer := "in words that are not a reply to Discover Identity"
		for _, r := range append(c.Near.Replies[:len(c.Near.Replies):len(c.Near.Replies)], c.Far.Replies...) {
			if h, ok := r.Header(); ok && h.Structured() && h.Command() == vdo.DiscoverIdentity {
				answer = h.Type().String() + " to Discover Identity"
			}
		}
		return foundIf(c.Marker() == claims.MarkerEvasive, func() claims.Values { return claims.Values{"answer": answer} })
	},
})

var onePlugWithoutIdentity = markerRule(claims.Rule{
	ID: "one-plug-gives-no-identity", Sources: []claims.Citation{source.PDIdentity, source.OwnReasoning}, Kind: claims.Doubt, Property: claims.Marking,
	Title: "one plug gives an identity and another does not",
	Needs: []claims.Evidence{claims.MarkerAsked},
	Says:  "The {silent} plug answered without an identity; another plug gave one.",
	Why:   "A source at that end treats the cable as unmarked: 20 V and 3 A.",
	Next:  "Read Discover Identity again at that end.",
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() != claims.MarkerAnswered {
			return notApplicable("no plug gave an identity")
		}
		silent := c.Evasive()
		return foundIf(silent != "", func() claims.Values { return claims.Values{"silent": silent} })
	},
})

// vpdRule asks about the word of a VCONN-powered USB device.
func vpdRule(r claims.Rule, check func(w vdo.VPD) claims.Result) *claims.Rule {
	r.Needs = []claims.Evidence{claims.MarkerCable}
	r.Check = func(c *claims.Case) claims.Result {
		w, ok := c.Near.Identity.VPD()
		if !ok {
			return notApplicable("the marker is not a VCONN-powered USB device")
		}
		return check(w)
	}
	return markerRule(r)
}

// vpdLeastMilliohm is the least impedance a VPD may state (VPD VDO table).
const vpdLeastMilliohm = 10

var vpdImpedanceTooLow = vpdRule(claims.Rule{
	ID: "vpd-impedance-below-10-milliohm", Sources: []claims.Citation{source.PDVPD}, Kind: claims.Breach, Property: claims.Current,
	Title: "a charge-through device states an impedance that is not allowed",
	Says:  "The VPD VDO {word} states {vbus} for VBUS and {ground} for ground; the lowest value allowed is {least}.",
	Why:   "A source calculates from these values what it may offer; too low a value makes it offer too much.", Next: programmingNext,
}, func(w vdo.VPD) claims.Result {
	if !w.ChargeThrough() {
		return notApplicable("there is no charge-through")
	}
	mohm := unit("mΩ")
	return foundIf(w.VBUSMilliohm() < vpdLeastMilliohm || w.GroundMilliohm() < vpdLeastMilliohm, func() claims.Values {
		return claims.Values{
			"word": say.Word(uint32(w)), "vbus": mohm(w.VBUSMilliohm()), "ground": mohm(w.GroundMilliohm()), "least": mohm(vpdLeastMilliohm)}
	})

})

var vpdFieldsWithoutChargeThrough = vpdRule(claims.Rule{
	ID: "vpd-fields-set-without-charge-through", Sources: []claims.Citation{source.PDVPD}, Kind: claims.Breach, Property: claims.Current,
	Title: "a device without charge-through declares values of charge-through",
	Says:  "The VPD VDO {word} declares no charge-through in bit 0; then bits 14 and 12..1, current and impedances, shall be 0.",
	Why:   programmingWhy, Next: programmingNext,
}, func(w vdo.VPD) claims.Result {
	if w.ChargeThrough() {
		return notApplicable("there is charge-through")
	}
	return foundIf(w.ChargeThroughAmps() > 3 || w.VBUSMilliohm() > 0 || w.GroundMilliohm() > 0, func() claims.Values { return claims.Values{"word": say.Word(uint32(w))} })
})
