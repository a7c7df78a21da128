package publish

import "testing"

const benchRecord = `gainsay: 1
cable: NF-014
claims: {power: 140 W, data: 10 Gbps, length: 2 m, plugs: c-to-c}
marker: {near: "FF00A041 18602FA1 00000000 00010100 000A4644"}
bench:
  voltmeter: 0.05 % + 20 µV
  ammeter: 0.1 % + 1 mA
  null: {current: 1 A, vbus: 1.2 mV, ground: 0.9 mV}
  readings:
    - {current: 1.0002 A, vbus: 122.1 mV, ground: 58.9 mV}
    - {current: 1.0001 A, vbus: 122.3 mV, ground: 58.8 mV}
`

// BenchmarkReportText writes a report that is made already.
func BenchmarkReportText(b *testing.B) {
	r := report(b, benchRecord)
	b.ReportAllocs()
	for b.Loop() {
		if ReportText(r, Style{}) == "" {
			b.Fatal("no text")
		}
	}
}

func BenchmarkReportJSON(b *testing.B) {
	r := report(b, benchRecord)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReportJSON(r); err != nil {
			b.Fatal(err)
		}
	}
}
