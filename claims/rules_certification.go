package claims

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/gainsay/claims/record"
)

var certificationRules = []*Rule{
	claimedCertifiedWithoutXID, certificateDiffersFromXID, claimedCertifiedWithoutVendorID, certifiedIn100WClass,
	certified5AWithoutEPR, certifiedAt10Gbps, certifiedWithoutNumber, xidProvesNothing,
}

const notCertified = "certification is not claimed"

var claimedCertifiedWithoutXID = &Rule{
	ID:       "claimed-certified-without-xid",
	Sources:  []Citation{pdCertStat},
	Title:    "certification is claimed, but the marker presents no XID",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCertified, MarkerNear},
	Under:    []string{"identity-not-programmed", "claimed-certified-without-vendor-id"},
	Says:     "The seller says the cable is USB-IF certified; the marker's Cert Stat word is {xid}, which presents no XID. USB-IF assigns one before certification.",
	Why:      "Zero does not prove a false claim: the marker may have been programmed without it. It does mean that the marker does not support the claim.",
	Next:     "Look the product up by its certification number.",
	Check: func(c *Case) Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		switch {
		case !c.Claims.Certified.Value:
			return notApplicable(notCertified)
		case !ok:
			return undecided("the answer has no Cert Stat word", MarkerCable)
		}
		return foundIf(x == 0, func() Values { return Values{"xid": WordText(x)} })
	},
}

var certificateDiffersFromXID = &Rule{
	ID:       "certificate-differs-from-xid",
	Sources:  []Citation{pdCertStat},
	Title:    "the certification number printed is not the XID the marker presents",
	Kind:     Doubt,
	Property: Certificate,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCertificate, MarkerNear},
	Says:     "The seller prints certification number {printed}; the marker presents XID {xid}.",
	Why:      "The number printed may be a test number, which is another one. It may also have been taken from another product.",
	Next:     "Look both numbers up and compare the products they name.",
	Check: func(c *Case) Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		if !ok || x == 0 {
			return notApplicable("the marker presents no XID")
		}
		printed := strings.TrimSpace(c.Claims.Certificate.Value)
		n, err := strconv.ParseUint(printed, 10, 64)
		if err != nil {
			return undecided("the number printed is not a plain number", SellerCertificate)
		}
		return foundIf(n != uint64(x), func() Values { return Values{"printed": printed, "xid": xidText(x)} })
	},
}

var xidProvesNothing = &Rule{
	ID:       "xid-proves-nothing-by-itself",
	Sources:  []Citation{pdCertStat, ownReasoning},
	Title:    "the marker presents an XID, which is not yet a certificate",
	Kind:     Remark,
	Property: Certified,
	Between:  []Witness{Marker},
	Needs:    []Evidence{MarkerNear},
	Under:    []string{"xid-without-vendor-id"},
	Says:     "The marker presents XID {xid}. It is assigned before certification and can be copied, so it proves nothing by itself.",
	Why:      "A template marker carries another product's XID.",
	Next:     "Look the XID up and compare the product it names with the one in hand.",
	Check: func(c *Case) Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		return foundIf(ok && x != 0, func() Values { return Values{"xid": xidText(x)} })
	},
}

var certifiedWithoutNumber = &Rule{
	ID:       "claimed-certified-without-number",
	Sources:  []Citation{usbifPower, ownReasoning},
	Title:    "certification is claimed without a number that could be looked up",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerCertified},
	Says:     "The seller says the cable is USB-IF certified (certified: {claimed}) and no certification number is on record.",
	Why:      "A claim that cannot be looked up cannot be shown.",
	Next:     "Ask the seller for the certification number, and note it as certificate.",
	Check: func(c *Case) Result {
		if !c.Claims.Certified.Value {
			return notApplicable(notCertified)
		}
		return foundIf(!c.Claims.Certificate.Known, func() Values { return Values{"claimed": yesOrNo(c.Claims.Certified.Value)} })
	},
}

var claimedCertifiedWithoutVendorID = &Rule{
	ID:       "claimed-certified-without-vendor-id",
	Sources:  []Citation{ownReasoning, pdVendorID},
	Title:    "certification is claimed, and the marker's vendor has no vendor ID",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCertified, MarkerNear},
	Under:    []string{"xid-without-vendor-id"},
	Says:     "The seller says the cable is USB-IF certified; the marker's vendor ID is {vendor}, so its vendor has none, and USB-IF knows the makers of certified products by theirs.",
	Why:      "The marker at least was not programmed for a certified product.",
	Next:     "Look the product up by its certification number.",
	Check: func(c *Case) Result {
		if !c.Claims.Certified.Value {
			return notApplicable(notCertified)
		}
		v, _ := c.Near.Summary.VendorID.Get()
		return foundIf(v == noVendorID, func() Values { return Values{"vendor": IDText(v)} })
	},
}

var certifiedIn100WClass = &Rule{
	ID:       "claimed-certified-in-withdrawn-power-class",
	Sources:  []Citation{usbifPower, typeCNo5A20V},
	Title:    "certification is claimed in a power class that the current scheme does not have",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerCertified, SellerPower},
	Says:     "The seller says the cable is USB-IF certified, and claims {claimed}; since autumn 2021 certified cables are marked 60 W or 240 W.",
	Why:      "The certificate is from before, or of another product, or none.",
	Next:     "Look the certification number up, with its date.",
	Check: func(c *Case) Result {
		if !c.Claims.Certified.Value {
			return notApplicable(notCertified)
		}
		w := c.Claims.Power.Value
		return foundIf(in100WClass(w), func() Values { return Values{"claimed": watts(w)} })
	},
}

var certified5AWithoutEPR = &Rule{
	ID:       "claimed-certified-but-5-a-without-epr",
	Sources:  []Citation{usbifPower, typeCNo5A20V},
	Title:    "certification is claimed, and the marker declares 5 A without EPR",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCertified, MarkerCable},
	Says:     "The seller says the cable is USB-IF certified; the marker declares {declared}. Since autumn 2021 every certified 5 A cable is a 240 W EPR cable.",
	Why:      "The certificate is from before, or of another product, or none.",
	Next:     "Look the certification number up, with its date.",
	Check: func(c *Case) Result {
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
		return foundIf(s.Amps.Or(0) == 5 && !epr, func() Values { return Values{"declared": declared(c)} })
	},
}

var certifiedAt10Gbps = &Rule{
	ID:       "claimed-certified-at-10-gbps",
	Sources:  []Citation{usbifData},
	Title:    "certification is claimed at a data rate that the current scheme does not have",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerCertified, SellerData},
	Says:     "The seller says the cable is USB-IF certified, and claims {claimed}; Type-C to Type-C cables are certified at 5, 20, 40 and 80 Gbps, and for USB 2.0 without a rate.",
	Why:      "The certificate is from before, or of another product, or none.",
	Next:     "Look the certification number up, with its date.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		switch {
		case !c.Claims.Certified.Value:
			return notApplicable(notCertified)
		case ok && p != record.CToC:
			return notApplicable("the rule is one of Type-C to Type-C cables")
		}
		return foundIf(c.Claims.Data.Value.Gbps == 10, func() Values { return Values{"claimed": c.Claims.Data.Text} })
	},
}

// xidText prints an XID as certificates have it, and as the marker does.
func xidText(x uint32) string { return fmt.Sprintf("%d (%s)", x, WordText(x)) }
