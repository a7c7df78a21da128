// Command limits checks a record built in Go, as a production line would: no
// file is read.
package main

import (
	"fmt"
	"os"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

func stated[T any](v T, text string) record.Stated[T] {
	return record.Stated[T]{Value: v, Text: text, Known: true}
}

func main() {
	rec := &record.Record{
		Cable:  stated("line 3, piece 118", ""),
		Claims: []record.Claims{{Power: stated(100.0, "100 W")}},
		Marker: record.MarkerWords{Near: record.Words(0xFF00A041, 0x18602FA1, 0, 0x01020100, 0x00082042)},
		Bench: []record.Session{{
			Voltmeter: stated(quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6}, ""),
			Ammeter:   stated(quantity.Accuracy{Reading: 0.001, Fixed: 1e-3}, ""),
			Readings: []record.Reading{{
				Current: stated(1.0, ""), VBUS: stated(0.112, ""), Ground: stated(0.041, ""),
			}},
		}},
	}
	report, err := rules.Checker().Check(rec)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	fmt.Printf("%s: %d W shown\n", report.Cable, report.Rating.PowerW)
	for _, f := range report.Findings {
		fmt.Printf("%s: %s\n  %s\n", f.Kind, f.Rule, f.Says)
	}
}
