package signal

import (
	"errors"
	"fmt"
	"slices"

	"example.com/gainsay/vdo/frame"
)

const (
	setBits = frame.SetSymbols * frame.SymbolBits

	// maxSymbols bounds a packet: header, extended header, 260 bytes and CRC are the
	// longest (PD R3.x, unchunked extended message; from memory), two symbols each,
	// with ordered set and EOP.
	maxSymbols = 2*(2+2+260+4) + frame.SetSymbols + 1

	// After so many bits that alternate, what follows is reported even if it is no
	// ordered set; fewer are taken for noise. Our reasoning.
	likelyPreamble = 28

	// An ordered set is complete that many bits after the preamble's alternation
	// stops, with some more for a bit read wrong.
	setWithin = setBits + 12
)

// aligned tells whether an ordered set with a K-code wrong may be complete that
// many bits after the alternation stopped. At others such a match is chance. The
// preamble ends with 1. Sync-1 (0,0,0,1,1 on the wire) stops the alternation with
// its second bit, RST-1 (1,1,1,0,0) with its first; with one bit wrong Sync-1 may
// stop it with its first or fifth, RST-1 with its third.
func aligned(since int) bool {
	return since == setBits || since == setBits-1 || since == setBits-2 || since == setBits-4
}

// decoder turns edges into packets. Times are in seconds.
type decoder struct {
	found func(found) // called for each packet

	recent []float64 // edges while hunting for a preamble
	locked bool
	clock  clock
	start  float64 // first edge of the preamble
	last   float64 // last edge taken

	bits      int    // since start
	window    uint32 // the last setBits bits, the newest highest
	alternate int    // bits in alternation, from start
	since     int    // bits since the alternation stopped
	symbols   []frame.Symbol
	partial   frame.Symbol // the symbol being received,
	got       int          // and how many bits it has
}

// found is a packet as the decoder sees it.
type found struct {
	packet     frame.Packet
	start, end float64
	bits       int
	preamble   int
	unclosed   bool // the last bit had no edge at its end
	glitches   int  // pulses left out
	err        error
}

// edge takes the next edge; times must not decrease.
func (d *decoder) edge(t float64) {
	if d.locked && d.clock.at(t) > late {
		d.silence()
	}
	if !d.locked {
		d.hunt(t)
		return
	}
	bit, complete, fits := d.clock.edge(t)
	if !fits {
		d.broken(fmt.Errorf("%w: an edge %.2f bits into a bit", ErrTiming, d.clock.at(t)))
		d.hunt(t)
		return
	}
	d.last = t
	if complete {
		d.bit(bit)
	}
}

// idle tells that no packet is under way, nor maybe a preamble.
func (d *decoder) idle() bool { return !d.locked && len(d.recent) <= 1 }

// silence is called when the line has stood still for longer than a bit, and at
// the end of the capture.
func (d *decoder) silence() {
	if !d.locked {
		return
	}
	// The edge that closes the last bit may be missing. Whether a bit was under way
	// then shows in what it completes.
	switch {
	case d.symbols == nil:
		w := d.shift(d.clock.mid)
		if set, wrong := frame.MatchSet(kcodes(w)); set.Reset() && wrong < 0 {
			d.bits++
			d.symbols = appendSet(nil, w)
			d.finish(true, nil)
			return
		}
	case d.got == frame.SymbolBits-1:
		if s := d.partial | frame.Symbol(uint(b2i(d.clock.mid))<<d.got); s == frame.EOP {
			d.bits++
			d.symbols, d.got = append(d.symbols, s), 0
			d.finish(true, nil)
			return
		}
	}
	d.broken(nil)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// hunt looks for a preamble that ends with this edge.
func (d *decoder) hunt(t float64) {
	if n := len(d.recent); n > 0 && t-d.recent[n-1] > late/(minBitRate*(1-rateMargin)) {
		d.recent = d.recent[:0]
	}
	if len(d.recent) == lockEdges {
		d.recent = slices.Delete(d.recent, 0, 1)
	}
	d.recent = append(d.recent, t)
	if len(d.recent) < lockEdges {
		return
	}
	l, ok := findLock(d.recent)
	if !ok {
		return
	}
	at := gridAt(lockEdges-1, l.phase)
	whole := float64(int(at))
	d.locked = true
	d.clock = clock{boundary: l.start + whole*l.ui, ui: l.ui, mid: at > whole}
	d.start, d.last = d.recent[0], t
	d.bits = int(at - gridAt(0, l.phase))
	d.alternate, d.since = d.bits, 0
	// The bits so far, as a preamble has them: bit 0 is 0, bit 1 is 1 and so on.
	d.window = 0
	for i := range setBits {
		d.window = d.window>>1 | uint32((int(whole)+i)&1)<<(setBits-1)
	}
	d.symbols, d.partial, d.got = nil, 0, 0
	d.recent = d.recent[:0]
}

// shift is the window with one more bit.
func (d *decoder) shift(bit bool) uint32 {
	return d.window>>1 | uint32(b2i(bit))<<(setBits-1)
}

// kcodes cuts the window into symbols; the first came first.
func kcodes(window uint32) (k [frame.SetSymbols]frame.Symbol) {
	for i := range k {
		k[i] = frame.Symbol(window >> (i * frame.SymbolBits) & (1<<frame.SymbolBits - 1))
	}
	return k
}

func appendSet(s []frame.Symbol, window uint32) []frame.Symbol {
	k := kcodes(window)
	return append(s, k[:]...)
}

// bit takes a bit of the packet.
func (d *decoder) bit(bit bool) {
	d.bits++
	if d.symbols == nil {
		d.preamble(bit)
		return
	}
	d.partial |= frame.Symbol(b2i(bit) << d.got)
	if d.got++; d.got < frame.SymbolBits {
		return
	}
	d.symbols = append(d.symbols, d.partial)
	end := d.partial == frame.EOP
	d.partial, d.got = 0, 0
	if end || len(d.symbols) == maxSymbols {
		d.finish(false, nil)
	}
}

// preamble takes a bit of preamble or ordered set.
func (d *decoder) preamble(bit bool) {
	before := d.window>>(setBits-1) != 0
	d.window = d.shift(bit)
	switch {
	case d.since > 0:
		d.since++
	case bit != before:
		d.alternate++
	default:
		d.since = 1
	}
	if d.since == 0 {
		return
	}
	switch set, wrong := frame.MatchSet(kcodes(d.window)); {
	case set != frame.SetUnknown && (wrong < 0 || aligned(d.since)):
		d.symbols = appendSet(nil, d.window)
		if set.Reset() {
			d.finish(false, nil)
		}
	case d.since > setWithin:
		d.broken(nil)
	}
}

// finish hands the packet over and hunts for the next.
func (d *decoder) finish(unclosed bool, cause error) {
	p, _, err := frame.ReadPacket(d.symbols)
	if cause != nil {
		err = errors.Join(cause, err)
	}
	d.found(found{
		packet: p, start: d.start, end: d.last, bits: d.bits,
		preamble: d.bits - len(d.symbols)*frame.SymbolBits - d.got,
		unclosed: unclosed, err: err,
	})
	d.locked = false
}

// broken ends a packet that stopped before its EOP.
func (d *decoder) broken(cause error) {
	if d.symbols != nil {
		d.finish(false, cause)
		return
	}
	d.locked = false
	if d.alternate < likelyPreamble {
		return
	}
	if d.since == 0 {
		cause = errors.Join(cause, fmt.Errorf("%w: %d bits of preamble and nothing behind", frame.ErrSet, d.alternate))
	} else {
		k := kcodes(d.window)
		cause = errors.Join(cause, fmt.Errorf("%w: %d bits of preamble, then none that is known; the last bits make %v %v %v %v",
			frame.ErrSet, d.alternate, k[0], k[1], k[2], k[3]))
	}
	d.found(found{packet: frame.Packet{SetWrong: -1}, start: d.start, end: d.last, bits: d.bits, preamble: d.alternate, err: cause})
}

// deglitch passes edges on, except pairs closer than any signal: a pulse that
// short is no part of the signal.
type deglitch struct {
	next    func(t float64)
	pending float64
	held    bool
	removed int // pulses
}

func (g *deglitch) edge(t float64) {
	if g.held && t-g.pending < minEdge {
		g.held = false
		g.removed++
		return
	}
	g.flush()
	g.pending, g.held = t, true
}

func (g *deglitch) flush() {
	if g.held {
		g.held = false
		g.next(g.pending)
	}
}
