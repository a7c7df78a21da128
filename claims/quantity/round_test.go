package quantity

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// Rounding is what printing and reading the number does (IEEE 754, correctly
// rounded both ways, by strconv).
func TestRoundIsPrintingAndReading(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	values := []float64{0, 1, 9.995, 0.9995, 1e-13, 1e13, 1e15, 1e-300, 1e300, 0.1 + 0.2, 2.5, 1.005, 123456789.5, 0.05, 99999.9999999}
	for range 200_000 {
		v := math.Exp(random.Float64()*100 - 50)
		values = append(values, v, math.Round(v*1000)/1000, math.Round(v*16)/16)
	}
	decided := 0
	for _, v := range values {
		for _, v := range []float64{v, -v} {
			digits := 1 + random.IntN(12)
			want, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
			if err != nil {
				t.Fatal(err)
			}
			if got := round(v, digits); got != want || math.Signbit(got) != math.Signbit(want) {
				t.Fatalf("%v to %d digits: %v, want %v", v, digits, got, want)
			}
			if _, ok := roundDecimal(v, digits); ok {
				decided++
			}
		}
	}
	if decided < len(values)/2 {
		t.Errorf("the short way decided %d of %d", decided, 2*len(values))
	}
}

func BenchmarkFigures(b *testing.B) {
	for b.Loop() {
		Figures(0.07123456789123)
	}
}
