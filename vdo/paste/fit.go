package paste

import "example.com/gainsay/vdo"

// header reports whether a word may be a VDM header, as vdo.First reads one that stands
// alone.
func header(w uint32) bool {
	_, headerless := vdo.First([]uint32{w})
	return !headerless
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
		if _, headerless := vdo.First(words); headerless {
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
