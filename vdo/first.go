package vdo

// First reports how many words at the front of a row are one message, and whether that
// message begins at an ID header because its VDM header is missing. Every other message
// begins with a VDM header. n is 0 for an empty row only.
//
// The words decide in this order:
//   - SVID 0xFF00 with a command of the standard, or the DisplayPort or Thunderbolt SVID
//     with a command of modes, is a VDM header.
//   - Under a vendor's SVID, an answer to Discover Modes is a VDM header where the word
//     cannot be the ID header of a cable, because bits 20..16 are not zero
//     (0x1E4EA043), or where too few words follow for an identity (0x1C60A043 with one
//     mode word). An answer to Discover Identity is one where an ID header follows it.
//   - All else begins at an ID header.
//
// Words that only may be headers begin no message before the identity in front of them
// has all its words: 0x0008A043 is a cable word of 5 A too.
//
// Source: PD R3.2 V1.2, Structured VDM Header table (T 6.33); PD R3.x, ID Header VDO
// table and the clause of Discover Identity for the count of words.
func First(words []uint32) (n int, headerless bool) {
	if len(words) == 0 {
		return 0, false
	}
	whole := wholeIdentity(words)
	n = 1
	for n < len(words) && !begins(words, n) && !(n == whole && wholeIdentity(words[n:]) > 0) {
		n++
	}
	return n, !headed(words[:n])
}

// begins reports whether a message begins at place i, where another began at 0.
func begins(words []uint32, i int) bool {
	h := VDMHeader(words[i])
	if h.standard() {
		return true
	}
	return (h.vendorModes() || vendorIdentity(words[i:])) && !unfinished(words, i)
}

// headed reports whether the words of one message begin with a VDM header.
func headed(words []uint32) bool {
	h := VDMHeader(words[0])
	switch {
	case h.standard() || vendorIdentity(words):
		return true
	case !h.vendorModes():
		return false
	}
	return !IDHeader(words[0]).OfCable() || wholeIdentity(words) == 0
}

// standard reports whether the word can only be a VDM header: as an ID header or a cable
// word it would hold reserved codes, and as a pair of SVIDs none that is in use. Reserved
// bits and object positions at fault do not change that.
func (h VDMHeader) standard() bool {
	if !h.Structured() {
		return false
	}
	if h.SVID() == SVIDPowerDelivery {
		return h.Command() >= DiscoverIdentity && h.Command() <= Attention
	}
	if h.SVID() != SVIDDisplayPort && h.SVID() != SVIDThunderbolt || h.Major() > 1 || h.Minor() > 1 {
		return false
	}
	const specific = 16 // the first command of an SVID's own; 7 to 15 are reserved
	switch c := h.Command(); c {
	case DiscoverModes, EnterMode, ExitMode:
		return true
	case Attention: // not answered; as an answer it is a pair of SVIDs, as 0x80878086
		return h.Type() == Request
	default:
		return c >= specific && !h.ReservedBit()
	}
}

// vendorModes reports whether the word may be the header of an answer to Discover Modes
// under a vendor's SVID.
func (h VDMHeader) vendorModes() bool {
	return h.vendorAnswer(DiscoverModes)
}

// vendorIdentity reports whether the words may be an answer to Discover Identity under a
// vendor's SVID, where the standard asks for 0xFF00: the ID header must follow.
func vendorIdentity(words []uint32) bool {
	return len(words) > 1 && VDMHeader(words[0]).vendorAnswer(DiscoverIdentity) &&
		!IDHeader(words[0]).OfCable() && IDHeader(words[1]).OfCable()
}

func (h VDMHeader) vendorAnswer(c Command) bool {
	switch h.SVID() {
	case 0, SVIDPowerDelivery, SVIDDisplayPort, SVIDThunderbolt:
		return false
	}
	return h.Structured() && h.Major() <= 1 && h.Minor() <= 1 && h.Position() == 0 && !h.ReservedBit() &&
		h.Type() == ACK && h.Command() == c
}

// unfinished reports whether the first i words are an identity that lacks words.
func unfinished(words []uint32, i int) bool {
	h := VDMHeader(words[0])
	id, first, older := IDHeader(words[0]), 0, false
	switch {
	case h.Is(SVIDPowerDelivery, DiscoverIdentity, ACK), vendorIdentity(words[:i]):
		if i < 2 {
			return true
		}
		id, first, older = IDHeader(words[1]), 1, h.Major() == 0
	case h.standard(), h.vendorModes() && wholeIdentity(words) == 0:
		return false
	}
	most := fewestObjects
	if id.Product() == ActiveType && !older {
		most++
	}
	return i < first+most
}

// fewestObjects is the number of objects of a cable's identity after the VDM header: ID
// header, Cert Stat, Product and one cable word.
const fewestObjects = 4

// wholeIdentity is the number of words of the identity without VDM header that stands in
// front, 0 where none does or it lacks words.
func wholeIdentity(words []uint32) int {
	if len(words) < fewestObjects || !IDHeader(words[0]).OfCable() || VDMHeader(words[0]).standard() {
		return 0
	}
	n := fewestObjects
	if r := Decode(words[:fewestObjects], Context{Headerless: true}); r.ActiveForm() == ActiveFormCurrent {
		n++
	}
	if n > len(words) {
		return 0
	}
	if VDMHeader(words[0]).vendorModes() {
		// Only a cable word without reserved bits and codes speaks for the identity.
		r := Decode(words[:n], Context{Headerless: true})
		for i := fewestObjects - 1; i < n; i++ {
			l := r.Layout(i)
			if l.ReservedMask()&words[i] != 0 {
				return 0
			}
			for f := range l.Read(words[i]) {
				if !f.Reserved() && f.Standing == Reserved {
					return 0
				}
			}
		}
	}
	return n
}
