package claims_test

import (
	"errors"
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

const line = `{"gainsay":1,"cable":"NF-201","claims":{"power":"60 W"},"bench":{"ohmmeter":"0.5 % + 0.1 mohm","vbus":"92 mohm","ground":"41 mohm"}}
{"gainsay":1,"cable":"NF-202","claims":{"power":"60 W"},"bench":{"ohmmeter":"0.5 % + 0.1 mohm","vbus":"61 mohm","ground":"38 mohm"}}
`

// A production line has a limit of its own beside the published ones: its rule stands in
// the report like any other.
func ExampleChecker() {
	const most = 80e-3 // Ω of VBUS, by the line's own specification
	own := &claims.Rule{
		ID:       "line-vbus-above-specification",
		Sources:  []claims.Citation{{Document: "Line specification", Revision: "7", Clause: "VBUS", Force: claims.Shall, How: claims.Read}},
		Title:    "VBUS is above the line's specification",
		Kind:     claims.Breach,
		Property: claims.Current,
		Between:  []claims.Witness{claims.Bench},
		Needs:    []claims.Evidence{claims.BenchBoth},
		Says:     "VBUS has {vbus}; the line allows {most}.",
		Why:      "The published limit at 3 A is wider.",
		Next:     "Put the cable aside.",
		Check: func(c *claims.Case) claims.Result {
			ohm := c.Resistance.Result.VBUS.Ohm
			if ohm <= most {
				return claims.Result{Status: claims.Passed}
			}
			return claims.Result{Status: claims.Found, Values: claims.Values{
				"vbus": fmt.Sprintf("%.0f mΩ", 1000*ohm), "most": fmt.Sprintf("%.0f mΩ", 1000*most)}}
		},
	}
	checker := rules.Checker()
	checker.Rules = append(checker.Rules, own)
	for rec, err := range record.Read(strings.NewReader(line), "line.jsonl") {
		if err != nil {
			fmt.Println(err)
			continue
		}
		report, err := checker.Check(rec)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(report.Cable, report.Verdict.Outcome)
		for _, f := range report.Findings {
			if f.Rule == own.ID {
				fmt.Println(" ", f.Says, f.Source)
			}
		}
	}
	// Output:
	// NF-201 confirmed
	//   VBUS has 92 mΩ; the line allows 80 mΩ. Line specification 7, VBUS
	// NF-202 confirmed
}

// A checker without rules, and a record that names a file where none can be read.
func ExampleChecker_errors() {
	capture := "gainsay: 1\ncable: NF-203\nmarker: {near: nf-203.vcd}\n"
	for rec := range record.Read(strings.NewReader(capture), "nf-203.yaml") {
		_, err := (&claims.Checker{}).Check(rec)
		fmt.Println(errors.Is(err, claims.ErrNoRules))
		_, err = rules.Checker().Check(rec)
		var all record.Errors
		fmt.Println(errors.Is(err, claims.ErrNoFiles), errors.As(err, &all), all[0].Key)
	}
	// Output:
	// true
	// true true marker.near
}
