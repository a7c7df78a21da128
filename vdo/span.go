package vdo

// A span is a run of bits, written high<<8 + low. It is the one place where the
// position of a field is stated.
type span uint16

func (s span) high() uint32 { return uint32(s >> 8) }
func (s span) low() uint32  { return uint32(s & 0xff) }

// most is the largest value the span holds.
func (s span) most() uint32 { return 1<<(s.high()-s.low()+1) - 1 }

func (s span) mask() uint32 { return s.most() << s.low() }

func (s span) get(w uint32) uint32 { return w >> s.low() & s.most() }

func (s span) put(w, v uint32) uint32 {
	return w&^s.mask() | v&s.most()<<s.low()
}

func (s span) is(w uint32) bool { return s.get(w) != 0 }
