package label

import (
	"regexp"
	"strings"
	"testing"
)

// agreeing are phrases that say one thing twice, within a tolerance, or whose digits are
// of a revision that means nothing for the claim: a digit changed there may leave the
// reading as it is.
var agreeing = regexp.MustCompile(`(?i)pd ?\d|(displayport|dp) ?\d|\d ?w.*\d ?[va]|\d ?[va].*\d ?w|\d ?m\b.*ft|ft.*\d ?m\b|11V`)

// TestADigitChangedIsSeen: a claim with one digit changed is refused, or read as another,
// never as the one before.
func TestADigitChangedIsSeen(t *testing.T) {
	changed := 0
	for _, p := range phrases(t) {
		if p.normal == "!" || agreeing.MatchString(p.text) {
			continue
		}
		for i := range len(p.text) {
			if !digit(p.text[i]) || strings.HasSuffix(p.text[:i], "3.") && p.key == "data" {
				continue // USB 3.0, 3.1 and 3.2 are names of one thing
			}
			for d := byte('0'); d <= '9'; d++ {
				if d == p.text[i] {
					continue
				}
				text := p.text[:i] + string(d) + p.text[i+1:]
				if got, err := read(p.key, text); err == nil && got == p.normal {
					t.Errorf("%s: %q and %q are both read as %q", p.key, p.text, text, got)
				}
				changed++
			}
		}
	}
	if changed < 3000 {
		t.Errorf("only %d changes", changed)
	}
}

// TestAUnitChangedIsSeen: a claim with another unit is refused, or read as another.
func TestAUnitChangedIsSeen(t *testing.T) {
	units := map[string][]string{
		"power": {"V", "A", "mW", "kW", "Wh", "VA", "m"}, "current": {"W", "V", "mA", "Ah", "mAh", "m"}, "voltage": {"W", "A", "mV", "kV", "Ah", "m"},
		"length": {"V", "cm", "mm", "km", "ft", "yd", "in", "kg"}, "conductors": {"V", "mm", "m", "mm³", "cm²", "in"},
		"data": {"GB/s", "Mbps", "Tbps", "kbps", "GHz", "W", "MB/s"}, "video": {"V", "m", "kHz", "W"},
	}
	unit := regexp.MustCompile(`^(\d+(?:\.\d+)?) ?(W|A|V|m|AWG|mm²|Gbps|Hz)$`)
	changed := 0
	for _, p := range phrases(t) {
		m := unit.FindStringSubmatch(p.text)
		if p.normal == "!" || m == nil {
			continue
		}
		for _, u := range units[p.key] {
			text := m[1] + " " + u
			if got, err := read(p.key, text); err == nil && got == p.normal {
				t.Errorf("%s: %q and %q are both read as %q", p.key, p.text, text, got)
			}
			changed++
		}
	}
	if changed < 60 {
		t.Errorf("only %d changes", changed)
	}
}

// TestNameAndRateExchanged: a standard with the rate of another is refused, but for names
// that leave the generation open.
func TestNameAndRateExchanged(t *testing.T) {
	for _, a := range standards {
		for _, b := range standards {
			for _, form := range []string{"%n %r", "%n (%r)", "%r %n", "%n, %r"} {
				text := strings.NewReplacer("%n", a.name, "%r", rateText(b.gbps)).Replace(form)
				d, _, err := DataOf(text)
				switch {
				case a.gbps == b.gbps && (err != nil || d.Standard != a.name):
					t.Errorf("%q is read as %+v: %v", text, d, err)
				case a.gbps != b.gbps && err == nil:
					t.Errorf("%q is read as %+v, and should be refused", text, d)
				}
			}
		}
	}
}

// TestNoise: marks, case and blanks change nothing.
func TestNoise(t *testing.T) {
	for _, p := range phrases(t) {
		if p.normal == "!" || strings.ContainsAny(p.text, `'"#`) {
			continue
		}
		for _, text := range []string{" " + p.text + " ", p.text + "™", strings.ReplaceAll(p.text, " ", "\u00a0"), strings.ReplaceAll(p.text, " ", "  "), wide(p.text)} {
			if got, err := read(p.key, text); err != nil || got != p.normal {
				t.Errorf("%s: %q is read as %q: %v; without noise %q", p.key, text, got, err, p.normal)
			}
		}
	}
}

// wide writes ASCII in full width.
func wide(s string) string {
	var b strings.Builder
	for _, r := range s {
		if r > ' ' && r < 0x7f {
			r += 0xFF01 - '!'
		}
		b.WriteRune(r)
	}
	return b.String()
}

// FuzzRead: no text makes a reader panic, and what is read has a normal form that is read
// as itself.
func FuzzRead(f *testing.F) {
	keys := []string{"power", "current", "voltage", "length", "conductors", "data", "plugs", "modes", "video", "active", "marked", "certified", "certificate"}
	f.Add(uint8(0), "240W EPR")
	f.Add(uint8(3), `6'6"`)
	f.Add(uint8(5), "USB4 40Gbps")
	f.Add(uint8(6), "USB-C ↔ USB-C")
	f.Add(uint8(8), "8K (7680x4320) 60Hz")
	f.Fuzz(func(t *testing.T, key uint8, text string) {
		k := keys[int(key)%len(keys)]
		normal, err := read(k, text)
		if err != nil {
			if err.Wrong == "" || err.Want == "" {
				t.Errorf("%s: %q: %+v", k, text, err)
			}
			return
		}
		if again, err := read(k, normal); err != nil || again != normal {
			t.Errorf("%s: %q is read as %q, and that as %q: %v", k, text, normal, again, err)
		}
	})
}
