package claims

import (
	"errors"
	"fmt"
	"io/fs"
	"sync/atomic"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/record"
)

// ErrNoRules is what a Checker without rules gives: it would find nothing in any cable.
var ErrNoRules = errors.New("the checker has no rules: take rules.Checker(), or list some in Rules")

// Checker judges records. Package rules has the usual one; a lab adds rules of its own with
// append(rules.All(), own...). A Checker is not changed by its use: many goroutines may share
// one, as long as nobody sets its fields.
type Checker struct {
	// Rules are asked in this order, which is that of the findings of one kind. Their ids
	// differ.
	Rules []*Rule
	// Retired are rules that are asked no more, for the sake of records that waive them.
	Retired []RetiredRule
	// Acceptance is how an estimate is held against a limit, to be agreed before measuring;
	// the zero value decides with a guard band.
	Acceptance bench.Acceptance
	// Limits are a lab's own, in Ω, beside the published ones; they count as those of
	// Acceptance do.
	Limits bench.Limits
	// Assume is the accuracy of instruments of which nothing is on record; the zero value
	// takes [bench.AssumedAccuracy].
	Assume bench.Assumption

	hash atomic.Pointer[string] // of the rules, once asked
}

// RetiredRule is a rule that was once in a catalogue. Its id stays taken.
type RetiredRule struct {
	ID, Reason string // as it stood in the catalogue, with why it left
	Instead    string // the rule that takes its place, or empty
}

// String says why the rule is no longer asked, and what takes its place.
func (r RetiredRule) String() string {
	s := fmt.Sprintf("the rule %q is retired: %s", r.ID, r.Reason)
	if r.Instead != "" {
		s += "; " + r.Instead + " takes its place"
	}
	return s
}

// Check works a record out and asks every rule about it. The error is that of Case,
// a [record.Errors] or [ErrNoRules].
func (ch *Checker) Check(rec *record.Record) (*Report, error) {
	c, err := ch.Case(rec, nil)
	if err != nil {
		return nil, err
	}
	return c.Report(), nil
}

// Case works a record out and holds its waivers against the rules. It is for those who need
// the evidence beside the report, or whose records name files: the marker's words may be the
// name of a capture in files, the folder of the record. With nil, such a record fails with
// [ErrNoFiles]. Names lead to nowhere else.
//
// The error is [ErrNoRules], or a [record.Errors] with a place for each thing that makes no
// sense: words that cannot be read (with a [paste.Errors] or what package signal gives below
// it), readings that give no resistance (with a *[bench.Error] below), a waiver of a rule
// that does not exist.
func (ch *Checker) Case(rec *record.Record, files fs.FS) (*Case, error) {
	if len(ch.Rules) == 0 {
		return nil, ErrNoRules
	}
	if err := record.Validate(rec); err != nil {
		return nil, err
	}
	c, errs := newCase(rec, files, ch.Assume)
	if errs = append(errs, ch.checkWaivers(rec)...); len(errs) > 0 {
		return nil, errs.Listed()
	}
	c.rules, c.checker, c.Acceptance = ch.Rules, ch, ch.Acceptance
	if ch.Limits != (bench.Limits{}) {
		c.Acceptance.Limits = ch.Limits
	}
	return c, nil
}

func (ch *Checker) checkWaivers(rec *record.Record) (errs record.Errors) {
	for _, w := range rec.Waive {
		if ch.Rule(w.Rule.Value) == nil {
			wrong, want := ch.Unknown(w.Rule.Value)
			errs = append(errs, &record.Error{At: w.Rule.At, Key: "waive.rule", Wrong: wrong, Want: want, Err: record.ErrValue})
		}
	}
	return errs
}

// Rule finds a rule by its id, nil if there is none.
func (ch *Checker) Rule(id string) *Rule {
	for _, r := range ch.Rules {
		if r.ID == id {
			return r
		}
	}
	return nil
}

// Unknown says why Rule finds no rule of an id, and what would be right: it is retired, or
// there never was one and another may be meant.
func (ch *Checker) Unknown(id string) (wrong, want string) {
	for _, r := range ch.Retired {
		if r.ID == id {
			return r.String(), "'gainsay rules' lists the others"
		}
	}
	ids := make([]string, len(ch.Rules))
	for i, r := range ch.Rules {
		ids[i] = r.ID
	}
	want = "'gainsay rules' lists them"
	if near := record.Nearest(id, ids); near != "" {
		want = near + "; " + want
	}
	return fmt.Sprintf("no rule is called %q", id), want
}
