package paste

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// reading is what one reader makes of a text.
type reading struct {
	found  []found
	faults []fault
	more   int // faults beyond MaxErrors
	// preamble is a part in front that whatever follows depends on, as the head of
	// a table.
	preamble extent
	units    []extent // parts that are no more of their form where they are cut
	done     int      // of a text that goes on: what comes before cannot change any more
}

// found is a message or something set aside.
type found struct {
	extent
	since   int // where its context begins, at most start
	message Message
	others  []found
	skipped string // why; empty for a message
	words   int    // how many it has
}

// push appends to a list that may get long: where append makes room, it doubles it,
// so that a list is copied once on the way and not again and again.
func push[T any](list []T, v T) []T {
	if len(list) == cap(list) {
		list = slices.Grow(list, max(4, len(list)))
	}
	return append(list, v)
}

// fault is an Error in the making.
type fault struct {
	extent
	token, wrong, want string
	err                error
}

func (r *reading) fault(f fault) {
	if len(r.faults) >= MaxErrors {
		r.more++
		return
	}
	r.faults = append(r.faults, f)
}

func (r *reading) add(f found) {
	f.since = min(f.since, f.start)
	r.found = push(r.found, f)
}

func (r *reading) skip(e extent, why string) {
	r.add(found{extent: e, since: e.start, skipped: why, words: 1})
}

// join adds what another reading found.
func (r *reading) join(o reading) {
	r.found = append(r.found, o.found...)
	r.units = append(r.units, o.units...)
	for _, f := range o.faults {
		r.fault(f)
	}
	r.more += o.more
}

// wrong counts what was not understood.
func (r *reading) wrong() int { return len(r.faults) + r.more }

// yield counts the words found, set aside or not.
func (r *reading) yield() int {
	n := 0
	for _, f := range r.found {
		n += f.words
	}
	return n
}

// shift moves a reading of a part to the part's place in the whole.
func (r *reading) shift(by int) {
	for i := range r.found {
		f := &r.found[i]
		f.start, f.end, f.since = f.start+by, f.end+by, f.since+by
		for j := range f.others {
			f.others[j].start += by
			f.others[j].end += by
		}
	}
	for i := range r.faults {
		r.faults[i].start += by
		r.faults[i].end += by
	}
	for i := range r.units {
		r.units[i].start += by
		r.units[i].end += by
	}
}

// sort puts everything in the order of the text.
func (r *reading) sort() {
	slices.SortStableFunc(r.found, func(a, b found) int { return cmp.Compare(a.start, b.start) })
	slices.SortStableFunc(r.faults, func(a, b fault) int { return cmp.Compare(a.start, b.start) })
}

// result works out places and gives the public form. The text begins at place
// from.
func (r *reading) result(text string, from Place) (Result, Errors) {
	r.sort()
	r.remarkGaps()
	var res Result
	var marks []mark
	n := 0
	for _, f := range r.found {
		if f.skipped == "" {
			n++
		}
	}
	// The marks point into these, so they must not grow.
	res.Messages = slices.Grow(res.Messages, n)
	res.Skipped = slices.Grow(res.Skipped, len(r.found)-n)
	for _, f := range r.found {
		if f.skipped != "" {
			res.Skipped = append(res.Skipped, Skipped{Why: f.skipped})
			s := &res.Skipped[len(res.Skipped)-1]
			marks = append(marks, mark{f.start, &s.From}, mark{f.last(text), &s.To})
			continue
		}
		res.Messages = append(res.Messages, f.message)
		m := &res.Messages[len(res.Messages)-1]
		marks = append(marks, mark{f.start, &m.From}, mark{f.last(text), &m.To})
		if len(f.others) > 0 {
			m.Others = make([]Message, len(f.others))
		}
		for i, o := range f.others {
			m.Others[i] = o.message
			marks = append(marks, mark{o.start, &m.Others[i].From}, mark{o.last(text), &m.Others[i].To})
		}
	}
	var errs Errors
	for _, f := range r.faults {
		e := &Error{Token: short(f.token), Wrong: f.wrong, Want: f.want, Err: f.err}
		errs = append(errs, e)
		marks = append(marks, mark{f.start, &e.At})
	}
	resolve(text, from, marks)
	if r.more > 0 && len(errs) > 0 {
		errs = append(errs, &Error{At: errs[len(errs)-1].At, Wrong: fmt.Sprintf("%d more parts were not understood", r.more),
			Want: "look whether this is a marker's answer at all", Err: ErrMore})
	}
	if len(res.Messages) == 0 {
		res.Messages = nil
	}
	if len(res.Skipped) == 0 {
		res.Skipped = nil
	}
	return res, errs
}

// remarkGaps says of a message that a word inside it could not be read: the words
// behind it then stand a place too early.
func (r *reading) remarkGaps() {
	faults := r.faults
	for i := range r.found {
		f := &r.found[i]
		for len(faults) > 0 && faults[0].start <= f.start {
			faults = faults[1:]
		}
		next := math.MaxInt
		if i+1 < len(r.found) {
			next = r.found[i+1].start
		}
		if f.skipped == "" && len(faults) > 0 && faults[0].start < next {
			// Words are missing, so it is not known whether all are zero.
			f.message.Remarks = slices.DeleteFunc(f.message.Remarks, func(s string) bool { return s == allZero })
		}
		if f.skipped != "" || len(faults) == 0 || faults[0].start >= f.end {
			continue
		}
		switch faults[0].err {
		case ErrDigit, ErrWidth, ErrHalf:
			f.message.Remarks = append(f.message.Remarks, "a part inside the message could not be read, so what stands behind it may belong a word later")
		}
	}
}
