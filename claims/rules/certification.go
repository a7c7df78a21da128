package rules

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
)

var certificationRules = []*claims.Rule{
	claimedCertifiedWithoutXID, certificateDiffersFromXID, claimedCertifiedWithoutVendorID, certifiedIn100WClass,
	certified5AWithoutEPR, certifiedAt10Gbps, certifiedWithoutNumber, xidProvesNothing,
}

const notCertified = "certification is not claimed"

var claimedCertifiedWithoutXID = &claims.Rule{
	ID:       "claimed-certified-without-xid",
	Sources:  []claims.Citation{source.PDCertStat},
	Title:    "certification is claimed, but the marker gives no XID",
	Kind:     claims.Doubt,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerCertified, claims.MarkerNear},
	Under:    []string{"identity-not-programmed", "claimed-certified-without-vendor-id"},
	Says:     "The seller claims USB-IF certification; the marker's Cert Stat word is {xid}, which gives no XID. USB-IF assigns an XID before certification.",
	Why:      "Zero does not prove the claim false: the marker may have been programmed without the number. But the marker does not support the claim.",
	Next:     "Look the product up by its certification number.",
	Check: func(c *claims.Case) claims.Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		switch {
		case !c.Claims.Certified.Value:
			return notApplicable(notCertified)
		case !ok:
			return undecided("the answer has no Cert Stat word", claims.MarkerCable)
		}
		return foundIf(x == 0, func() claims.Values { return claims.Values{"xid": say.Word(x)} })
	},
}

var certificateDiffersFromXID = &claims.Rule{
	ID:       "certificate-differs-from-xid",
	Sources:  []claims.Citation{source.PDCertStat},
	Title:    "the certification number printed differs from the XID in the marker",
	Kind:     claims.Doubt,
	Property: claims.Certificate,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerCertificate, claims.MarkerNear},
	Says:     "The printed certification number is {printed}; the marker gives XID {xid}.",
	Why:      "The printed number may be a test number, which is a different number. It may also be copied from another product.",
	Next:     "Look both numbers up and compare the products they name.",
	Check: func(c *claims.Case) claims.Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		if !ok || x == 0 {
			return notApplicable("the marker presents no XID")
		}
		printed := strings.TrimSpace(c.Claims.Certificate.Value)
		n, err := strconv.ParseUint(printed, 10, 64)
		if err != nil {
			return notApplicable("the number printed is not a plain number")
		}
		return foundIf(n != uint64(x), func() claims.Values { return claims.Values{"printed": printed, "xid": xidText(x)} })
	},
}

var xidProvesNothing = &claims.Rule{
	ID:       "xid-proves-nothing-by-itself",
	Sources:  []claims.Citation{source.PDCertStat, source.OwnReasoning},
	Title:    "the marker gives an XID, which is not a certificate",
	Kind:     claims.Remark,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Marker},
	Needs:    []claims.Evidence{claims.MarkerNear},
	Under:    []string{"xid-without-vendor-id"},
	Says:     "The marker gives XID {xid}. An XID is assigned before certification and can be copied, so alone it proves nothing.",
	Why:      "A marker programmed from a template carries another product's XID.",
	Next:     "Look the XID up and compare the product it names with the one in hand.",
	Check: func(c *claims.Case) claims.Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		return foundIf(ok && x != 0, func() claims.Values { return claims.Values{"xid": xidText(x)} })
	},
}

var certifiedWithoutNumber = &claims.Rule{
	ID:       "claimed-certified-without-number",
	Sources:  []claims.Citation{source.USBIFPower, source.OwnReasoning},
	Title:    "certification is claimed without a certification number",
	Kind:     claims.Doubt,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerCertified},
	Says:     "The seller claims USB-IF certification (certified: {claimed}); no certification number is recorded.",
	Why:      "Without a number nobody can look the certificate up.",
	Next:     "Ask the seller for the certification number and record it as claims.certificate.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Claims.Certified.Value {
			return notApplicable(notCertified)
		}
		return foundIf(!c.Claims.Certificate.Known, func() claims.Values { return claims.Values{"claimed": say.YesOrNo(c.Claims.Certified.Value)} })
	},
}

var claimedCertifiedWithoutVendorID = &claims.Rule{
	ID:       "claimed-certified-without-vendor-id",
	Sources:  []claims.Citation{source.OwnReasoning, source.PDVendorID},
	Title:    "certification is claimed, but the marker has no vendor ID",
	Kind:     claims.Doubt,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerCertified, claims.MarkerNear},
	Under:    []string{"xid-without-vendor-id"},
	Says:     "The seller claims USB-IF certification; the marker's vendor ID is {vendor}, which means none. Makers of certified products have a vendor ID.",
	Why:      "The marker was not programmed for a certified product.",
	Next:     "Look the product up by its certification number.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Claims.Certified.Value {
			return notApplicable(notCertified)
		}
		v, _ := c.Near.Summary.VendorID.Get()
		return foundIf(v == noVendorID, func() claims.Values { return claims.Values{"vendor": say.ID(v)} })
	},
}

var certifiedIn100WClass = &claims.Rule{
	ID:       "claimed-certified-in-withdrawn-power-class",
	Sources:  []claims.Citation{source.USBIFPower, source.TypeCNo5A20V},
	Title:    "certification is claimed in a power class that is no longer certified",
	Kind:     claims.Doubt,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerCertified, claims.SellerPower},
	Says:     "The seller claims USB-IF certification and {claimed}; since autumn 2021 certified cables are marked 60 W or 240 W.",
	Why:      "The certificate is older, belongs to another product, or does not exist.",
	Next:     "Look up the certification number and its date.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Claims.Certified.Value {
			return notApplicable(notCertified)
		}
		w := c.Claims.Power.Value
		return foundIf(in100WClass(w), func() claims.Values { return claims.Values{"claimed": watts(w)} })
	},
}

var certified5AWithoutEPR = &claims.Rule{
	ID:       "claimed-certified-but-5-a-without-epr",
	Sources:  []claims.Citation{source.USBIFPower, source.TypeCNo5A20V},
	Title:    "certification is claimed, and the marker declares 5 A without EPR",
	Kind:     claims.Doubt,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerCertified, claims.MarkerCable},
	Says:     "The seller claims USB-IF certification; the marker declares {declared}. Since autumn 2021 every certified 5 A cable is a 240 W EPR cable.",
	Why:      "The certificate is older, belongs to another product, or does not exist.",
	Next:     "Look up the certification number and its date.",
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		epr, ok := s.EPR.Get()
		switch {
		case !c.Claims.Certified.Value:
			return notApplicable(notCertified)
		case !ok:
			return notApplicable("the cable word has no EPR bit")
		case in100WClass(c.Claims.Power.Value):
			return notApplicable("the claim is of that class itself; see claimed-certified-in-withdrawn-power-class")
		}
		return foundIf(s.Amps.Or(0) == 5 && !epr, func() claims.Values { return claims.Values{"declared": declared(c)} })
	},
}

var certifiedAt10Gbps = &claims.Rule{
	ID:       "claimed-certified-at-10-gbps",
	Sources:  []claims.Citation{source.USBIFData},
	Title:    "certification is claimed at a data rate that is no longer certified",
	Kind:     claims.Doubt,
	Property: claims.Certified,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerCertified, claims.SellerData},
	Says:     "The seller claims USB-IF certification and {claimed}; Type-C to Type-C cables are certified at 5, 20, 40 and 80 Gbps, and for USB 2.0 without a rate.",
	Why:      "The certificate is older, belongs to another product, or does not exist.",
	Next:     "Look up the certification number and its date.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		switch {
		case !c.Claims.Certified.Value:
			return notApplicable(notCertified)
		case ok && p != record.CToC:
			return notApplicable("the rule is one of Type-C to Type-C cables")
		}
		return foundIf(c.Claims.Data.Value.Gbps == 10, func() claims.Values { return claims.Values{"claimed": c.Claims.Data.Text} })
	},
}

// xidText prints an XID as certificates have it, and as the marker does.
func xidText(x uint32) string { return fmt.Sprintf("%d (%s)", x, say.Word(x)) }
