package signal

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo/frame"
)

func summary(fs []found) []string {
	var out []string
	for _, f := range fs {
		s := fmt.Sprintf("%v %x", f.packet.Set, f.packet.Bytes)
		if f.err != nil {
			s += " broken"
		}
		out = append(out, s)
	}
	return out
}

func TestDecode(t *testing.T) {
	passive := vector(t, "passive")
	good := fmt.Sprintf("SOP′ %x", passive)
	for _, rate := range []float64{270e3, 300e3, 330e3} {
		for _, c := range []struct {
			name string
			send func(x *transmitter)
			want []string
		}{
			{"plain", func(x *transmitter) {}, []string{good}},
			{"one edge lost", func(x *transmitter) { x.lost = 1 }, []string{good}},
			{"twenty edges lost", func(x *transmitter) { x.lost = 20 }, []string{good}},
			{"not closed", func(x *transmitter) { x.bare = true }, []string{good}},
			{"jitter", func(x *transmitter) { x.jitter = 0.03 }, []string{good}},
			{"skew", func(x *transmitter) { x.skew = 0.1 }, []string{good}},
			{"glitches", func(x *transmitter) { x.glitches = 0.05 }, []string{good}},
			{"noise before", func(x *transmitter) { x.noise(2e-3, 3e-6) }, []string{good}},
		} {
			t.Run(fmt.Sprintf("%s at %.0f", c.name, rate), func(t *testing.T) {
				x := newTransmitter(rate, 1)
				x.idle(1e-3)
				c.send(x)
				x.packet(frame.SOPPrime, passive)
				if d := cmp.Diff(c.want, summary(receive(x.edges))); d != "" {
					t.Error(d)
				}
			})
		}
	}
}

// All vectors on all sets, resets, and broken ones between good ones.
func TestDecodeSeveral(t *testing.T) {
	x := newTransmitter(300e3, 1)
	var want []string
	for set := frame.SOP; set <= frame.CableReset; set++ {
		for name := range vectors {
			b := vector(t, name)
			if set.Reset() {
				b = nil
			}
			x.packet(set, b)
			want = append(want, fmt.Sprintf("%v %x", set, b))
		}
	}
	if d := cmp.Diff(want, summary(receive(x.edges))); d != "" {
		t.Error(d)
	}
}

func TestDecodeBroken(t *testing.T) {
	good := vector(t, "GoodCRC")
	passive := vector(t, "passive")
	for _, c := range []struct {
		name  string
		send  func(x *transmitter)
		cause error
		want  string
	}{
		{"CRC wrong", func(x *transmitter) { x.packet(frame.SOPPrime, []byte{0x81, 1, 0, 0, 0, 0}) },
			frame.ErrCRC, "SOP′ 810100000000 broken"},
		{"symbol wrong", func(x *transmitter) {
			s := frame.AppendPacket(nil, frame.SOPPrime, good)
			s[6] = 0
			x.symbols(s)
		}, frame.ErrSymbol, "SOP′ 8100638b4614 broken"},
		{"cut off", func(x *transmitter) {
			b := wireBits(frame.AppendPacket(nil, frame.SOPPrime, passive))
			x.bits(b[:64+20+41])
		}, frame.ErrEOP, "SOP′ 8f5141a0 broken"},
		{"cut in the ordered set", func(x *transmitter) {
			x.bits(wireBits(frame.AppendPacket(nil, frame.SOPPrime, passive))[:64+13])
		}, frame.ErrSet, "unknown ordered set  broken"},
		{"preamble alone", func(x *transmitter) { x.bits(wireBits(nil)) },
			frame.ErrSet, "unknown ordered set  broken"},
		{"ordered set wrong", func(x *transmitter) {
			s := frame.AppendPacket(nil, frame.SOPPrime, good)
			s[0], s[1] = frame.Rst2, frame.Rst2
			x.symbols(s)
		}, frame.ErrSet, "unknown ordered set  broken"},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := newTransmitter(300e3, 1)
			x.packet(frame.SOPPrime, good)
			c.send(x)
			x.packet(frame.SOPPrime, good)
			got := receive(x.edges)
			if len(got) != 3 || got[0].err != nil || got[2].err != nil {
				t.Fatalf("%v", summary(got))
			}
			if !errors.Is(got[1].err, c.cause) || summary(got)[1] != c.want {
				t.Errorf("%s: %v", summary(got)[1], got[1].err)
			}
			if got[1].start < got[0].end || got[1].end > got[2].start {
				t.Errorf("from %g to %g", got[1].start, got[1].end)
			}
		})
	}
}

// The longest packet, an extended message that is not chunked, arrives; one that
// never ends is given up, and the next arrives.
func TestDecodeLong(t *testing.T) {
	m := frame.Message{Header: 0x8190, Body: append([]byte{4, 1}, bytes.Repeat([]byte{0x5A}, 260)...)}.Sealed()
	long := m.Append(nil)
	x := newTransmitter(300e3, 1)
	x.packet(frame.SOPPrime, long)
	s := frame.AppendPacket(nil, frame.SOPPrime, append(long, 1, 2, 3, 4))
	x.symbols(s)
	x.packet(frame.SOPPrime, vector(t, "GoodCRC"))
	got := receive(x.edges)
	if len(got) != 3 {
		t.Fatal(summary(got))
	}
	if !bytes.Equal(got[0].packet.Bytes, long) || !errors.Is(got[0].err, frame.ErrExtended) || errors.Is(got[0].err, frame.ErrEOP) {
		t.Error(got[0].err)
	}
	if !errors.Is(got[1].err, frame.ErrEOP) || got[2].err != nil {
		t.Error(got[1].err, got[2].err)
	}
}

// A preamble without its ordered set does not take that of something later.
func TestDecodeLateSet(t *testing.T) {
	x := newTransmitter(300e3, 1)
	data := slices.Repeat([]frame.Symbol{frame.DataSymbol(0)}, 8)
	x.symbols(frame.AppendPacket(data, frame.SOPPrime, vector(t, "GoodCRC")))
	got := receive(x.edges)
	if len(got) != 1 || !errors.Is(got[0].err, frame.ErrSet) {
		t.Error(summary(got))
	}
}

// An edge that does not belong, at each place of a packet in turn: nothing passes
// for good that was not sent, and the packets around arrive.
func TestDecodeStrayEdge(t *testing.T) {
	good, passive := vector(t, "GoodCRC"), vector(t, "passive")
	causes := map[string]int{}
	for at := 100; at < 350; at++ {
		x := newTransmitter(300e3, 1)
		x.packet(frame.SOPPrime, good)
		first := len(x.edges)
		x.packet(frame.SOPPrime, passive)
		if i := first + at; i < len(x.edges) {
			x.edges = slices.Insert(x.edges, i, x.edges[i-1]+0.4e-6)
		}
		x.packet(frame.SOPPrime, good)
		got := receive(x.edges)
		if len(got) != 3 || got[0].err != nil || got[2].err != nil {
			t.Fatalf("edge %d: %v", at, summary(got))
		}
		tolerated := got[1].packet.SetWrong >= 0 && bytes.Equal(got[1].packet.Bytes, passive)
		if got[1].err == nil && !tolerated {
			t.Fatalf("edge %d passed: %v", at, summary(got))
		}
		for _, c := range []error{ErrTiming, frame.ErrCRC, frame.ErrSymbol, frame.ErrTruncated, frame.ErrSet} {
			if errors.Is(got[1].err, c) {
				causes[c.Error()]++
			}
		}
	}
	t.Log(causes)
	if causes[ErrTiming.Error()] == 0 {
		t.Error("timing was never lost")
	}
}

// Preamble and ordered set, cut at any bit before the end, match no set: the set
// is never found early, one K-code wrong or not.
func TestSetNotEarly(t *testing.T) {
	for set := frame.SOP; set <= frame.CableReset; set++ {
		k, _ := set.Symbols()
		for flip := -1; flip < 20; flip++ {
			d := decoder{found: func(found) {}, window: 1 << (setBits - 1)}
			bits := wireBits(k[:])
			for i, b := range bits {
				if flip >= 0 && i == 64+flip {
					b ^= 1
				}
				d.bit(b != 0)
				if i < len(bits)-1 && len(d.symbols) > 0 {
					t.Errorf("%v with bit %d wrong is %v at bit %d", set, flip, d.symbols, i)
					break
				}
			}
			if set.Reset() {
				continue
			}
			if got := kcodes(d.window); flip < 0 && got != k {
				t.Errorf("%v: %v", set, got)
			}
		}
	}
}

// Edges at random, at the pace of a packet: no packet, good or broken, and no
// stretch that passes for a preamble.
func TestNoiseAlone(t *testing.T) {
	for _, mean := range []float64{1e-6, 2e-6, 2.5e-6, 4e-6} {
		x := newTransmitter(300e3, 7)
		x.noise(500e3*mean, mean)
		if got := receive(x.edges); len(got) > 0 {
			t.Errorf("every %g s: %v, %v", mean, summary(got), got[0].err)
		}
		for i := range len(x.edges) - lockEdges {
			if l, ok := findLock(x.edges[i : i+lockEdges]); ok {
				t.Errorf("every %g s: a clock of %.0f bits/s in noise", mean, 1/l.ui)
			}
		}
	}
}
