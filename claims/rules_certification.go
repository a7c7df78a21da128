package claims

import (
	"fmt"
	"strconv"
	"strings"
)

var certificationRules = []*Rule{claimedCertifiedWithoutXID, certificateDiffersFromXID, xidProvesNothing, certifiedWithoutNumber}

var claimedCertifiedWithoutXID = &Rule{
	ID:       "claimed-certified-without-xid",
	Sources:  []Citation{pdCertStat},
	Title:    "certification is claimed, but the marker presents no XID",
	Kind:     Doubt,
	Property: Certified,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerCertified, MarkerNear},
	Says:     "The seller says the cable is USB-IF certified; the marker's Cert Stat word is {xid}, which presents no XID. USB-IF assigns one before certification.",
	Why:      "Zero does not prove a false claim: the marker may have been programmed without it. It does mean that the marker does not support the claim.",
	Next:     "Look the product up by its certification number.",
	Check: func(c *Case) Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		switch {
		case !c.Claims.Certified.Value:
			return notApplicable("certification is not claimed")
		case !ok:
			return undecided("the answer has no Cert Stat word", MarkerCable)
		}
		return foundIf(x == 0, Values{"xid": fmt.Sprintf("0x%08X", x)})
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
		return foundIf(n != uint64(x), Values{"printed": printed, "xid": fmt.Sprintf("%d (0x%08X)", x, x)})
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
	Says:     "The marker presents XID {xid}. It is assigned before certification and can be copied, so it proves nothing by itself.",
	Why:      "A template marker carries another product's XID.",
	Next:     "Look the XID up and compare the product it names with the one in hand.",
	Check: func(c *Case) Result {
		x, ok := c.Near.Summary.CertificationID.Get()
		return foundIf(ok && x != 0, Values{"xid": fmt.Sprintf("%d (0x%08X)", x, x)})
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
	Says:     "The seller says the cable is USB-IF certified ({claimed}) and no certification number is on record.",
	Why:      "A claim that cannot be looked up cannot be shown.",
	Next:     "Ask the seller for the certification number, and note it as certificate.",
	Check: func(c *Case) Result {
		if !c.Claims.Certified.Value {
			return notApplicable("certification is not claimed")
		}
		return foundIf(!c.Claims.Certificate.Known, Values{"claimed": c.Claims.Certified.Text})
	},
}
