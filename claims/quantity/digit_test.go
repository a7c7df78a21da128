package quantity

import "testing"

func TestLastDigit(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dimension
		want float64
	}{
		{"93.1 mV", Voltage, 1e-4},
		{"-93.10 mV", Voltage, 1e-5},
		{"0.0931 V", Voltage, 1e-4},
		{"93,15 mV", Voltage, 1e-5},
		{"1 A", Current, 1},
		{"1.0 A", Current, 0.1},
		{"100 mohm", Resistance, 1e-3},
		{"1e-3 V", Voltage, 0},
		{"V", Voltage, 0},
		{"93.1", Voltage, 0},
		{"", Voltage, 0},
	} {
		if got := LastDigit(c.text, c.dim); !near(got, c.want, 1e-12) && got != c.want {
			t.Errorf("%q: %g, want %g", c.text, got, c.want)
		}
	}
}
