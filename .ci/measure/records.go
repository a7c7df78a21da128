package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"reflect"

	"gopkg.in/yaml.v3"

	"example.com/gainsay/vdo"
)

// sample is a record as a plain struct: what merely decoding one comes to.
type sample struct {
	Gainsay int               `json:"gainsay" yaml:"gainsay"`
	Cable   string            `json:"cable" yaml:"cable"`
	Label   string            `json:"label" yaml:"label"`
	About   map[string]string `json:"about" yaml:"about"`
	Claims  struct {
		Power  string `json:"power" yaml:"power"`
		Data   string `json:"data" yaml:"data"`
		Length string `json:"length" yaml:"length"`
		Plugs  string `json:"plugs" yaml:"plugs"`
		Marked bool   `json:"marked" yaml:"marked"`
	} `json:"claims" yaml:"claims"`
	Marker struct {
		Near string `json:"near" yaml:"near"`
	} `json:"marker" yaml:"marker"`
	Bench session `json:"bench" yaml:"bench"`
}

type session struct {
	Date      string    `json:"date" yaml:"date"`
	Length    string    `json:"length" yaml:"length"`
	Plugs     string    `json:"plugs" yaml:"plugs"`
	Ambient   string    `json:"ambient" yaml:"ambient"`
	Voltmeter string    `json:"voltmeter" yaml:"voltmeter"`
	Ammeter   string    `json:"ammeter" yaml:"ammeter"`
	Null      reading   `json:"null" yaml:"null"`
	Readings  []reading `json:"readings" yaml:"readings"`
}

type reading struct {
	Current string `json:"current" yaml:"current"`
	VBUS    string `json:"vbus" yaml:"vbus"`
	Ground  string `json:"ground" yaml:"ground"`
}

// product is one kind of cable in the invented shelf.
type product struct {
	seller, model, label, power, data string
	vendor, id                        uint32
	metres, ohm                       float64 // ohm: VBUS, as most of them have it
	set                               []vdo.Value
}

var products = []product{
	{"Tarrowby Electrics", "TE-C10", "1 m, grey sleeve", "100 W", "10 Gbps", 0x2FA1, 0x0102, 1, 0.071,
		[]vdo.Value{{Field: "latency", Raw: 1}, {Field: "vbus-current", Raw: 2}, {Field: "speed", Raw: 2}}},
	{"Quillmere Supply", "QS-24", "2 m, black, heavy", "240 W", "USB 2.0", 0x2FA4, 0x0240, 2, 0.0605,
		[]vdo.Value{{Field: "latency", Raw: 2}, {Field: "vbus-current", Raw: 2}, {Field: "max-voltage", Raw: 3}, {Field: "epr", Raw: 1}}},
	{"Ostrefel Direct", "OD-100", "1.5 m, white", "100 W", "5 Gbps", 0x2FA7, 0x0100, 1.5, 0.131,
		[]vdo.Value{{Field: "latency", Raw: 2}, {Field: "vbus-current", Raw: 1}}},
}

// words is a Discover Identity answer of the product.
func (p product) words() string {
	cable, err := vdo.LayoutNamed("passive-cable").Compose(0, append([]vdo.Value{{Field: "plug-type", Raw: 2}}, p.set...)...)
	if err != nil {
		panic(err) // a slip in the table above
	}
	const ack, passive = 0xFF00A041, 0x18600000 // structured VDM 2.0; a passive cable with a plug
	return fmt.Sprintf("%08X %08X %08X %08X %08X", uint32(ack), passive|p.vendor, 0, p.id<<16|0x0100, cable)
}

// draw makes record n.
func draw(rng *rand.Rand, n int) (s sample) {
	p := products[rng.IntN(len(products))]
	s.Gainsay, s.Cable, s.Label = 1, fmt.Sprintf("NF-%d", n), p.label
	s.About = map[string]string{"seller": p.seller, "model": p.model, "price": fmt.Sprintf("%.2f EUR", 4+20*rng.Float64())}
	s.Claims.Power, s.Claims.Data, s.Claims.Plugs, s.Claims.Marked = p.power, p.data, "c-to-c", true
	s.Claims.Length = fmt.Sprintf("%g m", p.metres)
	s.Marker.Near = p.words()
	s.Bench = session{Date: fmt.Sprintf("2026-%02d-%02d", 1+rng.IntN(9), 1+rng.IntN(28)), Plugs: "c-to-c",
		Length: fmt.Sprintf("%.3g m", p.metres+0.01*rng.NormFloat64()), Ambient: fmt.Sprintf("%d °C", 19+rng.IntN(6)),
		Voltmeter: "0.05 % + 20 µV", Ammeter: "0.1 % + 1 mA", Null: reading{"1 A", "1.2 mV", "0.9 mV"}}
	ohm := p.ohm * (1 + 0.05*rng.NormFloat64())
	for range 3 {
		amps := 1 + 0.0001*rng.NormFloat64()
		s.Bench.Readings = append(s.Bench.Readings, reading{fmt.Sprintf("%.4f A", amps),
			fmt.Sprintf("%.1f mV", 1000*amps*(ohm+0.0012)), fmt.Sprintf("%.1f mV", 1000*amps*(0.5*ohm+0.0009))})
	}
	return s
}

// generate writes n records, always the same, as YAML documents or JSON Lines.
func generate(w io.Writer, n int, form string) error {
	rng := rand.New(rand.NewPCG(60, 7))
	lines := json.NewEncoder(w)
	for i := range n {
		s := draw(rng, i+1)
		var err error
		if form == "yaml" {
			_, err = io.WriteString(w, s.yaml())
		} else {
			err = lines.Encode(s)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// verify holds that both forms of a record say the same.
func verify(n int) error {
	rng := rand.New(rand.NewPCG(60, 7))
	for i := range n {
		want := draw(rng, i+1)
		var got sample
		if err := yaml.Unmarshal([]byte(want.yaml()), &got); err != nil {
			return err
		}
		want.Bench.Null = got.Bench.Null // to yaml.v3 a plain null is no key of a struct
		if !reflect.DeepEqual(got, want) {
			return fmt.Errorf("record %d is %+v as YAML, %+v as JSON", i+1, got, want)
		}
	}
	return nil
}

// yaml writes a record as people do.
func (s sample) yaml() string {
	text := fmt.Sprintf(`---
gainsay: 1
cable: %s
label: %q
about: {seller: %s, model: %s, price: %s}
claims: {power: %s, data: %s, length: %s, plugs: %s, marked: %v}
marker: {near: %q}
bench:
  date: %s
  length: %s
  plugs: %s
  ambient: %s
  voltmeter: %s
  ammeter: %s
  null: %s
  readings:
`, s.Cable, s.Label, s.About["seller"], s.About["model"], s.About["price"],
		s.Claims.Power, s.Claims.Data, s.Claims.Length, s.Claims.Plugs, s.Claims.Marked, s.Marker.Near,
		s.Bench.Date, s.Bench.Length, s.Bench.Plugs, s.Bench.Ambient, s.Bench.Voltmeter, s.Bench.Ammeter, s.Bench.Null.yaml())
	for _, r := range s.Bench.Readings {
		text += "    - " + r.yaml() + "\n"
	}
	return text
}

func (r reading) yaml() string {
	return fmt.Sprintf("{current: %s, vbus: %s, ground: %s}", r.Current, r.VBUS, r.Ground)
}
