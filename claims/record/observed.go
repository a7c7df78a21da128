package record

import (
	"strconv"
	"strings"
	"time"

	"example.com/gainsay/claims/quantity"
)

// Published is what became of a record.
type Published struct {
	Date       Stated[time.Time] // when it was published
	Supersedes Stated[string]    // what it replaces
	Reply      Stated[string]    // what the seller answered
}

// Wires is the continuity of the wires as tested.
type Wires struct {
	USB2       Stated[Continuity] // the pair of USB 2.0
	SuperSpeed Stated[Continuity] // the fast pairs; a count is of lanes
	SBU        Stated[Continuity] // the sideband wires
	CC         Stated[Continuity] // from end to end, or with a resistor in a legacy cable
	VCONN      Stated[Continuity] // the supply of the markers
	Shield     Stated[Continuity] // plug to plug
}

// Continuity is whether a wire is through.
type Continuity struct {
	Through bool    // current passes from plug to plug
	Count   int     // how many are, where they were counted; else 0
	Ohm     float64 // of the CC wire of a legacy cable: its resistor, Ω; else 0
}

// Heat is the temperature of the shell under load.
type Heat struct {
	Current Stated[float64] // the load, A
	Shell   Stated[float64] // °C
	After   Stated[float64] // s
}

// Reference is a known resistor, read in the same fixture on the same day.
type Reference struct {
	Resistor  Stated[float64]           // its value, Ω
	Tolerance Stated[quantity.Accuracy] // in Ω
	Current   Stated[float64]           // through it, A
	Drop      Stated[float64]           // V
}

var publishedKeys = []key[Published]{
	{name: "date", form: "2026-11-02", help: "when it was published", shape: dateShape,
		set: func(d *decoder, n *node, p *Published) { parseDate(d, n, &p.Date) }},
	text("supersedes", "free text", "what it replaces", func(p *Published) *Stated[string] { return &p.Supersedes }),
	text("reply", "free text", "what the seller answered", func(p *Published) *Stated[string] { return &p.Reply }),
}

var wiresKeys = []key[Wires]{
	continuity("usb2", "the pair of USB 2.0", "", func(w *Wires) *Stated[Continuity] { return &w.USB2 }),
	continuity("superspeed", "the fast pairs; a count is of lanes", "lanes", func(w *Wires) *Stated[Continuity] { return &w.SuperSpeed }),
	continuity("sbu", "the sideband wires", "", func(w *Wires) *Stated[Continuity] { return &w.SBU }),
	continuity("cc", "the CC wire; of a legacy cable the resistor, as 56 kohm", "ohm", func(w *Wires) *Stated[Continuity] { return &w.CC }),
	continuity("vconn", "the VCONN wire", "", func(w *Wires) *Stated[Continuity] { return &w.VCONN }),
	continuity("shield", "the shield, plug to plug", "", func(w *Wires) *Stated[Continuity] { return &w.Shield }),
}

// continuity is a key whose value is yes, no or a count; for cc also a resistance.
func continuity(name, help, unit string, field func(*Wires) *Stated[Continuity]) key[Wires] {
	want := "yes, no or a count"
	if unit == "ohm" {
		want += ", or a resistance like 56 kohm"
	}
	return key[Wires]{name: name, form: want, help: help,
		shape: func() *shape { return &shape{Type: []string{"string", "boolean", "integer"}} },
		set: func(d *decoder, n *node, w *Wires) {
			t, ok := d.one(n, want)
			if !ok {
				return
			}
			c, ok := parseContinuity(t, unit)
			if !ok {
				d.fail(n.content, n.path(), ErrValue, strconv.Quote(t)+" is no continuity", "write "+want)
				return
			}
			*field(w) = stated(c, n)
		},
		valid: func(v *checker, w *Wires) {
			if f := field(w); f.Known && (f.Value.Count < 0 || f.Value.Count > mostWires || !(f.Value.Ohm >= 0) || quantity.Resistance.OutOfRange(f.Value.Ohm) != "") {
				v.fail(name, f.At, "this is no continuity", "give "+want)
			}
		}}
}

// mostWires is the most that can be counted: a Type-C plug has 24 contacts.
const mostWires = 24

func parseContinuity(text, unit string) (Continuity, bool) {
	t := strings.ToLower(strings.TrimSpace(text))
	switch t {
	case "yes", "true":
		return Continuity{Through: true}, true
	case "no", "false":
		return Continuity{}, true
	}
	number, rest, _ := strings.Cut(t, " ")
	if n, err := strconv.Atoi(number); err == nil && n >= 0 && n <= mostWires && (rest == "" || rest == "lanes" || rest == "lane") {
		return Continuity{Through: n > 0, Count: n}, rest == "" || unit == "lanes"
	}
	if unit == "ohm" {
		if v, err := quantity.Parse(text, quantity.Resistance); err == nil && v > 0 {
			return Continuity{Through: true, Ohm: v}, true
		}
	}
	return Continuity{}, false
}

var heatKeys = []key[Heat]{
	required(amount("current", "the load", quantity.Current, positive, func(h *Heat) *Stated[float64] { return &h.Current })),
	required(amount("shell", "temperature of the shell", quantity.Temperature, anySign, func(h *Heat) *Stated[float64] { return &h.Shell })),
	amount("after", "how long the load was on", quantity.Time, positive, func(h *Heat) *Stated[float64] { return &h.After }),
}

var referenceKeys = []key[Reference]{
	required(amount("resistor", "its value", quantity.Resistance, positive, func(r *Reference) *Stated[float64] { return &r.Resistor })),
	accuracy("tolerance", "of the resistor, as 0.1 %", quantity.Resistance, func(r *Reference) *Stated[quantity.Accuracy] { return &r.Tolerance }),
	required(amount("current", "the test current", quantity.Current, anySign, func(r *Reference) *Stated[float64] { return &r.Current })),
	required(amount("drop", "the drop over it, over the leads of VBUS", quantity.Voltage, anySign, func(r *Reference) *Stated[float64] { return &r.Drop })),
}

// known is a section that knows whether it was written.
func known[T, U any](name, form, help string, table []key[U], field func(*T) *Stated[U]) key[T] {
	return key[T]{name: name, form: form, help: help,
		set: func(d *decoder, n *node, into *T) {
			s := Stated[U]{At: n.at, Known: true}
			walk(d, n, table, &s.Value)
			*field(into) = s
		},
		inner: keysOf(table), shape: func() *shape { return object(table) },
		valid: func(v *checker, of *T) {
			f := field(of)
			if !f.Known {
				return
			}
			in := v.in(name, &f.At)
			checkKeys(in, table, &f.Value)
			for i := range table {
				if k := &table[i]; k.required && !k.stated(&f.Value) {
					in.failFor(ErrMissingKey, k.name, f.At, "this key is missing", "write it")
				}
			}
		}}
}

// matingKey is which plugging-in of the cable a reading is of.
func matingKey() key[Reading] {
	const want = "a whole number from 1"
	return key[Reading]{name: "mating", form: "1", help: "which plugging-in of the cable it is; readings of one are no independent repeats",
		shape: func() *shape { return &shape{Type: []string{"integer", "string"}, Pattern: "^[0-9]+$"} },
		set: func(d *decoder, n *node, r *Reading) {
			t, ok := d.one(n, want)
			if !ok {
				return
			}
			v, err := strconv.Atoi(t)
			if err != nil || v < 1 || v > mostMatings {
				d.fail(n.content, n.path(), ErrValue, strconv.Quote(t)+" is not the number of a mating", "write "+want+", as in mating: 2")
				return
			}
			r.Mating = stated(v, n)
		},
		valid: func(v *checker, r *Reading) {
			if r.Mating.Known && (r.Mating.Value < 1 || r.Mating.Value > mostMatings) {
				v.fail("mating", r.Mating.At, "this is not the number of a mating", "give "+want)
			}
		}}
}

// mostMatings is what a plug is made for (USB Type-C §3.8.1.3, 10,000 cycles).
const mostMatings = 10000

// photosKey is a list of pictures beside the record.
func photosKey() key[Record] {
	endings := []string{".jpg", ".jpeg", ".png"}
	return key[Record]{name: "photos", form: "a list of names, as nf-014-label.jpg", help: "pictures beside the record, JPEG or PNG",
		shape: func() *shape {
			return orList(&shape{Type: []string{"string"}, Pattern: `\.([jJ][pP][eE]?[gG]|[pP][nN][gG])$`})
		},
		set: func(d *decoder, n *node, r *Record) {
			each(n, func(item *node) {
				t, ok := d.one(item, "the name of a picture")
				if !ok {
					return
				}
				if wrong := badFile(t, endings); wrong != "" {
					d.fail(item.content, item.path(), ErrValue, wrong, "write the bare name of a JPEG or PNG file")
					return
				}
				r.Photos = append(r.Photos, stated(t, item))
			})
		},
		valid: func(v *checker, r *Record) {
			for _, p := range r.Photos {
				if wrong := badFile(p.Value, endings); wrong != "" {
					v.fail("photos", p.At, wrong, "give the bare name of a JPEG or PNG file")
				}
			}
		}}
}
