package paste

import "example.com/gainsay/vdo"

// header tells whether a word can only be a structured VDM header, not an ID
// header or a cable word: a known SVID in front, a valid version and a command
// that a cable answers. Under another vendor's SVID it must be the answer to
// Discover Modes and not look like an ID header.
func header(w uint32) bool {
	h := vdo.VDMHeader(w)
	if !h.Structured() {
		return false
	}
	if h.SVID() == vdo.SVIDPowerDelivery {
		// As an ID header or a cable word this would hold reserved codes, so it is a
		// header even where its version or its reserved bit is at fault.
		return h.Command() >= vdo.DiscoverIdentity && h.Command() <= vdo.Attention
	}
	if h.Major() > 1 || h.Minor() > 1 || h.ReservedBit() {
		return false
	}
	switch h.SVID() {
	case vdo.SVIDDisplayPort, vdo.SVIDThunderbolt:
		// 7 to 15 are reserved; without them no pair of SVIDs in a list, as FF018087,
		// looks like a header.
		const specific = 16 // the first command of an SVID's own
		return h.Command() >= vdo.DiscoverModes && h.Command() <= vdo.Attention || h.Command() >= specific
	}
	return h.Command() == vdo.DiscoverModes && h.Type() == vdo.ACK && !vdo.IDHeader(w).OfCable() && h.SVID() != 0
}

// vendorMode tells whether a header is one only by being a possible answer to
// Discover Modes under a vendor's SVID: a weak sign.
func vendorMode(w uint32) bool {
	switch vdo.VDMHeader(w).SVID() {
	case vdo.SVIDPowerDelivery, vdo.SVIDDisplayPort, vdo.SVIDThunderbolt:
		return false
	}
	return true
}

// identityGoesOn tells whether a message that begins with these words is an
// identity that has not all its words yet. An XID or a cable word there may look
// like a vendor's header: 0x0008A043 is a passive cable of 5 A and Gen 3 too.
func identityGoesOn(words []word) bool {
	at := 0
	if header(words[0].value) {
		if !identityACK(words[0].value) {
			return false
		}
		at = 1
	}
	objects := 4
	if len(words) > at && vdo.IDHeader(words[at].value).Product() == vdo.ActiveType {
		objects = 5
	}
	return len(words) < at+objects
}

// identityACK tells the header of an answer to Discover Identity.
func identityACK(w uint32) bool {
	return vdo.VDMHeader(w).Is(vdo.SVIDPowerDelivery, vdo.DiscoverIdentity, vdo.ACK)
}

// cableType tells whether a word, as an ID header, is of a cable or a VPD.
func cableType(w uint32) bool {
	switch vdo.IDHeader(w).Product() {
	case vdo.PassiveType, vdo.ActiveType, vdo.VPDType:
		return true
	}
	return false
}

// Points for what in a message fits its structure.
const (
	fitCRC      = 16 // the CRC is right
	fitCounted  = 8  // the message header counts the objects that came
	fitHeader   = 8  // the first word is a VDM header
	fitIdentity = 6  // without a header, the words are a cable's identity
	fitObjects  = 4  // as many objects as the product type has
	fitReserved = 2  // reserved bits are zero
)

// fitWords is how well words fit the structure of an answer, 0 for not at all.
func fitWords(words []uint32, ctx vdo.Context) int {
	if len(words) == 0 {
		return 0
	}
	points := 0
	if ctx.Headerless {
		if !identity(words, ctx) {
			return 0
		}
		points = fitIdentity
	} else {
		if !header(words[0]) {
			return 0
		}
		points = fitHeader
	}
	r := vdo.Decode(words, ctx)
	if n := r.Objects(); n > 0 && n == r.Got() {
		points += fitObjects
	}
	for i, w := range words {
		if l := r.Layout(i); l.ReservedMask()&w != 0 && l.Name() != "data" {
			return points
		}
	}
	return points + fitReserved
}

// identity tells whether words without a header can be a cable's identity.
func identity(words []uint32, ctx vdo.Context) bool {
	r := vdo.Decode(words, ctx)
	return vdo.IDHeader(words[0]).OfCable() && r.Got() == r.Objects()
}
