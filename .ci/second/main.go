// Second prints random sessions with what claims/bench makes of them, one JSON object a
// line, for check.py beside it to compute again by another route.
//
// Usage: go run ./.ci/second [-records N] | /usr/bin/python3 .ci/second/check.py
package main

import (
	"encoding/json"
	"flag"
	"math/rand/v2"
	"os"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
)

type reading struct {
	Amp, VBUS, Ground float64
	Flip, Mating      int
}

type accuracy struct{ Reading, Fixed float64 }

type estimate struct {
	Conductor           string
	Flip                int
	Ohm, U, DoF, Expand float64
	Rows                []row
}

type row struct {
	From string
	Ohm  float64
}

type session struct {
	Voltmeter, Ammeter  accuracy
	AmpDigit, VoltDigit float64
	Readings, Nulls     []reading
	Results             []estimate
}

func main() {
	records := flag.Int("records", 400, "how many")
	flag.Parse()
	rng := rand.New(rand.NewPCG(14, 2))
	out := json.NewEncoder(os.Stdout)
	for range *records {
		if err := out.Encode(draw(rng)); err != nil {
			panic(err)
		}
	}
}

func pick[T any](rng *rand.Rand, of ...T) T { return of[rng.IntN(len(of))] }

func draw(rng *rand.Rand) session {
	s := session{Voltmeter: accuracy{0.002 * rng.Float64(), 2e-4 * rng.Float64()}, Ammeter: accuracy{0.005 * rng.Float64(), 2e-3 * rng.Float64()},
		AmpDigit: pick(rng, 0, 1e-3), VoltDigit: pick(rng, 0, 1e-5, 1e-4, 1e-3)}
	amp, noise, contact := pick(rng, 1.0, 3, 5), pick(rng, 1e-6, 1e-4, 1e-3), pick(rng, 1e-5, 1e-3)
	n, matings, ways := pick(rng, 2, 3, 5, 10), pick(rng, 1, 1, 3, 5), pick(rng, 1, 2)
	one := func(scale float64, flip, mating int, vbus, ground float64) reading {
		i := amp * (1 + 0.002*rng.NormFloat64())
		return reading{i, scale*i*vbus + noise*rng.NormFloat64(), scale*i*ground + noise*rng.NormFloat64(), flip, mating}
	}
	for w := range ways {
		for m := range matings {
			vbus, ground := 0.09+contact*rng.NormFloat64(), 0.045+contact*rng.NormFloat64()
			for range n {
				s.Readings = append(s.Readings, one(1, w+ways-1, m+1, vbus, ground))
			}
		}
	}
	for range pick(rng, 0, 1, 3) {
		s.Nulls = append(s.Nulls, one(1, 0, 0, 2e-3, 1e-3))
	}
	in := bench.Session{Voltmeter: &quantity.Accuracy{Reading: s.Voltmeter.Reading, Fixed: s.Voltmeter.Fixed},
		Ammeter: &quantity.Accuracy{Reading: s.Ammeter.Reading, Fixed: s.Ammeter.Fixed}}
	for _, list := range []struct {
		from []reading
		to   *[]bench.Reading
	}{{s.Readings, &in.Readings}, {s.Nulls, &in.Nulls}} {
		for _, r := range list.from {
			*list.to = append(*list.to, bench.Reading{CurrentAmp: r.Amp, VBUSVolt: bench.Known(r.VBUS), GroundVolt: bench.Known(r.Ground),
				Flip: bench.Flip(r.Flip), Mating: r.Mating, CurrentDigit: s.AmpDigit, VBUSDigit: s.VoltDigit, GroundDigit: s.VoltDigit})
		}
	}
	result, err := bench.Evaluate(in)
	if err != nil {
		panic(err)
	}
	for _, w := range result.Ways {
		for _, e := range []*bench.Estimate{w.VBUS, w.Ground, w.Loop} {
			out := estimate{Conductor: e.Conductor.String(), Flip: int(w.Flip), Ohm: e.Ohm, U: e.U, DoF: min(e.DoF, 1e300), Expand: e.Expanded}
			for _, c := range e.Budget {
				out.Rows = append(out.Rows, row{c.From(), c.Ohm})
			}
			s.Results = append(s.Results, out)
		}
	}
	return s
}
