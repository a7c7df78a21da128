package rules_test

import (
	"os"
	"testing"

	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

// BenchmarkCheck asks every rule of the example records, which are read already.
func BenchmarkCheck(b *testing.B) {
	folder := os.DirFS("../../examples/records")
	names, err := os.ReadDir("../../examples/records")
	if err != nil {
		b.Fatal(err)
	}
	var recs []*record.Record
	for _, name := range names {
		f, err := folder.Open(name.Name())
		if err != nil {
			b.Fatal(err)
		}
		for rec, err := range record.Read(f, name.Name()) {
			if err != nil {
				b.Fatal(err)
			}
			recs = append(recs, rec)
		}
		f.Close()
	}
	if len(recs) == 0 {
		b.Fatal("no record")
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, rec := range recs {
			if _, err := rules.Checker().Check(rec); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(len(recs))*float64(b.N)/b.Elapsed().Seconds(), "records/s")
}
