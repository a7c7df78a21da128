package rules_test

import (
	"errors"
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

const shelf = `gainsay: 1
cable: NF-014
claims: {power: 140 W}
marker: {near: "FF00A041 18602FA1 00000000 00010100 000A4644"}
bench:
  ohmmeter: 0.5 % + 0.1 mΩ
  vbus: 121 mohm
  ground: 58 mohm
---
gainsay: 1
cable: NF-015
claims: {power: 140 W}
marker: {near: "FF00A041 18602FAX"}
`

func Example() {
	for rec, err := range record.Read(strings.NewReader(shelf), "shelf.yaml") {
		if err != nil {
			fmt.Println(err)
			continue
		}
		report, err := rules.Checker().Check(rec)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s: %d W shown, limited by %v\n", report.Cable, report.Rating.PowerW, report.Rating.LimitedBy)
		for _, c := range report.Claims {
			fmt.Printf("  %s %s: %s\n", c.Property, c.Claimed, c.Standing)
		}
	}
	// Output:
	// NF-014: 60 W shown, limited by [bench]
	//   power 140 W: contradicted
	// shelf.yaml:13:33: marker.near: "18602FAX": 'X' is no hex digit; a word is 8 hex digits, like FF00A041 or 0xFF00A041
}

// The errors of a record can be told apart by their causes, and have places.
func Example_errors() {
	for rec, err := range record.Read(strings.NewReader(shelf), "shelf.yaml") {
		if err == nil {
			_, err = rules.Checker().Check(rec)
		}
		var all record.Errors
		if errors.As(err, &all) {
			fmt.Println(all[0].At.Line, all[0].Key)
		}
	}
	// Output: 13 marker.near
}

func ExampleAll() {
	r := rules.Checker().Rule("claimed-power-above-marker")
	fmt.Println(r.Kind, r.Sources[0])
	// Output: contradiction USB Type-C R2.1, §3.11.1 and §3.11.2, EPR cables
}

// Below each error of a record is what the package that read the part says: paste
// for words, bench for readings.
func Example_files() {
	const file = `gainsay: 1
cable: NF-019
marker: {near: nf-019.vcd}
bench:
  readings:
    - {current: 1 A, vbus: -93.1 mV, ground: 44.9 mV}
waive: [{rule: claimed-too-loudly, reason: we know}]
`
	for rec, err := range record.Read(strings.NewReader(file), "nf-019.yaml") {
		if err != nil {
			fmt.Println(err)
			continue
		}
		_, err := rules.Checker().Case(rec, nil)
		fmt.Println("names a file:", errors.Is(err, claims.ErrNoFiles))
		fmt.Println("a drop against its current:", errors.Is(err, bench.ErrOpposedSign))
		var reading *bench.Error
		if errors.As(err, &reading) {
			fmt.Println(reading.List, reading.Index, reading.Field)
		}
		var all record.Errors
		if errors.As(err, &all) {
			for _, one := range all {
				fmt.Println(one.At.Line, one.Key)
			}
		}
	}
	// Output:
	// names a file: true
	// a drop against its current: true
	// readings 0 vbus
	// 3 marker.near
	// 6 bench.readings[0].vbus
	// 7 waive.rule
}

// A case keeps the evidence beside the report.
func ExampleCase_Carries() {
	for rec, err := range record.Read(strings.NewReader(shelf), "shelf.yaml") {
		if err != nil {
			continue
		}
		c, err := rules.Checker().Case(rec, nil)
		if err != nil {
			continue
		}
		for _, amps := range []float64{3, 5} {
			if d, known := c.Carries(amps); known {
				fmt.Println(amps, "A:", d.Outcome)
			}
		}
	}
	// Output:
	// 3 A: within
	// 5 A: over
}
