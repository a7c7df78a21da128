package publish

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/gainsay/claims"
)

// ReportJSON gives a report as one line of JSON, fit for a terminal as [PlainJSON]
// makes it. It writes what encoding/json would, which a test holds, in a tenth of
// the time: a run over many records spends most of its time here otherwise. The
// error is a *[json.UnsupportedValueError], for a number that JSON does not have.
func ReportJSON(r *claims.Report) ([]byte, error) {
	w := jsonWriter{b: make([]byte, 0, 12<<10)} // most reports
	w.open('{')
	w.key("gainsay").int(r.Version)
	w.key("cable").text(r.Cable)
	w.optional("label", r.Label)
	w.verdict(&r.Verdict)
	w.rating(&r.Rating)
	w.optional("use", r.Use)
	if r.Measured != nil {
		w.measured(r.Measured)
	}
	list(&w, "claims", r.Claims, always, (*jsonWriter).claim)
	list(&w, "findings", r.Findings, always, (*jsonWriter).finding)
	list(&w, "testimony", r.Testimony, always, (*jsonWriter).testimony)
	if r.Bench != nil {
		w.key("bench")
		w.bench(r.Bench)
	}
	list(&w, "not_examined", r.NotExamined, always, (*jsonWriter).notExamined)
	texts(&w, "cautions", r.Cautions, always)
	texts(&w, "remarks", r.Remarks, filled)
	texts(&w, "broken", r.Broken, filled)
	w.close('}')
	w.b = append(w.b, '\n')
	return w.b, w.err
}

// jsonWriter appends values; a comma is written where one stands before.
type jsonWriter struct {
	b   []byte
	err error // the first
}

func (w *jsonWriter) separate() {
	switch w.b[len(w.b)-1] {
	case '{', '[', ':':
	default:
		w.b = append(w.b, ',')
	}
}

func (w *jsonWriter) open(bracket byte) {
	if len(w.b) > 0 {
		w.separate()
	}
	w.b = append(w.b, bracket)
}

func (w *jsonWriter) close(bracket byte) { w.b = append(w.b, bracket) }

// key writes a key, which has nothing to escape.
func (w *jsonWriter) key(name string) *jsonWriter {
	w.separate()
	w.b = append(w.b, '"')
	w.b = append(w.b, name...)
	w.b = append(w.b, '"', ':')
	return w
}

func (w *jsonWriter) int(v int) { w.b = strconv.AppendInt(w.b, int64(v), 10) }

func (w *jsonWriter) bool(v bool) { w.b = strconv.AppendBool(w.b, v) }

func (w *jsonWriter) float(v float64) {
	var short bool
	if w.b, short = appendShort(w.b, v); short {
		return
	}
	if a := math.Abs(v); a == 0 || a >= 1e-6 && a < 1e21 {
		w.b = strconv.AppendFloat(w.b, v, 'f', -1, 64)
		return
	}
	w.rare(v)
}

// appendShort appends a number that has no more than six figures in front of the
// point and nine behind it, as published ones have, by way of whole numbers. Such a
// decimal is the shortest for the float64 that it gives: others of at most fifteen
// figures give other ones.
func appendShort(b []byte, v float64) ([]byte, bool) {
	const places = 1e9
	if !(v >= 1e-6 && v < 1e6) {
		return b, false
	}
	scaled := math.Round(v * places)
	if scaled/places != v {
		return b, false
	}
	whole, rest := uint64(scaled)/places, uint64(scaled)%places
	b = strconv.AppendUint(b, whole, 10)
	if rest == 0 {
		return b, true
	}
	end := len(b) + 1
	b = strconv.AppendUint(b, rest+places, 10)
	b[end-1] = '.' // in place of the one in front
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	return b, true
}

func (w *jsonWriter) text(s string) {
	if !standsAsIs(s) {
		w.rare(s)
		return
	}
	w.b = append(w.b, '"')
	w.b = append(w.b, s...)
	w.b = append(w.b, '"')
}

// standsAsIs tells whether JSON and a terminal both take a text as it is.
func standsAsIs(s string) bool {
	i := 0
	for ; i+8 <= len(s); i += 8 {
		if !eightStand(binary.LittleEndian.Uint64([]byte(s[i : i+8]))) {
			break
		}
	}
	for ; i < len(s); i++ {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' || c >= 0x7f {
			return c >= utf8.RuneSelf && notShown(s[i:], false) == len(s)-i && !strings.ContainsAny(s[i:], `"\`)
		}
	}
	return true
}

// eightStand does so for eight characters at once: none has its highest bit, and by
// none does what is subtracted borrow from it.
func eightStand(x uint64) bool {
	const each, highest = 0x0101010101010101, 0x8080808080808080
	quote, backslash, delete := x^'"'*each, x^'\\'*each, x^0x7f*each
	return (x|(x-' '*each)|(quote-each)|(backslash-each)|(delete-each))&highest == 0
}

// rare leaves to encoding/json what seldom comes.
func (w *jsonWriter) rare(v any) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil && w.err == nil {
		w.err = err
	}
	w.b = append(w.b, PlainJSON(bytes.TrimSuffix(b.Bytes(), []byte("\n")))...)
}

func (w *jsonWriter) optional(name, text string) {
	if text != "" {
		w.key(name).text(text)
	}
}

func (w *jsonWriter) optionalInt(name string, v int) {
	if v != 0 {
		w.key(name).int(v)
	}
}

func (w *jsonWriter) optionalFloat(name string, v *float64) {
	if v != nil {
		w.key(name).float(*v)
	}
}

func (w *jsonWriter) optionalTrue(name string, v bool) {
	if v {
		w.key(name).bool(true)
	}
}

// Whether a list is written where it is empty.
const (
	always = true
	filled = false
)

func list[T any](w *jsonWriter, name string, items []T, empty bool, item func(*jsonWriter, *T)) {
	if len(items) == 0 && !empty {
		return
	}
	w.key(name)
	if items == nil {
		w.b = append(w.b, "null"...)
		return
	}
	w.open('[')
	for i := range items {
		item(w, &items[i])
	}
	w.close(']')
}

func texts[T ~string](w *jsonWriter, name string, items []T, empty bool) {
	list(w, name, items, empty, func(w *jsonWriter, t *T) {
		w.separate()
		w.text(string(*t))
	})
}

func (w *jsonWriter) measured(m *claims.Measured) {
	w.key("measured").open('{')
	texts(w, "dates", m.Dates, filled)
	w.optional("by", m.By)
	w.optional("rig", m.Rig)
	w.optional("voltmeter", m.Voltmeter)
	w.optional("ammeter", m.Ammeter)
	w.optional("ohmmeter", m.Ohmmeter)
	w.key("assumed").bool(m.Assumed)
	w.optional("ambient", m.Ambient)
	w.key("readings").int(m.Readings)
	if m.Matings > 0 {
		w.key("matings").int(m.Matings)
	}
	w.key("nulls").int(m.Nulls)
	w.optional("fixture", m.Fixture)
	w.key("sessions").any(m.Sessions)
	w.close('}')
}

// any writes a value as encoding/json has it, which is slower: few records have many.
func (w *jsonWriter) any(v any) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil && w.err == nil {
		w.err = err
	}
	w.b = append(w.b, PlainJSON(bytes.TrimRight(b.Bytes(), "\n"))...)
}

func (w *jsonWriter) rating(r *claims.Rating) {
	w.key("rating").open('{')
	w.optionalInt("power_w", r.PowerW)
	w.optionalInt("voltage_v", r.VoltageV)
	w.optionalInt("current_a", r.CurrentA)
	texts(w, "limited_by", r.LimitedBy, always)
	w.key("settled").bool(r.Settled)
	w.key("reason").text(r.Reason)
	w.close('}')
}

func (w *jsonWriter) claim(c *claims.ClaimOutcome) {
	w.open('{')
	w.optional("of", c.Of)
	w.key("property").text(string(c.Property))
	w.key("claimed").text(c.Claimed)
	w.optional("normal", c.Normal)
	w.key("standing").text(string(c.Standing))
	texts(w, "by", c.By, filled)
	texts(w, "findings", c.Findings, filled)
	w.optional("because", c.Because)
	w.close('}')
}

func (w *jsonWriter) finding(f *claims.Finding) {
	w.open('{')
	w.key("rule").text(f.Rule)
	w.key("kind").text(string(f.Kind))
	w.key("property").text(string(f.Property))
	texts(w, "between", f.Between, always)
	w.key("says").text(f.Says)
	w.key("source").text(f.Source)
	w.key("next").text(f.Next)
	if len(f.Values) > 0 {
		w.key("values").open('{')
		names := make([]string, 0, len(f.Values))
		for name := range f.Values {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			w.separate()
			w.text(name)
			w.b = append(w.b, ':')
			w.text(f.Values[name])
		}
		w.close('}')
	}
	w.optional("under", f.Under)
	w.optional("waived", f.Waived)
	w.close('}')
}

func (w *jsonWriter) testimony(t *claims.TestimonyRow) {
	w.open('{')
	w.key("property").text(string(t.Property))
	w.optional("seller", t.Seller)
	w.optional("marker", t.Marker)
	w.optional("bench", t.Bench)
	w.close('}')
}

func (w *jsonWriter) notExamined(n *claims.NotExamined) {
	w.open('{')
	texts(w, "needs", n.Needs, always)
	w.key("witness").text(string(n.Witness))
	texts(w, "rules", n.Rules, always)
	w.optional("because", n.Because)
	w.close('}')
}

func (w *jsonWriter) verdict(v *claims.Verdict) {
	w.key("verdict").open('{')
	w.key("outcome").text(string(v.Outcome))
	w.optionalFloat("sold_w", v.SoldW)
	if v.ShownW != nil {
		w.key("shown_w").int(*v.ShownW)
	}
	texts(w, "contradicted", v.Contradicted, always)
	texts(w, "confirmed", v.Confirmed, always)
	texts(w, "not_shown", v.NotShown, always)
	w.key("waived").int(v.Waived)
	w.close('}')
}

func (w *jsonWriter) bench(r *claims.BenchReport) {
	w.open('{')
	w.resistance("vbus", r.VBUS)
	w.resistance("ground", r.Ground)
	w.resistance("loop", r.Loop)
	list(w, "decisions", r.Decisions, always, (*jsonWriter).limitResult)
	if c := r.Carries; c != nil {
		w.key("carries_a").open('{')
		w.key("low").float(c.Low)
		w.optionalFloat("value", c.Value)
		w.optionalFloat("high", c.High)
		w.close('}')
	}
	if l := r.Load; l != nil {
		w.key("load").open('{')
		w.key("current_a").float(l.CurrentA)
		w.key("source_v").float(l.SourceV)
		w.key("far_end_v").float(l.FarEndV)
		w.key("heat_w").float(l.HeatW)
		w.optionalFloat("heat_w_per_m", l.HeatWPerM)
		w.key("rise_k").float(l.RiseK)
		w.key("warm").text(l.Warm)
		w.close('}')
	}
	texts(w, "wires", r.Wires, filled)
	list(w, "notes", r.Notes, filled, func(w *jsonWriter, n *claims.Note) {
		w.open('{')
		w.key("kind").text(n.Kind)
		w.key("says").text(n.Says)
		w.close('}')
	})
	texts(w, "settle", r.Settle, filled)
	w.close('}')
}

func (w *jsonWriter) resistance(name string, r *claims.Resistance) {
	if r == nil {
		return
	}
	w.key(name).open('{')
	w.key("ohm").float(r.Ohm)
	w.key("u").float(r.U)
	w.key("k").float(r.K)
	w.key("expanded").float(r.Expanded)
	w.optionalTrue("assumed", r.Assumed)
	w.optional("flip", r.Flip)
	w.optional("how", r.How)
	w.optionalFloat("degrees_of_freedom", r.DoF)
	list(w, "budget", r.Budget, filled, func(w *jsonWriter, c *claims.Contribution) {
		w.open('{')
		w.key("from").text(c.From)
		w.key("type").text(c.Type)
		w.key("distribution").text(c.Distribution)
		w.key("u").float(c.U)
		w.key("unit").text(c.Unit)
		w.key("sensitivity").float(c.Sensitivity)
		w.key("ohm").float(c.Ohm)
		w.key("share").float(c.Share)
		w.optionalFloat("degrees_of_freedom", c.DoF)
		w.optional("advice", c.Advice)
		w.close('}')
	})
	w.close('}')
}

func (w *jsonWriter) limitResult(l *claims.LimitResult) {
	w.open('{')
	w.key("current_a").float(l.CurrentA)
	w.key("conductor").text(l.Conductor)
	w.optional("flip", l.Flip)
	w.key("limit_ohm").float(l.LimitOhm)
	w.key("outcome").text(l.Outcome)
	w.optionalFloat("probability_within", l.ProbabilityWithin)
	w.key("rule").text(l.Rule)
	w.optionalTrue("assumed", l.Assumed)
	w.close('}')
}
