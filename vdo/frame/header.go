package frame

import "example.com/gainsay/vdo"

// MaxObjects is the most data objects a message can count.
const MaxObjects = int(1<<(hdrObjects>>8-hdrObjects&0xff+1) - 1)

// Header is the message header, 16 bits. On the wire its low byte goes first.
//
// Source: PD R3.x, message header clause, as used on SOP′ and SOP″.
type Header uint16

// A span is a run of bits, written high<<8 + low. It is the one place where the
// position of a field is stated.
type span uint16

const (
	hdrExtended  span = 15<<8 + 15
	hdrObjects   span = 14<<8 + 12
	hdrID        span = 11<<8 + 9
	hdrCablePlug span = 8<<8 + 8
	hdrRevision  span = 7<<8 + 6
	hdrReserved  span = 5<<8 + 5
	hdrType      span = 4<<8 + 0
)

// The header of an extended message, which follows the message header. Source:
// Linux 6.1 pd.h, PD_EXT_HDR.
const (
	extChunked span = 15<<8 + 15
	extSize    span = 8<<8 + 0 // bytes of data
)

func (s span) most() int { return 1<<(s>>8-s&0xff+1) - 1 }

func (s span) get(w uint16) int { return int(w) >> (s & 0xff) & s.most() }

func (s span) put(v int) uint16 { return uint16(v & s.most() << (s & 0xff)) }

func bit(set bool) int {
	if set {
		return 1
	}
	return 0
}

// Extended tells an extended message: what follows is not a list of objects. PD
// 2.0 reserves the bit.
func (h Header) Extended() bool { return hdrExtended.get(uint16(h)) != 0 }

// Objects is the number of data objects, 0 to 7; 0 is a control message.
func (h Header) Objects() int { return hdrObjects.get(uint16(h)) }

// ID is the rolling message number, 0 to 7.
func (h Header) ID() int { return hdrID.get(uint16(h)) }

// CablePlug tells, on SOP′ and SOP″, that the plug sent the message and not a
// port. On SOP the same bit is the power role.
func (h Header) CablePlug() bool { return hdrCablePlug.get(uint16(h)) != 0 }

// RevisionCode is the specification revision as it stands in the header, 0 to 3.
func (h Header) RevisionCode() int { return hdrRevision.get(uint16(h)) }

// Revision is the specification revision, RevisionUnknown for the reserved code
// 11b. PD 3.0, 3.1 and 3.2 share one code.
func (h Header) Revision() vdo.Revision {
	if c := h.RevisionCode(); c < 3 {
		return vdo.Revision1 + vdo.Revision(c)
	}
	return vdo.RevisionUnknown
}

// ReservedBit is bit 5, which is 0 on SOP′ and SOP″. On SOP it is the data role.
func (h Header) ReservedBit() bool { return hdrReserved.get(uint16(h)) != 0 }

// Type is what the message is. The number in the header means different things
// in a control, a data and an extended message, so the kind is part of the Type.
func (h Header) Type() Type {
	kind := Control
	switch {
	case h.Extended():
		kind = Extended
	case h.Objects() > 0:
		kind = Data
	}
	return NewType(kind, hdrType.get(uint16(h)))
}

// Fields are the parts a header is composed of.
type Fields struct {
	Type         Type // kind and number
	Objects      int  // 0 to 7: 0 in a control message, not 0 in a data message
	ID           int  // 0 to 7
	CablePlug    bool // on SOP′ and SOP″: sent by the plug
	RevisionCode int  // 0 to 3: 1 is PD 2.0, 2 is PD 3.x
	ReservedBit  bool // 0 on SOP′ and SOP″
}

// Compose puts a header together. Values out of range are an *Error with the
// cause ErrField.
func Compose(f Fields) (Header, error) {
	for _, v := range []struct {
		name  string
		value int
		bits  span
	}{
		{"number of objects", f.Objects, hdrObjects},
		{"message ID", f.ID, hdrID},
		{"revision code", f.RevisionCode, hdrRevision},
	} {
		if v.value < 0 || v.value > v.bits.most() {
			return 0, fieldError(v.name, v.value, "0 to "+itoa(v.bits.most()))
		}
	}
	switch k := f.Type.Kind(); {
	case k > Extended:
		return 0, fieldError("kind", int(k), "control, data or extended")
	case k == Control && f.Objects != 0:
		return 0, fieldError("number of objects", f.Objects, "0 in a control message")
	case k == Data && f.Objects == 0:
		return 0, fieldError("number of objects", f.Objects, "1 to "+itoa(MaxObjects)+" in a data message")
	}
	return Header(hdrExtended.put(bit(f.Type.Kind() == Extended)) |
		hdrObjects.put(f.Objects) |
		hdrID.put(f.ID) |
		hdrCablePlug.put(bit(f.CablePlug)) |
		hdrRevision.put(f.RevisionCode) |
		hdrReserved.put(bit(f.ReservedBit)) |
		hdrType.put(f.Type.Code())), nil
}
