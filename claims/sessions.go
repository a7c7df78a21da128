package claims

import (
	"math"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
)

// Earlier lists the sessions that give a resistance, before the one that counts.
func (c *Case) Earlier() []*Session {
	var out []*Session
	for i := range c.Bench {
		s := &c.Bench[i]
		if s == c.Resistance {
			break
		}
		if s.HasOhms() {
			out = append(out, s)
		}
	}
	return out
}

// HasOhms reports whether the session gives a resistance.
func (s *Session) HasOhms() bool {
	r := &s.Result
	return r.VBUS != nil || r.Ground != nil || r.Loop != nil
}

// SameDay reports whether two sessions are dated on one day.
func (s *Session) SameDay(t *Session) bool {
	return s.Date.Known && t.Date.Known && s.Date.Value.Equal(t.Date.Value)
}

// ChangesSince lists by how much the conductors differ from an earlier session, beyond
// their uncertainty; the loop only where no conductor does.
func (s *Session) ChangesSince(earlier *Session) []bench.Change {
	var out []bench.Change
	for _, d := range bench.Drift(earlier.Result, s.Result) {
		if d.Significant && (d.Conductor != bench.Loop || len(out) == 0) {
			out = append(out, d)
		}
	}
	return out
}

// DayDisagrees gives a session of the same day as the one that counts from which it differs
// beyond the uncertainty; nil where there is none.
func (c *Case) DayDisagrees() *Session {
	if c.Resistance == nil {
		return nil
	}
	for i := range c.Bench {
		s := &c.Bench[i]
		if s != c.Resistance && s.HasOhms() && s.SameDay(c.Resistance) && len(c.Resistance.ChangesSince(s)) > 0 {
			return s
		}
	}
	return nil
}

// worstOfDay makes the session with the most resistance of its day the one that counts,
// where the sessions of a day disagree.
func (c *Case) worstOfDay() {
	worst := c.Resistance
	for i := range c.Bench {
		s := &c.Bench[i]
		if s == c.Resistance || !s.HasOhms() || !s.SameDay(c.Resistance) || len(c.Resistance.ChangesSince(s)) == 0 {
			continue
		}
		if s.loopOhm() > worst.loopOhm() {
			worst = s
		}
	}
	c.Resistance = worst
}

// loopOhm is the resistance of all that is known.
func (s *Session) loopOhm() float64 {
	switch r := &s.Result; {
	case r.Loop != nil:
		return r.Loop.Ohm
	case r.VBUS != nil:
		return r.VBUS.Ohm
	case r.Ground != nil:
		return r.Ground.Ohm
	}
	return 0
}

// benchDoubted reports whether the bench contradicts itself, so that nothing it shows is
// settled.
func (c *Case) benchDoubted() bool {
	return c.Resistance != nil && (c.Resistance.Result.Disagrees() || c.DayDisagrees() != nil || c.Resistance.referenceOff())
}

// ReferenceOhms is the reference resistor of the session as measured over the leads of VBUS,
// and as known. The error is a *[bench.Error], where the reading gives no resistance.
func (s *Session) ReferenceOhms() (measured, known bench.Estimate, err error) {
	ref := s.Reference.Value
	in := benchSession(s.Session, s.Nulls)
	in.Readings = benchReadings([]record.Reading{{Current: ref.Current, VBUS: ref.Drop}})
	in.Printed, in.Assume = bench.Printed{}, s.Result.Session.Assume
	r, err := bench.Evaluate(in)
	if r.VBUS == nil {
		return measured, known, err
	}
	value := ref.Resistor.Value
	known = bench.Estimate{Conductor: bench.VBUS, Ohm: value, U: ref.Tolerance.Value.HalfWidth(value) / math.Sqrt(3)}
	return *r.VBUS, known, nil
}

// referenceOff reports whether the reference resistor does not come out at its value.
func (s *Session) referenceOff() bool {
	if !s.Reference.Known {
		return false
	}
	measured, known, err := s.ReferenceOhms()
	return err == nil && bench.Compare(measured, known).Significant
}

// Room is the temperature of the room in the session, as stated or assumed.
func (s *Session) Room() bench.Temperature { return benchSession(s.Session, nil).Ambient() }

// Heated is the latest session with a temperature of the shell; nil where there is none.
func (c *Case) Heated() *Session {
	for i := len(c.Bench) - 1; i >= 0; i-- {
		if c.Bench[i].Heat.Known {
			return &c.Bench[i]
		}
	}
	return nil
}
