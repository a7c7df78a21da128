package claims

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

// Case is the evidence of one record, ready to be judged: the seller's claims,
// the marker's words decoded, the bench's readings worked out. It remembers what
// rules ask for again and again, so one goroutine at a time may use it, and its
// evidence is not to be changed; Rule may be.
type Case struct {
	Record *record.Record // as it was read
	// Sold are the claims by the place they were read in; Claims joins them, with the
	// highest of each.
	Sold   []record.Claims
	Claims *record.Claims // of all places, the highest of each
	Near   Answer         // of the plug that answers to SOP′
	Far    Answer         // of the plug that answers to SOP″
	Turned Answer         // of the plug that answers to SOP′ with the cable turned round
	// Bench holds every session in order; Resistance is the latest that gives one.
	Bench      []Session
	Resistance *Session // nil where none does
	// Unread is what is wrong with the marker's texts and captures and does not cost the
	// record: packets that are not whole, answers of the other plug. Each is a line to show.
	Unread record.Errors
	// Acceptance decides limits, those of the checker included.
	Acceptance bench.Acceptance

	rules   []*Rule // of the checker
	checker *Checker

	views []*Case // what ends gives
	// noIdentity names the plug without an identity, in what ends gives.
	noIdentity string
	perSource  []*Case               // what bySource gives
	carries    []bench.CableDecision // what was decided already, by Rule
	decided    bench.Acceptance
	warm       *bench.Result // Resistance with the copper bench.RiseKelvin warmer
	wires      []bench.Wire  // that Resistance is like; nil where not yet asked
}

// Answer is what one plug answered.
type Answer struct {
	Name     string          // near, far or turned
	Replies  []vdo.Reply     // every message decoded, in order
	Messages []paste.Message // the same messages with their places in the text
	// Identity is the reply to Discover Identity, valid where Identified.
	Identity   vdo.Reply
	Identified bool        // whether a Discover Identity ACK is among them
	Summary    vdo.Summary // what they declare together
}

// Session is one sitting at the bench with its result.
type Session struct {
	*record.Session
	Result bench.Result // zero where nothing was measured
}

// newCase works a record out. Words or readings that make no sense are a
// record.Errors with their places in the file; the case holds the rest. The
// marker's words may be the name of a file beside the record: files is the folder
// of the record, nil where there is none. Names lead to nowhere else.
func newCase(rec *record.Record, files fs.FS, assume bench.Assumption) (*Case, record.Errors) {
	c := &Case{Record: rec, Sold: rec.Claims, Claims: highest(rec.Claims)}
	m := markerReader{rec: rec, files: files}
	c.Near = m.answer(rec.Marker.Near, vdo.PlugNear, "marker.near")
	c.Far = m.answer(rec.Marker.Far, vdo.PlugFar, "marker.far")
	c.Turned = m.answer(rec.Marker.Turned, vdo.PlugNear, "marker.turned")
	c.Near.Name, c.Far.Name, c.Turned.Name = nearPlug, farPlug, turnedPlug
	errs := m.errs
	c.Unread = m.aside.Listed()
	if rec.Rig.Known && rec.Used == nil {
		errs = append(errs, &record.Error{At: rec.Rig.At, Key: "rig", Wrong: "the rig was not read", Want: "read it with record.ReadRig and give it to the record with UseRig", Err: ErrNoFiles})
	}
	c.Bench = make([]Session, len(rec.Bench))
	for i := range rec.Bench {
		s, out := &rec.Bench[i], &c.Bench[i]
		if s.Table.Known {
			var bad record.Errors
			s, bad = withTable(s, files, benchKey(i, len(rec.Bench)))
			errs = append(errs, bad...)
		}
		out.Session = s
		if measured(s) {
			var bad record.Errors
			nulls := s.Nulls
			out.Result, bad = measure(s, nulls, endsOf(s, c.Claims), assume, benchKey(i, len(rec.Bench)))
			errs = append(errs, bad...)
		}
		if r := &out.Result; r.VBUS != nil || r.Ground != nil || r.Loop != nil {
			c.Resistance = out
		}
	}
	if c.Resistance != nil {
		c.worstOfDay()
	}
	return c, errs
}

// Measure works out a session with any number of nulls, as a table gives them, and an accuracy
// for meters of which nothing is on record.
// What makes no sense is a record.Errors; the result holds what the rest gives.
func Measure(s *record.Session, nulls []record.Reading, assume bench.Assumption) (bench.Result, error) {
	r, errs := measure(s, nulls, endsOf(s, nil), assume, "")
	if errs != nil {
		return r, errs
	}
	return r, nil
}

func measure(s *record.Session, nulls []record.Reading, ends [2]bench.Plug, assume bench.Assumption, key string) (bench.Result, record.Errors) {
	in := benchSession(s, nulls)
	in.Ends, in.Assume = ends, assume
	r, err := bench.Evaluate(in)
	return r, benchErrors(s, nulls, key, err)
}

func benchKey(i, n int) string {
	if n > 1 {
		return fmt.Sprintf("bench[%d]", i)
	}
	return "bench"
}

func measured(s *record.Session) bool {
	return len(s.Readings) > 0 || s.VBUS.Known || s.Ground.Known || s.Loop.Known
}

func benchSession(s *record.Session, nulls []record.Reading) bench.Session {
	out := bench.Session{
		Printed: bench.Printed{VBUSOhm: number(s.VBUS), GroundOhm: number(s.Ground), LoopOhm: number(s.Loop), Digit: finest(s.VBUS, s.Ground, s.Loop)},
	}
	out.Readings = benchReadings(s.Readings)
	out.Nulls = benchReadings(nulls)
	for _, m := range []struct {
		from record.Stated[quantity.Accuracy]
		to   **quantity.Accuracy
	}{{s.Voltmeter, &out.Voltmeter}, {s.Ammeter, &out.Ammeter}, {s.Ohmmeter, &out.Ohmmeter}} {
		if a, ok := m.from.Get(); ok {
			*m.to = &a
		}
	}
	out.Calibrated.VoltmeterVolt, out.Calibrated.AmmeterAmp = s.Calibrated.Voltmeter.Standard(), s.Calibrated.Ammeter.Standard()
	out.Calibrated.OhmmeterOhm = s.Calibrated.Ohmmeter.Standard()
	out.CopperCelsius, out.Steady = number(s.Copper), s.Steady.Value
	out.AmbientCelsius = number(s.Ambient)
	out.LengthMetre = number(s.Length)
	return out
}

func benchErrors(s *record.Session, nulls []record.Reading, key string, err error) record.Errors {
	if err == nil {
		return nil
	}
	all := []error{err}
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		all = j.Unwrap()
	}
	var out record.Errors
	for _, e := range all {
		re := &record.Error{At: s.At, Key: key, Wrong: e.Error(), Err: e}
		var be *bench.Error
		if errors.As(e, &be) {
			re.Wrong, re.Want = be.Wrong, "there should be "+be.Want
			list := map[string][]record.Reading{"readings": s.Readings, "nulls": nulls}[be.List]
			if be.Index >= 0 && be.Index < len(list) {
				re.At = list[be.Index].At
				re.Key = strings.TrimPrefix(fmt.Sprintf("%s.%s[%d]", key, be.List, be.Index), ".")
			}
			if be.Field != "" {
				re.Key = strings.TrimPrefix(re.Key+"."+be.Field, ".")
			}
		}
		out = append(out, re)
	}
	return out.Listed()
}

// MarkerState is how far the marker has testified.
type MarkerState uint8

const (
	MarkerSilent   MarkerState = iota // nobody asked, as far as the record says
	MarkerAbsent                      // asked, and nothing answered: unmarked
	MarkerEvasive                     // answered, but with no identity (NAK, BUSY)
	MarkerAnswered                    // answered with an identity
)

// Marker tells how far the marker has testified.
func (c *Case) Marker() MarkerState {
	switch {
	case c.Near.Identified || c.Far.Identified || c.Turned.Identified:
		return MarkerAnswered
	case c.Evasive() != "":
		return MarkerEvasive
	case c.Record.Marker.Asked.Value:
		return MarkerAbsent
	}
	return MarkerSilent
}

// Plugs are the ends of the cable: as seen, else as claimed. It reports false
// where neither is on record.
func (c *Case) Plugs() (record.Plugs, bool) {
	if p, ok := c.SeenPlugs(); ok {
		return p, true
	}
	return c.Claims.Plugs.Get()
}

// SeenPlugs are the ends as seen at the bench, in the latest session that says.
func (c *Case) SeenPlugs() (record.Plugs, bool) {
	for i := len(c.Bench) - 1; i >= 0; i-- {
		if p, ok := c.Bench[i].Plugs.Get(); ok {
			return p, true
		}
	}
	return "", false
}

// TapeLength is the length by tape in m, in the latest session that says.
func (c *Case) TapeLength() (float64, bool) {
	for i := len(c.Bench) - 1; i >= 0; i-- {
		if l, ok := c.Bench[i].Length.Get(); ok {
			return l, true
		}
	}
	return 0, false
}

// Carries decides whether the copper carries a current. It reports false where
// no resistance is on record.
func (c *Case) Carries(amps float64) (bench.CableDecision, bool) {
	if c.Resistance == nil {
		return bench.CableDecision{}, false
	}
	if c.decided != c.Acceptance {
		c.carries, c.decided = nil, c.Acceptance
	}
	for _, d := range c.carries {
		if d.CurrentAmp == amps {
			return d, true
		}
	}
	d := bench.DecideCable(c.Resistance.Result, amps, c.Acceptance)
	c.carries = append(c.carries, d)
	return d, true
}

// Risen is the resistance as it is when the cable carries a current for long.
func (c *Case) Risen(amps float64) bench.Result {
	if c.Resistance.Result.SteadyAt(amps) {
		return c.Resistance.Result
	}
	if c.warm == nil {
		warm := c.Resistance.Result.Risen(bench.RiseKelvin)
		c.warm = &warm
	}
	return *c.warm
}

// Wires are the solid copper wires that the resistance is like.
func (c *Case) Wires() []bench.Wire {
	if c.wires == nil {
		c.wires = append([]bench.Wire{}, wires(c.Resistance.Result)...)
	}
	return c.wires
}

// Has reports whether a piece of evidence is there. Where the question does not
// arise it says why.
func (c *Case) Has(e Evidence) (have bool, notApplicable string) {
	cl := c.Claims
	switch e {
	case SellerPower:
		return cl.Power.Known, ""
	case SellerCurrent:
		return cl.Current.Known, ""
	case SellerVoltage:
		return cl.Voltage.Known, ""
	case SellerData:
		return cl.Data.Known && !cl.Data.Value.None, ""
	case SellerLength:
		return cl.Length.Known, ""
	case SellerPlugs:
		return cl.Plugs.Known, ""
	case SellerActive:
		return cl.Active.Known, ""
	case SellerMarked:
		return cl.Marked.Known, ""
	case SellerCertified:
		return cl.Certified.Known, ""
	case SellerCertificate:
		return cl.Certificate.Known, ""
	case SellerModes:
		return cl.Modes.Known, ""
	case SellerVideo:
		return cl.Video.Known, ""
	case SellerConductors:
		return cl.Conductors.Known, ""
	case BenchDrop:
		return c.Resistance != nil, ""
	case BenchBoth:
		return c.Resistance != nil && c.Resistance.Result.VBUS != nil && c.Resistance.Result.Ground != nil, ""
	case BenchLength:
		_, ok := c.TapeLength()
		return ok, ""
	case BenchPlugs:
		_, ok := c.SeenPlugs()
		return ok, ""
	case BenchHeat:
		return c.Heated() != nil, ""
	}
	// What follows is the marker's. A legacy cable has none, unless it answers.
	if p, ok := c.Plugs(); ok && p.Legacy() && c.Marker() <= MarkerAbsent {
		return false, fmt.Sprintf("a %s cable carries no marker", p)
	}
	if e == MarkerAsked {
		return c.Marker() != MarkerSilent, ""
	}
	if c.Marker() == MarkerAbsent {
		return false, "the cable is unmarked"
	}
	near := &c.Near
	switch e {
	case MarkerNear:
		return near.Identified, ""
	case MarkerFar:
		if c.Far.Identified && c.Near.Identified || c.Turned.Identified && (c.Near.Identified || c.Far.Identified) {
			return true, ""
		}
		some := c.someEnd().Near.Summary
		if p, ok := some.Product.Get(); ok && !c.Far.Identified && (p != vdo.ActiveType || some.FarPlug.Is(isFalse)) {
			return false, "the plug that answered declares no controller at the other end"
		}
		return false, ""
	case MarkerHeader:
		_, ok := near.Identity.Header()
		return near.Identified && ok, ""
	case MarkerCable:
		return near.Identified && hasCableWord(&near.Identity), ""
	case MarkerSVIDs:
		_, asked := near.ListedSVIDs()
		return asked, near.noModes()
	case MarkerThunderbolt:
		return near.Summary.Thunderbolt.Known(), near.noMode(vdo.SVIDThunderbolt)
	case MarkerDisplayPort:
		return near.Summary.DisplayPort.Known(), near.noMode(vdo.SVIDDisplayPort)
	case MarkerMessageHeader:
		_, ok := near.Identity.Header()
		return near.Identified && ok && near.Identity.Context().Revision != vdo.RevisionUnknown, ""
	}
	return false, ""
}

func hasCableWord(r *vdo.Reply) bool {
	_, pd2 := r.PD2()
	_, passive := r.Passive()
	_, active := r.Active1()
	_, vpd := r.VPD()
	return pd2 || passive || active || vpd
}

// noModes says why nothing more is to be had about modes, where the identity
// denies them and no other answer is on record.
func (a *Answer) noModes() string {
	if _, asked := a.ListedSVIDs(); asked || a.Summary.HasSVID(vdo.SVIDThunderbolt).Known() || a.Summary.HasSVID(vdo.SVIDDisplayPort).Known() {
		return ""
	}
	if a.Summary.Modal.Is(isFalse) {
		return "the marker supports no modes"
	}
	return ""
}

// noMode says why no mode word is to be had under an SVID.
func (a *Answer) noMode(svid uint16) string {
	if n, asked := a.ListedSVIDs(); asked && n == 0 {
		return "the marker lists no modes"
	}
	if a.Summary.HasSVID(svid).Is(isFalse) {
		return "the marker does not list this mode"
	}
	return a.noModes()
}

// Version is the structured version of the identity: of its header, or else the
// one its layout belongs to.
func (a *Answer) Version() string {
	if h, ok := a.Identity.Header(); ok && h.Version() != "" {
		return h.Version()
	}
	if a.Identity.PD2Layout() {
		return "1.0"
	}
	return "2.0"
}

// ListedSVIDs gives the number of SVIDs the plug listed, and whether Discover SVIDs
// was answered at all; a NAK is an answer that lists none.
func (a *Answer) ListedSVIDs() (n int, asked bool) {
	if list, ok := a.Summary.SVIDs.Get(); ok {
		return len(list), true
	}
	for _, r := range a.Replies {
		if h, ok := r.Header(); ok && h.Is(vdo.SVIDPowerDelivery, vdo.DiscoverSVIDs, vdo.NAK) {
			return 0, true
		}
	}
	return 0, false
}
