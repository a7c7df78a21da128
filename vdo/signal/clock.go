package signal

import "math"

// The line's figures. Source: fact sheet on the marker §10.4, which names a
// port controller's timing table for the PD physical layer chapter.
const (
	minBitRate = 270e3 // bits per second
	maxBitRate = 330e3

	preambleBits = 64

	// A pulse shorter than the fastest edge allowed is no signal.
	minEdge = 300e-9 // seconds
)

// rateMargin is how far outside the range a clock is still followed; such a
// packet carries a remark. Our reasoning: wide enough to show a transmitter out of
// range, narrow enough not to take other signals for a preamble.
const rateMargin = 0.1

const (
	lockGroups = 10               // of two preamble bits, 0 and 1
	lockEdges  = 3*lockGroups + 1 // three edges each, and the one that closes
)

// groupAt is where the edges of a group stand, in bits: the start of the 0, the
// start of the 1, the middle of the 1.
var groupAt = [3]float64{0, 1, 1.5}

// gridAt is where edge i of a window stands whose first edge has the given phase.
func gridAt(i, phase int) float64 {
	s := i + phase
	return float64(s/3)*2 + groupAt[s%3]
}

// How far the edges of a window may stand from the grid that is fitted, in bits,
// root mean square; and how much better the best phase must be than the next. On
// clean edges a wrong phase leaves about 0.2.
const (
	lockResidual = 0.2
	lockContrast = 0.8
)

// lock is a clock fitted to a window of preamble.
type lock struct {
	phase int
	start float64 // where the grid has its zero, seconds
	ui    float64 // unit interval, seconds
}

// findLock fits a clock to edges that may be preamble: a line through their
// places on the grid, by least squares, for each of the three edges that may have
// been the first.
func findLock(edges []float64) (lock, bool) {
	best, bestErr, nextErr := lock{}, math.Inf(1), math.Inf(1)
	n := float64(len(edges))
	for phase := range 3 {
		var sx, sy, sxx, sxy, syy float64
		for i, t := range edges {
			x, y := gridAt(i, phase), t-edges[0]
			sx, sy = sx+x, sy+y
			sxx, sxy, syy = sxx+x*x, sxy+x*y, syy+y*y
		}
		vx, vxy, vy := sxx-sx*sx/n, sxy-sx*sy/n, syy-sy*sy/n
		ui := vxy / vx
		residual := math.Sqrt(max(vy-ui*vxy, 0)/n) / ui
		if residual < bestErr {
			best, bestErr, nextErr = lock{phase, edges[0] + (sy-ui*sx)/n, ui}, residual, bestErr
		} else if residual < nextErr {
			nextErr = residual
		}
	}
	rate := 1 / best.ui
	ok := bestErr < lockResidual && bestErr < lockContrast*nextErr &&
		rate > minBitRate*(1-rateMargin) && rate < maxBitRate*(1+rateMargin)
	return best, ok
}

// A clock follows the bits after the lock. An edge moves it by a share of its
// distance from the place it was expected at, so that jitter averages out.
type clock struct {
	boundary float64 // where the present bit began, seconds
	ui       float64
	mid      bool // the edge in the middle of the bit has come
}

// Shares of an edge's error taken into phase and unit interval. Chosen by trial
// for the table of the package comment: smaller ones average more jitter, larger
// ones follow a rate that drifts.
const (
	phaseGain = 0.07
	rateGain  = 0.002
)

// Where in a bit an edge is taken for the middle or for the end, in bits. An
// edge further than stray from where it belongs is no edge of this packet, and a
// bit with none until late has none.
const (
	midBefore = 0.75
	stray     = 0.45
	late      = 1.6
)

// at is how many bits after the present bit's start a time is.
func (c *clock) at(t float64) float64 { return (t - c.boundary) / c.ui }

// edge takes an edge. It gives the bit that the edge completes, if any; fits is
// false if the edge does not fit the clock.
func (c *clock) edge(t float64) (bit, complete, fits bool) {
	at := c.at(t)
	want := 1.0
	mid := !c.mid && at < midBefore
	if mid {
		want = 0.5
	}
	off := at - want
	if math.Abs(off) > stray {
		return false, false, false
	}
	c.boundary += phaseGain * off * c.ui
	c.ui += rateGain * off * c.ui
	if mid {
		c.mid = true
		return false, false, true
	}
	bit = c.mid
	c.boundary += c.ui
	c.mid = false
	return bit, true, true
}
