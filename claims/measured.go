package claims

import (
	"slices"
	"time"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

// Measured is how the bench measured, so that somebody else can do it again. The zero
// Measured is "nothing was measured".
type Measured struct {
	Dates     []string `json:"dates,omitempty"`     // days of the sessions, as 2026-10-05, the earliest first
	By        string   `json:"by,omitempty"`        // who measured, of the latest session that says so
	Rig       string   `json:"rig,omitempty"`       // the rig's name, or its file
	Voltmeter string   `json:"voltmeter,omitempty"` // accuracy of the latest session, as recorded
	Ammeter   string   `json:"ammeter,omitempty"`   // likewise
	Ohmmeter  string   `json:"ohmmeter,omitempty"`  // likewise
	// Assumed: an accuracy that the result rests on is not on record.
	Assumed  bool   `json:"assumed"`
	Ambient  string `json:"ambient,omitempty"` // of the latest session that has it
	Readings int    `json:"readings"`          // of all sessions
	Matings  int    `json:"matings,omitempty"` // pluggings-in that the readings name, of all sessions
	Nulls    int    `json:"nulls"`             // of all sessions
	Fixture  string `json:"fixture,omitempty"` // the rig's, in words
	// Sessions hold what was read, so that the result can be computed again.
	Sessions []MeasuredSession `json:"sessions"`
}

// MeasuredSession is one sitting at the bench as it was recorded: texts with their units.
// What is not on record is absent.
type MeasuredSession struct {
	Date      string            `json:"date,omitempty"`      // the day, as 2026-10-05
	By        string            `json:"by,omitempty"`        // who measured
	Voltmeter MeasuredWith      `json:"voltmeter,omitzero"`  // of the drops
	Ammeter   MeasuredWith      `json:"ammeter,omitzero"`    // of the test current
	Ohmmeter  MeasuredWith      `json:"ohmmeter,omitzero"`   // of resistances that the rig printed
	Ambient   string            `json:"ambient,omitempty"`   // temperature of the room
	Copper    string            `json:"copper,omitempty"`    // temperature of the conductors
	Steady    bool              `json:"steady,omitempty"`    // constant at the test current
	Length    string            `json:"length,omitempty"`    // by tape
	Plugs     string            `json:"plugs,omitempty"`     // as seen
	Reference string            `json:"reference,omitempty"` // a known resistor in the same fixture
	VBUS      string            `json:"vbus,omitempty"`      // resistance as the rig printed it
	Ground    string            `json:"ground,omitempty"`    // likewise
	Loop      string            `json:"loop,omitempty"`      // likewise
	Nulls     []MeasuredReading `json:"nulls"`               // the fixture alone
	Readings  []MeasuredReading `json:"readings"`            // in the record's order
}

// MeasuredWith is an instrument: its accuracy and calibration as recorded.
type MeasuredWith struct {
	Accuracy    string  `json:"accuracy,omitempty"`    // as the data sheet states it
	Calibrated  string  `json:"calibrated,omitempty"`  // the day
	Due         string  `json:"due,omitempty"`         // the day it is due again
	Certificate string  `json:"certificate,omitempty"` // its number
	Expanded    string  `json:"expanded,omitempty"`    // expanded uncertainty by the certificate
	K           float64 `json:"k,omitempty"`           // coverage factor of Expanded; absent for 2
}

// MeasuredReading is a test current with the drops seen at it.
type MeasuredReading struct {
	Current string `json:"current,omitempty"` // the test current
	VBUS    string `json:"vbus,omitempty"`    // drop over VBUS
	Ground  string `json:"ground,omitempty"`  // drop over ground
	Loop    string `json:"loop,omitempty"`    // drop over both in series
	Flip    string `json:"flip,omitempty"`    // which way up the plug was
	Mating  int    `json:"mating,omitempty"`  // which plugging-in, from 1
}

// howMeasured gathers how a record was measured; nil where nothing was.
func howMeasured(c *Case) *Measured {
	if c.Resistance == nil {
		return nil
	}
	out := &Measured{Dates: []string{}}
	for i := range c.Record.Bench {
		s := &c.Record.Bench[i]
		if d, ok := s.Date.Get(); ok {
			out.Dates = appendNew(out.Dates, d.Format(time.DateOnly))
		}
		latest(&out.Voltmeter, s.Voltmeter)
		latest(&out.Ammeter, s.Ammeter)
		latest(&out.Ohmmeter, s.Ohmmeter)
		if s.Ambient.Known {
			out.Ambient = s.Ambient.Text
		}
		if s.By.Known {
			out.By = s.By.Text
		}
		named := map[int]bool{}
		for j := range s.Readings {
			if m, ok := s.Readings[j].Mating.Get(); ok {
				named[m] = true
			}
		}
		out.Matings += len(named)
		out.Readings += len(s.Readings)
		out.Nulls += len(s.Nulls)
	}
	for i := range c.Bench { // in order of their dates
		out.Sessions = append(out.Sessions, measuredSession(c.Bench[i].Session))
	}
	slices.Sort(out.Dates)
	if rig := c.Record.Used; rig != nil {
		out.Fixture = rig.Fixture.Text
	}
	switch rig := c.Record.Used; {
	case rig != nil && rig.Name.Known:
		out.Rig = rig.Name.Text
	case c.Record.Rig.Known:
		out.Rig = c.Record.Rig.Text
	}
	r := &c.Resistance.Result
	out.Assumed = r.VBUS != nil && r.VBUS.Assumed || r.Ground != nil && r.Ground.Assumed || r.Loop != nil && r.Loop.Assumed
	return out
}

func latest(into *string, a record.Stated[quantity.Accuracy]) {
	if a.Known {
		*into = a.Text
	}
}

func measuredSession(s *record.Session) MeasuredSession {
	out := MeasuredSession{
		By: s.By.Text, Ambient: s.Ambient.Text, Copper: s.Copper.Text, Steady: s.Steady.Value, Length: s.Length.Text, Plugs: s.Plugs.Text,
		VBUS: s.VBUS.Text, Ground: s.Ground.Text, Loop: s.Loop.Text, Nulls: measuredReadings(s.Nulls), Readings: measuredReadings(s.Readings),
		Voltmeter: measuredWith(s.Voltmeter, s.Calibrated.Voltmeter), Ammeter: measuredWith(s.Ammeter, s.Calibrated.Ammeter),
		Ohmmeter: measuredWith(s.Ohmmeter, s.Calibrated.Ohmmeter),
	}
	if d, ok := s.Date.Get(); ok {
		out.Date = d.Format(time.DateOnly)
	}
	if ref, ok := s.Reference.Get(); ok {
		out.Reference = ref.Resistor.Text
		for _, part := range []struct{ name, text string }{{"tolerance ", ref.Tolerance.Text}, {"current ", ref.Current.Text}, {"drop ", ref.Drop.Text}} {
			if part.text != "" {
				out.Reference += ", " + part.name + part.text
			}
		}
	}
	return out
}

func measuredWith(a record.Stated[quantity.Accuracy], c record.Calibration) MeasuredWith {
	out := MeasuredWith{Accuracy: a.Text, Certificate: c.Certificate.Text, Expanded: c.Expanded.Text, K: c.K.Value}
	if d, ok := c.Calibrated.Get(); ok {
		out.Calibrated = d.Format(time.DateOnly)
	}
	if d, ok := c.Due.Get(); ok {
		out.Due = d.Format(time.DateOnly)
	}
	return out
}

func measuredReadings(rs []record.Reading) []MeasuredReading {
	out := make([]MeasuredReading, len(rs))
	for i, r := range rs {
		out[i] = MeasuredReading{r.Current.Text, r.VBUS.Text, r.Ground.Text, r.Loop.Text, r.Flip.Text, r.Mating.Value}
	}
	return out
}
