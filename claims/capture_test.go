package claims

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/vdo/frame"
)

// wire is a CC line at 300 kbps: bi-phase mark code, in which the level changes at
// the start of every bit and once more within a 1 (USB PD, physical layer).
type wire struct {
	vcd   strings.Builder
	now   int // in tenths of a µs
	level int
}

func newWire() *wire {
	w := &wire{}
	w.vcd.WriteString("$timescale 100ns $end\n$var wire 1 ! CC1 $end\n$enddefinitions $end\n#0 0!\n")
	w.now = 1000
	return w
}

func (w *wire) turn() {
	w.level ^= 1
	fmt.Fprintf(&w.vcd, "#%d %d!\n", w.now, w.level)
}

// send puts a packet behind its preamble, then a pause.
func (w *wire) send(symbols []frame.Symbol) {
	const bit = 34
	bits := []int{}
	for i := range 64 {
		bits = append(bits, i&1)
	}
	for _, s := range symbols {
		for i := range frame.SymbolBits {
			bits = append(bits, int(s>>i&1))
		}
	}
	for _, b := range bits {
		w.turn()
		if b == 1 {
			w.now += bit / 2
			w.turn()
			w.now -= bit / 2
		}
		w.now += bit
	}
	w.turn()
	w.now += 2000
}

// TestAnswersInCaptures: a whole answer counts beside broken packets; where there is
// none, the first broken one is told, or what else there was.
func TestAnswersInCaptures(t *testing.T) {
	answer := frame.Message{Header: 0x518F, Objects: []uint32{0xFF00A041, 0x18602FA1, 0, 0, 0x000A0640}}.Sealed().Append(nil)
	whole := frame.AppendPacket(nil, frame.SOPPrime, answer)
	broken := append([]frame.Symbol{}, whole...)
	broken[20] ^= 0b11 // another nibble
	reset := frame.AppendPacket(nil, frame.HardReset, nil)
	for _, tt := range []struct {
		name    string
		packets [][]frame.Symbol
		err     string // in it, empty for none
	}{
		{"whole", [][]frame.Symbol{whole}, ""},
		{"whole and broken", [][]frame.Symbol{whole, broken}, ""},
		{"broken", [][]frame.Symbol{broken}, "\"a.vcd\": packet at "},
		{"reset", [][]frame.Symbol{reset}, "there is no answer of this plug here, only Hard Reset"},
		{"reset and broken", [][]frame.Symbol{reset, broken}, "\"a.vcd\": packet at "},
	} {
		w := newWire()
		for _, p := range tt.packets {
			w.send(p)
		}
		c, err := newCase(recordOf(t, "marker: {near: a.vcd}\n"), fstest.MapFS{"a.vcd": {Data: []byte(w.vcd.String())}}, bench.Assumption{})
		switch {
		case tt.err == "" && (err != nil || !c.Near.Identified):
			t.Errorf("%s: %v", tt.name, err)
		case tt.err != "" && (err == nil || !strings.Contains(err.Error(), tt.err)):
			t.Errorf("%s: %v, want %q in it", tt.name, err, tt.err)
		}
	}
}
