package publish

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
)

// fill puts random values into everything a value holds, so that a field that is
// new is filled too.
func fill(random *rand.Rand, v reflect.Value) {
	texts := []string{"", "a", "92.1 ± 1.8 mΩ", `quoted "x" \ back`, "\x1b[31m\u202e", "tab\tline\n", "\xff\xfe", "<&>", "\u2028", "é😀", "\x7f", "\U000e0001"}
	numbers := []float64{0, 1, -1, 0.0715, 1e-6, 9.99e-7, 1e-9, -1e-12, 1e20, 1e21, 5e-324, math.MaxFloat64, math.Copysign(0, -1)}
	switch v.Kind() {
	case reflect.String:
		v.SetString(texts[random.IntN(len(texts))])
	case reflect.Int:
		v.SetInt(int64(random.IntN(3) * random.IntN(1000)))
	case reflect.Bool:
		v.SetBool(random.IntN(2) == 0)
	case reflect.Float64:
		v.SetFloat(numbers[random.IntN(len(numbers))])
		if random.IntN(2) == 0 {
			v.SetFloat(math.Float64frombits(random.Uint64()&^(1<<62) | 1<<61))
		}
	case reflect.Pointer:
		if random.IntN(4) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(random, v.Elem())
		}
	case reflect.Slice:
		if n := random.IntN(4); n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
			for i := range n - 1 {
				fill(random, v.Index(i))
			}
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for range random.IntN(5) {
			key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			fill(random, key)
			fill(random, value)
			v.SetMapIndex(key, value)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(random, v.Field(i))
		}
	default:
		panic("no value for a " + v.Type().String())
	}
}

// standardJSON is the line that encoding/json writes.
func standardJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	return PlainJSON(b.Bytes()), err
}

// The line is, byte for byte, what encoding/json makes of the report's tags, for
// reports with anything in them.
func TestReportJSONIsEncodingJSON(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 3000 {
		var r claims.Report
		fill(random, reflect.ValueOf(&r).Elem())
		want, err := standardJSON(&r)
		if err != nil {
			t.Fatal(err)
		}
		got, err := ReportJSON(&r)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Fatalf("(-encoding/json +ours):\n%s", diff)
		}
	}
}

func TestReportJSONRefusesWhatJSONHasNot(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		r := &claims.Report{Bench: &claims.BenchReport{Carries: &claims.CurrentRange{Low: v}}}
		if _, err := ReportJSON(r); err == nil {
			t.Errorf("%v was written", v)
		}
	}
}

// asJSON is what encoding/json and PlainJSON make of a value.
func asJSON(t *testing.T, v any) string {
	t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		t.Fatal(err)
	}
	return string(PlainJSON(bytes.TrimSuffix(b.Bytes(), []byte("\n"))))
}

// TestNumbersInJSON: short decimals, their neighbours and any other number.
func TestNumbersInJSON(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	values := []float64{0, 1, 3, 5, 0.5, 0.1, 0.166666667, 0.083333333, 1e-6, 1.000000001, 999999.999999999, 999999.9999999999, 1e6,
		1e-9, 1.5e-6, 0.1 + 0.2, 123456.789, 2.00000001, 1.0000000001}
	for range 200_000 {
		v := math.Exp(random.Float64()*34 - 17)
		values = append(values, v, math.Round(v*1e9)/1e9, math.Round(v*1e4)/1e4, quantity.Figures(v))
	}
	for _, v := range values {
		for _, v := range []float64{v, -v, math.Nextafter(v, 0), math.Nextafter(v, 1e9)} {
			w := jsonWriter{b: []byte{'['}}
			w.float(v)
			if got, want := string(w.b[1:]), asJSON(t, v); got != want {
				t.Fatalf("%v: %s, want %s", v, got, want)
			}
		}
	}
}

// TestTextsInJSON: each character at each place of a text that is plain otherwise.
func TestTextsInJSON(t *testing.T) {
	for c := range rune(0x180) {
		for at := range 19 {
			s := []rune("an ordinary sentence"[:19])
			s[at] = c
			for _, text := range []string{string(s), string(s) + string(byte(c)), string(s[:at+1])} {
				w := jsonWriter{b: []byte{'['}}
				w.text(text)
				if got, want := string(w.b[1:]), asJSON(t, text); got != want {
					t.Fatalf("%q: %s, want %s", text, got, want)
				}
			}
		}
	}
}
