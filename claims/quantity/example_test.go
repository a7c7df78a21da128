package quantity_test

import (
	"errors"
	"fmt"

	"example.com/gainsay/claims/quantity"
)

func ExampleParse() {
	for _, one := range []struct {
		text string
		of   quantity.Dimension
	}{
		{"92.1 mV", quantity.Voltage}, {"6 ft 6 in", quantity.Length}, {"40 Gbps", quantity.Rate}, {"20 AWG", quantity.Area},
	} {
		v, err := quantity.Parse(one.text, one.of)
		fmt.Printf("%s: %.4g, %s, %v\n", one.text, v, quantity.Format(v, one.of, 3), err)
	}
	// Output:
	// 92.1 mV: 0.0921, 92.1 mV, <nil>
	// 6 ft 6 in: 1.981, 1.98 m, <nil>
	// 40 Gbps: 4e+10, 40 Gbps, <nil>
	// 20 AWG: 5.176e-07, 0.518 mm², <nil>
}

// What is wrong is told apart by its cause; where it stands, and what would be
// right, is in the Error.
func ExampleParse_errors() {
	for _, text := range []string{"1,500 A", "92.1", "2 m"} {
		_, err := quantity.Parse(text, quantity.Current)
		switch {
		case errors.Is(err, quantity.ErrAmbiguous):
			fmt.Println(text, "can be read in two ways")
		case errors.Is(err, quantity.ErrNoUnit):
			fmt.Println(text, "has no unit")
		default:
			var bad *quantity.Error
			if errors.As(err, &bad) {
				fmt.Printf("%s, column %d: %s\n", bad.Text, bad.Column, bad.Wrong)
			}
		}
	}
	// Output:
	// 1,500 A can be read in two ways
	// 92.1 has no unit
	// 2 m, column 3: "m" is a unit of length, not of current
}

func ExampleParseAccuracy() {
	a, err := quantity.ParseAccuracy("±(0.05 % + 0.01 % of range 2 V + 3 counts of 10 µV)", quantity.Voltage)
	if err != nil {
		fmt.Println(err)
	}
	fmt.Printf("%s at 0.1 V; %s\n", quantity.Format(a.HalfWidth(0.1), quantity.Voltage, 3), a.Text(quantity.Voltage))
	// Output: 280 µV at 0.1 V; 0.05 % + 0.01 % of range 2 V + 3 counts of 10 µV
}

func ExampleFormatUncertain() {
	fmt.Println(quantity.FormatUncertain(0.12104, 0.0018, quantity.Resistance))
	// Output: 121.0 ± 1.8 mΩ
}
