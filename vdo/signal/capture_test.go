package signal

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// How a capture of edges is written down.

// asVCD is a value change dump in ticks of the given unit.
func asVCD(edges []float64, tick float64, unit string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "$timescale %s $end\n$scope module bench $end\n$var wire 1 ! CC1 $end\n$upscope $end\n$enddefinitions $end\n#0\n$dumpvars\n0!\n$end\n", unit)
	level := 0
	for _, e := range edges {
		level ^= 1
		fmt.Fprintf(&b, "#%.0f\n%d!\n", e/tick, level)
	}
	return b.String()
}

// asLevels is a table with a row for each edge.
func asLevels(edges []float64, unit float64, heading string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n0,0\n", heading)
	level := 0
	for _, e := range edges {
		level ^= 1
		fmt.Fprintf(&b, "%.4f,%d\n", e/unit, level)
	}
	return b.String()
}

// scope samples the line.
type scope struct {
	rate      float64 // samples per second
	low, high float64 // V
	rise      float64 // time constant of an edge, seconds
	noise     float64 // V, standard deviation
	seed      uint64
}

func (o scope) samples(edges []float64, until float64) (ts, vs []float64) {
	rng := rand.New(rand.NewPCG(o.seed, 11))
	v, level, next, last := o.low, o.low, 0, 0.0
	approach := func(t float64) {
		if o.rise > 0 {
			v = level + (v-level)*math.Exp(-(t-last)/o.rise)
		} else {
			v = level
		}
		last = t
	}
	for i := 0; ; i++ {
		t := float64(i) / o.rate
		if t > until {
			return ts, vs
		}
		for next < len(edges) && edges[next] <= t {
			approach(edges[next])
			level = o.low + o.high - level
			next++
		}
		approach(t)
		ts, vs = append(ts, t), append(vs, v+rng.NormFloat64()*o.noise)
	}
}

// asVolts is a table of samples.
func (o scope) asVolts(edges []float64, until float64, row string) []byte {
	var b bytes.Buffer
	ts, vs := o.samples(edges, until)
	for i := range ts {
		fmt.Fprintf(&b, row, ts[i], vs[i])
	}
	return b.Bytes()
}
