package record_test

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

func ExampleRead() {
	const file = `gainsay: 1
cable: NF-014
claims: {power: 140 W, length: 6 ft}
bench:
  date: 2026-10-05
  readings:
    - {current: 1.0002 A, vbus: 122.1 mV, ground: 58.9 mV}
---
gainsay: 1
cable: NF-015
claims: {power: 140 m, weight: 40 g}
`
	for rec, err := range record.Read(strings.NewReader(file), "nf.yaml") {
		if err != nil {
			fmt.Println(err)
			continue
		}
		sold := rec.Claims[0]
		watts, _ := sold.Power.Get()
		length := sold.Length
		fmt.Printf("%s: %g W; %.4f m, written as %q at %s\n", rec.Cable.Value, watts, length.Value, length.Text, length.At)
		fmt.Println("plugs claimed:", sold.Plugs.Known)
		fmt.Printf("%s: %.4f V at %g A\n", rec.Bench[0].Date.Text, rec.Bench[0].Readings[0].VBUS.Value, rec.Bench[0].Readings[0].Current.Value)
	}
	// Output:
	// NF-014: 140 W; 1.8288 m, written as "6 ft" at nf.yaml:3:32
	// plugs claimed: false
	// 2026-10-05: 0.1221 V at 1.0002 A
	// nf.yaml:11:17: claims.power: "140 m": "m" is a unit of length; write the wattage, as in "100 W"
	// nf.yaml:11:24: claims.weight: no such key; the keys here are power, current, voltage, data, length, plugs, active, marked, certified, certificate, modes, video, conductors, source
}

// Each thing wrong has a cause, a place and a key; below it may be a cause of
// another package.
func ExampleRead_errors() {
	const file = `{"gainsay": 1, "cable": "NF-015", "claims": {"power": "140 m", "weight": "40 g"}}`
	for _, err := range record.Read(strings.NewReader(file), "nf.json") {
		fmt.Println("an unknown key:", errors.Is(err, record.ErrUnknownKey))
		fmt.Println("a claim not understood:", errors.Is(err, record.ErrNotUnderstood))
		var all record.Errors
		if errors.As(err, &all) {
			for _, one := range all {
				fmt.Println(one.At.Line, one.At.Column, one.Key)
			}
		}
	}
	// Output:
	// an unknown key: true
	// a claim not understood: true
	// 1 56 claims.power
	// 1 64 claims.weight
}

// A record built in Go.
func ExampleWords() {
	var rec record.Record
	rec.Cable = record.Stated[string]{Value: "NF-016", Known: true}
	rec.Marker.Near = record.Words(0xFF00A041, 0x18602FA1, 0x00000000, 0x01020100, 0x000A2643)
	fmt.Println(rec.Marker.Near.Value.Line())
	// Output: FF00A041 18602FA1 00000000 01020100 000A2643
}

func ExampleAddReadings() {
	const file = "# on the red hook\ngainsay: 1\ncable: NF-017\n"
	out, err := record.AddReadings([]byte(file), "nf-017.yaml", record.Addition{
		Date:     time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Readings: []string{"1 A, vbus 93.1 mV, ground 44.9 mV, up"},
		Ambient:  "23 °C",
	})
	fmt.Print(string(out))
	fmt.Println(err)

	_, err = record.AddReadings([]byte("gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: b\n"), "two.yaml", record.Addition{
		Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Readings: []string{"1 A, loop 140 mV"},
	})
	fmt.Println(errors.Is(err, record.ErrNotAdded))
	// Output:
	// # on the red hook
	// gainsay: 1
	// cable: NF-017
	// bench:
	//   date: 2026-11-25
	//   ambient: 23 °C
	//   readings:
	//     - {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}
	// <nil>
	// true
}

func ExampleReadTable() {
	const table = "current/A;vbus/mV;ground/mV;kind\n1.0002;122.1;58.9;reading\n1;1.2;0.9;null\n1.0001;lots;59.0;reading\n"
	readings, nulls, err := record.ReadTable(strings.NewReader(table), "nf-014.csv")
	fmt.Println(len(readings), len(nulls))
	fmt.Printf("%.4f V\n", readings[0].VBUS.Value)
	fmt.Println(errors.Is(err, quantity.ErrNumber), err)
	// Output:
	// 1 1
	// 0.1221 V
	// true nf-014.csv:4:8: vbus: "lots mV": a number should stand here; write it like "92.1 mV" or "20 V"
}

func ExampleKeys() {
	for _, k := range record.Keys() {
		if k.Required {
			fmt.Println(k.Path, "-", k.Help)
		}
	}
	// Output:
	// gainsay - version of the record format
	// cable - your own id for the cable
	// bench.heat.current - the load
	// bench.heat.shell - temperature of the shell
	// bench.reference.resistor - its value
	// bench.reference.current - the test current
	// bench.reference.drop - the drop over it, over the leads of VBUS
	// bench.null.current - the test current
	// bench.readings.current - the test current
	// waive.rule - the rule to set aside
	// waive.reason - why it is set aside
}
