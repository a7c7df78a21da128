package signal

import (
	"encoding/hex"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/gainsay/vdo/frame"
)

// The synthetic vectors of the fact sheet on the marker, §10.6: header, objects
// and CRC in the order of the wire.
var vectors = map[string]string{
	"request": "8f10 01a000ff a4450272",
	"GoodCRC": "8101 638b4614",
	"passive": "8f51 41a000ff ffff6018 00000000 00010000 43260a12 82428a86",
	"active":  "8f61 41a000ff ffff6024 00000000 00010000 5b3e6a00 09325046 b8f03602",
	"PD 2.0":  "4f51 418000ff ffff0018 00000000 00010000 51400800 fbe2b5de",
}

func vector(t testing.TB, name string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.ReplaceAll(vectors[name], " ", ""))
	if err != nil || len(b) == 0 {
		t.Fatalf("vector %q: %v", name, err)
	}
	return b
}

// transmitter is a driver of the CC line with faults to order. Times are in
// seconds. The line is low before, between and after packets.
type transmitter struct {
	rate     float64 // bits per second
	jitter   float64 // standard deviation of each edge, in bits
	wander   float64 // or greatest offset of each edge either way, in bits, evenly spread
	drift    float64 // how much slower the last bit is than the first, as a share
	skew     float64 // rising edges late and falling edges early by this, in bits
	glitches float64 // short pulses per bit
	lost     int     // edges missing from the start
	bare     bool    // no edge closes the last bit

	rng   *rand.Rand
	now   float64
	edges []float64
}

func newTransmitter(rate float64, seed uint64) *transmitter {
	return &transmitter{rate: rate, rng: rand.New(rand.NewPCG(seed, 10))}
}

// wireBits are the bits of a packet: preamble, then each symbol with its least
// significant bit first (fact sheet §10.4).
func wireBits(symbols []frame.Symbol) []int {
	var bits []int
	for i := range 64 {
		bits = append(bits, i&1)
	}
	for _, s := range symbols {
		for i := range 5 {
			bits = append(bits, int(s>>i&1))
		}
	}
	return bits
}

func (x *transmitter) idle(seconds float64) { x.now += seconds }

// noise makes edges at random gaps, on average one per mean seconds.
func (x *transmitter) noise(seconds, mean float64) {
	for end := x.now + seconds; ; {
		x.now += x.rng.ExpFloat64() * mean
		if x.now >= end {
			x.now = end
			break
		}
		x.edges = append(x.edges, x.now)
	}
	if len(x.edges)%2 != 0 { // low again
		x.edges = append(x.edges, x.now)
	}
	x.now += 10e-6
}

func (x *transmitter) packet(set frame.Set, b []byte) {
	x.symbols(frame.AppendPacket(nil, set, b))
}

func (x *transmitter) symbols(symbols []frame.Symbol) { x.bits(wireBits(symbols)) }

// bits sends bits in biphase mark code: an edge where each begins, another in the
// middle of a 1, one that closes the last.
func (x *transmitter) bits(bits []int) {
	ui := 1 / x.rate
	var ideal []float64
	for i, b := range bits {
		ideal = append(ideal, float64(i))
		if b != 0 {
			ideal = append(ideal, float64(i)+0.5)
		}
	}
	if !x.bare {
		ideal = append(ideal, float64(len(bits)))
	}
	var out []float64
	for i, at := range ideal {
		at += x.drift * at * at / float64(2*len(bits))
		at += x.rng.NormFloat64()*x.jitter + (2*x.rng.Float64()-1)*x.wander
		if i%2 == 0 {
			at += x.skew
		} else {
			at -= x.skew
		}
		out = append(out, x.now+at*ui)
	}
	x.now += float64(len(bits)) * (1 + x.drift/2) * ui
	if len(out)%2 != 0 { // the driver lets go of a low line
		x.now += 5e-6
		out = append(out, x.now)
	}
	for range bits {
		if x.rng.Float64() < x.glitches {
			at := x.now - x.rng.Float64()*float64(len(bits))*ui
			out = append(out, at, at+x.rng.Float64()*200e-9)
		}
	}
	slices.Sort(out)
	x.edges = append(x.edges, out[x.lost:]...)
	x.now += 25e-6
}

// receive decodes edges without any file between.
func receive(edges []float64) []found {
	var out []found
	d := decoder{found: func(f found) { out = append(out, f) }}
	g := deglitch{next: d.edge}
	for _, e := range edges {
		g.edge(e)
	}
	g.flush()
	d.silence()
	return out
}
