package claims

import (
	"io/fs"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
)

// CaseBy works a record out, holds its waivers against the catalogue, and sets how
// limits are decided. Its Report is what [CheckBy] gives; it is for those who need
// the evidence beside the report, or whose records name files. The marker's words
// may be the name of a capture in files, the folder of the record; with nil, such a
// record fails with [ErrNoFiles]. Names lead to nowhere else.
//
// The error is a [record.Errors] with a place for each thing that makes no sense:
// words that cannot be read (with a [paste.Errors] or what package signal gives
// below it), readings that give no resistance (with a *[bench.Error] below), a
// waiver of a rule that does not exist.
func CaseBy(rec *record.Record, rule bench.Rule, files fs.FS) (*Case, error) {
	c, errs := newCase(rec, files)
	if errs = append(errs, checkWaivers(rec)...); len(errs) > 0 {
		return nil, errs.Listed()
	}
	c.Rule = rule
	return c, nil
}

// MarkerSupport is the tier that the marker, or its absence, lets a source use.
// Resistance plays no part in it.
func (c *Case) MarkerSupport() Support {
	return markerSupport(c)
}

// SellerAmps is the current in A that the seller's words come to: the current
// claimed, or what the power claimed needs, and never less than the 3 A of every
// Type-C cable. It reports false where neither is claimed.
func (c *Case) SellerAmps() (float64, bool) {
	amps, known := c.Claims.Current.Get()
	if watts, ok := c.Claims.Power.Get(); ok {
		plugs, _ := c.Plugs()
		amps, known = max(amps, neededAmps(watts, plugs)), true
	}
	return max(amps, leastAmps), known
}

// StandingCautions are those that hold for every report.
func StandingCautions() []string { return append([]string{}, standingCautions...) }
