package shelf

import (
	"fmt"
	"strconv"
	"strings"
)

// LotOutcome is what a sampling plan says about a batch.
type LotOutcome string

// The outcomes of a sampling plan.
const (
	LotAccept   LotOutcome = "accept"   // no more failures than allowed, whatever is not settled yet
	LotReject   LotOutcome = "reject"   // more failures than allowed
	LotContinue LotOutcome = "continue" // more has to be tested or settled
)

// Lot is a batch of a size on record, judged by a sampling plan.
type Lot struct {
	Size    int        // about.lot
	Plan    Plan       // the smallest that keeps the shelf's risks
	Outcome LotOutcome // empty where Wrong is not
	// FailingLow and FailingHigh bound the number of failures in the whole lot at
	// Confidence, by LotInterval; the undecided count as Batch.Low and High say. Both are
	// zero where nothing was measured.
	FailingLow, FailingHigh int
	Wrong                   string // why there is no outcome; empty where there is one
}

// Left is how many cables are still to be measured for the plan.
func (b Batch) Left() int {
	if b.Lot == nil || b.Lot.Outcome != LotContinue {
		return 0
	}
	return max(0, b.Lot.Plan.Test-b.Measured())
}

// judgeLot judges a batch by the sizes that its records state; nil where none does.
// The outcome is given as soon as no further sample of the plan can change it. Where more
// are measured than the plan needs, the number allowed stays, which errs towards rejecting.
func (b Batch) judgeLot(sizes []string, risks Risks) *Lot {
	if len(sizes) == 0 {
		return nil
	}
	wrong := func(format string, args ...any) *Lot { return &Lot{Wrong: fmt.Sprintf(format, args...)} }
	size := 0
	for _, text := range sizes {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		switch {
		case err != nil || n < 1 || n > MaxLot:
			return wrong("about.lot %q is not a number of cables from 1 to %d", text, MaxLot)
		case size != 0 && n != size:
			return wrong("records of this batch state lots of %d and %d", size, n)
		}
		size = n
	}
	n := b.Measured()
	if b.Sampled > size {
		return wrong("%d samples of a lot of %d", b.Sampled, size)
	}
	risks.Lot = size
	plan, err := risks.Plan()
	if err != nil {
		return wrong("%v", err)
	}
	l := &Lot{Size: size, Plan: plan, Outcome: LotContinue}
	switch {
	case b.Over > plan.Allow:
		l.Outcome = LotReject
	case b.Over+b.Undecided+max(0, plan.Test-n) <= plan.Allow:
		l.Outcome = LotAccept
	}
	if n > 0 {
		l.FailingLow, _, _ = LotInterval(b.Over, n, size, Confidence)
		_, l.FailingHigh, _ = LotInterval(b.Over+b.Undecided, n, size, Confidence)
	}
	return l
}
