package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

// Message is the published form of one decoded message. Its JSON is fixed and
// only grows; a value the marker does not state is absent.
type Message struct {
	Version int    `json:"gainsay"`
	ReadAs  string `json:"read_as"`
	At      *Place `json:"at,omitempty"` // absent where there is no text
	// Time is where a packet began in a capture, in seconds.
	Time    *float64  `json:"time_s,omitempty"`
	Reply   ReplyForm `json:"reply"`
	Cable   *Cable    `json:"cable,omitempty"`
	Words   []Word    `json:"words"`
	Remarks []string  `json:"remarks"`
	// Others are readings that fit the text equally well.
	Others []Message `json:"others,omitempty"`
}

// Place is where a message begins in the pasted text.
type Place struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

// ReplyForm says what kind of message it is.
type ReplyForm struct {
	Command           string `json:"command,omitempty"`
	Answer            string `json:"answer,omitempty"`
	SVID              string `json:"svid,omitempty"` // where it is not USB PD's own
	StructuredVersion string `json:"structured_version,omitempty"`
	Revision          string `json:"revision,omitempty"`
	Plug              string `json:"plug,omitempty"`
}

// Cable is what a marker declares, whatever the revision.
type Cable struct {
	Product         string   `json:"product,omitempty"`
	VendorID        string   `json:"vendor_id,omitempty"`
	CertificationID string   `json:"certification_id,omitempty"`
	ProductID       string   `json:"product_id,omitempty"`
	Release         string   `json:"release,omitempty"`
	CurrentA        *int     `json:"current_a,omitempty"`
	MaxVoltageV     *int     `json:"max_voltage_v,omitempty"`
	EPR             *bool    `json:"epr,omitempty"`
	Speed           string   `json:"speed,omitempty"`
	RateGbps        *float64 `json:"rate_gbps,omitempty"`
	Latency         *Latency `json:"latency_ns,omitempty"`
	VCONNRequired   *bool    `json:"vconn_required,omitempty"`
	PlugType        string   `json:"plug_type,omitempty"`

	Modal           *bool `json:"modal,omitempty"`
	VBUSThrough     *bool `json:"vbus_through,omitempty"`
	FarPlug         *bool `json:"far_plug,omitempty"`
	SBU             *bool `json:"sbu,omitempty"`
	Lanes           *int  `json:"lanes,omitempty"`
	USB2            *bool `json:"usb2,omitempty"`
	USB32           *bool `json:"usb32,omitempty"`
	USB4            *bool `json:"usb4,omitempty"`
	Optical         *bool `json:"optical,omitempty"`
	Retimer         *bool `json:"retimer,omitempty"`
	Isolated        *bool `json:"isolated,omitempty"`
	Asymmetric      *bool `json:"asymmetric,omitempty"`
	MaxTemperatureC *int  `json:"max_temperature_c,omitempty"`
	ShutdownC       *int  `json:"shutdown_c,omitempty"`
	HubHops         *int  `json:"hub_hops,omitempty"`
	ChargeThrough   *bool `json:"charge_through,omitempty"`
	VBUSMilliohm    *int  `json:"vbus_milliohm,omitempty"`
	GroundMilliohm  *int  `json:"ground_milliohm,omitempty"`

	SVIDs                []string `json:"svids,omitempty"`
	ThunderboltLaneGbps  *float64 `json:"thunderbolt_lane_gbps,omitempty"`
	ThunderboltActive    *bool    `json:"thunderbolt_active,omitempty"`
	LinearRedriver       *bool    `json:"linear_redriver,omitempty"`
	DisplayPortLaneGbps  *float64 `json:"displayport_lane_gbps,omitempty"`
	DisplayPortConcluded *bool    `json:"displayport_concluded,omitempty"` // not declared by a mode word
}

// Latency is a range of one-way delay in nanoseconds. UpTo is absent where the
// code has no upper end.
type Latency struct {
	Over int  `json:"over"`
	UpTo *int `json:"upto,omitempty"`
}

// Word is one data object with all its 32 bits as fields.
type Word struct {
	Index  int     `json:"index"`
	Word   string  `json:"word"`
	Layout string  `json:"layout"`
	Fields []Field `json:"fields"`
	title  string
}

// Field is a run of bits.
type Field struct {
	Name     string `json:"name"`
	Bits     [2]int `json:"bits"`
	Raw      uint32 `json:"raw"`
	Meaning  string `json:"meaning"`
	Standing string `json:"standing"`
	title    string
	note     string
}

// Failure is a part of the input that could not be read, in JSON.
type Failure struct {
	Version int    `json:"gainsay"`
	Error   string `json:"error"`
	At      *Place `json:"at,omitempty"`
}

// SetAside is a part of the input that was understood but is no cable's answer,
// as a request or the port partner's identity, in JSON.
type SetAside struct {
	Version  int    `json:"gainsay"`
	SetAside string `json:"set_aside"`
	At       *Place `json:"at,omitempty"`
	// Time is where a packet began in a capture, in seconds.
	Time *float64 `json:"time_s,omitempty"`
}

// NewMessage decodes a message that was found in a text.
func NewMessage(m paste.Message) Message {
	r := vdo.Decode(m.Words, m.Context())
	out := Message{
		Version: FormatVersion,
		ReadAs:  m.ReadAs,
		Reply:   replyForm(r),
		Words:   wordsOf(r),
		Remarks: append([]string{}, m.Remarks...),
	}
	if m.From != (paste.Place{}) {
		out.At = &Place{m.From.Line, m.From.Column}
	}
	s := vdo.Summarize(r)
	if c := NewCable(s); c != (&Cable{}) && hasContent(r) {
		out.Cable = c
	}
	for _, a := range r.Assumptions() {
		out.Remarks = append(out.Remarks, a.String())
	}
	if m.Headerless && len(m.Words) == 1 {
		out.Remarks = append(out.Remarks, "a word alone does not say what it is; decode --layout NAME reads it as another")
	}
	if other, ok := r.Otherwise(); ok {
		if d := differences(s, vdo.Summarize(other)); d != "" {
			out.Remarks = append(out.Remarks, "read as a PD 2.0 answer the same words would declare: "+d)
		}
	}
	for _, o := range m.Others {
		out.Others = append(out.Others, NewMessage(o))
	}
	return out
}

// FormatVersion is the version of the JSON forms.
const FormatVersion = 1

// hasContent tells whether a message declares anything about a cable.
func hasContent(r vdo.Reply) bool {
	if r.Context().Plug == vdo.PlugPartner {
		return false
	}
	h, headed := r.Header()
	return r.Identity() || headed && h.Structured() && h.Type() == vdo.ACK && len(r.Words()) > 1
}

func replyForm(r vdo.Reply) ReplyForm {
	ctx := r.Context()
	f := ReplyForm{}
	if ctx.Plug != vdo.PlugUnknown {
		f.Plug = ctx.Plug.String()
	}
	if ctx.Revision != vdo.RevisionUnknown {
		f.Revision = ctx.Revision.String()
	}
	h, ok := r.Header()
	if !ok || !h.Structured() {
		return f
	}
	f.Command, f.Answer, f.StructuredVersion = h.Command().ID(), h.Type().ID(), h.Version()
	if h.SVID() != vdo.SVIDPowerDelivery {
		f.SVID = hex16(h.SVID())
	}
	if f.Revision == "" && h.Version() != "" {
		f.Revision = vdo.Revision3.String()
		if h.Major() == 0 {
			f.Revision = vdo.Revision2.String()
		}
	}
	return f
}

// wordsOf lists the words of a reply with their fields.
func wordsOf(r vdo.Reply) []Word {
	words := make([]Word, 0, len(r.Words()))
	for i, w := range r.Words() {
		words = append(words, newWord(i, w, r.Layout(i)))
	}
	return words
}

// NewWord lists one word in a given layout.
func NewWord(w uint32, l *vdo.Layout) Word { return newWord(0, w, l) }

func newWord(i int, w uint32, l *vdo.Layout) Word {
	out := Word{Index: i, Word: Hex32(w), Layout: l.Name(), title: l.Title()}
	for f := range l.Read(w) {
		out.Fields = append(out.Fields, Field{
			Name: f.Name, Bits: [2]int{f.High(), f.Low()}, Raw: f.Raw,
			Meaning: f.Meaning, Standing: f.Standing.String(), title: f.Title, note: f.Note,
		})
	}
	return out
}

// Hex32 and hex16 print words and identifiers as everywhere in gainsay.
func Hex32(w uint32) string { return fmt.Sprintf("0x%08X", w) }

// hex16 prints a 16-bit identifier.
func hex16(w uint16) string { return fmt.Sprintf("0x%04X", w) }

func ptr[T any](m vdo.Maybe[T]) *T {
	v, ok := m.Get()
	if !ok {
		return nil
	}
	return &v
}

// NewCable gives the published form of what a marker declares.
func NewCable(s vdo.Summary) *Cable {
	c := &Cable{
		CurrentA: ptr(s.Amps), MaxVoltageV: ptr(s.Volts), EPR: ptr(s.EPR),
		VCONNRequired: ptr(s.VCONNRequired), Modal: ptr(s.Modal),
		VBUSThrough: ptr(s.Through), FarPlug: ptr(s.FarPlug), SBU: ptr(s.SBU), Lanes: ptr(s.Lanes),
		USB2: ptr(s.USB2), USB32: ptr(s.USB32), USB4: ptr(s.USB4),
		Optical: ptr(s.Optical), Retimer: ptr(s.Retimer), Isolated: ptr(s.Isolated), Asymmetric: ptr(s.Asymmetric),
		MaxTemperatureC: ptr(s.MaxTemperature), ShutdownC: ptr(s.Shutdown), HubHops: ptr(s.HubHops),
		ChargeThrough: ptr(s.ChargeThrough), VBUSMilliohm: ptr(s.VBUSMilliohm), GroundMilliohm: ptr(s.GroundMilliohm),
		LinearRedriver: ptr(s.LinearRedriver()),
	}
	if p, ok := s.Product.Get(); ok {
		c.Product = p.ID()
	}
	if v, ok := s.VendorID.Get(); ok {
		c.VendorID = hex16(v)
	}
	if v, ok := s.CertificationID.Get(); ok {
		c.CertificationID = Hex32(v)
	}
	if v, ok := s.ProductID.Get(); ok {
		c.ProductID = hex16(v)
	}
	if v, ok := s.Release.Get(); ok {
		c.Release = hex16(v)
	}
	if v, ok := s.Speed.Get(); ok {
		rate := v.Gbps()
		c.Speed, c.RateGbps = v.ID(), &rate
	}
	if d, ok := s.Latency.Get(); ok {
		c.Latency = &Latency{Over: d.Over}
		if d.UpTo != 0 {
			c.Latency.UpTo = &d.UpTo
		}
	}
	if e, ok := s.End.Get(); ok {
		c.PlugType = e.ID()
	}
	if list, ok := s.SVIDs.Get(); ok {
		c.SVIDs = []string{}
		for _, id := range list {
			c.SVIDs = append(c.SVIDs, hex16(id))
		}
	}
	if m, ok := s.Thunderbolt.Get(); ok {
		rate, active := m.Speed().LaneGbps(), m.Active()
		if rate > 0 {
			c.ThunderboltLaneGbps = &rate
		}
		c.ThunderboltActive = &active
	}
	if d, ok := s.DisplayPortRate().Get(); ok && s.Product.Known() {
		concluded := !d.Declared
		c.DisplayPortLaneGbps, c.DisplayPortConcluded = &d.LaneGbps, &concluded
	} else if m, ok := s.DisplayPort.Get(); ok && m.Version() != 0 {
		rate, concluded := m.LaneGbps(), false
		c.DisplayPortLaneGbps, c.DisplayPortConcluded = &rate, &concluded
	}
	return c
}

// differences names the properties in which another reading declares something
// else, as that reading has them.
func differences(a, b vdo.Summary) string {
	var d []string
	differ := func(name, was, is string) {
		if was != is {
			d = append(d, name+" "+is)
		}
	}
	differ("product", product(a), product(b))
	differ("current", amps(a), amps(b))
	differ("highest voltage", volts(a), volts(b))
	differ("EPR", flag(a.EPR), flag(b.EPR))
	differ("speed", speed(a), speed(b))
	differ("latency", delay(a), delay(b))
	differ("other end", end(a), end(b))
	return strings.Join(d, ", ")
}

const notStated = "not stated"

func product(s vdo.Summary) string {
	if p, ok := s.Product.Get(); ok {
		return p.String()
	}
	return notStated
}

func amps(s vdo.Summary) string {
	if a, ok := s.Amps.Get(); ok {
		return fmt.Sprintf("%d A", a)
	}
	return notStated
}

func volts(s vdo.Summary) string {
	if v, ok := s.Volts.Get(); ok {
		return fmt.Sprintf("%d V", v)
	}
	return notStated
}

func flag(m vdo.Maybe[bool]) string {
	switch v, ok := m.Get(); {
	case !ok:
		return notStated
	case v:
		return "yes"
	}
	return "no"
}

func speed(s vdo.Summary) string {
	if v, ok := s.Speed.Get(); ok {
		return v.String()
	}
	return notStated
}

func delay(s vdo.Summary) string {
	if d, ok := s.Latency.Get(); ok {
		return claims.DelayText(d)
	}
	return notStated
}

func end(s vdo.Summary) string {
	if e, ok := s.End.Get(); ok {
		return e.String()
	}
	return notStated
}
