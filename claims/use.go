package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/bench"
)

// DeviceClass is a kind of device by the power it usually draws.
type DeviceClass struct {
	Name     string // plural, as "tablets"
	From, To int    // W, the usual power of its charger
	Level    Tier   // the published level the largest of them draw from
}

// deviceClasses are common practice; the levels are those of USB PD R3.2, §10.2 (from
// memory).
var deviceClasses = []DeviceClass{
	{"phones", 5, 27, Tier{27, 9, 3}},
	{"tablets", 15, 45, Tier{45, 15, 3}},
	{"small laptops", 30, 60, Tier{60, 20, 3}},
	{"laptops", 60, 100, Tier{100, 20, 5}},
	{"large laptops", 100, 240, Tier{240, 48, 5}},
}

// DeviceClasses lists the classes of devices, the smallest power first (common practice).
func DeviceClasses() []DeviceClass { return append([]DeviceClass{}, deviceClasses...) }

// devicesUpTo names the classes that a power in W reaches: those whose largest devices it
// charges, or at least the first of them.
func devicesUpTo(watts int) string {
	var names []string
	for _, d := range deviceClasses {
		if d.To <= watts || len(names) == 0 {
			names = append(names, d.Name)
		}
	}
	if len(names) > 3 && names[2] == "small laptops" { // "laptops" takes them in
		names = append(names[:2:2], names[3:]...)
	}
	return strings.Join(names, ", ")
}

// use says in a sentence or two what a cable is fit for, empty where nothing is shown.
// Where the marker lets a source drive more current than the copper is shown to carry,
// nothing but the choice of the source limits the current.
func use(c *Case, r Rating) string {
	marker := c.MarkerSupport().Tier
	for _, end := range c.Ends() {
		if t := end.NearSupport().Tier; t.Amps > marker.Amps {
			marker = t // a source at that end goes by it
		}
	}
	shown, measured := r.PowerW, c.Resistance != nil
	switch {
	case !measured:
		return ""
	case shown == 0 && r.Settled:
		return "Do not use it."
	case shown == 0:
		return ""
	case marker.Amps > r.CurrentA && !c.within(float64(marker.Amps)):
		return fmt.Sprintf("Use it only with sources up to %d W: %s. A %d W source may drive %d A through it.",
			shown, devicesUpTo(shown), marker.Watts, marker.Amps)
	}
	return fmt.Sprintf("Fit for loads up to %d W: %s.", shown, devicesUpTo(shown))
}

// within reports whether the copper is shown to keep its limits at a current in A.
func (c *Case) within(amps float64) bool {
	d, measured := c.Carries(amps)
	return measured && d.Outcome == bench.Within
}
