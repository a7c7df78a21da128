package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/gainsay/claims/internal/label"
	"example.com/gainsay/claims/quantity"
)

// The tables of keys: the one place that says what a record may hold.

var recordKeys = []key[Record]{
	{name: "gainsay", form: "1", help: "version of the record format", required: true,
		shape: func() *shape { return &shape{Enum: []any{Version, strconv.Itoa(Version)}} },
		// Its value is held against Version before anything else is read.
		set: func(d *decoder, n *node, _ *Record) { d.one(n, "the version") }},
	{name: "cable", form: "NF-014", help: "your own id for the cable", required: true, shape: someText,
		set: func(d *decoder, n *node, r *Record) {
			if t, ok := d.filled(n, "the id", "give the cable an id of your own"); ok {
				r.Cable = stated(t, n)
			}
		}, valid: func(v *checker, r *Record) { v.filled("cable", r.Cable, "the id", "give the cable an id of your own") }},
	text("label", "free text", "what it is and looks like", func(r *Record) *Stated[string] { return &r.Label }),
	{name: "about", form: "free keys", help: "seller, model, bought, price, note: anything worth keeping", set: setAbout, shape: aboutShape},
	known("published", "{date: 2026-11-02, supersedes: ..., reply: ...}", "what became of the record", publishedKeys,
		func(r *Record) *Stated[Published] { return &r.Published }),
	photosKey(),
	fileName("rig", "bench-a.rig.yaml", "the rig it was measured with: a file beside the record or in a folder above it",
		[]string{RigEnding}, func(r *Record) *Stated[string] { return &r.Rig }),
	{name: "claims", form: "keys as below, or a list of such mappings, each with its source",
		help: "what the seller says; leave out what is not said", set: setClaims, inner: keysOf(claimKeys),
		shape: func() *shape { return orList(object(claimKeys)) },
		valid: func(v *checker, r *Record) { checkEach(v, "claims", claimKeys, r.Claims); v.sources(r.Claims) }},
	section("marker", "what the chip says", markerKeys, func(r *Record) *MarkerWords { return &r.Marker }),
	{name: "bench", form: "one session or a list of them", help: "what was measured",
		set: setBench, inner: keysOf(sessionKeys), shape: func() *shape { return orList(object(sessionKeys)) },
		valid: func(v *checker, r *Record) { checkEach(v, "bench", sessionKeys, r.Bench) }},
	{name: "waive", form: "a list of {rule, reason}", help: "findings to set aside, each with a reason",
		set: setWaive, inner: keysOf(waiverKeys), shape: func() *shape { return orList(object(waiverKeys)) },
		valid: func(v *checker, r *Record) { checkEach(v, "waive", waiverKeys, r.Waive) }},
}

var claimKeys = []key[Claims]{
	claimed("power", `"100 W" or "20V/5A"`, "the wattage claimed", label.Power, valueShape("100 W", "20V/5A"),
		func(c *Claims) *Stated[float64] { return &c.Power }, positiveOf("power", quantity.Power)),
	claimed("current", `"5 A"`, "the current claimed", label.Current, valueShape("5 A"),
		func(c *Claims) *Stated[float64] { return &c.Current }, positiveOf("current", quantity.Current)),
	claimed("voltage", `"20 V"`, "the voltage claimed", label.Voltage, valueShape("20 V"),
		func(c *Claims) *Stated[float64] { return &c.Voltage }, positiveOf("voltage", quantity.Voltage)),
	claimed("data", `"40 Gbps", a standard's name, or none`, "the data rate claimed", readData, wordShape("40 Gbps", label.Standards()[0], "none"),
		func(c *Claims) *Stated[DataClaim] { return &c.Data }, (*checker).data),
	claimed("length", `"1.98 m", "6 ft" or "6 ft 6 in"`, "the length claimed", label.Length, valueShape("2 m", "6 ft 6 in"),
		func(c *Claims) *Stated[float64] { return &c.Length }, positiveOf("length", quantity.Length)),
	claimed("plugs", `"USB-C to USB-A", or one of `+nameList(plugNames), "the ends as sold", readPlugs, wordShape("c-to-c", "USB-C to USB-A"),
		func(c *Claims) *Stated[Plugs] { return &c.Plugs }, validPlugs),
	claimed("active", "yes or no, active or passive", "sold as an active cable", label.Active, truthTextShape("active"),
		func(c *Claims) *Stated[bool] { return &c.Active }, nil),
	claimed("marked", `yes or no, or "e-marker"`, "said to have a marker", label.Marked, truthTextShape("e-marker"),
		func(c *Claims) *Stated[bool] { return &c.Marked }, nil),
	claimed("certified", `yes or no, or "USB-IF certified"`, "said to be USB-IF certified", label.Certified, truthTextShape("USB-IF certified"),
		func(c *Claims) *Stated[bool] { return &c.Certified }, nil),
	claimed("certificate", "12345", "the certification number printed, if any", readCertificate, textShape("12345"),
		func(c *Claims) *Stated[string] { return &c.Certificate }, nil),
	{name: "modes", form: "a list of " + nameList(modeNames), help: "alternate modes claimed", set: setModes, empty: noValue,
		shape: func() *shape { return orList(wordShape("displayport", "thunderbolt-4")()) },
		valid: func(v *checker, c *Claims) { v.modes(c.Modes) }},
	claimed("video", `"8K60" or "3840x2160@60"`, "the picture claimed", readVideo, wordShape("8K60", "3840x2160@60"),
		func(c *Claims) *Stated[VideoClaim] { return &c.Video }, (*checker).video),
	claimed("conductors", `"20 AWG" or "0.5 mm²"`, "the conductor size claimed", label.Conductors, valueShape("20 AWG", "0.5 mm²"),
		func(c *Claims) *Stated[float64] { return &c.Conductors }, positiveOf("conductors", quantity.Area)),
	text("source", `"product page, 2026-10-02"`, "where the claims were read",
		func(c *Claims) *Stated[string] { return &c.Source }),
}

var markerKeys = []key[MarkerWords]{
	pasted("near", "what SOP′ answered: anything that decode reads", func(m *MarkerWords) *Stated[Pasted] { return &m.Near }),
	pasted("far", "what SOP″ answered", func(m *MarkerWords) *Stated[Pasted] { return &m.Far }),
	pasted("turned", "what SOP′ answered with the cable turned round", func(m *MarkerWords) *Stated[Pasted] { return &m.Turned }),
	truth("asked", "true: it was asked, and with no words above nothing answered",
		func(m *MarkerWords) *Stated[bool] { return &m.Asked }),
	{name: "revision", form: `"2.0" or "3.0"`, help: "only where the words come without a header", set: setRevision,
		shape: func() *shape { return exampleText("3.0") }, valid: func(v *checker, m *MarkerWords) { v.revision(m.Revision) }},
}

var sessionKeys = []key[Session]{
	{name: "date", form: "2026-10-05", help: "the day", shape: dateShape, set: func(d *decoder, n *node, s *Session) {
		parseDate(d, n, &s.Date)
	}},
	text("by", "M. Tarn", "who measured", func(s *Session) *Stated[string] { return &s.By }),
	amount("length", "by tape, plug to plug", quantity.Length, positive, func(s *Session) *Stated[float64] { return &s.Length }),
	choice("plugs", "the ends as seen", plugNames, func(s *Session) *Stated[Plugs] { return &s.Plugs }),
	amount("ambient", "temperature of the room", quantity.Temperature, anySign,
		func(s *Session) *Stated[float64] { return &s.Ambient }),
	amount("copper", "temperature of the conductors while they were read", quantity.Temperature, anySign,
		func(s *Session) *Stated[float64] { return &s.Copper }),
	truth("steady", "the readings were constant at the test current", func(s *Session) *Stated[bool] { return &s.Steady }),
	known("wires", "{usb2: yes, superspeed: 2 lanes, sbu: yes, cc: yes, vconn: no, shield: yes}", "continuity as tested",
		wiresKeys, func(s *Session) *Stated[Wires] { return &s.Wires }),
	known("heat", "{current: 5 A, shell: 44 °C, after: 60 min}", "temperature of the shell under load",
		heatKeys, func(s *Session) *Stated[Heat] { return &s.Heat }),
	known("reference", "{resistor: 100.0 mohm, tolerance: 0.1 %, current: 1 A, drop: 100.4 mV}", "a known resistor in the same fixture that day",
		referenceKeys, func(s *Session) *Stated[Reference] { return &s.Reference }),
	meter("voltmeter", "its accuracy as the data sheet states it", quantity.Voltage, voltmeterKeys,
		func(s *Session) instrument { return instrument{&s.Voltmeter, &s.Calibrated.Voltmeter} }),
	meter("ammeter", "its accuracy as the data sheet states it", quantity.Current, ammeterKeys,
		func(s *Session) instrument { return instrument{&s.Ammeter, &s.Calibrated.Ammeter} }),
	meter("ohmmeter", "the accuracy of a rig that prints resistance", quantity.Resistance, ohmmeterKeys,
		func(s *Session) instrument { return instrument{&s.Ohmmeter, &s.Calibrated.Ohmmeter} }),
	nullKey(func(s *Session) *[]Reading { return &s.Nulls }),
	{name: "readings", form: "a list of {current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}",
		help: "test current and the drops seen at it, over each conductor or over the loop; or a table in CSV beside the record",
		set: func(d *decoder, n *node, s *Session) {
			if n.kind == scalar {
				setTable(d, n, s)
				return
			}
			s.Readings = slices.Grow(s.Readings, n.count())
			each(n, func(item *node) {
				s.Readings = append(s.Readings, Reading{At: item.at})
				readReading(d, item, &s.Readings[len(s.Readings)-1])
			})
		}, inner: keysOf(readingKeys), shape: func() *shape {
			some := orList(readingShape())
			some.AnyOf = append(some.AnyOf, &shape{Type: []string{"string"}, Pattern: `\.[cC][sS][vV]$`})
			return some
		}, valid: func(v *checker, s *Session) {
			if s.Table.Known {
				if wrong := badFile(s.Table.Value, tableEndings); wrong != "" {
					v.fail("readings", s.Table.At, wrong, "give the bare name of a table in CSV")
				}
			}
			for i := range s.Readings {
				in := v.in(fmt.Sprintf("readings[%d]", i), &s.Readings[i].At)
				checkKeys(in, readingKeys, &s.Readings[i])
				in.reading(&s.Readings[i])
			}
		}},
	amount("vbus", "resistance of VBUS, where the rig prints resistance", quantity.Resistance, notNegative,
		func(s *Session) *Stated[float64] { return &s.VBUS }),
	amount("ground", "resistance of ground, where the rig prints resistance", quantity.Resistance, notNegative,
		func(s *Session) *Stated[float64] { return &s.Ground }),
	amount("loop", "resistance of the loop, where the rig prints resistance", quantity.Resistance, notNegative,
		func(s *Session) *Stated[float64] { return &s.Loop }),
	text("note", "free text", "anything worth keeping", func(s *Session) *Stated[string] { return &s.Note }),
}

var readingKeys = []key[Reading]{
	required(amount("current", "the test current", quantity.Current, anySign, func(r *Reading) *Stated[float64] { return &r.Current })),
	amount("vbus", "the drop over VBUS", quantity.Voltage, anySign, func(r *Reading) *Stated[float64] { return &r.VBUS }),
	amount("ground", "the drop over ground", quantity.Voltage, anySign, func(r *Reading) *Stated[float64] { return &r.Ground }),
	amount("loop", "the drop over the loop, when only that is known", quantity.Voltage, anySign,
		func(r *Reading) *Stated[float64] { return &r.Loop }),
	choice("flip", "orientation of the plug", []string{"up", "down"}, func(r *Reading) *Stated[string] { return &r.Flip }),
	matingKey(),
}

var waiverKeys = []key[Waiver]{
	{name: "rule", form: "a rule's id", help: "the rule to set aside", required: true, shape: someText,
		set: func(d *decoder, n *node, w *Waiver) {
			if t, ok := d.filled(n, "the rule", "name the rule to set aside"); ok {
				w.Rule = stated(t, n)
			}
		}, valid: func(v *checker, w *Waiver) { v.filled("rule", w.Rule, "the rule", "name the rule to set aside") }},
	{name: "reason", form: "free text", help: "why it is set aside", required: true, shape: someText,
		set: func(d *decoder, n *node, w *Waiver) {
			if t, ok := d.filled(n, "the reason", "say why the finding is set aside"); ok {
				w.Reason = stated(t, n)
			}
		}, valid: func(v *checker, w *Waiver) {
			v.filled("reason", w.Reason, "the reason", "say why the finding is set aside")
		}},
}

func required[T any](k key[T]) key[T] {
	k.required = true
	return k
}

// section is a key whose value is a mapping with a table of its own.
func section[T, U any](name, help string, table []key[U], field func(*T) *U) key[T] {
	return key[T]{name: name, form: "keys as below", help: help,
		set:   func(d *decoder, n *node, into *T) { walk(d, n, table, field(into)) },
		inner: keysOf(table), shape: func() *shape { return object(table) },
		valid: func(v *checker, of *T) { checkKeys(v.in(name, nil), table, field(of)) }}
}

func keysOf[T any](table []key[T]) func(string) []Key {
	return func(path string) []Key {
		var out []Key
		for _, k := range table {
			p := join(path, k.name)
			out = append(out, Key{Path: p, Form: k.form, Help: k.help, Required: k.required})
			if k.inner != nil {
				out = append(out, k.inner(p)...)
			}
		}
		return out
	}
}

// Keys lists every key a record may hold, in order.
func Keys() []Key { return keysOf(recordKeys)("") }

// count is how many items each has.
func (n *node) count() int {
	if n.kind != list {
		return 1
	}
	return len(n.items)
}

// each calls f for every item of a list; a single value counts as a list of one.
func each(n *node, f func(*node)) {
	if n.kind != list {
		f(n)
		return
	}
	for i, item := range n.items {
		item.up, item.item = n, i+1
		f(item)
	}
}

func setAbout(d *decoder, n *node, r *Record) {
	if n.kind != mapping {
		d.fail(n.at, n.path(), ErrKind, n.kind.String()+" stands here", "a mapping of keys to texts should")
		return
	}
	seen := map[string]int{} // the line of each key
	for i, k := range n.keys {
		if k.kind != scalar || blank(k.text) {
			d.fail(k.at, n.path(), ErrKind, "a key is "+k.shown(), "a key is a plain word")
			continue
		}
		if first := seen[k.text]; first > 0 {
			d.repeated(k, n, first)
			continue
		}
		seen[k.text] = k.at.Line
		v := n.items[i]
		v.up, v.name = n, k.text
		if v.kind == null {
			continue
		}
		if t, ok := d.one(v, "a text"); ok {
			r.About = append(r.About, Note{k.text, t})
		}
	}
}

func setBench(d *decoder, n *node, r *Record) {
	r.Bench = slices.Grow(r.Bench, n.count())
	each(n, func(item *node) {
		r.Bench = append(r.Bench, Session{At: item.at})
		walk(d, item, sessionKeys, &r.Bench[len(r.Bench)-1])
	})
	sortSessions(r.Bench)
}

// sortSessions puts dated sessions in the order of their dates, in the places that dated
// ones have. Undated ones keep theirs.
func sortSessions(all []Session) {
	var places []int
	var dated []Session
	for i := range all {
		if all[i].Date.Known {
			places, dated = append(places, i), append(dated, all[i])
		}
	}
	slices.SortStableFunc(dated, func(a, b Session) int { return a.Date.Value.Compare(b.Date.Value) })
	for i, at := range places {
		all[at] = dated[i]
	}
}

// tableEndings are those of a table of readings beside the record.
var tableEndings = []string{".csv"}

// setTable reads the name of a table of readings.
func setTable(d *decoder, n *node, s *Session) {
	if wrong := badFile(n.text, tableEndings); wrong != "" {
		d.fail(n.content, n.path(), ErrValue, wrong, "write a list of readings, or the bare name of a table, as in readings: nf-014.csv")
		return
	}
	s.Table = stated(n.text, n)
}

func readReading(d *decoder, n *node, r *Reading) {
	before := len(d.errs)
	walk(d, n, readingKeys, r)
	if len(d.errs) == before {
		d.checkReading(r, n)
	}
}

func setWaive(d *decoder, n *node, r *Record) {
	each(n, func(item *node) {
		w := Waiver{At: item.at}
		walk(d, item, waiverKeys, &w)
		r.Waive = append(r.Waive, w)
	})
}

// setClaims reads what the seller says in one place, or in several that are told apart by
// their sources.
func setClaims(d *decoder, n *node, r *Record) {
	r.Claims = make([]Claims, 0, n.count())
	places := map[string]int{} // the line of each source
	each(n, func(item *node) {
		var cl Claims
		rejoin(item)
		walk(d, item, claimKeys, &cl)
		if n.count() > 1 {
			at, source := item.at, strings.TrimSpace(cl.Source.Value)
			if cl.Source.Known {
				at = cl.Source.At
			}
			switch first := places[source]; {
			case source == "":
				d.fail(at, item.key("source"), ErrMissingKey, "these claims have no source", "with several places of claims each needs its source, as in source: label")
			case first > 0:
				d.fail(at, item.key("source"), ErrValue, fmt.Sprintf("the source %q stands in line %d too", source, first), "each place of claims needs a source of its own")
			default:
				places[source] = at.Line
			}
		}
		r.Claims = append(r.Claims, cl)
	})
}

func setRevision(d *decoder, n *node, m *MarkerWords) {
	t, ok := d.one(n, `a revision, like "3.0",`)
	if !ok {
		return
	}
	if _, known := ParseRevision(t); !known {
		d.fail(n.content, n.path(), ErrValue, strconv.Quote(t)+" is no revision of USB PD", `write "2.0" or "3.0"`)
		return
	}
	m.Revision = stated(t, n)
}

func pasted(name, help string, field func(*MarkerWords) *Stated[Pasted]) key[MarkerWords] {
	return key[MarkerWords]{name: name, form: `"FF00A041 1D40…" or a list of words`, help: help, shape: func() *shape { return orList(anyText()) },
		set: func(d *decoder, n *node, m *MarkerWords) {
			var p Pasted
			switch n.kind {
			case scalar:
				p = pastedScalar(n, d.file)
			case list:
				words := make([]string, len(n.items))
				for i, item := range n.items {
					t, ok := d.one(item, "a word")
					if !ok {
						return
					}
					words[i] = t
					p.starts = append(p.starts, pastedScalar(item, d.file).starts...)
				}
				p.Text = strings.Join(words, "\n")
			default:
				d.fail(n.at, n.path(), ErrKind, n.kind.String()+" stands here", "the words should, as text or as a list")
				return
			}
			s := stated(p, n)
			s.Text = p.Text
			*field(m) = s
		}}
}
