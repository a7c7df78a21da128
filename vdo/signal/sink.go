package signal

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"
)

const (
	// maxErrors is how many places that cannot be read are reported before the
	// capture is given up.
	maxErrors = 100

	// maxTried is how many wires are read side by side.
	maxTried = 64

	// maxWaiting is how many broken packets of a wire are kept until a whole one
	// tells that it is a CC line.
	maxWaiting = 256

	// maxRecent is how many packets are compared with those of other wires.
	maxRecent = 256

	// samePacket is how far apart the beginnings of one packet may be on two wires,
	// in seconds: a few bits, since one of them may have lost its first edges.
	samePacket = 15e-6

	// restTime is how long a wire may stand still before the packet on it counts as
	// over, in seconds: less than the gap between packets.
	restTime = 20e-6
)

// wire is one that the capture offers.
type wire struct {
	name    string
	digital bool // its values are 0 and 1
	sampled bool // its values are samples of a curve: a crossing lies between two
}

// sample is the value of a wire from a time on, seconds after the origin.
type sample struct {
	wire int
	t, v float64
}

// sink takes samples and errors from a reader and hands packets and errors to the
// caller.
type sink struct {
	yield   func(Packet, error) bool
	options Options
	stopped bool // nothing more is to be read
	errors  int

	wires  []wire
	origin time.Duration // the capture's own time where seconds are counted from
	lines  []*line       // one for each wire
	rested float64       // when the lines were last asked whether they stand still
	handed int           // packets, whole or broken
	recent []copied
}

// line is a wire being read.
type line struct {
	*chain
	name    string
	whole   bool // a whole packet came, or there is no other wire
	waiting []found
}

// copied is a packet handed over, kept to know it again on another wire.
type copied struct {
	line *line
	found
}

// fail reports a place in the text.
func (s *sink) fail(e *Error) {
	if s.stopped {
		return
	}
	s.errors++
	s.hand(Packet{}, e)
	if s.errors == maxErrors {
		s.abandon(&Error{Line: e.Line, Column: e.Column, Wrong: fmt.Sprintf("this is error number %d; the rest is not read", maxErrors),
			Want: "is it the right file, and in the right format?", Err: ErrTooMany})
	}
}

// abandon reports what makes reading on useless.
func (s *sink) abandon(e *Error) {
	s.hand(Packet{}, e)
	s.stopped = true
}

func (s *sink) hand(p Packet, err error) {
	if !s.stopped && !s.yield(p, err) {
		s.stopped = true
	}
}

// open takes over the wires of the capture, those that the caller may mean.
func (s *sink) open() {
	if n := len(s.wires); n > maxTried {
		s.abandon(&Error{Wrong: fmt.Sprintf("the capture has %d wires", n), Want: fmt.Sprintf("name the one to read; up to %d are tried", maxTried), Err: ErrWire})
		return
	}
	for _, w := range s.wires {
		l := &line{name: w.name}
		l.chain = newChain(w, s.options.Threshold, func(f found) { s.packet(l, f) })
		s.lines = append(s.lines, l)
	}
	if len(s.lines) == 1 {
		s.lines[0].whole = true
	}
}

// add takes a sample. Times must not decrease.
func (s *sink) add(x sample) {
	if s.stopped {
		return
	}
	s.lines[x.wire].sample(x.t, x.v)
	if x.t > s.rested+restTime {
		s.rested = x.t
		for _, l := range s.lines {
			l.rest(x.t)
		}
	}
}

// packet takes a packet of a wire. Broken ones wait for a whole one: what else is
// recorded beside the CC line may look like a preamble now and then.
func (s *sink) packet(l *line, f found) {
	l.waiting = append(l.waiting, f)
	if f.err == nil || l.whole || len(l.waiting) == maxWaiting {
		l.whole = true
		s.release(l)
	}
}

// release hands over what waits, except what came on another wire already.
func (s *sink) release(l *line) {
	waiting := l.waiting
	l.waiting = nil
	for _, f := range waiting {
		if s.copy(l, f) {
			continue
		}
		s.handed++
		s.hand(packet(l.name, s.origin, f))
	}
}

// copy tells whether the packet came on another wire before, as where a line is
// recorded as level and as curve.
func (s *sink) copy(l *line, f found) bool {
	if len(s.lines) == 1 {
		return false
	}
	for _, c := range s.recent {
		if c.line != l && math.Abs(c.start-f.start) < samePacket && (c.err == nil) == (f.err == nil) &&
			c.packet.Set == f.packet.Set && bytes.Equal(c.packet.Bytes, f.packet.Bytes) {
			return true
		}
	}
	if len(s.recent) == maxRecent {
		s.recent = slices.Delete(s.recent, 0, maxRecent/2)
	}
	s.recent = append(s.recent, copied{l, f})
	return false
}

// end closes the capture.
func (s *sink) end() {
	for _, l := range s.lines {
		if !s.stopped {
			l.end()
		}
	}
	for _, l := range s.lines { // broken packets on wires without a whole one
		s.release(l)
	}
	switch {
	case s.handed > 0:
	case len(s.lines) > 0:
		s.hand(Packet{}, nothing(slices.MaxFunc(s.lines, func(a, b *line) int { return cmp.Compare(a.edges, b.edges) })))
	case s.errors == 0:
		s.hand(Packet{}, &Error{Wrong: "there is nothing in the capture", Want: "it holds times and levels of a CC line", Err: ErrNoPacket})
	}
}

// nothing words a capture without a packet, with what may tell why.
func nothing(l *line) *Error {
	e := &Error{Wrong: fmt.Sprintf("no packet in %d edges on %s", l.edges, l.name),
		Want: "a packet begins with some 90 edges, 1.5 to 3.7 µs apart", Err: ErrNoPacket}
	if gaps := l.gaps; len(gaps) > 0 {
		slices.Sort(gaps)
		e.Want += fmt.Sprintf("; half of the first ones here are within %.3g µs of the one before", gaps[len(gaps)/2]*1e6)
	}
	return e
}

// packet words what the decoder found.
func packet(wire string, origin time.Duration, f found) (Packet, error) {
	p := Packet{Packet: f.packet, Wire: wire, Start: later(origin, f.start), End: later(origin, f.end)}
	if span := f.end - f.start; span > 0 {
		p.BitRate = float64(f.bits) / span
	}
	if n := preambleBits - f.preamble; n > 3 {
		p.Remarks = append(p.Remarks, fmt.Sprintf("only %d of %d bits of the preamble were recognised", f.preamble, preambleBits))
	}
	if p.SetWrong >= 0 {
		p.Remarks = append(p.Remarks, fmt.Sprintf("one K-code of %v was wrong, number %d", p.Set, p.SetWrong+1))
	}
	if f.unclosed {
		p.Remarks = append(p.Remarks, "no edge closes the last bit")
	}
	if f.glitches > 0 {
		p.Remarks = append(p.Remarks, fmt.Sprintf("pulses shorter than %.0f ns left out: %d", minEdge*1e9, f.glitches))
	}
	if p.BitRate < minBitRate*(1-rateTolerance) || p.BitRate > maxBitRate*(1+rateTolerance) {
		p.Remarks = append(p.Remarks, fmt.Sprintf("the bit rate is %.1f kbps; %.0f to %.0f are allowed", p.BitRate/1e3, minBitRate/1e3, maxBitRate/1e3))
	}
	if f.err == nil {
		return p, nil
	}
	return p, &BrokenError{Start: p.Start, End: p.End, Wire: wire, Cause: f.err}
}

// rateTolerance is for the error of the measurement itself, which jitter at both
// ends of a short packet makes.
const rateTolerance = 0.01

// later adds seconds to a time, within the range of a Duration.
func later(origin time.Duration, seconds float64) time.Duration {
	ns := float64(origin) + seconds*1e9
	switch {
	case ns >= math.MaxInt64:
		return math.MaxInt64
	case ns <= math.MinInt64:
		return math.MinInt64
	case math.Abs(ns) < 1<<53:
		return time.Duration(math.Round(ns))
	}
	return origin + time.Duration(math.Round(seconds*1e9))
}

// chain is the way from the samples of one wire to its packets.
type chain struct {
	slicer   slicer
	deglitch deglitch
	decoder  decoder
	edges    int
	last     float64
	gaps     []float64 // the first ones
}

func newChain(w wire, threshold *float64, hand func(found)) *chain {
	c := &chain{}
	c.slicer = slicer{wire: w, threshold: threshold, next: c.edge}
	c.deglitch.next = c.decoder.edge
	c.decoder.found = func(f found) {
		f.glitches = c.deglitch.removed
		c.deglitch.removed = 0
		hand(f)
	}
	return c
}

func (c *chain) sample(t, v float64) { c.slicer.sample(t, v) }

func (c *chain) edge(t float64) {
	const mostGaps = 199
	if c.edges > 0 && len(c.gaps) < mostGaps {
		c.gaps = append(c.gaps, t-c.last)
	}
	c.edges++
	c.last = t
	if c.decoder.idle() {
		c.deglitch.removed = 0
	}
	c.deglitch.edge(t)
}

// rest tells the time to a wire that may be standing still, so that a packet at
// its end comes out before those of other wires that follow. Of a curve it is not
// known yet what lies between.
func (c *chain) rest(t float64) {
	if c.slicer.wire.digital && c.edges > 0 && t > c.last+restTime {
		c.deglitch.flush()
		c.decoder.silence()
	}
}

func (c *chain) end() {
	c.slicer.flush()
	c.deglitch.flush()
	c.decoder.silence()
}
