package quantity

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"unicode/utf8"
)

func near(a, b, rel float64) bool {
	return a == b || math.Abs(a-b) <= rel*math.Max(math.Abs(a), math.Abs(b))
}

func TestParse(t *testing.T) {
	tests := []struct {
		text string
		dim  Dimension
		want float64
	}{
		{"92.1 mV", Voltage, 0.0921},
		{"20 µV", Voltage, 20e-6},
		{"20 μV", Voltage, 20e-6}, // Greek mu
		{"20 uV", Voltage, 20e-6},
		{"5V", Voltage, 5},
		{"-3.2 mV", Voltage, -0.0032},
		{"−3.2 mV", Voltage, -0.0032},
		{"1,5 V", Voltage, 1.5},
		{"1.500 V", Voltage, 1.5},
		{"1,2345 V", Voltage, 1.2345},
		{"1e-3 V", Voltage, 0.001},
		{"500 mA", Current, 0.5},
		{"5 a", Current, 5},
		{"92 mohm", Resistance, 0.092},
		{"92 mΩ", Resistance, 0.092},
		{"92 m\u2126", Resistance, 0.092}, // ohm sign
		{"0.1 ohms", Resistance, 0.1},
		{"240 W", Power, 240},
		{"1.98 m", Length, 1.98},
		{"80 cm", Length, 0.8},
		{"800 mm", Length, 0.8},
		{"6 ft", Length, 1.8288}, // 1 ft = 0.3048 m exactly
		{"6 ft 6 in", Length, 1.9812},
		{`6'6"`, Length, 1.9812},
		{"6’6”", Length, 1.9812}, // as word processors write it
		{"6 ft. 6 in.", Length, 1.9812},
		{"-273.15 °C", Temperature, -273.15},
		{"0 AWG", Area, GaugeArea(0)},
		{"awg 40", Area, GaugeArea(40)},
		{"10 in", Length, 0.254},
		{"40 Gbps", Rate, 40e9},
		{"480 Mbps", Rate, 480e6},
		{"10 Gbit/s", Rate, 10e9},
		{"20Gb/s", Rate, 20e9},
		{"5 gbps", Rate, 5e9},
		{"23 °C", Temperature, 23},
		{"23 C", Temperature, 23},
		{"-5 °C", Temperature, -5},
		{"296.15 K", Temperature, 23},
		{"0.5 mm²", Area, 0.5e-6},
		{"0.5 mm2", Area, 0.5e-6},
		{"AWG 28", Area, GaugeArea(28)},
		{"28 AWG", Area, GaugeArea(28)},
		{"AWG28", Area, GaugeArea(28)},
		{"250 ns", Time, 250e-9},
		{"  5  V  ", Voltage, 5},
		{"5 V", Voltage, 5},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := Parse(tt.text, tt.dim)
			if err != nil {
				t.Fatal(err)
			}
			if !near(got, tt.want, 1e-12) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

func TestParseErrors(t *testing.T) {
	tests := []struct {
		text   string
		dim    Dimension
		cause  error
		column int
	}{
		{"", Voltage, ErrNumber, 1},
		{"V", Voltage, ErrNumber, 1},
		{"5", Voltage, ErrNoUnit, 2},
		{"2 m", Voltage, ErrDimension, 3},
		{"5 Vx", Voltage, ErrUnit, 3},
		{"5 V x", Voltage, ErrUnit, 5},
		{"1,500 A", Current, ErrAmbiguous, 1},
		{"1.500,0 A", Current, ErrAmbiguous, 1},
		{"1,000,000 A", Current, ErrAmbiguous, 1},
		{"1e309 V", Voltage, ErrRange, 1},
		{"1e12 V", Voltage, ErrRange, 1},
		{"NaN V", Voltage, ErrNumber, 1},
		{"Inf V", Voltage, ErrNumber, 1},
		{"0x10 V", Voltage, ErrUnit, 2},
		{"40 GBps", Rate, ErrUnit, 4},
		{"6 ft 13 in", Length, ErrUnit, 6},
		{"6 ft 2 m", Length, ErrUnit, 6},
		{"20.5 AWG", Area, ErrRange, 1},
		{"AWG x", Area, ErrNumber, 4},
		{"AWG", Area, ErrNumber, 4},
		{"5 µ", Voltage, ErrUnit, 3},
		{"-6 ft 6 in", Length, ErrRange, 1},
		{"-300 °C", Temperature, ErrRange, 1}, // absolute zero is -273.15 °C
		{"-1 K", Temperature, ErrRange, 1},
		{"00 AWG", Area, ErrRange, 1}, // a gauge of its own, not 0
		{"AWG 00", Area, ErrRange, 5},
		{"020 AWG", Area, ErrRange, 1},
		{"AWG +20", Area, ErrNumber, 4},
		{"AWG 41", Area, ErrRange, 5},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			_, err := Parse(tt.text, tt.dim)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want an *Error", err)
			}
			if !errors.Is(err, tt.cause) || e.Column != tt.column {
				t.Errorf("got %v (%v, column %d), want %v, column %d", err, e.Err, e.Column, tt.cause, tt.column)
			}
		})
	}
}

// TestGauges holds the AWG formula against a printed table of solid copper wire:
// diameter in mm, area in mm² and Ω/km at 20 °C, IACS copper. Source: the
// hyperphysics wire table, which agrees with ASTM B258 within 0.03 %.
func TestGauges(t *testing.T) {
	const resistivity = 1 / 58e6 // Ω·m, IEC 60028
	printed := map[float64]struct{ mm2, ohmPerKm float64 }{
		16: {1.30870, 13.17}, 18: {0.82305, 20.94}, 20: {0.51762, 33.29}, 22: {0.32553, 52.94}, 24: {0.20473, 84.20},
		26: {0.12876, 133.86}, 28: {0.08098, 212.87}, 30: {0.05093, 338.50}, 32: {0.03203, 538.25}, 34: {0.02014, 855.75},
	}
	for n, want := range printed {
		area := GaugeArea(n)
		if !near(area*1e6, want.mm2, 5e-4) {
			t.Errorf("AWG %g: %v mm², want %v", n, area*1e6, want.mm2)
		}
		if r := resistivity / area * 1000; !near(r, want.ohmPerKm, 1e-3) {
			t.Errorf("AWG %g: %v Ω/km, want %v", n, r, want.ohmPerKm)
		}
		if back := AreaGauge(area); !near(back, n, 1e-12) {
			t.Errorf("AWG %g comes back as %v", n, back)
		}
	}
	// By definition, ASTM B258: No. 36 is 0.0050 in.
	if d := 2 * math.Sqrt(GaugeArea(36)/math.Pi) / inch; !near(d, 0.005, 1e-12) {
		t.Errorf("AWG 36 is %v in", d)
	}
}

func TestFormat(t *testing.T) {
	tests := []struct {
		v      float64
		dim    Dimension
		digits int
		want   string
	}{
		{0.0921, Voltage, 4, "92.1 mV"},
		{0.09999999, Resistance, 3, "100 mΩ"},
		{0.9999, Resistance, 3, "1 Ω"},
		{40e9, Rate, 3, "40 Gbps"},
		{480e6, Rate, 3, "480 Mbps"},
		{0, Resistance, 3, "0 Ω"},
		{-0.0032, Voltage, 3, "-3.2 mV"},
		{1.98, Length, 4, "1.98 m"},
		{0.5e-6, Area, 3, "0.5 mm²"},
		{240, Power, 4, "240 W"},
		{1.0 / 6, Resistance, 4, "166.7 mΩ"},
	}
	for _, tt := range tests {
		if got := Format(tt.v, tt.dim, tt.digits); got != tt.want {
			t.Errorf("Format(%v): %q, want %q", tt.v, got, tt.want)
		}
	}
}

func TestFormatUncertain(t *testing.T) {
	tests := []struct {
		v, u float64
		want string
	}{
		{0.121, 0.0018, "121.0 ± 1.8 mΩ"},
		{0.121, 0.018, "121 ± 18 mΩ"},
		{0.121, 0.18, "120 ± 180 mΩ"},
		{0.13355333, 0.00087852, "133.55 ± 0.88 mΩ"},
		{0.00002, 0.0018, "0.0 ± 1.8 mΩ"},
		{0.1, 0, "100 mΩ"},
		{0.1, math.Inf(1), "100 mΩ"},
		{0.0999, 0.00000999, "99.900 ± 0.010 mΩ"},
	}
	for _, tt := range tests {
		if got := FormatUncertain(tt.v, tt.u, Resistance); got != tt.want {
			t.Errorf("FormatUncertain(%v, %v): %q, want %q", tt.v, tt.u, got, tt.want)
		}
	}
}

// TestRoundTrip: what Format prints, Parse reads back, to the digits printed.
func TestRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for d := Voltage; d <= Time; d++ {
		for range 2000 {
			v := math.Pow(10, r.Float64()*9-6)
			if d == Area {
				v *= 1e-6
			}
			digits := 2 + r.IntN(12)
			text := Format(v, d, digits)
			got, err := Parse(text, d)
			if err != nil {
				t.Fatalf("%s of %v: %v", d, v, err)
			}
			if !near(got, v, math.Pow(10, 1-float64(digits))) {
				t.Fatalf("%s: %v printed as %q reads as %v", d, v, text, got)
			}
		}
	}
}

func TestAccuracy(t *testing.T) {
	tests := []struct {
		text string
		dim  Dimension
		want Accuracy
	}{
		{"0.05 % + 20 µV", Voltage, Accuracy{Reading: 0.0005, Fixed: 20e-6}},
		{"±(0.5 % of reading + 3 counts of 10 µV)", Voltage, Accuracy{Reading: 0.005, Counts: 3, Resolution: 10e-6}},
		{"0.1 % rdg + 0.01 % of range 2 V", Voltage, Accuracy{Reading: 0.001, Range: 0.0001, FullScale: 2}},
		{"14 ppm + 2 ppm of range 1 V", Voltage, Accuracy{Reading: 14e-6, Range: 2e-6, FullScale: 1}},
		{"0.1 % + 1 mA", Current, Accuracy{Reading: 0.001, Fixed: 0.001}},
		{"0.5 K", Temperature, Accuracy{Fixed: 0.5}}, // a difference
		{"+/- 5 mΩ", Resistance, Accuracy{Fixed: 0.005}},
		{"0,5 % + 2 digits of 0.1 mΩ", Resistance, Accuracy{Reading: 0.005, Counts: 2, Resolution: 0.0001}},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseAccuracy(tt.text, tt.dim)
			if err != nil {
				t.Fatal(err)
			}
			same := func(a, b Accuracy) bool {
				for _, x := range []float64{0, 0.1, 1} {
					if !near(a.HalfWidth(x), b.HalfWidth(x), 1e-12) {
						return false
					}
				}
				return true
			}
			if !same(got, tt.want) {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
			back, err := ParseAccuracy(got.Text(tt.dim), tt.dim)
			if err != nil || !same(back, tt.want) {
				t.Errorf("printed as %q it reads as %+v, %v", got.Text(tt.dim), back, err)
			}
		})
	}
	for _, bad := range []string{"", "x", "5 parts", "-1 %", "0.5 % + 3 counts", "0.5 % of range", "0.5 % of nonsense", "0.5 % + 1 A", "1 % +"} {
		_, err := ParseAccuracy(bad, Voltage)
		var e *Error
		if !errors.As(err, &e) || e.Want == "" {
			t.Errorf("%q: got %v, want an *Error that says what would be right", bad, err)
		}
	}
}

// TestAccuracyErrors: what data sheets leave to the reader is not guessed, and
// the column is that of the part at fault, also when its text stands twice.
func TestAccuracyErrors(t *testing.T) {
	tests := []struct {
		text   string
		cause  error
		column int
	}{
		{"0.1 % + 0.01 %", ErrAmbiguous, 9}, // of reading and of range, most often
		{"0.1 % + 1 mV + 2 mV", ErrAmbiguous, 16},
		{"1 count of 1 mV + 1 count of 1 mV", ErrAmbiguous, 19},
		{"500 %", ErrRange, 1},
		{"0.5 % + 3 counts of -1 mV", ErrNoUnit, 9},
		{"0.5 % + 3 counts of 0 V", ErrNoUnit, 9},
		{"0.1 % of range -2 V", ErrNoUnit, 1},
		{"(0.5 % + 20 µV", ErrUnit, 15},
		{"±(0.5 % + 20 µV) V", ErrUnit, 18},
		{"15 % + 5 %", ErrAmbiguous, 8},
		{"20 % + 0 m", ErrDimension, 10},
		{"± ( 0.1 % + 1,500 V )", ErrAmbiguous, 13},
		{"1 % + 1 % of x", ErrUnit, 14},
		{"1 % of reading x", ErrUnit, 16},
		{"1 % of x", ErrUnit, 8},
		{"1 mV + ", ErrNumber, 8},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseAccuracy(tt.text, Voltage)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("read as %+v, error %v", got, err)
			}
			if !errors.Is(err, tt.cause) || e.Column != tt.column {
				t.Errorf("got %v (%v, column %d), want %v, column %d", err, e.Err, e.Column, tt.cause, tt.column)
			}
		})
	}
}

// TestMeterSpecs holds half-widths against printed examples. Sources: GUM 4.3.7
// example 2 (14 ppm of 0.928571 V and 2 ppm of the 1 V range are 15 µV); digital
// meter examples of Fluke's guide to meter uncertainty.
func TestMeterSpecs(t *testing.T) {
	tests := []struct {
		text    string
		dim     Dimension
		reading float64
		want    float64
		within  float64
	}{
		{"14 ppm + 2 ppm of range 1 V", Voltage, 0.928571, 15e-6, 0.01},
		{"0.5 % + 1 count of 1 mV", Voltage, 1.755, 9.775e-3, 1e-9},
		{"0.8 % + 2 counts of 0.1 V", Voltage, 100.0, 1.0, 1e-9},
		{"0.08 % + 2 dgt of 1 mV", Voltage, 2.000, 3.6e-3, 1e-9},
		{"0.5 % + 1 digit of 0.1 mA", Current, 1.4869, 7.5345e-3, 1e-9},
		{"0.1 % + 4 digits of 10 µV", Voltage, 0.16651, 0.20651e-3, 1e-9},
	}
	for _, tt := range tests {
		a, err := ParseAccuracy(tt.text, tt.dim)
		if err != nil {
			t.Errorf("%s: %v", tt.text, err)
			continue
		}
		if got := a.HalfWidth(tt.reading); !near(got, tt.want, tt.within) {
			t.Errorf("%s at %v: %v, want %v", tt.text, tt.reading, got, tt.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"92.1 mV", "6 ft 6 in", "40 Gbps", "20 AWG", "AWG 20", "1,500 A", "−3 °C", "5", "1e309 V", "µ", "0.5 % + 3 counts of 10 µV"} {
		for d := Voltage; d <= Time; d++ {
			f.Add(s, uint8(d))
		}
	}
	f.Fuzz(func(t *testing.T, s string, n uint8) {
		d := Voltage + Dimension(n%uint8(Time))
		v, err := Parse(s, d)
		if err == nil {
			if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > d.known().most {
				t.Fatalf("%q as %s is %v", s, d, v)
			}
			if back, err := Parse(Format(v, d, 17), d); err != nil || math.Abs(back-v) > 1e-9*math.Max(math.Abs(v), 1e-9) {
				t.Fatalf("%q is %v, printed %q, reads as %v, %v", s, v, Format(v, d, 17), back, err)
			}
		} else if e := new(Error); !errors.As(err, &e) || e.Column < 1 || e.Column > len([]rune(s))+1 {
			t.Fatalf("%q: %v has no place in the text", s, err)
		}
		a, err := ParseAccuracy(s, d)
		if e := new(Error); err != nil {
			if !errors.As(err, &e) || e.Text != s || e.Column < 1 || e.Column > len([]rune(s))+1 {
				t.Fatalf("%q as an accuracy: %v has no place in the text", s, err)
			}
			return
		}
		if h := a.HalfWidth(1); math.IsNaN(h) || math.IsInf(h, 0) {
			t.Fatalf("%q as an accuracy: %+v", s, a)
		}
		if back, err := ParseAccuracy(a.Text(d), d); err != nil || !near(back.HalfWidth(1), a.HalfWidth(1), 1e-8) {
			t.Fatalf("%q is %+v, printed %q, reads as %+v, %v", s, a, a.Text(d), back, err)
		}
	})
}

// An accuracy that was read is a bound that is finite and grows with the reading,
// and its text reads back as the same.
func FuzzParseAccuracy(f *testing.F) {
	for _, text := range []string{"0.05 % + 20 µV", "±(0.01 % of range 2 V + 3 counts of 10 µV)", "100 ppm rdg + 5 dgt 1 mV", "1e308 V", "-1 %"} {
		f.Add(text, uint8(Voltage))
	}
	f.Fuzz(func(t *testing.T, text string, dim uint8) {
		d := Dimension(dim%uint8(beyond-1)) + 1
		a, err := ParseAccuracy(text, d)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Err == nil || e.Column < 1 || e.Column > utf8.RuneCountInString(text)+1 {
				t.Fatalf("%q: %#v", text, err)
			}
			return
		}
		last := -1.0
		for _, x := range []float64{0, 1e-3, 1, -10, 1e6} {
			w := a.HalfWidth(x)
			if !(w >= last) || math.IsInf(w, 0) {
				t.Errorf("%q: half-width %v at %v, after %v", text, w, x, last)
			}
			last = w
		}
		again, err := ParseAccuracy(a.Text(d), d)
		if err != nil {
			t.Fatalf("%q: its text %q: %v", text, a.Text(d), err)
		}
		for _, x := range []float64{0, 1} {
			if was, is := a.HalfWidth(x), again.HalfWidth(x); math.Abs(was-is) > 1e-8*was {
				t.Errorf("%q is %v at %v, its text %q is %v", text, was, x, a.Text(d), is)
			}
		}
	})
}
