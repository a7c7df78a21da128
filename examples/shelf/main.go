// Command shelf writes the demo shelf: three batches of invented cables, good and
// bad, as the device workshop of the Northfold school district might have measured
// them. The same seed always gives the same files.
//
//	go run ./examples/shelf            writes the batches beside this program
//	go run ./examples/shelf -o FOLDER  writes them there
package main

import (
	"bytes"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"example.com/gainsay/vdo"
)

// standing is the seed of the shelf that stands in the repository.
const standing = 60

func main() {
	folder := flag.String("o", "examples/shelf", "the folder to write to")
	seed := flag.Uint64("seed", standing, "the seed of the scatter")
	flag.Parse()
	for name, text := range batches(*seed) {
		if err := os.WriteFile(filepath.Join(*folder, name), text, 0o666); err != nil {
			log.Fatal(err)
		}
	}
}

// batches makes the files of the shelf, by name.
func batches(seed uint64) map[string][]byte {
	out := map[string][]byte{}
	for i, b := range []batch{laptops, projectors, tablets} {
		w := writer{rng: rand.New(rand.NewPCG(seed, uint64(i)))}
		fmt.Fprintf(&w.out, "# %s\n# Written by examples/shelf from a seed; see its main.go.\n", b.about)
		for n := range b.size {
			w.record(b, n)
		}
		out[b.file] = w.out.Bytes()
	}
	return out
}

// batch is what the cables of one delivery have in common.
type batch struct {
	file, about         string
	name, seller, model string
	label               string
	firstID, size       int
	price               float64
	bought              string
	claims              string // with the length, in one line
	length              float64
	ohm                 float64 // of VBUS, Ω
	ground              float64 // of ground, as a part of VBUS
	scatter             float64 // of the resistance, as a fraction
	marker              marker
	change              func(n int, c *cable) // gives cable n its faults
}

// marker is an identity answer.
type marker struct {
	vendor, product, release uint32
	// Codes of the passive cable word; 'gainsay layout passive-cable' lists them.
	latency, volts, amps, speed, epr uint32
}

// cable is one cable of a batch, with its faults.
type cable struct {
	marker     *marker // nil: nobody asked
	silent     bool    // asked, and nothing answered
	ohm        float64 // VBUS, Ω
	ground     float64 // as a part of VBUS
	unmeasured bool
	loop       bool    // the loop alone was read
	plain      bool    // the meters' accuracy was not noted
	again      float64 // measured again after a year, with so much of the resistance
	note       string
}

var (
	laptops = batch{
		file: "laptops.yaml", about: "Batch NF-L: 100 W cables for laptops, 1 m. Good, but for two.",
		name: "NF-L", seller: "Tarrowby Electrics", model: "TE-C10", label: "1 m, grey sleeve", firstID: 101, size: 20,
		price: 9.80, bought: "2025-08-24", claims: "{power: 100 W, current: 5 A, data: 10 Gbps, length: 1 m, plugs: c-to-c, marked: true}",
		length: 1.00, ohm: 0.071, ground: 0.47, scatter: 0.03,
		marker: marker{vendor: 0x2FA1, product: 0x0102, release: 0x0100, latency: 1, amps: 2, speed: 2},
		change: func(n int, c *cable) {
			switch n {
			case 3: // a bad crimp
				c.ohm = 0.1275
			case 8: // within, but worn over the year
				c.again, c.ohm = 1.17, 0.072
			case 9: // measured again, and the same
				c.again = 1.001
			case 14: // one conductor right at the limit
				c.ohm = 0.0999
			case 19: // still to be measured
				c.unmeasured = true
			}
		},
	}
	projectors = batch{
		file: "projectors.yaml", about: "Batch NF-P: 240 W cables for projectors, 2 m. Most are what they say.",
		name: "NF-P", seller: "Quillmere Supply", model: "QS-24", label: "2 m, black, heavy", firstID: 201, size: 20,
		price: 24.50, bought: "2025-09-02", claims: "{power: 240 W, data: USB 2.0, length: 2 m, plugs: c-to-c, conductors: 18 AWG}",
		length: 2.00, ohm: 0.0605, ground: 0.68, scatter: 0.025,
		marker: marker{vendor: 0x2FA4, product: 0x0240, release: 0x0110, latency: 2, amps: 2, volts: 3, epr: 1},
		change: func(n int, c *cable) {
			three := *c.marker
			switch n {
			case 5, 6: // markers of the 3 A kind went into this batch
				three.amps, three.volts, three.epr = 1, 0, 0
				c.marker, c.note = &three, "marker read twice"
			case 11: // EPR, but only 20 V
				three.volts = 0
				c.marker = &three
			case 12:
				c.loop = true
			case 13: // thinner copper
				c.ohm = 0.118
			case 17:
				c.plain = true
			case 18: // nobody has read the marker yet
				c.marker = nil
			}
		},
	}
	tablets = batch{
		file: "tablets.yaml", about: "Batch NF-T: cheap cables for tablets, 1.5 m, sold as 100 W. Few are.",
		name: "NF-T", seller: "Ostrefel Direct", model: "OD-100", label: "1.5 m, white", firstID: 301, size: 20,
		price: 4.20, bought: "2025-09-10", claims: "{power: 100 W, data: 5 Gbps, length: 1.5 m, plugs: c-to-c, marked: true, video: 4K60}",
		length: 1.46, ohm: 0.131, ground: 0.49, scatter: 0.07,
		marker: marker{vendor: 0x2FA1, product: 0x0102, release: 0x0100, latency: 1, amps: 2, speed: 2}, // another product's
		change: func(n int, c *cable) {
			blank := marker{vendor: 0x2FA7, latency: 2, amps: 2, speed: 0}
			switch {
			case n%5 == 1: // nothing in the plug
				c.marker, c.silent = nil, true
			case n%5 == 3:
				c.marker = &blank
			case n == 4: // some are good
				c.ohm = 0.086
			case n == 10: // and one is not even fit for 3 A
				c.ohm = 0.181
			case n == 15:
				c.ohm = 0.089
			}
		},
	}
)

type writer struct {
	out bytes.Buffer
	rng *rand.Rand
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.out, format+"\n", args...) }

func (w *writer) record(b batch, n int) {
	c := cable{marker: &b.marker, ohm: b.ohm * (1 + b.scatter*w.rng.NormFloat64()), ground: b.ground * (1 + 0.01*w.rng.NormFloat64())}
	b.change(n, &c)
	if n > 0 {
		w.line("---")
	}
	w.line("gainsay: 1")
	w.line("cable: NF-%d", b.firstID+n)
	w.line("label: %q", b.label)
	w.line("about: {seller: %s, model: %s, batch: %s, bought: %s, price: %.2f EUR}", b.seller, b.model, b.name, b.bought, b.price)
	w.line("claims: %s", b.claims)
	switch {
	case c.marker != nil:
		w.line("marker: {near: %q}", c.marker.words())
	case c.silent:
		w.line("marker: {asked: true}")
	}
	if c.unmeasured {
		return
	}
	date := time.Date(2025, 9, 14+n/4, 0, 0, 0, 0, time.UTC)
	length := b.length + 0.005*math.Round(2*w.rng.NormFloat64())
	w.line("bench:")
	w.session(date, length, c, c.ohm)
	if c.again > 0 {
		w.session(date.AddDate(0, 6, 3), length, c, (c.ohm+c.ohm*c.again)/2)
		w.session(date.AddDate(1, 0, 5), length, c, c.ohm*c.again)
	}
}

// session writes three readings as the workshop's rig would have shown them: with
// a fixture that adds 1.2 and 0.9 mΩ and meters that scatter by a few µV.
func (w *writer) session(date time.Time, length float64, c cable, ohm float64) {
	w.line("  - date: %s", date.Format("2006-01-02"))
	w.line("    length: %.3g m", length)
	w.line("    plugs: c-to-c")
	w.line("    ambient: 22 °C")
	if !c.plain {
		w.line("    voltmeter: 0.05 %% + 20 µV")
		w.line("    ammeter: 0.1 %% + 1 mA")
	}
	w.line("    null: {current: 1 A, vbus: 1.2 mV, ground: 0.9 mV, loop: 2.1 mV}")
	w.line("    readings:")
	for range 3 {
		amps := 1 + 0.0001*w.rng.NormFloat64()
		read := func(ohm float64) float64 { return 1000*amps*ohm + 0.08*w.rng.NormFloat64() }
		vbus, ground := read(ohm+0.0012), read(ohm*c.ground+0.0009)
		if c.loop {
			w.line("      - {current: %.4f A, loop: %.1f mV}", amps, vbus+ground)
			continue
		}
		w.line("      - {current: %.4f A, vbus: %.1f mV, ground: %.1f mV}", amps, vbus, ground)
	}
	if c.note != "" {
		w.line("    note: %s", c.note)
	}
}

// words puts the answer to Discover Identity together.
func (m marker) words() string {
	cable, err := vdo.LayoutNamed("passive-cable").Compose(0,
		vdo.Value{Field: "plug-type", Raw: 2}, vdo.Value{Field: "epr", Raw: m.epr}, vdo.Value{Field: "latency", Raw: m.latency},
		vdo.Value{Field: "max-voltage", Raw: m.volts}, vdo.Value{Field: "vbus-current", Raw: m.amps}, vdo.Value{Field: "speed", Raw: m.speed})
	if err != nil {
		log.Fatal(err) // a slip in the tables above
	}
	const ack, passive = 0xFF00A041, 0x18600000 // structured VDM 2.0; a passive cable with a plug
	return fmt.Sprintf("%08X %08X %08X %08X %08X", uint32(ack), passive|m.vendor, 0, m.product<<16|m.release, cable)
}
