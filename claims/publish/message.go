package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

// Message is the published form of one decoded message. Its JSON is fixed and
// only grows; a value the marker does not state is absent.
type Message struct {
	Version int    `json:"gainsay"`      // version of the format, as FormatVersion
	ReadAs  string `json:"read_as"`      // how the text was read
	At      *Place `json:"at,omitempty"` // absent where there is no text
	// Time is where a packet began in a capture, in seconds.
	Time    *float64  `json:"time_s,omitempty"`
	Reply   ReplyForm `json:"reply"`           // what kind of message it is
	Cable   *Cable    `json:"cable,omitempty"` // what it declares; absent where it declares nothing
	Words   []Word    `json:"words"`           // the data objects in order
	Remarks []string  `json:"remarks"`         // what was assumed or noticed
	// Others are readings that fit the text equally well.
	Others []Message `json:"others,omitempty"`
}

// Place is where a message begins in the pasted text.
type Place struct {
	Line   int `json:"line"`   // from 1
	Column int `json:"column"` // in characters, from 1
}

// ReplyForm says what kind of message it is.
type ReplyForm struct {
	Command           string `json:"command,omitempty"`            // as "discover-identity"; absent where there is no VDM header
	Answer            string `json:"answer,omitempty"`             // request, ack, nak or busy
	SVID              string `json:"svid,omitempty"`               // where it is not USB PD's own
	StructuredVersion string `json:"structured_version,omitempty"` // as "2.0"
	Revision          string `json:"revision,omitempty"`           // of USB PD, as "3.x"
	Plug              string `json:"plug,omitempty"`               // near, far or partner; absent where nothing said which
}

// Cable is what a marker declares, whatever the revision.
type Cable struct {
	Product         string   `json:"product,omitempty"`          // as "passive-cable"
	VendorID        string   `json:"vendor_id,omitempty"`        // as "0x2FA1"
	CertificationID string   `json:"certification_id,omitempty"` // the XID, 0x00000000 for none
	ProductID       string   `json:"product_id,omitempty"`       // as "0x0102"
	Release         string   `json:"release,omitempty"`          // bcdDevice, as "0x0100"
	CurrentA        *int     `json:"current_a,omitempty"`        // VBUS current, A
	MaxVoltageV     *int     `json:"max_voltage_v,omitempty"`    // highest VBUS voltage, V
	EPR             *bool    `json:"epr,omitempty"`              // built for Extended Power Range
	Speed           string   `json:"speed,omitempty"`            // highest USB signalling, as "usb4-gen3"
	RateGbps        *float64 `json:"rate_gbps,omitempty"`        // what the name of Speed promises, Gbps
	Latency         *Latency `json:"latency_ns,omitempty"`       // one-way delay
	VCONNRequired   *bool    `json:"vconn_required,omitempty"`   // the plug needs VCONN after discovery
	PlugType        string   `json:"plug_type,omitempty"`        // what the plug leads to

	Modal           *bool `json:"modal,omitempty"`             // says that it has alternate modes
	VBUSThrough     *bool `json:"vbus_through,omitempty"`      // VBUS runs through the cable
	FarPlug         *bool `json:"far_plug,omitempty"`          // the far plug has a marker of its own
	SBU             *bool `json:"sbu,omitempty"`               // the sideband wires are there
	Lanes           *int  `json:"lanes,omitempty"`             // USB 3.2 lanes, 1 or 2
	USB2            *bool `json:"usb2,omitempty"`              // carries USB 2.0
	USB32           *bool `json:"usb32,omitempty"`             // carries USB 3.2
	USB4            *bool `json:"usb4,omitempty"`              // carries USB4
	Optical         *bool `json:"optical,omitempty"`           // the medium is optical
	Retimer         *bool `json:"retimer,omitempty"`           // re-timer, not re-driver
	Isolated        *bool `json:"isolated,omitempty"`          // optically isolated
	Asymmetric      *bool `json:"asymmetric,omitempty"`        // USB4 asymmetric mode
	MaxTemperatureC *int  `json:"max_temperature_c,omitempty"` // inside the plug, °C
	ShutdownC       *int  `json:"shutdown_c,omitempty"`        // where it switches off, °C
	HubHops         *int  `json:"hub_hops,omitempty"`          // USB 2.0 hub hops it uses up
	ChargeThrough   *bool `json:"charge_through,omitempty"`    // of a VCONN-powered device
	VBUSMilliohm    *int  `json:"vbus_milliohm,omitempty"`     // of a VCONN-powered device, mΩ
	GroundMilliohm  *int  `json:"ground_milliohm,omitempty"`   // of a VCONN-powered device, mΩ

	SVIDs                []string `json:"svids,omitempty"`                 // as "0x8087", in the order answered
	ThunderboltLaneGbps  *float64 `json:"thunderbolt_lane_gbps,omitempty"` // highest rate of a lane
	ThunderboltActive    *bool    `json:"thunderbolt_active,omitempty"`    // its mode word says that it has electronics
	LinearRedriver       *bool    `json:"linear_redriver,omitempty"`       // passive by its ID header, active by its mode word
	DisplayPortLaneGbps  *float64 `json:"displayport_lane_gbps,omitempty"` // highest rate of a lane; 0 for none
	DisplayPortConcluded *bool    `json:"displayport_concluded,omitempty"` // not declared by a mode word
}

// Latency is a range of one-way delay in nanoseconds. UpTo is absent where the
// code has no upper end.
type Latency struct {
	Over int  `json:"over"`           // more than this, ns
	UpTo *int `json:"upto,omitempty"` // and no more than this, ns
}

// Word is one data object with all its 32 bits as fields.
type Word struct {
	Index  int     `json:"index"`  // its place in the message, from 0
	Word   string  `json:"word"`   // as "0xFF00A041"
	Layout string  `json:"layout"` // the name of its layout
	Fields []Field `json:"fields"` // from bit 31 down, all 32 bits once
	title  string
}

// Field is a run of bits.
type Field struct {
	Name     string `json:"name"`     // as in the layout
	Bits     [2]int `json:"bits"`     // first and last, 31 to 0
	Raw      uint32 `json:"raw"`      // the number in the field
	Meaning  string `json:"meaning"`  // in words
	Standing string `json:"standing"` // defined, reserved, deprecated or ignored
	title    string
	note     string
}

// Failure is a part of the input that could not be read, in JSON.
type Failure struct {
	Version int    `json:"gainsay"`      // version of the format, as FormatVersion
	Error   string `json:"error"`        // what was wrong, where, and what would be right; a line each
	At      *Place `json:"at,omitempty"` // the place of the first, where there is one
}

// SetAside is a part of the input that was understood but is no cable's answer,
// as a request or the port partner's identity, in JSON.
type SetAside struct {
	Version  int    `json:"gainsay"`      // version of the format, as FormatVersion
	SetAside string `json:"set_aside"`    // what it is
	At       *Place `json:"at,omitempty"` // where it begins; absent where there is no text
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
		f.SVID = say.ID(h.SVID())
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

// LoneWord is the published form of a word that is read by itself, in a layout that
// somebody named.
type LoneWord struct {
	Version int `json:"gainsay"` // version of the format, as FormatVersion
	Word
}

// NewLoneWord gives the published form of one word in a given layout.
func NewLoneWord(w uint32, l *vdo.Layout) LoneWord { return LoneWord{FormatVersion, newWord(0, w, l)} }

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

// Hex32 prints a word as everywhere in gainsay, as "0xFF00A041".
func Hex32(w uint32) string { return say.Word(w) }

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
		c.VendorID = say.ID(v)
	}
	if v, ok := s.CertificationID.Get(); ok {
		c.CertificationID = Hex32(v)
	}
	if v, ok := s.ProductID.Get(); ok {
		c.ProductID = say.ID(v)
	}
	if v, ok := s.Release.Get(); ok {
		c.Release = say.ID(v)
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
			c.SVIDs = append(c.SVIDs, say.ID(id))
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
		return say.Delay(d)
	}
	return notStated
}

func end(s vdo.Summary) string {
	if e, ok := s.End.Get(); ok {
		return e.String()
	}
	return notStated
}
