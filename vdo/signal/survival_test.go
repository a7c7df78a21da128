package signal

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.com/gainsay/vdo/frame"
)

var update = flag.Bool("update", false, "write the golden files and the table of the package comment anew")

// A fault of growing size, and how it is put into a capture.
type fault struct {
	name  string
	sizes []float64
	send  func(size, rate float64, seed uint64) (packets []found, sent []byte)
}

// sendEdges makes a fault that shows in the edges themselves.
func sendEdges(t testing.TB, set func(x *transmitter, size float64)) func(size, rate float64, seed uint64) ([]found, []byte) {
	passive := vector(t, "passive")
	return func(size, rate float64, seed uint64) ([]found, []byte) {
		x := newTransmitter(rate, seed)
		x.idle(100e-6)
		set(x, size)
		x.packet(frame.SOPPrime, passive)
		return receive(x.edges), passive
	}
}

// sendSamples makes a fault that shows in samples of the line.
func sendSamples(t testing.TB, set func(o *scope, size float64)) func(size, rate float64, seed uint64) ([]found, []byte) {
	passive := vector(t, "passive")
	return func(size, rate float64, seed uint64) ([]found, []byte) {
		x := newTransmitter(rate, seed)
		x.idle(100e-6 + x.rng.Float64()*10e-6)
		x.packet(frame.SOPPrime, passive)
		o := scope{rate: 2.5e6, low: 0, high: 1.1, rise: 150e-9, seed: seed}
		set(&o, size)
		ts, vs := o.samples(x.edges, x.now+50e-6)
		var out []found
		c := newChain(wire{sampled: true}, nil, func(f found) { out = append(out, f) })
		for i := range ts {
			c.sample(ts[i], vs[i])
		}
		c.end()
		return out, passive
	}
}

func faults(t testing.TB) []fault {
	return []fault{
		{"jitter, normal, σ, % of a bit", []float64{2, 4, 5, 6, 7, 8},
			sendEdges(t, func(x *transmitter, size float64) { x.jitter = size / 100 })},
		{"jitter, even, peak, % of a bit", []float64{10, 15, 18, 20, 22, 24},
			sendEdges(t, func(x *transmitter, size float64) { x.wander = size / 100 })},
		{"edges skewed, % of a bit", []float64{5, 10, 15, 18, 20, 24},
			sendEdges(t, func(x *transmitter, size float64) { x.skew = size / 100 })},
		{"bit rate drifts in a packet, %", []float64{1, 2, 4, 8, 12, 16},
			sendEdges(t, func(x *transmitter, size float64) { x.drift = size / 100 })},
		{"pulses up to 200 ns, % of bits", []float64{1, 5, 10, 20, 40, 60},
			sendEdges(t, func(x *transmitter, size float64) { x.glitches = size / 100 })},
		{"edges lost from the start", []float64{1, 10, 30, 60, 65, 70},
			sendEdges(t, func(x *transmitter, size float64) { x.lost = int(size) })},
		{"noise, σ, % of the swing, 2.5 MS/s", []float64{2, 5, 10, 12, 15, 20},
			sendSamples(t, func(o *scope, size float64) { o.noise = size / 100 * 1.1 })},
		{"samples, kS/s", []float64{2500, 1500, 1000, 800, 700, 600},
			sendSamples(t, func(o *scope, size float64) { o.rate = size * 1e3 })},
	}
}

var tableRates = []float64{270e3, 300e3, 330e3}

// survival is the table of the package comment: of so many packets, the share
// that is read whole, in percent.
func survival(t testing.TB, packets int) string {
	var b strings.Builder
	for _, f := range faults(t) {
		fmt.Fprintf(&b, "%-36s", f.name)
		for _, s := range f.sizes {
			fmt.Fprintf(&b, "%7g", s)
		}
		b.WriteByte('\n')
		for _, rate := range tableRates {
			fmt.Fprintf(&b, "%33.0f k:", rate/1e3)
			for _, size := range f.sizes {
				read := 0
				for seed := range packets {
					got, sent := f.send(size, rate, uint64(seed))
					for _, g := range got {
						if g.err != nil {
							continue
						}
						if bytes.Equal(g.packet.Bytes, sent) {
							read++
						} else {
							t.Errorf("%s %g: %x passed for good, %x was sent", f.name, size, g.packet.Bytes, sent)
						}
					}
				}
				fmt.Fprintf(&b, "%7.1f", 100*float64(read)/float64(packets))
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}

const (
	tablePackets = 100
	tableFile    = "doc.go"
	tableBegin   = "//\t% of packets read\n"
	tableEnd     = "//\n"
)

// TestSurvival measures again what the package comment states; -v prints it,
// -update writes it there. The transmitters are seeded, so that the table comes
// out the same but for the rounding of other processors: a cell may differ by one
// percent point.
func TestSurvival(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	got := survival(t, tablePackets)
	t.Logf("%% of %d packets read\n%s", tablePackets, got)
	doc, err := os.ReadFile(tableFile)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, ok := strings.Cut(string(doc), tableBegin)
	table, tail, ended := strings.Cut(rest, tableEnd)
	if !ok || !ended {
		t.Fatalf("%s has no table", tableFile)
	}
	if *update {
		var b strings.Builder
		for line := range strings.Lines(got) {
			b.WriteString("//\t" + line)
		}
		if err := os.WriteFile(tableFile, []byte(head+tableBegin+b.String()+tableEnd+tail), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want := strings.Fields(strings.ReplaceAll(table, "//", ""))
	have := strings.Fields(got)
	if len(want) != len(have) {
		t.Fatalf("the table has %d words, measured are %d; regenerate it with -update", len(want), len(have))
	}
	for i := range want {
		w, err := strconv.ParseFloat(want[i], 64)
		h, err2 := strconv.ParseFloat(have[i], 64)
		if err != nil || err2 != nil {
			if want[i] != have[i] {
				t.Errorf("word %d of the table is %q, measured is %q", i, want[i], have[i])
			}
		} else if d := w - h; d > 1 || d < -1 {
			t.Errorf("number %d of the table is %v, measured is %v", i, w, h)
		}
	}
}
