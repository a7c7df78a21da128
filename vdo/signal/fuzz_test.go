package signal

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/gainsay/vdo/frame"
)

// readAny reads any text: nothing panics, times on a wire do not run backwards, whatever
// passes for good has a CRC that fits, and every error says what would be right.
func readAny(t *testing.T, text string, o Options) {
	if len(text) > 1<<18 {
		return
	}
	last := map[string]Packet{}
	for p, err := range Read(strings.NewReader(text), o) {
		var syntax *Error
		var broken *BrokenError
		switch {
		case errors.As(err, &syntax):
			if syntax.Wrong == "" || syntax.Want == "" || syntax.Err == nil || syntax.Line < 0 {
				t.Fatalf("%#v", syntax)
			}
			continue
		case errors.As(err, &broken):
			if broken.Cause == nil {
				t.Fatalf("%#v", broken)
			}
		case err != nil:
			t.Fatalf("%#v", err)
		case !p.Set.Reset() && (!p.EOP || p.Message.Sealed().CRC != p.Message.CRC):
			t.Fatalf("%+v", p)
		}
		before, heard := last[p.Wire]
		if heard && p.Start < before.Start || p.End < p.Start || p.Wire == "" {
			t.Fatalf("%+v after %+v", p, before)
		}
		last[p.Wire] = p
	}
}

func FuzzVCD(f *testing.F) {
	seedFiles(f, "testdata/*.vcd")
	f.Add("$timescale 1 ns $end $var real 64 # v $end $var reg 8 b bus [7:0] $end $enddefinitions $end #0 r1.1 # b101x b #5 r-1e3 # 1b\n$comment x $end")
	f.Fuzz(func(t *testing.T, text string) { readAny(t, text, Options{Format: VCD}) })
}

func FuzzCSV(f *testing.F) {
	seedFiles(f, "testdata/*.csv")
	f.Add("Time;CC1;CC2\nms;V;V\n-1,5;0,1;\n1e3;1,1;2\n# x\n\"2\";x")
	f.Fuzz(func(t *testing.T, text string) { readAny(t, text, Options{}) })
}

// seedFiles adds the beginnings of captures; the fuzzer is slow with long ones.
func seedFiles(f *testing.F, pattern string) {
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		f.Fatal(pattern, err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(b[:min(len(b), 400)]))
	}
}

// Edges of any kind: each byte is a gap in steps of 0.1 µs.
func FuzzEdges(f *testing.F) {
	for _, name := range []string{"GoodCRC", "request"} {
		x := newTransmitter(300e3, 1)
		x.lost = 40
		x.packet(frame.SOPPrime, vector(f, name))
		var b []byte
		last := 0.0
		for _, e := range x.edges {
			b = append(b, byte((e-last)*1e7+0.5))
			last = e
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		var edges []float64
		at := 0.0
		for _, gap := range b {
			at += float64(gap) * 1e-7
			edges = append(edges, at)
		}
		end := 0.0
		for _, g := range receive(edges) {
			if g.start < end || g.end < g.start || g.end > at || g.bits < 0 || g.preamble < 0 {
				t.Fatalf("%+v, after %g of %g", g, end, at)
			}
			end = g.end
			if g.err == nil && !g.packet.Set.Reset() {
				if m := g.packet.Message; !g.packet.EOP || m.Sealed().CRC != m.CRC {
					t.Fatalf("%+v", g)
				}
			}
		}
	})
}
