package publish_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

func ExampleReportText() {
	const file = "gainsay: 1\ncable: NF-018\nclaims: {power: 60 W}\nbench: {ohmmeter: 0.5 %, vbus: 92 mohm, ground: 45 mohm}\n"
	for rec, err := range record.Read(strings.NewReader(file), "nf-018.yaml") {
		if err != nil {
			fmt.Println(err)
			continue
		}
		report, err := rules.Checker().Check(rec)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Print(publish.ReportText(report, publish.Style{}))
	}
	// Output:
	// NF-018: Sold as 60 W. Shown to carry 60 W (20 V, 3 A). Confirmed.
	//   Fit for loads up to 60 W: phones, tablets, small laptops.
	//   Measured: resistance as printed, 0.5 %.
	//   3 A: VBUS 92.00 ± 0.76 of 166.7 mΩ, 55 %; ground 45.00 ± 0.58 of 83.33 mΩ,
	//   54 %.
	//
	//   confirmed     power 60 W
	//
	//   doubt bench-within-only-while-cold: At 5 A the copper is within the limits
	//     as measured; 30 K warmer, as a connector may get, VBUS would have 102.72 ±
	//     0.88 mΩ (limit 100 mΩ) and ground 50.24 ± 0.66 mΩ (limit 50 mΩ). Next:
	//     Measure again at 5 A after it has warmed up, and give the cable some margin.
	//     [IEC 60028, resistivity of annealed copper]
	//
	//   More with --full: 151 rules not checked for missing evidence.
}

// The JSON form of a message that was pasted.
func ExampleNewMessage() {
	found, err := paste.Read("FF00A041 18602FA1 00000000 01020100 000A2643")
	if err != nil {
		fmt.Println(err)
	}
	for _, m := range found.Messages {
		form := publish.NewMessage(m)
		cable, err := json.Marshal(form.Cable)
		fmt.Println(form.ReadAs, len(form.Words), err)
		fmt.Println(string(cable))
	}
	// Output:
	// words, header first 5 <nil>
	// {"product":"passive-cable","vendor_id":"0x2FA1","certification_id":"0x00000000","product_id":"0x0102","release":"0x0100","current_a":5,"max_voltage_v":50,"epr":true,"speed":"usb4-gen3","rate_gbps":40,"latency_ns":{"over":0,"upto":10},"vconn_required":false,"plug_type":"type-c","modal":false,"displayport_lane_gbps":20,"displayport_concluded":true}
}

func ExampleNewLoneWord() {
	word := publish.NewLoneWord(0x80870000, vdo.LayoutNamed("svid-pair"))
	if err := json.NewEncoder(os.Stdout).Encode(word); err != nil {
		fmt.Println(err)
	}
	// Output: {"gainsay":1,"index":0,"word":"0x80870000","layout":"svid-pair","fields":[{"name":"svid-first","bits":[31,16],"raw":32903,"meaning":"Thunderbolt","standing":"defined"},{"name":"svid-second","bits":[15,0],"raw":0,"meaning":"none","standing":"defined"}]}
}

func ExampleSchema() {
	for _, name := range publish.Schemas() {
		text, _ := publish.Schema(name)
		var s struct {
			ID string `json:"$id"`
		}
		fmt.Println(name, json.Unmarshal(text, &s), s.ID)
	}
	// Output:
	// report <nil> urn:gainsay:report:1
	// decode <nil> urn:gainsay:decode:1
	// shelf <nil> urn:gainsay:shelf:1
	// ohms <nil> urn:gainsay:ohms:1
	// ports <nil> urn:gainsay:ports:1
	// rules <nil> urn:gainsay:rules:1
	// layout <nil> urn:gainsay:layout:1
	// compose <nil> urn:gainsay:compose:1
	// sample <nil> urn:gainsay:sample:1
}

// Text from records is shown, never sent to the terminal as it is.
func ExamplePlain() {
	fmt.Println(publish.Plain("blue \x1b[31msleeve\u202e"))
	// Output: blue \x1b[31msleeve\u202e
}
