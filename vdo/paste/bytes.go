package paste

import (
	"fmt"
	"slices"
	"strconv"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// octet is one byte and where it stood.
type octet struct {
	value byte
	extent
}

// view is a run of bytes taken in one order.
type view struct {
	octets []octet
	name   string // what was assumed about the order, or empty
}

// candidate is one way to read a run of bytes.
type candidate struct {
	packets []packet
	taken   int // bytes explained
	pad     int // bytes of zero behind it that a dump puts there
	how     string
	points  int // average fit of the packets
	cutOff  string
}

func (c *candidate) rate() {
	if len(c.packets) == 0 {
		return
	}
	sum := 0
	for i := range c.packets {
		sum += c.packets[i].fit()
	}
	c.points = sum * pointScale / len(c.packets)
	if c.points < strong && len(c.packets) > 1 && c.how == "" {
		c.points = 0 // control messages without a CRC one behind the other are chance
	}
}

// views are the orders that bytes printed in groups may have: as they stand in
// memory, or each group as a number of a little-endian machine.
func views(octets []octet, group int) []view {
	out := []view{{octets: octets}}
	if group < 2 {
		return out
	}
	out[0].name = fmt.Sprintf("groups of %d bytes in memory order", group)
	swapped := make([]octet, 0, len(octets))
	for i := 0; i < len(octets); i += group {
		g := octets[i:min(i+group, len(octets))]
		for j := len(g) - 1; j >= 0; j-- {
			swapped = append(swapped, g[j])
		}
	}
	return append(out, view{octets: swapped, name: fmt.Sprintf("groups of %d bytes in host order", group)})
}

// bytes reads a run of bytes, printed in groups of so many, and adds what it is.
func (r *reading) bytes(octets []octet, group int, l label, how string) {
	if len(octets) == 0 {
		return
	}
	best := candidates(octets, group, l)
	if len(best) == 0 {
		whole := extentOf(octets)
		r.fault(fault{whole, "", count(len(octets), "byte") + " have the structure of no message",
			"there should be a PD message header, a VDM header or a cable's ID header in front", ErrStructure})
		return
	}
	c := best[0]
	founds := c.founds(how)
	for _, o := range best[1:] {
		// Whole readings stand against each other, so they are only comparable where
		// both make as many messages.
		other := o.founds(how)
		for i := range founds {
			if i < len(other) && founds[i].skipped == "" && other[i].skipped == "" {
				founds[i].others = append(founds[i].others, other[i])
			}
		}
	}
	for _, f := range founds {
		r.add(f)
	}
	rest := octets[min(c.taken+c.pad, len(octets)):]
	switch {
	case c.cutOff != "":
		last := c.packets[len(c.packets)-1]
		r.fault(fault{extent{last.start, last.end}, "", c.cutOff, "copy the whole message", ErrTruncated})
	case len(rest) > 0 && len(rest) < wordBytes:
		r.fault(fault{extentOf(rest), "", count(len(rest), "byte") + " behind the message: half a word",
			"a word has 4 bytes", ErrHalf})
	case len(rest) > 0:
		r.fault(fault{extentOf(rest), "", count(len(rest), "byte") + " behind the message have the structure of none",
			"a message should end here or another begin", ErrTrailing})
	}
}

func (c *candidate) founds(how string) []found {
	if c.how != "" {
		how += ", " + c.how
	}
	out := make([]found, len(c.packets))
	for i := range c.packets {
		p := &c.packets[i]
		if c.pad > 0 && i == len(c.packets)-1 {
			p.remarks = append(p.remarks, fmt.Sprintf("%s of zero behind the message %s left out", count(c.pad, "byte"), wasWere(c.pad)))
		}
		out[i] = p.found(how)
	}
	return out
}

// candidates are the readings that fit best, more than one where they fit
// equally well and differ.
func candidates(octets []octet, group int, l label) []candidate {
	if len(octets) < headBytes {
		return nil
	}
	all := make([]candidate, 0, 8) // 5 of the first view, 3 of the other
	for i, v := range views(octets, group) {
		for _, c := range []candidate{frames(v, l), receiveBuffer(v), littleEndian(v, l)} {
			if c.how != "" && v.name != "" {
				c.how = v.name + ", " + c.how
			} else {
				c.how += v.name
			}
			all = append(all, c)
		}
		if i == 0 {
			all = append(all, bigEndian(v, l), headedBig(v, l))
		}
	}
	var best []candidate
	for _, c := range all {
		c.rate()
		if c.points == 0 {
			continue
		}
		switch {
		case len(best) == 0 || c.better(best[0], len(octets)) > 0:
			best = []candidate{c}
		case c.better(best[0], len(octets)) == 0 && !slices.ContainsFunc(best, func(o candidate) bool { return o.same(c) }):
			best = append(best, c)
		}
	}
	return best
}

// better compares by what is left unexplained, then by fit. Words that fit hardly
// at all do not win by being a multiple of four bytes.
func (c candidate) better(o candidate, n int) int {
	switch a, b := c.whole(n), o.whole(n); {
	case a && !b && 2*c.points >= o.points:
		return 1
	case b && !a && 2*o.points >= c.points:
		return -1
	}
	return c.points - o.points
}

// whole tells whether all of n bytes are explained.
func (c candidate) whole(n int) bool { return c.cutOff == "" && c.taken+c.pad == n }

// strong are points that chance hardly gives.
const strong = pointScale * fitHeader

// pointScale keeps an average of points from being rounded away.
const pointScale = 4

func (c candidate) same(o candidate) bool {
	return slices.EqualFunc(c.packets, o.packets, func(a, b packet) bool {
		return a.headerless == b.headerless && a.headed == b.headed && slices.Equal(a.values(), b.values())
	})
}

func objectAt(b []octet) word {
	v := uint32(0)
	for i := wordBytes - 1; i >= 0; i-- {
		v = v<<8 | uint32(b[i].value)
	}
	return word{value: v, extent: extentOf(b[:wordBytes])}
}

func extentOf(b []octet) extent {
	e := b[0].extent
	for _, o := range b[1:] {
		e.start, e.end = min(e.start, o.start), max(e.end, o.end)
	}
	return e
}

const (
	headBytes = 2
	wordBytes = 4
)

// frames reads PD messages one behind the other, with or without CRC.
func frames(v view, l label) candidate {
	var c candidate
	b := v.octets
	for len(b) > 0 {
		p, n, cutOff := frameAt(b, l)
		if n == 0 || p.weak() && !believed(c.packets, &p, b[n:]) {
			break
		}
		c.packets = append(c.packets, p)
		c.taken += n
		c.cutOff = cutOff
		b = b[n:]
	}
	if zero(b) && (v.name != "" && len(b) < wordBytes || slices.ContainsFunc(c.packets, func(p packet) bool { return !p.weak() })) {
		c.pad = len(b)
	}
	return c
}

// weak tells a message that many bytes look like: no VDM, and no CRC that fits.
func (p *packet) weak() bool {
	return p.head.Type() != frame.VendorDefined && p.crc != goodCRC
}

// believed tells whether to take a weak message: it is alone, it acknowledges the
// one before, or what stands behind it is no weak one.
func believed(before []packet, p *packet, behind []octet) bool {
	if len(behind) > 0 && !zero(behind) {
		return sure(behind)
	}
	if len(before) == 0 {
		return len(behind) == 0
	}
	return p.head.Type() == frame.GoodCRC && p.head.ID() == before[len(before)-1].head.ID()
}

// sure tells whether a PD message begins here that is not weak. It does not look
// behind it.
func sure(b []octet) bool {
	p, n, cutOff := bareFrameAt(b, label{})
	if n == 0 || cutOff != "" {
		return false
	}
	return p.head.Type() == frame.VendorDefined || len(b) >= n+wordBytes && objectAt(b[n:]).value == p.checksum()
}

// plausible tells whether a PD message may begin here.
func plausible(b []octet) bool {
	if len(b) < headBytes {
		return false
	}
	h := frame.Header(uint16(b[0].value) | uint16(b[1].value)<<8)
	if !h.Type().Defined() || h.RevisionCode() > 2 || h.Extended() {
		return false
	}
	if h.Type() != frame.VendorDefined {
		return len(b) >= headBytes+wordBytes*h.Objects()
	}
	return len(b) < headBytes+wordBytes || vdmLike(objectAt(b[headBytes:]).value, h)
}

// vdmLike tells whether a word may be the VDM header under this message header.
func vdmLike(w uint32, h frame.Header) bool {
	return header(w) || !vdo.VDMHeader(w).Structured() && h.Objects() <= frame.MaxObjects && vdo.VDMHeader(w).SVID() != 0
}

// frameAt reads the PD message that the bytes begin with, with its CRC if there
// is one, and how many bytes it has, 0 for none. A message cut off says so.
func frameAt(b []octet, l label) (p packet, n int, cutOff string) {
	p, n, cutOff = bareFrameAt(b, l)
	if n == 0 || cutOff != "" {
		return p, n, cutOff
	}
	if rest := b[n:]; len(rest) >= wordBytes {
		crc := objectAt(rest).value
		switch {
		case crc == p.checksum(),
			len(rest) == wordBytes && !zero(rest) && (p.head.Objects() > 0 || !plausible(rest) || !plausible(rest[headBytes:])),
			len(rest) > wordBytes && !plausible(rest) && sure(rest[wordBytes:]):
			p.checkCRC(crc)
			n += wordBytes
		}
	}
	p.extent = extentOf(b[:n])
	return p, n, ""
}

// bareFrameAt does so without the CRC.
func bareFrameAt(b []octet, l label) (p packet, n int, cutOff string) {
	if !plausible(b) {
		return p, 0, ""
	}
	p.label = l
	p.setHead(frame.Header(uint16(b[0].value) | uint16(b[1].value)<<8))
	want := p.head.Objects()
	n = headBytes + want*wordBytes
	p.words = make([]word, 0, want)
	for at := headBytes; at+wordBytes <= min(n, len(b)); at += wordBytes {
		p.words = append(p.words, objectAt(b[at:]))
	}
	if len(b) < n {
		// Only the strict pattern is believed where the count does not fit.
		if len(p.words) == 0 || !header(p.words[0].value) {
			return p, 0, ""
		}
		p.extent = extentOf(b)
		cutOff = fmt.Sprintf("the message is cut off: its header counts %s, %d came whole", count(want, "object"), len(p.words))
		p.remarks = append(p.remarks, cutOff)
		return p, len(b), cutOff
	}
	p.points = fitCounted
	if p.head.Type() != frame.VendorDefined {
		p.points = 1 // many numbers are the header of a control message
	}
	p.extent = extentOf(b[:n])
	return p, n, ""
}

// littleEndian reads words with the low byte first, no message header.
func littleEndian(v view, l label) candidate {
	return plainWords(v, l, "words, low byte first", objectAt)
}

// bigEndian reads words with the high byte first, no message header.
func bigEndian(v view, l label) candidate {
	return plainWords(v, l, "words, high byte first", func(b []octet) word {
		w := word{extent: extentOf(b[:wordBytes])}
		for _, o := range b[:wordBytes] {
			w.value = w.value<<8 | uint32(o.value)
		}
		return w
	})
}

// headedBig reads one message whose header and words have the high byte first.
func headedBig(v view, l label) candidate {
	c := candidate{how: "words, high byte first"}
	b := v.octets
	if len(b) < headBytes+wordBytes || (len(b)-headBytes)%wordBytes != 0 || len(b) > headBytes+wordBytes*(frame.MaxObjects+1) {
		return c
	}
	if first := b[headBytes:]; !header(uint32(first[0].value)<<24 | uint32(first[1].value)<<16 | uint32(first[2].value)<<8 | uint32(first[3].value)) {
		return c
	}
	wire := []octet{b[1], b[0]}
	for at := headBytes; at < len(b); at += wordBytes {
		wire = append(wire, b[at+3], b[at+2], b[at+1], b[at])
	}
	p, n, cutOff := frameAt(wire, l)
	if n == len(wire) && cutOff == "" && !p.weak() && header(p.words[0].value) {
		c.packets, c.taken = []packet{p}, n
	}
	return c
}

func plainWords(v view, l label, how string, at func([]octet) word) candidate {
	c := candidate{how: how}
	b := v.octets
	words := make([]word, 0, len(b)/wordBytes)
	for ; len(b) >= wordBytes; b = b[wordBytes:] {
		words = append(words, at(b))
	}
	if len(words) == 0 {
		return c
	}
	c.packets = packets(words, l)
	c.taken = len(words) * wordBytes
	// Zeros behind an identity fill a buffer.
	last := &c.packets[len(c.packets)-1]
	n := vdo.Decode(last.values(), last.context()).Objects()
	if last.headerless {
		n-- // counted with the VDM header
	}
	if n > 1 && n < len(last.words) && fitWords(last.values()[:n], last.context()) > 0 &&
		!slices.ContainsFunc(last.words[n:], func(w word) bool { return w.value != 0 }) {
		c.pad = (len(last.words) - n) * wordBytes
		c.taken -= c.pad
		last.words = last.words[:n]
		last.end = last.words[n-1].end
		if zero(b) {
			c.pad += len(b)
		}
	}
	return c
}

func zero(b []octet) bool {
	return !slices.ContainsFunc(b, func(o octet) bool { return o.value != 0 })
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func wasWere(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}
