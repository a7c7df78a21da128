package claims

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims/internal/say"
)

// Rule is one way witnesses can disagree. It is data with a function.
type Rule struct {
	// ID is permanent, a plain phrase in kebab-case that says what was found.
	ID string
	// Sources are the published places the rule rests on, the deciding one first.
	Sources []Citation
	// Title says in one line what is found.
	Title string
	// Kind is the kind of every finding of this rule.
	Kind Kind
	// Property is the question it is about.
	Property Property
	// Between names the witnesses that disagree; one where the rule is a breach.
	Between []Witness
	// Needs is the evidence without which the rule cannot be asked.
	Needs []Evidence
	// Settles says that the seller's claim on Property is confirmed only if this
	// rule was asked and found nothing.
	Settles bool
	// Says is the finding in one sentence, with {names} bound to Values.
	Says string
	// Under are the ids of rules that find the root of what this one finds: where one
	// of them found something too, this finding hangs under it, under the first if
	// there are several. A root is certain where what hangs under it is.
	Under []string
	// Why says why it matters to a user, Next what to do; Next may use {names} too.
	Why, Next string
	// Check asks the rule. All evidence of Needs is there.
	Check func(*Case) Result
	// Window is where the rule holds among the structured versions markers answer in.
	Window Window
	// Silent, if set, is asked first where the marker alone is missing: for claims
	// that need no marker. An unset Result leaves the evidence missing.
	Silent func(*Case) Result
	// AllPlaces: the rule compares what the seller claims in several places, so it is asked
	// once, with all of them.
	AllPlaces bool
}

// Window is a half-open range of structured VDM versions, "1.0" (PD 2.0), "2.0" or
// "2.1" (PD 3.x): from From up to, but not with, Until. An empty end is open.
type Window struct {
	From  string `json:"from,omitempty"`  // the first version it holds for
	Until string `json:"until,omitempty"` // the first version it no longer holds for
}

// Holds reports whether a version is in the window.
func (w Window) Holds(version string) bool {
	return (w.From == "" || version >= w.From) && (w.Until == "" || version < w.Until)
}

// String says the window in words, empty where it is open.
func (w Window) String() string {
	switch {
	case w.From != "" && w.Until != "":
		return "from " + w.From + " up to before " + w.Until
	case w.From != "":
		return "from " + w.From + " on"
	case w.Until != "":
		return "before " + w.Until
	}
	return ""
}

// Values are the values of a finding by the names its sentence uses: an [Amount], or a string
// for what is no number.
type Values map[string]any

// Amount is a number with its unit, and the words for it.
type Amount struct {
	Text     string  // as the sentence has it
	Value    float64 // in Unit
	Expanded float64 // its expanded uncertainty for 95.45 %, in Unit; 0 where none is known
	Unit     string  // W, A, V, m, °C, Gbps or ohm
}

// String is the amount in words.
func (a Amount) String() string { return a.Text }

// Value is one value of a finding, as published.
type Value struct {
	Name     string   `json:"name"`               // as the sentence of the rule names it
	Value    *float64 `json:"value,omitempty"`    // in Unit; absent where it is no number
	Expanded *float64 `json:"expanded,omitempty"` // expanded uncertainty for 95.45 %, in Unit; absent where none is known
	Unit     string   `json:"unit,omitempty"`     // W, A, V, m, °C, Gbps or ohm
	Text     string   `json:"text"`               // in words, as the sentence has it
}

// published lists the values by name.
func (v Values) published() []Value {
	out := make([]Value, 0, len(v))
	for name, value := range v {
		one := Value{Name: name, Text: fmt.Sprint(value)}
		if a, ok := value.(Amount); ok && !math.IsInf(a.Value, 0) {
			one.Value, one.Unit = figuresOf(a.Value), a.Unit
			if a.Expanded > 0 {
				one.Expanded = figuresOf(a.Expanded)
			}
		}
		out = append(out, one)
	}
	slices.SortFunc(out, func(a, b Value) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// Status is what came of asking a rule.
type Status uint8

const (
	statusUnset   Status = iota // a rule that returns this is at fault
	Passed                      // asked, and nothing found
	Found                       // asked, and found
	NotApplicable               // the question does not arise for this cable
	Undecided                   // asked, but the evidence does not settle it
	Missing                     // not asked: a witness is silent
	Broken                      // the rule itself failed
)

// String names the status.
func (s Status) String() string {
	switch s {
	case Passed:
		return "not found"
	case Found:
		return "found"
	case NotApplicable:
		return "not applicable"
	case Undecided:
		return "undecided"
	case Missing:
		return "missing evidence"
	case Broken:
		return "broken"
	}
	return "unset"
}

// Result is the outcome of asking one rule about one case.
type Result struct {
	Status Status // what came of it; zero in an unset Result
	// Why says, for NotApplicable, Undecided and Broken, why.
	Why string
	// Missing lists the evidence that would settle it, for Undecided and Missing. It
	// may be a part of the rule's Needs: not to be changed.
	Missing []Evidence
	// Values belong to Found.
	Values Values
	// Places are those of Case.Sold whose claim the others contradict, for a rule with
	// AllPlaces.
	Places []int
	// Parts are the findings one by one, where they differ from plug to plug or from one
	// place of claims to the next; Values are then those of the first.
	Parts []Part
}

// Part is what a rule found for one plug or one place of claims.
type Part struct {
	Of     string // as "near plug" or "label"
	Values Values // as of Result
}

func notApplicable(why string) Result { return Result{Status: NotApplicable, Why: why} }

// Ask puts the rule to a case: for each place the seller claims in, and for each plug
// that answered, where the rule is about them. The worst outcome counts. A rule that
// fails is reported as Broken and leaves the others alone.
func (r *Rule) Ask(c *Case) Result {
	if len(c.Sold) < 2 || r.AllPlaces || !r.asksSeller() {
		return r.askPlugs(c)
	}
	of := make([]string, len(c.Sold))
	results := make([]Result, len(c.Sold))
	for i, one := range c.bySource() {
		of[i], results[i] = one.Claims.Place(i), r.askPlugs(one)
	}
	return r.worst(of, results)
}

func (r *Rule) askPlugs(c *Case) Result {
	ends := c.Ends()
	switch {
	case len(ends) == 0 || !r.perPlug():
		return r.ask(c)
	case len(ends) == 1:
		return r.ask(ends[0])
	}
	of := make([]string, len(ends))
	results := make([]Result, len(ends))
	for i, end := range ends {
		of[i], results[i] = end.Near.Name+" plug", r.ask(end)
	}
	return r.worst(of, results)
}

// severity orders outcomes: what is found anywhere is found, and what is open for one
// plug is open for the cable.
var severity = [...]int{Broken: 6, Found: 5, Undecided: 4, Missing: 3, Passed: 2, NotApplicable: 1, statusUnset: 0}

// worst joins what came of asking several times.
func (r *Rule) worst(of []string, results []Result) Result {
	var out Result
	for i := range results {
		if severity[results[i].Status] > severity[out.Status] {
			out = results[i]
		}
	}
	if out.Status != Found {
		return out
	}
	everywhere, said := true, map[string]bool{}
	var parts []Part
	for i := range results {
		res := &results[i]
		if res.Status != Found {
			everywhere = false
			continue
		}
		inner := res.Parts
		if inner == nil {
			inner = []Part{{Values: res.Values}}
		}
		for _, p := range inner {
			if p.Of != "" {
				p.Of = ", " + p.Of
			}
			p.Of = of[i] + p.Of
			parts = append(parts, p)
			said[r.Sentence(p.Values)] = true
		}
	}
	out.Parts = nil
	if !everywhere || len(said) > 1 {
		out.Parts = parts
	}
	return out
}

// Text is the finding in words, for each plug and place where they differ.
func (r *Rule) Text(res *Result) string {
	if len(res.Parts) == 0 {
		return r.Sentence(res.Values)
	}
	texts := make([]string, len(res.Parts))
	for i, p := range res.Parts {
		texts[i] = say.Capitalised(p.Of) + ": " + r.Sentence(p.Values)
	}
	return strings.Join(texts, " ")
}

// NextText is the next step in words.
func (r *Rule) NextText(res *Result) string {
	if len(res.Parts) == 0 {
		return res.Values.bind(r.Next)
	}
	var texts []string
	for _, p := range res.Parts {
		texts = appendNew(texts, p.Values.bind(r.Next))
	}
	return strings.Join(texts, " ")
}

// ask puts the rule to one plug and one place of claims. It owns the order: is the
// evidence there, does the question arise, what does the rule find.
func (r *Rule) ask(c *Case) (res Result) {
	var first, last, count int // of the needs that are missing
	for i, e := range r.Needs {
		switch have, why := c.Has(e); {
		case why != "":
			return notApplicable(why)
		case have:
			continue
		case count == 0:
			first = i
		}
		last = i
		count++
	}
	defer func() {
		if p := recover(); p != nil {
			res = Result{Status: Broken, Why: fmt.Sprint(p)}
		}
	}()
	if count > 0 {
		missing := r.Needs[first : last+1 : last+1] // shared: most rules miss something in most records
		if len(missing) != count {
			missing = slices.DeleteFunc(slices.Clone(missing), func(e Evidence) bool { have, _ := c.Has(e); return have })
		}
		if r.Silent != nil && slices.Equal(witnesses(missing), []Witness{Marker}) {
			if res := r.Silent(c); res.Status != statusUnset {
				return res
			}
		}
		return Result{Status: Missing, Missing: missing}
	}
	if r.Window != (Window{}) && c.Near.Identified {
		if v := c.Near.Version(); !r.Window.Holds(v) {
			return notApplicable(fmt.Sprintf("the marker answered in structured version %s; this holds %s", v, r.Window))
		}
	}
	res = r.Check(c)
	if res.Status == statusUnset {
		res = Result{Status: Broken, Why: "the rule gave no answer"}
	}
	return res
}

// Sentence binds values to the rule's sentence. A name without a value stays
// visible in braces; a test holds that this never happens.
func (r *Rule) Sentence(v Values) string { return v.bind(r.Says) }

// bind puts values in the place of their {names}.
func (v Values) bind(text string) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	b.Grow(2 * len(text))
	for {
		before, after, open := strings.Cut(text, "{")
		b.WriteString(before)
		if !open {
			return b.String()
		}
		name, rest, closed := strings.Cut(after, "}")
		value, known := v[name]
		if !closed || !known {
			b.WriteByte('{')
			text = after
			continue
		}
		fmt.Fprint(&b, value)
		text = rest
	}
}

// Source gives the citations in one line.
func (r *Rule) Source() string {
	parts := make([]string, len(r.Sources))
	for i, c := range r.Sources {
		parts[i] = c.String()
	}
	return strings.Join(parts, "; ")
}
