package claims

import (
	"slices"

	"example.com/gainsay/vdo"
)

// A cable has up to two markers, one in each plug, and which of them answers on SOP′
// depends on the end that supplies VCONN. So what a marker declares is judged as a host
// at each end would read it, and the lesser of two answers counts.

// The names of the answers, as findings and keys of the record have them.
const (
	nearPlug   = "near"   // read on SOP′
	farPlug    = "far"    // read on SOP″
	turnedPlug = "turned" // read on SOP′ with the cable turned round
)

// Answers are those on record, in the order of the record's keys.
func (c *Case) Answers() [3]*Answer { return [3]*Answer{&c.Near, &c.Far, &c.Turned} }

// Ends lists the case once for each plug that declares something of its own, with that
// plug's answer as Near. The order follows what they declare, not which is called near:
// the lesser power first. It is empty where no plug gave an identity.
func (c *Case) Ends() []*Case {
	if c.views == nil || len(c.views) > 0 && c.views[0].Acceptance != c.Acceptance {
		c.views = c.eachEnd()
	}
	return c.views
}

func (c *Case) eachEnd() []*Case {
	identified := make([]*Answer, 0, 3)
	for _, a := range c.Answers() {
		if a.Identified {
			identified = append(identified, a)
		}
	}
	out := make([]*Case, 0, 3)
	if len(identified) == 1 && identified[0] == &c.Near {
		return append(out, c)
	}
	for _, a := range identified {
		one := a.withModes(identified)
		if slices.ContainsFunc(out, func(v *Case) bool { return sameAnswer(&v.Near, &one) }) {
			continue
		}
		view := *c
		view.Near, view.noIdentity = one, c.Evasive()
		view.views = []*Case{&view}
		out = append(out, &view)
	}
	slices.SortFunc(out, func(a, b *Case) int {
		if d := a.NearSupport().Tier.Watts - b.NearSupport().Tier.Watts; d != 0 {
			return d
		}
		return slices.Compare(a.Near.Identity.Words(), b.Near.Identity.Words())
	})
	return out
}

// withModes is an answer with the modes of the plugs that were asked for them, where it
// was not asked itself: modes are asked on SOP′ only. A plug that supports no modes has
// none to lend or to borrow.
func (a *Answer) withModes(others []*Answer) Answer {
	out := *a
	if a.askedForModes() || a.Summary.Modal.Is(isFalse) {
		return out
	}
	for _, o := range others {
		if o == a || !o.askedForModes() {
			continue
		}
		replies := slices.Clone(a.Replies)
		for _, r := range o.Replies {
			if !r.Identity() {
				replies = append(replies, r)
			}
		}
		out.Replies, out.Summary = replies, vdo.Summarize(replies...)
		break
	}
	return out
}

func (a *Answer) askedForModes() bool {
	_, asked := a.ListedSVIDs()
	return asked || a.Summary.HasSVID(vdo.SVIDThunderbolt).Known() || a.Summary.HasSVID(vdo.SVIDDisplayPort).Known()
}

// sameAnswer reports whether two plugs declare the same: the same words behind the VDM
// header, and the same replies about modes.
func sameAnswer(a, b *Answer) bool {
	if !slices.Equal(afterHeader(a.Identity), afterHeader(b.Identity)) || a.Identity.PD2Layout() != b.Identity.PD2Layout() {
		return false
	}
	modes := func(a *Answer) (words []uint32) {
		for _, r := range a.Replies {
			if !r.Identity() {
				words = append(words, r.Words()...)
			}
		}
		return words
	}
	return slices.Equal(modes(a), modes(b))
}

func afterHeader(r vdo.Reply) []uint32 {
	words := r.Words()
	if _, headed := r.Header(); headed {
		return words[1:]
	}
	return words
}

// someEnd is the case as the plug with the least power sees it, or the case itself where
// no plug gave an identity.
func (c *Case) someEnd() *Case {
	if ends := c.Ends(); len(ends) > 0 {
		return ends[0]
	}
	return c
}

// plugsDiffer reports whether the plugs declare different power, or one of them gave no
// identity, so that it depends on the end what a source may do.
func (c *Case) plugsDiffer() bool {
	ends := c.Ends()
	if len(ends) > 0 && c.Evasive() != "" {
		return true
	}
	return len(ends) > 1 && slices.ContainsFunc(ends[1:], func(e *Case) bool {
		a, b := &ends[0].Near.Summary, &e.Near.Summary
		return a.Amps != b.Amps || a.Volts != b.Volts || a.EPR != b.EPR || a.Product != b.Product
	})
}

// Evasive names a plug that answered without an identity, empty if there is none.
func (c *Case) Evasive() string {
	if c.noIdentity != "" {
		return c.noIdentity
	}
	for i, a := range c.Answers() {
		if !a.Identified && len(a.Replies) > 0 {
			return [...]string{nearPlug, farPlug, turnedPlug}[i]
		}
	}
	return ""
}

// perPlug reports whether a rule asks about one plug's answer, so that it is asked for
// each. A rule that compares plugs is asked once.
func (r *Rule) perPlug() bool {
	per := false
	for _, e := range r.Needs {
		switch e {
		case MarkerFar:
			return false
		case MarkerNear, MarkerHeader, MarkerCable, MarkerSVIDs, MarkerThunderbolt, MarkerDisplayPort, MarkerMessageHeader:
			per = true
		}
	}
	return per
}

// DefaultCurrent reports whether the plug declares an active cable of current code 00b,
// which PD R3.0 V2.0 (T 6-39) calls the default current of USB and later revisions call
// invalid.
func (a *Answer) DefaultCurrent() bool {
	w, ok := a.Identity.Active1()
	return ok && w.Through() && w.Current() == 0
}

// HasThunderbolt reports whether the plug answers for Thunderbolt; known is false where it
// was not asked.
func (a *Answer) HasThunderbolt() (has, known bool) {
	s := &a.Summary
	if s.Modal.Is(isFalse) && !s.SVIDs.Known() && !s.Thunderbolt.Known() {
		return false, true
	}
	return s.HasSVID(vdo.SVIDThunderbolt).Get()
}
