package quantity

import (
	"fmt"
	"strings"
	"testing"

	"example.com/gainsay/testdata/readme"
)

// TestLimitsStated: the README's table of limits says what the constants are.
func TestLimitsStated(t *testing.T) {
	most := func(d Dimension, unit float64, name string) string {
		return strings.NewReplacer("e+0", "e", "e+", "e").Replace(fmt.Sprintf("%.0e %s", d.known().most/unit, name))
	}
	readme.Limits(t,
		"a voltage, a current | "+most(Voltage, 1, "V")+", "+most(Current, 1, "A"),
		"a resistance | "+most(Resistance, 1, "Ω"),
		"a power | "+most(Power, 1, "W"),
		"a length | "+most(Length, 1, "m"),
		"a data rate | "+most(Rate, 1, "bit/s"),
		"a conductor's size | "+most(Area, 1e-6, "mm²"),
		fmt.Sprintf("a temperature | %v °C to ", -zeroCelsius)+most(Temperature, 1, "°C"),
	)
}
