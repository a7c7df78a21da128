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

// Rules about the marker's words taken alone.
var markerRules = []*claims.Rule{
	headerPositionSet, headerReservedBitSet, headerVersionReserved, objectCountWrong,
	productTypeReserved, productTypeNotACable, plugSaysHost, cableSaysDevice, vpdNotADevice,
	dfpTypeSet, reservedBitsSet, latencyInvalid, plugTypeReserved, terminationReserved, passiveNeedsVCONN,
	headerMinorUnder10, modeHeadersWrong, u3PowerReserved, redriverWithoutVCONN,
	voltageCodeDeprecated, currentCodeInvalid, eprWithout50V5A, fiftyVoltsWithoutEPR, fiveAmps20VClass,
}

// markerRule fills in what all rules of this file share.
func markerRule(r claims.Rule) *claims.Rule {
	r.Between = []claims.Witness{claims.Marker}
	if r.Property == "" {
		r.Property = claims.MarkerFormat
	}
	return &r
}

const programmingWhy = "A marker with format errors was programmed without care, so its other declarations are doubtful too."
const programmingNext = "Read the marker once more to rule out a bad capture, then report the fault to the seller."

var headerPositionSet = markerRule(claims.Rule{
	ID: "header-object-position-set", Sources: []claims.Citation{source.PDVDMHeader}, Kind: claims.Breach,
	Title: "the answer to Discover Identity has an object position",
	Needs: []claims.Evidence{claims.MarkerHeader},
	Says:  "The VDM header {word} has object position {position} in bits 10..8; it shall be 0 in an answer to Discover Identity.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		h, _ := c.Near.Identity.Header()
		return foundIf(h.Position() != 0, func() claims.Values {
			return claims.Values{"word": say.Word(uint32(h)), "position": fmt.Sprint(h.Position())}
		})
	},
})

var headerReservedBitSet = markerRule(claims.Rule{
	ID: "header-reserved-bit-set", Sources: []claims.Citation{source.PDVDMHeader}, Kind: claims.Breach,
	Title: "the reserved bit of the VDM header is set",
	Needs: []claims.Evidence{claims.MarkerHeader},
	Says:  "The VDM header {word} has bit 5 set; a sender shall leave it 0.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		h, _ := c.Near.Identity.Header()
		return foundIf(h.ReservedBit(), func() claims.Values { return claims.Values{"word": say.Word(uint32(h))} })
	},
})

var headerVersionReserved = markerRule(claims.Rule{
	ID: "header-version-reserved", Sources: []claims.Citation{source.PDVDMHeader, source.PDVersions}, Kind: claims.Breach,
	Title: "the structured version is a reserved or invalid code",
	Needs: []claims.Evidence{claims.MarkerHeader},
	Says:  "The VDM header {word} has version codes {major} (bits 14..13) and {minor} (bits 12..11); only 1.0, 2.0 and 2.1 are assigned.",
	Why:   "A receiver cannot tell the layout of the answer.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		h, _ := c.Near.Identity.Header()
		return foundIf(h.Version() == "", func() claims.Values {
			return claims.Values{"word": say.Word(uint32(h)),
				"major": fmt.Sprint(h.Major()), "minor": fmt.Sprint(h.Minor())}
		})
	},
})

var objectCountWrong = markerRule(claims.Rule{
	ID: "object-count-wrong", Sources: []claims.Citation{source.PDIdentity, source.PDProductType}, Kind: claims.Breach,
	Title: "the answer has the wrong number of words for its product type",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The answer has {got} words, VDM header included; {product} answers with {want}.",
	Why:   "Receivers drop an answer that is too short, and then treat the cable as unmarked.",
	Next:  "Check that the whole answer was pasted, then report it to the seller.",
	Check: func(c *claims.Case) claims.Result {
		r := c.Near.Identity
		want := r.Objects()
		if want == 0 {
			return notApplicable("the product type is reserved")
		}
		id, _ := r.ID()
		return foundIf(r.Got() != want, func() claims.Values {
			return claims.Values{"got": fmt.Sprint(r.Got()), "want": fmt.Sprint(want), "product": articled(id.Product())}
		})
	},
})

var productTypeReserved = markerRule(claims.Rule{
	ID: "product-type-reserved", Sources: []claims.Citation{source.PDProductType}, Kind: claims.Breach, Property: claims.Identity,
	Title: "the product type is a reserved code",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} has product type {code} in bits 29..27, which is reserved for a cable plug.",
	Why:   "A receiver cannot tell the layout of the cable word.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		return foundIf(!c.Near.Summary.Product.Known(), func() claims.Values {
			return claims.Values{"word": say.Word(uint32(id)), "code": fmt.Sprint(uint8(id.Product()))}
		})
	},
})

var productTypeNotACable = markerRule(claims.Rule{
	ID: "product-type-not-a-cable", Sources: []claims.Citation{source.PDProductType}, Kind: claims.Breach, Property: claims.Identity,
	Title: "the marker identifies itself as something other than a cable",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} has product type 0, not a cable plug; a cable shall answer as passive or active.",
	Why:   "Sources that use the product type treat the cable as unmarked.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		p, ok := c.Near.Summary.Product.Get()
		return foundIf(ok && p == vdo.NotACable, func() claims.Values { return claims.Values{"word": say.Word(uint32(id))} })
	},
})

var plugSaysHost = markerRule(claims.Rule{
	ID: "plug-says-it-is-a-host", Sources: []claims.Citation{source.PDIDHeader, source.OwnReasoning}, Kind: claims.Doubt, Property: claims.Identity,
	Title: "the marker declares that it can be a USB host",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} of {product} has bit 31 set, USB host.",
	Why:   "A cable is not a host. The word may be copied from a device.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		return foundIf(id.Host(), func() claims.Values {
			return claims.Values{"word": say.Word(uint32(id)), "product": articled(id.Product())}
		})
	},
})

var cableSaysDevice = markerRule(claims.Rule{
	ID: "cable-says-it-is-a-device", Sources: []claims.Citation{source.PDIDHeader, source.OwnReasoning}, Kind: claims.Doubt, Property: claims.Identity,
	Title: "a passive or active cable declares that it can be a USB device",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} of {product} has bit 30 set, USB device.",
	Why:   "A cable is not a device. The word may be copied from one.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		if !id.Product().Cable() {
			return notApplicable("the marker is neither a passive nor an active cable")
		}
		return foundIf(id.Device(), func() claims.Values {
			return claims.Values{"word": say.Word(uint32(id)), "product": articled(id.Product())}
		})
	},
})

var vpdNotADevice = markerRule(claims.Rule{
	ID: "vpd-not-a-device", Sources: []claims.Citation{source.PDIDHeader, source.OwnReasoning}, Kind: claims.Doubt, Property: claims.Identity,
	Title: "a VCONN-powered USB device does not declare itself a USB device",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} names a VCONN-powered USB device, but bit 30, USB device, is 0.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		if p, ok := c.Near.Summary.Product.Get(); !ok || p != vdo.VPDType {
			return notApplicable("the marker is not a VCONN-powered USB device")
		}
		return foundIf(!id.Device(), func() claims.Values { return claims.Values{"word": say.Word(uint32(id))} })
	},
})

var dfpTypeSet = markerRule(claims.Rule{
	Window: sincePD3,
	ID:     "port-product-type-on-plug", Sources: []claims.Citation{source.PDIDHeader}, Kind: claims.Breach, Property: claims.Identity,
	Title: "the marker names a product type that only a port has",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "The ID header {word} has port product type {code} in bits 25..23; in a plug it is 0.",
	Why:   "The word may be copied from a port.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		id, _ := c.Near.Identity.ID()
		return foundIf(id.DFP() != 0, func() claims.Values { return claims.Values{"word": say.Word(uint32(id)), "code": fmt.Sprint(id.DFP())} })
	},
})

var reservedBitsSet = markerRule(claims.Rule{
	ID: "reserved-bits-set", Sources: []claims.Citation{source.PDCableWord, source.PDIDHeader, source.PD2CableWord}, Kind: claims.Breach,
	Title: "bits that shall be zero are not",
	Needs: []claims.Evidence{claims.MarkerNear},
	Says:  "These reserved bits are not zero: {bits}.",
	Why:   "A later revision may give these bits a meaning that does not fit this cable.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		r := c.Near.Identity
		text := ""
		for i, w := range r.Words() {
			l := r.Layout(i)
			if l.Name() == "vdm-header" {
				continue // header-reserved-bit-set
			}
			for f := range l.Read(w) {
				// A flag is a reserved bit where its 1 is a reserved code.
				one := f.High() == f.Low()
				if f.Raw == 0 || !f.Reserved() && !(one && f.Standing == vdo.Reserved) {
					continue
				}
				if text != "" {
					text += "; "
				}
				if one {
					text += fmt.Sprintf("bit %d of %s (%s)", f.Low(), say.Word(w), l.Title())
				} else {
					text += fmt.Sprintf("bits %d..%d of %s (%s)", f.High(), f.Low(), say.Word(w), l.Title())
				}
			}
		}
		return foundIf(text != "", func() claims.Values { return claims.Values{"bits": text} })
	},
})

// cableField finds a field of the near cable words by name.
func cableField(c *claims.Case, name string) (vdo.FieldValue, *vdo.Layout, uint32, bool) {
	r := c.Near.Identity
	for i, w := range r.Words() {
		l := r.Layout(i)
		switch l.Name() {
		case "vdm-header", "id-header", "id-header-pd2", "cert-stat", "product", "data":
			continue
		}
		if f, ok := l.Value(w, name); ok {
			return f, l, w, true
		}
	}
	return vdo.FieldValue{}, nil, 0, false
}

// codeRule is found where a field of the cable word holds a code of the given
// standing.
func codeRule(c *claims.Case, field string, bad vdo.Standing) claims.Result {
	f, l, w, ok := cableField(c, field)
	switch {
	case !ok:
		return notApplicable("the cable word has no such field")
	case f.Standing == vdo.Ignored:
		return notApplicable("the field is switched off by another")
	}
	return foundIf(f.Standing == bad, func() claims.Values {
		return claims.Values{"word": say.Word(w), "layout": l.Title(),
			"bits": fmt.Sprintf("%d..%d", f.High(), f.Low()), "raw": fmt.Sprint(f.Raw), "meaning": f.Meaning}
	})

}

var latencyInvalid = markerRule(claims.Rule{
	ID: "latency-invalid", Sources: []claims.Citation{source.PDCableWord}, Kind: claims.Breach, Property: claims.Length,
	Title: "the latency is an invalid or reserved code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has latency code {raw} in bits {bits}: {meaning}.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result { return codeRule(c, "latency", vdo.Reserved) },
})

var plugTypeReserved = markerRule(claims.Rule{
	ID: "plug-type-reserved", Sources: []claims.Citation{source.PDCableWord}, Kind: claims.Breach, Property: claims.Plugs,
	Title: "the plug type is a reserved code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has plug type code {raw} in bits {bits}: {meaning}.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result { return codeRule(c, "plug-type", vdo.Reserved) },
})

var terminationReserved = markerRule(claims.Rule{
	ID: "termination-reserved", Sources: []claims.Citation{source.PDCableWord}, Kind: claims.Breach,
	Title: "the termination code does not fit this type of cable",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has termination code {raw} in bits {bits}: {meaning}.",
	Why:   "A passive cable uses code 0 or 1, an active cable 2 or 3. The word may belong to another product.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result { return codeRule(c, "termination", vdo.Reserved) },
})

var passiveNeedsVCONN = markerRule(claims.Rule{
	Window: sincePD3,
	ID:     "passive-needs-vconn-without-modes", Sources: []claims.Citation{source.CommonPractice, source.PDPassive}, Kind: claims.Doubt,
	Title: "a passive cable without modes declares that it needs VCONN",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The marker declares no alternate modes, yet {word} declares \"VCONN required\" in bits 12..11. A plug that answers only Discover Identity shall declare \"not required\".",
	Why:   "Sources keep VCONN on. Authentication or firmware update of the marker can be the reason.",
	Next:  "Report it to the seller unless the cable supports one of these.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		p, _ := s.Product.Get()
		if p != vdo.PassiveType {
			return notApplicable("this is not a passive cable")
		}
		w, _ := c.Near.Identity.Passive()
		if s.Modal.Or(false) {
			return notApplicable("the marker supports modes")
		}
		return foundIf(w.Termination() == vdo.VCONNRequired, func() claims.Values { return claims.Values{"word": say.Word(uint32(w))} })
	},
})

var voltageCodeDeprecated = markerRule(claims.Rule{
	Window: sincePD3,
	ID:     "voltage-code-deprecated", Sources: []claims.Citation{source.PDPassive}, Kind: claims.Doubt, Property: claims.Voltage,
	Title: "the highest voltage is a deprecated code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has voltage code {raw} in bits {bits}: {meaning}.",
	Why:   "The codes for 30 V and 40 V are withdrawn; a receiver shall assume 20 V.",
	Next:  "Use the cable for up to 20 V.",
	Check: func(c *claims.Case) claims.Result { return codeRule(c, "max-voltage", vdo.Deprecated) },
})

var currentCodeInvalid = markerRule(claims.Rule{
	ID: "current-code-invalid", Sources: []claims.Citation{source.PDPassive, source.PD2CableWord}, Kind: claims.Breach, Property: claims.Current,
	Title: "the current is an invalid or reserved code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The {layout} {word} has current code {raw} in bits {bits}: {meaning}.",
	Why:   "A receiver shall assume 3 A.",
	Next:  "Use the cable for up to 3 A.",
	Check: func(c *claims.Case) claims.Result {
		if s := &c.Near.Summary; s.PD2 && s.Through.Is(isFalse) {
			return notApplicable("VBUS does not run through, and PD 2.0 does not say what the code is then")
		}
		return codeRule(c, "vbus-current", vdo.Reserved)
	},
})

var eprWithout50V5A = markerRule(claims.Rule{
	Window: sincePD3,
	ID:     "epr-without-50-v-5-a", Sources: []claims.Citation{source.TypeCEPR}, Kind: claims.Breach, Property: claims.Power,
	Under: []string{"current-code-invalid"},
	Title: "EPR is declared without the 50 V and 5 A that belong to it",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The marker declares {declared}; an EPR cable shall report 50 V and 5 A.",
	Why:   "Sources may or may not treat it as an EPR cable; the declaration is inconsistent.",
	Next:  "Use the cable for up to 20 V, at the current declared.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		epr, ok := s.EPR.Get()
		if !ok {
			return notApplicable("the cable word has no EPR bit")
		}
		return foundIf(epr && !s.EPRWhole(), func() claims.Values { return claims.Values{"declared": declared(c)} })
	},
})

var fiftyVoltsWithoutEPR = markerRule(claims.Rule{
	Window: sincePD3,
	ID:     "50-v-without-epr", Sources: []claims.Citation{source.TypeCEPR, source.OwnReasoning}, Kind: claims.Doubt, Property: claims.Voltage,
	Title: "50 V is declared without EPR",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The marker declares {declared}; 50 V is useful only in an EPR cable, which also declares 5 A and EPR.",
	Why:   "This is not a valid EPR declaration: sources offer 20 V at most.",
	Next:  "Use the cable for up to 20 V.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		epr, ok := s.EPR.Get()
		if !ok {
			return notApplicable("the cable word has no EPR bit")
		}
		return foundIf(s.Volts.Or(0) == vdo.Max50V.Volts() && !epr, func() claims.Values { return claims.Values{"declared": declared(c)} })
	},
})

var fiveAmps20VClass = markerRule(claims.Rule{
	ID: "5-a-20-v-class-deprecated", Sources: []claims.Citation{source.TypeCNo5A20V}, Kind: claims.Remark, Property: claims.Power,
	Under: []string{"claimed-certified-but-5-a-without-epr", "claimed-100-w-class-withdrawn"},
	Title: "the marker declares the 5 A, 20 V class, which EPR cables replace",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The marker declares {declared}: the 100 W class. This is not an error; since Type-C R2.1 new 5 A cables are EPR cables.",
	Why:   "The cable carries 100 W at most.",
	Next:  "Use it for loads up to 100 W.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		if c.Rating().PowerW != tier100.Watts && !in100WClass(c.Claims.Power.Value) {
			return notApplicable("neither is the class claimed nor the rating shown of it")
		}
		return foundIf(s.Amps.Or(0) == 5 && !s.EPR.Or(false) && s.Volts.Or(20) == 20, func() claims.Values { return claims.Values{"declared": declared(c)} })
	},
})

var headerMinorUnder10 = markerRule(claims.Rule{
	ID: "header-minor-version-under-1-0", Sources: []claims.Citation{source.PDVDMHeader}, Kind: claims.Breach,
	Title: "the structured version is 1.0, but its minor bits are set",
	Needs: []claims.Evidence{claims.MarkerHeader},
	Says:  "The VDM header {word} has structured version 1.0 and minor bits {minor} in bits 12..11, which are reserved there.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		h, _ := c.Near.Identity.Header()
		return foundIf(h.Major() == 0 && h.Minor() != 0, func() claims.Values {
			return claims.Values{"word": say.Word(uint32(h)), "minor": fmt.Sprint(h.Minor())}
		})
	},
})

var modeHeadersWrong = markerRule(claims.Rule{
	ID: "mode-header-wrong", Sources: []claims.Citation{source.PDVDMHeader, source.PDSVIDs, source.PDModes}, Kind: claims.Breach, Property: claims.Modes,
	Title: "the header of an answer about modes breaks its format",
	Needs: []claims.Evidence{claims.MarkerAsked},
	Says:  "In the answers about modes: {faults}.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		if c.Marker() == claims.MarkerAbsent {
			return notApplicable("the cable is unmarked")
		}
		var faults []string
		some := false
		for _, a := range c.Answers() { // a plug that gave no identity too
			for _, r := range a.Replies {
				h, ok := r.Header()
				if ok && !r.Identity() && h.Structured() && (h.Command() == vdo.DiscoverSVIDs || h.Command() == vdo.DiscoverModes) {
					some = true
					faults = append(faults, modeHeaderFaults(h)...)
				}
			}
		}
		if !some {
			return notApplicable("no answer about modes is recorded")
		}
		slices.Sort(faults)
		faults = slices.Compact(faults)
		return foundIf(len(faults) > 0, func() claims.Values { return claims.Values{"faults": strings.Join(faults, "; ")} })
	},
})

func modeHeaderFaults(h vdo.VDMHeader) (faults []string) {
	word := say.Word(uint32(h))
	if h.Position() != 0 {
		faults = append(faults, fmt.Sprintf("%s has object position %d in bits 10..8", word, h.Position()))
	}
	if h.ReservedBit() {
		faults = append(faults, word+" has the reserved bit 5 set")
	}
	if h.Version() == "" || h.Major() == 0 && h.Minor() != 0 {
		faults = append(faults, fmt.Sprintf("%s has version codes %d and %d in bits 14..11, which are not assigned", word, h.Major(), h.Minor()))
	}
	return faults
}

var u3PowerReserved = markerRule(claims.Rule{
	ID: "u3-power-reserved", Sources: []claims.Citation{source.PDActive2}, Kind: claims.Breach,
	Title: "the power in U3 is a reserved code",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The second cable word {word} has code 7 for the power in U3 in bits 14..12, which is reserved.",
	Why:   programmingWhy, Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		two, ok := c.Near.Identity.Active2()
		if !ok {
			return notApplicable("the answer has no second cable word")
		}
		const reserved = 7
		return foundIf(two.U3Power() == reserved, func() claims.Values { return claims.Values{"word": say.Word(uint32(two))} })
	},
})

var redriverWithoutVCONN = markerRule(claims.Rule{
	ID: "redriver-without-vconn", Sources: []claims.Citation{source.OwnReasoning, source.TypeCTBT, source.PDPassive}, Kind: claims.Doubt, Property: claims.Activity,
	Title: "a cable with linear re-drivers declares that it needs no VCONN",
	Needs: []claims.Evidence{claims.MarkerCable, claims.MarkerThunderbolt},
	Says:  "The Thunderbolt mode word {word} declares active electronics; the cable word declares that VCONN is not required.",
	Why:   "Without VCONN the electronics have no supply.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		s := &c.Near.Summary
		m, _ := s.Thunderbolt.Get()
		if !s.LinearRedriver().Or(false) {
			return notApplicable("the cable has no linear re-drivers")
		}
		return foundIf(s.VCONNRequired.Is(isFalse), func() claims.Values { return claims.Values{"word": say.Word(uint32(m))} })
	},
})
