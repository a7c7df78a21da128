package bench

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func relative(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	near(t, what, got, want, tolerance*math.Abs(want))
}

// NIST StRD, linear regression, Norris: certified values.
func TestNorris(t *testing.T) {
	y := []float64{.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, .3, .1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, .3, .6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, .2}
	x := []float64{.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, .4, .6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, .3, .3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, .5}
	if len(x) != 36 || len(y) != 36 {
		t.Fatal(len(x), len(y))
	}
	l, _ := fitLine(x, y)
	relative(t, "B0", l.InterceptVolt, -0.262323073774029, 1e-11)
	relative(t, "B1", l.SlopeOhm, 1.00211681802045, 1e-13)
	relative(t, "s(B0)", l.UIntercept, 0.232818234301152, 1e-11)
	relative(t, "s(B1)", l.USlope, 0.429796848199937e-03, 1e-11)
	relative(t, "s", l.ResidualVolt, 0.884796396144373, 1e-11)
	relative(t, "cov", l.Correlation*l.UIntercept*l.USlope, -7.74327536339570e-05, 1e-9) // by GSL, itself to fewer digits
}

// NIST StRD, through the origin: NoInt1. (NoInt2 spans more than one current.)
func TestNoIntercept(t *testing.T) {
	var x, y []float64
	for i := range 11 {
		x, y = append(x, float64(60+i)), append(y, float64(130+i))
	}
	// Nulls at one current are fitted through the origin.
	through := func(x, y []float64) (slope, u float64) {
		ev := evaluation{of: new(token)}
		for i := range x {
			ev.nulls = append(ev.nulls, reading{Reading{CurrentAmp: x[i], VBUSVolt: Known(y[i])}, i, 0})
		}
		n := ev.nullOf(VBUS)
		row, _ := n.use(0).row(&Estimate{})
		return n.ohm, -row.Sensitivity * row.U
	}
	slope, u := through(x, y)
	relative(t, "NoInt1 B1", slope, 2.07438016528926, 1e-14)
	relative(t, "NoInt1 s", u, 0.0165289256198347, 1e-13)
}

// NIST StRD, univariate: the data sets in testdata/nist, each file with its
// certified values at the head, to the digits certified and float64 input.
func TestUnivariate(t *testing.T) {
	for _, name := range []string{"PiDigits", "Lottery", "Lew", "Mavro", "Michelso"} {
		t.Run(name, func(t *testing.T) {
			certified, xs := univariate(t, filepath.Join("testdata", "nist", name+".txt"))
			if n := certified["number of observations"]; float64(len(xs)) != n {
				t.Fatalf("%d observations, certified %g", len(xs), n)
			}
			mean, dev := meanDeviation(xs)
			relative(t, "mean", mean, certified["mean"], 1e-15)
			relative(t, "deviation", dev, certified["standard deviation (n-1)"], 1e-13)
		})
	}
}

// univariate reads a file of testdata/nist: lines "Certified NAME: VALUE" among
// others, an empty line, then the observations in NIST's order.
func univariate(t *testing.T, file string) (certified map[string]float64, xs []float64) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	head, data, ok := strings.Cut(string(text), "\n\n")
	if !ok {
		t.Fatal("no empty line after the head")
	}
	certified = map[string]float64{}
	for line := range strings.Lines(head) {
		if line, ok := strings.CutPrefix(strings.TrimSpace(line), "Certified "); ok {
			name, value, _ := strings.Cut(line, ": ")
			certified[name] = number(value)
		}
	}
	for x := range strings.FieldsSeq(data) {
		xs = append(xs, number(x))
	}
	return certified, xs
}

// NIST StRD, univariate. NumAcc2 to 4 are generated as NIST describes them. The
// tolerances of the last two are those of float64 input.
func TestNumAcc(t *testing.T) {
	series := func(mean float64) []float64 {
		xs := []float64{mean}
		for range 500 {
			xs = append(xs, mean-0.1, mean+0.1)
		}
		return xs
	}
	for _, c := range []struct {
		name      string
		xs        []float64
		mean, dev float64
		tolerance float64
	}{
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, 1e-15},
		{"NumAcc2", series(1.2), 1.2, 0.1, 1e-13},
		{"NumAcc3", series(1000000.2), 1000000.2, 0.1, 1e-9},
		{"NumAcc4", series(10000000.2), 10000000.2, 0.1, 1e-7},
	} {
		mean, dev := meanDeviation(c.xs)
		relative(t, c.name+" mean", mean, c.mean, 1e-15)
		relative(t, c.name+" deviation", dev, c.dev, c.tolerance)
	}
}

// A contact-resistance line over length (course notes): slope 35.0(2.8),
// intercept 50.9(6.8).
func TestContactResistanceLine(t *testing.T) {
	l, _ := fitLine([]float64{0.25, 0.5, 1, 1.25, 2, 2.75, 5.25}, []float64{54.6, 65.1, 88.1, 106.2, 104.9, 162.3, 230.3})
	near(t, "slope", l.SlopeOhm, 35.0, 0.05)
	near(t, "u", l.USlope, 2.8, 0.05)
	near(t, "intercept", l.InterceptVolt, 50.91, 0.05)
	near(t, "u", l.UIntercept, 6.8, 0.05)
}

// meanDeviation is the mean and the standard deviation of repeats of one mating.
func meanDeviation(xs []float64) (mean, deviation float64) {
	if len(xs) == 0 {
		return 0, 0
	}
	s := &set{y: xs, flip: make([]Flip, len(xs)), mating: make([]int, len(xs))}
	s.work()
	return s.groups[0].mean, math.Sqrt(s.within)
}
