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
	slices.Sort(out.Dates)
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
