package paste

import (
	"encoding/binary"
	"fmt"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// word is one data object and where it stood.
type word struct {
	value uint32
	extent
	padded bool // written with fewer digits than a word has
}

// label is what the text says about a message outside its data.
type label struct {
	plug  vdo.Plug
	set   bool // an ordered set is named
	since int  // where it stands
}

// packet is one message in the making.
type packet struct {
	extent
	label
	revision   vdo.Revision
	head       frame.Header
	headed     bool // has a PD message header
	words      []word
	headerless bool
	points     int // for CRC and counts
	crc        string
	remarks    []string
}

func (p *packet) values() []uint32 {
	out := make([]uint32, len(p.words))
	for i, w := range p.words {
		out[i] = w.value
	}
	return out
}

func (p *packet) context() vdo.Context {
	return vdo.Context{Plug: p.plug, Revision: p.revision, Headerless: p.headerless}
}

// fit is how well the packet fits the structure of a message.
func (p *packet) fit() int {
	if !p.headed {
		return fitWords(p.values(), p.context())
	}
	if p.head.Type() != frame.VendorDefined {
		return p.points
	}
	points := fitWords(p.values(), p.context())
	if points == 0 && len(p.words) > 0 {
		points = 1 // a vendor's own message
	}
	return p.points + points
}

// newPacket is a packet of words without a message header.
func newPacket(words []word, l label) packet {
	p := packet{words: words, label: l}
	_, p.headerless = vdo.First(p.values())
	p.extent = extent{words[0].start, words[len(words)-1].end}
	return p
}

// found says what a packet is: an answer of the cable, or something else, by
// name.
func (p *packet) found(how string) found {
	f := found{extent: p.extent, since: p.start, words: max(1, len(p.words))}
	if p.headed && p.head.Type() != frame.VendorDefined && p.points < fitCRC {
		f.words = 0 // many numbers look like a control message
	}
	if p.set {
		f.since = p.since
	}
	if f.skipped = p.setAside(); f.skipped != "" {
		if p.crc == badCRC {
			f.skipped += ", " + badCRC
		}
		return f
	}
	m := &f.message
	m.Plug, m.Revision, m.Words, m.Headerless = p.plug, p.revision, p.values(), p.headerless
	switch {
	case p.headed:
		m.ReadAs = how + ", message header first"
	case m.Headerless:
		m.ReadAs = how + ", starting at the ID header"
	default:
		m.ReadAs = how + ", header first"
	}
	if p.crc != "" {
		m.ReadAs += ", " + p.crc
	}
	for _, w := range p.words {
		if w.padded {
			m.Remarks = append(m.Remarks, "some words have fewer than 8 digits: zeros were put in front")
			break
		}
	}
	m.Remarks = append(m.Remarks, p.remarks...)
	m.Remarks = append(m.Remarks, notices(m)...)
	return f
}

const allZero = "every identity word is zero: the marker was never programmed, or there was no identity to read"

// notices are what stands out in a message.
func notices(m *Message) []string {
	var out []string
	r := vdo.Decode(m.Words, m.Context())
	h, headed := r.Header()
	switch {
	case headed && h.Structured() && h.Type() == vdo.NAK:
		out = append(out, "NAK: the plug refuses "+h.Command().String()+"; this is no identity")
	case headed && h.Structured() && h.Type() == vdo.Busy:
		out = append(out, "BUSY: the plug could not answer "+h.Command().String()+" then; ask it again")
	case r.Identity() && r.Blank():
		out = append(out, allZero)
	case r.Identity():
		if id, ok := r.ID(); ok && !cableType(uint32(id)) && (id.DFP() != 0 && !r.PD2Layout() || partnerType(id)) {
			out = append(out, "the ID header is like a port partner's (SOP), not like a cable plug's; the text does not say whose it is")
		}
	}
	return out
}

// partnerType tells the product types of a port partner that no plug has: hub,
// peripheral and alternate mode adapter (PD R3.x, ID Header VDO table, UFP
// product types).
func partnerType(id vdo.IDHeader) bool {
	switch id.Product() {
	case 0b001, 0b010, 0b101:
		return true
	}
	return false
}

// setAside says by name what a packet is, where it is no answer of a cable.
func (p *packet) setAside() string {
	if p.headed && p.head.Type() != frame.VendorDefined {
		return p.head.Type().String() + p.from()
	}
	if len(p.words) == 0 {
		return "a vendor-defined message without objects" + p.from()
	}
	h := vdo.VDMHeader(p.words[0].value)
	what := ""
	switch {
	case p.headerless:
		what = "identity"
	case !h.Structured():
		what = fmt.Sprintf("unstructured message of vendor 0x%04X", h.SVID())
	default:
		what = h.Command().String()
		if h.SVID() != vdo.SVIDPowerDelivery {
			what += fmt.Sprintf(" of SVID 0x%04X", h.SVID())
		}
		if h.Type() == vdo.Request {
			return "a request: " + what + p.from()
		}
		what += " " + h.Type().String()
	}
	switch {
	case p.plug == vdo.PlugPartner:
		return "the port partner's, not the cable's: " + what + " (SOP)"
	case p.headed && !p.head.CablePlug():
		return "from a port, not from a cable plug, by its message header: " + what
	case p.headed && !p.set && p.head.ReservedBit():
		return "from a port, by the data role in its message header: " + what
	}
	return ""
}

// from says who sent a packet that is set aside, and with whom it spoke.
func (p *packet) from() string {
	if !p.set {
		return ""
	}
	s := ", debug set"
	switch p.plug {
	case vdo.PlugPartner:
		return ", SOP"
	case vdo.PlugNear:
		s = ", SOP′"
	case vdo.PlugFar:
		s = ", SOP″"
	}
	switch {
	case !p.headed:
		return s
	case p.head.CablePlug():
		return s + ", from the plug"
	}
	return s + ", from the port"
}

// packets cuts words into messages, as vdo.First says.
func packets(words []word, l label) []packet {
	var out []packet
	values := make([]uint32, len(words))
	for i, w := range words {
		values[i] = w.value
	}
	for i := 0; i < len(words); {
		n, headerless := vdo.First(values[i:])
		end := i + n
		out = append(out, packet{words: words[i:end:end], label: l, headerless: headerless,
			extent: extent{words[i].start, words[end-1].end}})
		i = end
	}
	return out
}

const (
	badCRC  = "CRC wrong"
	goodCRC = "CRC right"
)

// checkCRC compares the CRC received with the one that fits.
func (p *packet) checkCRC(got uint32) {
	if want := p.checksum(); got != want {
		p.crc = badCRC
		p.remarks = append(p.remarks, fmt.Sprintf("the CRC is wrong: it came as %08X, over these bytes it is %08X; a bit may be wrong anywhere in the message", got, want))
		return
	}
	p.points += fitCRC
	p.crc = goodCRC
}

func (p *packet) checksum() uint32 {
	b := binary.LittleEndian.AppendUint16(make([]byte, 0, 32), uint16(p.head))
	for _, w := range p.words {
		b = binary.LittleEndian.AppendUint32(b, w.value)
	}
	return frame.Checksum(b)
}

// setHead gives a packet its PD message header.
func (p *packet) setHead(h frame.Header) {
	p.head, p.headed, p.headerless, p.revision = h, true, false, h.Revision()
}

// relabel gives what was found in a part of the text the label that stands
// beside it.
func (f *found) relabel(l label, how string) {
	if l.set {
		f.since = min(f.since, l.since)
	}
	if f.skipped != "" {
		return
	}
	m := &f.message
	if m.Plug == vdo.PlugUnknown && l.set {
		m.Plug = l.plug
		if l.plug == vdo.PlugPartner {
			p := packet{label: l, headerless: m.Headerless}
			for _, w := range m.Words {
				p.words = append(p.words, word{value: w})
			}
			f.skipped, f.others = p.setAside(), nil
			return
		}
	}
	m.ReadAs = how + ": " + m.ReadAs
	for i := range f.others {
		f.others[i].relabel(l, how)
	}
}
