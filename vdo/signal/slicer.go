package signal

// slicer turns the values of a wire into edges.
//
// Of a curve it holds a stretch at a time. Midway between the lowest and the
// highest value of the stretch lies the threshold, unless one is given; a value
// must go past it by a quarter of the way to the nearer end to count. Single
// values that stick out do not move the threshold.
type slicer struct {
	wire      wire
	threshold *float64
	next      func(t float64)

	known bool    // whether there was a value before
	t, v  float64 // the value before

	stretch []sample
	state   int8    // above 1, below -1, not known 0
	crossed float64 // when the threshold was last crossed
	last    float64 // the last edge
}

const (
	stretchSamples  = 1 << 14
	hysteresisShare = 1.0 / 4 // of the way from the threshold to the nearer end
)

func (s *slicer) sample(t, v float64) {
	if !s.wire.digital {
		s.stretch = append(s.stretch, sample{t: t, v: v})
		if len(s.stretch) == stretchSamples {
			s.flush()
		}
		return
	}
	if s.known && v != s.v {
		s.next(t)
	}
	s.known, s.v = true, v
}

// flush goes through the stretch that is held.
func (s *slicer) flush() {
	if len(s.stretch) == 0 {
		return
	}
	low, high, levels := spread(s.stretch)
	middle := low/2 + high/2
	if s.threshold != nil {
		middle = *s.threshold
	}
	margin := max(min(middle-low, high-middle), 0) * hysteresisShare
	for _, x := range s.stretch {
		above := x.v >= middle
		if s.known && above != (s.v >= middle) {
			s.crossed = x.t
			if s.wire.sampled && !levels {
				s.crossed = s.t + (x.t-s.t)*((middle-s.v)/(x.v-s.v))
			}
		}
		state := s.state
		switch {
		case x.v >= middle+margin && high > low:
			state = 1
		case x.v <= middle-margin && high > low:
			state = -1
		}
		if state != s.state {
			if s.state != 0 {
				s.last = max(s.crossed, s.last)
				s.next(s.last)
			}
			s.state = state
		}
		s.known, s.t, s.v = true, x.t, x.v
	}
	s.stretch = s.stretch[:0]
}

// spread is the range of the values without those that stick out alone, and
// whether all are 0 or 1.
func spread(xs []sample) (low, high float64, levels bool) {
	levels = true
	low, high = xs[0].v, xs[0].v
	if len(xs) > 2 {
		low, high = median(xs, 1), median(xs, 1)
	}
	for i, x := range xs {
		levels = levels && (x.v == 0 || x.v == 1)
		m := x.v
		if len(xs) > 2 {
			if i == 0 || i == len(xs)-1 {
				continue
			}
			m = median(xs, i)
		}
		low, high = min(low, m), max(high, m)
	}
	if levels {
		low, high = 0, 1
	}
	return low, high, levels
}

// median is the middle one of a value and its neighbours.
func median(xs []sample, i int) float64 {
	a, b, c := xs[i-1].v, xs[i].v, xs[i+1].v
	return max(min(a, b), min(max(a, b), c))
}
