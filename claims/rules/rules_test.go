package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/record"
)

const fixtureFolder = "../../testdata/rules"

// outcomeIDs maps the id of a fixture's record, without its letter, to the
// status that the fixture's rule must come to.
var outcomeIDs = map[string]claims.Status{
	"found": claims.Found, "not-found": claims.Passed, "not-applicable": claims.NotApplicable, "undecided": claims.Undecided, "missing": claims.Missing,
}

// lawfulID, with a letter or without, is the id of a record of the nearest lawful
// cable: the one that a standards engineer would bring to prove the rule wrong. The
// rule is asked about it, and no rule finds a contradiction or a breach. Every rule
// of these kinds has one, or its fixture says in a line "# no-neighbour: ..." why
// there is none.
const lawfulID = "lawful"

var noNeighbour = regexp.MustCompile(`(?m)^# no-neighbour: \S.*\.$`)

var letterSuffix = regexp.MustCompile(`-[b-z]$`)

// alwaysArises says, for rules that never come to "not applicable", why. A rule
// that is not listed must have such a fixture, one that is listed must not.
var alwaysArises = map[string]string{}

// neverPasses says, for rules that never come to "not found", why.
var neverPasses = map[string]string{
	"claimed-data-on-unmarked-cable":    "silence of the marker contradicts a claim above USB 2.0, and shows nothing about USB 2.0",
	"thunderbolt-generation-not-stated": "no answer of a marker can ever state Thunderbolt 4 or 5",
}

func init() {
	for why, ids := range map[string]string{
		"every power claimed is a number to hold against the tiers":              `claimed-power-above-standard claimed-power-above-claimed-voltage-and-current`,
		"every current claimed is a number to hold against the classes":          `claimed-current-below-3-a claimed-current-unpublished`,
		"every voltage claimed is a number to hold against what markers declare": `claimed-voltage-above-standard claimed-epr-voltage-without-5-a`,
		"a current claimed and a resistance are all it asks for":                 `bench-over-limit-at-claimed-current bench-over-limit-at-stated-current`,
		"every Type-C cable must carry 3 A":                                      `bench-over-limit-at-3-a`,
		"both conductors are all it asks for":                                    `bench-ground-over-limit bench-too-near-the-limit`,
		"every evaluation can leave the note":                                    `bench-resistance-rises-with-current bench-ground-worse-than-vbus bench-orientations-differ bench-loop-differs-from-conductors bench-offset-remains bench-accuracy-not-stated bench-null-not-taken bench-null-at-other-current bench-single-reading bench-printed-differs-from-readings bench-few-repeats bench-unit-likely-wrong`,
		"a length and a resistance are all it asks for":                          `bench-lower-than-copper-allows`,
		"a gauge, a length and both conductors are all it asks for":              `resistance-above-claimed-conductors resistance-below-claimed-conductors resistance-consistent-with-clad-aluminium`,
		"two lengths are all it asks for":                                        `claimed-length-differs-from-tape`,
		"a size and a length are all it asks for; without more 3 A is taken":     `claimed-conductors-too-thin-for-claim`,
		"plugs are all that decides, and without them it is undecided":           `claimed-modes-over-legacy-cable claimed-video-over-legacy-cable`,
		"a data rate claimed is all it asks for":                                 `claimed-data-above-standard`,
		"two pairs of plugs are all it asks for":                                 `claimed-plugs-differ-from-seen`,
	} {
		for _, id := range strings.Fields(ids) {
			alwaysArises[id] = why
		}
	}
}

func readFixtures(t *testing.T, path string) []*record.Record {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Error(err)
		return nil
	}
	defer f.Close()
	var out []*record.Record
	for rec, err := range record.Read(f, filepath.Base(path)) {
		if err != nil {
			t.Error(err)
			continue
		}
		out = append(out, rec)
	}
	return out
}

// TestFixtures puts each rule to the records made for it, and holds that every
// outcome a rule can have is among them.
func TestFixtures(t *testing.T) {
	if len(catalogue) == 0 {
		t.Fatal("the catalogue is empty")
	}
	files, err := filepath.Glob(filepath.Join(fixtureFolder, "*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no fixtures in %s (%v)", fixtureFolder, err)
	}
	for _, f := range files {
		if id, ok := strings.CutSuffix(filepath.Base(f), ".yaml"); !ok || usual.Rule(id) == nil {
			t.Errorf("%s belongs to no rule", f)
		}
	}
	literals := ruleLiterals(t)
	for _, rule := range catalogue {
		t.Run(rule.ID, func(t *testing.T) {
			path := filepath.Join(fixtureFolder, rule.ID+".yaml")
			seen := map[claims.Status]int{}
			ids := map[string]bool{}
			lawful := 0
			for _, rec := range readFixtures(t, path) {
				id := rec.Cable.Value
				outcome := letterSuffix.ReplaceAllString(id, "")
				if outcome == lawfulID && !ids[id] {
					ids[id] = true
					lawful++
					holdLawful(t, rule, rec)
					continue
				}
				want, ok := outcomeIDs[outcome]
				if !ok || ids[id] {
					t.Errorf("%s: cable %q names no outcome, or names it twice", path, id)
					continue
				}
				ids[id] = true
				seen[want]++
				holdFixture(t, rule, rec, want)
			}
			holdExplained(t, path, len(ids))
			holdNeighbour(t, rule, path, lawful)
			source := literals[rule.ID]
			for _, need := range []struct {
				status claims.Status
				wanted bool
			}{
				{claims.Found, true}, {claims.Passed, neverPasses[rule.ID] == ""},
				{claims.NotApplicable, alwaysArises[rule.ID] == ""},
				{claims.Undecided, strings.Contains(source, "undecided(") || strings.Contains(source, "overLimit(")},
				{claims.Missing, len(rule.Needs) > 0},
			} {
				switch {
				case need.wanted && seen[need.status] == 0:
					t.Errorf("%s has no record for %q", path, need.status)
				case !need.wanted && seen[need.status] > 0:
					t.Errorf("%s has a record for %q, which is held to be impossible", path, need.status)
				}
			}
		})
	}
	for id := range alwaysArises {
		if usual.Rule(id) == nil {
			t.Errorf("alwaysArises names %s, which is no rule", id)
		}
	}
	for id := range neverPasses {
		if usual.Rule(id) == nil {
			t.Errorf("neverPasses names %s, which is no rule", id)
		}
	}
}

func holdFixture(t *testing.T, rule *claims.Rule, rec *record.Record, want claims.Status) {
	t.Helper()
	c, err := newCase(rec, nil)
	if err != nil {
		t.Errorf("%s: %v", rec.Cable.Value, err)
		return
	}
	res := rule.Ask(c)
	if res.Status != want {
		t.Errorf("%s: %s is %s (%s%v)", rec.At, rec.Cable.Value, res.Status, res.Why, res.Missing)
		return
	}
	switch res.Status {
	case claims.Found:
		for _, text := range []string{rule.Sentence(res.Values), rule.NextText(&res)} {
			if strings.ContainsAny(text, "{}") {
				t.Errorf("%s: a name without a value: %s", rec.Cable.Value, text)
			}
		}
		for name, value := range res.Values {
			if !strings.Contains(rule.Says+rule.Next, "{"+name+"}") {
				t.Errorf("%s: the sentence leaves out %s", rec.Cable.Value, name)
			}
			if value == "" {
				t.Errorf("%s: %s is empty", rec.Cable.Value, name)
			}
		}
	case claims.NotApplicable, claims.Undecided:
		if res.Why == "" {
			t.Errorf("%s: %s without a reason", rec.Cable.Value, res.Status)
		}
		if res.Status == claims.Undecided && len(res.Missing) == 0 {
			t.Errorf("%s: undecided, and nothing named that would settle it", rec.Cable.Value)
		}
	}
}

// holdLawful holds that no rule finds a contradiction or a breach in a lawful cable,
// and that the rule it was brought for was asked.
func holdLawful(t *testing.T, rule *claims.Rule, rec *record.Record) {
	t.Helper()
	c, err := newCase(rec, nil)
	if err != nil {
		t.Errorf("%s: %v", rec.Cable.Value, err)
		return
	}
	if res := rule.Ask(c); res.Status == claims.Missing {
		t.Errorf("%s: %s: the rule is not asked: %v", rec.At, rec.Cable.Value, res.Missing)
	}
	for _, r := range catalogue {
		if res := r.Ask(c); res.Status == claims.Broken || res.Status == claims.Found && (r.Kind == claims.Contradiction || r.Kind == claims.Breach) {
			t.Errorf("%s: %s: the cable is lawful, and yet %s: %s%s", rec.At, rec.Cable.Value, r.ID, r.Sentence(res.Values), res.Why)
		}
	}
}

// holdNeighbour holds that a rule has a lawful neighbour, or a reason why it has none.
func holdNeighbour(t *testing.T, rule *claims.Rule, path string, lawful int) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		return // reported before
	}
	switch none := noNeighbour.Match(text); {
	case none && lawful > 0:
		t.Errorf("%s has a lawful neighbour, and says why there is none", path)
	case !none && lawful == 0 && (rule.Kind == claims.Contradiction || rule.Kind == claims.Breach):
		t.Errorf("%s has neither a lawful neighbour nor a line \"# no-neighbour: reason.\"", path)
	}
}

// holdExplained holds that every document of a fixture opens with a comment.
func holdExplained(t *testing.T, path string, documents int) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		return // reported before
	}
	explained := 0
	for _, doc := range strings.Split(string(text), "\n---\n") {
		if strings.HasPrefix(doc, "# ") {
			explained++
		}
	}
	if explained != documents {
		t.Errorf("%s: %d documents, %d of them say why", path, documents, explained)
	}
}

// ruleLiterals finds every rule literal in the source, by id, with its
// source text and that of the function that builds it.
func ruleLiterals(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	builders := map[string]string{}
	type use struct{ id, call, builder string }
	var uses []use
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		fset := token.NewFileSet()
		tree, err := parser.ParseFile(fset, file, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		source := func(n ast.Node) string {
			return string(text[fset.Position(n.Pos()).Offset:fset.Position(n.End()).Offset])
		}
		for _, d := range tree.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				builders[f.Name.Name] = source(f)
			}
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				if f, ok := call.Fun.(*ast.Ident); ok && len(call.Args) > 0 {
					if id := literalID(t, call.Args[0]); id != "" {
						uses = append(uses, use{id, source(call), f.Name})
					}
				}
			}
			lit, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			if id := literalID(t, lit); id != "" {
				if out[id] != "" {
					t.Errorf("%s: a second rule is called %s", fset.Position(lit.Pos()), id)
				}
				out[id] = source(lit)
			}
			return true
		})
	}
	for _, u := range uses {
		out[u.id] += u.call + builders[u.builder]
	}
	return out
}

// literalID is the ID of a Rule literal, empty if the expression is none. A Rule
// literal without an ID that can be read is a fault.
func literalID(t *testing.T, e ast.Expr) string {
	lit, ok := e.(*ast.CompositeLit)
	if !ok {
		return ""
	}
	if name, ok := lit.Type.(*ast.SelectorExpr); !ok || name.Sel.Name != "Rule" {
		return ""
	}
	for _, el := range lit.Elts {
		kv, ok := el.(*ast.KeyValueExpr)
		if !ok || kv.Key.(*ast.Ident).Name != "ID" {
			continue
		}
		if v, ok := kv.Value.(*ast.BasicLit); ok {
			id, err := strconv.Unquote(v.Value)
			if err == nil && id != "" {
				return id
			}
		}
	}
	t.Error("a Rule literal has no plain ID")
	return ""
}

// TestEveryLiteralIsRegistered walks the source: a rule that is written and not
// listed would never be asked.
func TestEveryLiteralIsRegistered(t *testing.T) {
	var written, listed []string
	for id := range ruleLiterals(t) {
		written = append(written, id)
	}
	for _, r := range catalogue {
		listed = append(listed, r.ID)
	}
	slices.Sort(written)
	slices.Sort(listed)
	if diff := cmp.Diff(written, listed); diff != "" {
		t.Errorf("rules written (-) and listed (+):\n%s", diff)
	}
	if len(listed) < 70 {
		t.Errorf("%d rules, want at least 70", len(listed))
	}
}

var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

var placeholder = regexp.MustCompile(`\{[^}]*\}`)

// TestRules holds what every rule must be, by the policy written beside Force.
func TestRules(t *testing.T) {
	seen := map[string]bool{}
	titles := map[string]string{}
	for _, r := range catalogue {
		t.Run(r.ID, func(t *testing.T) {
			if seen[r.ID] {
				t.Error("the id is taken")
			}
			seen[r.ID] = true
			if !kebab.MatchString(r.ID) {
				t.Error("the id is not in kebab-case")
			}
			for field, text := range map[string]string{"title": r.Title, "sentence": r.Says, "why": r.Why, "next": r.Next, "property": string(r.Property)} {
				if text == "" {
					t.Errorf("no %s", field)
				}
			}
			if other := titles[r.Title]; other != "" {
				t.Errorf("%s has the same title", other)
			}
			titles[r.Title] = r.ID
			for field, text := range map[string]string{"why": r.Why, "next": r.Next} {
				if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "}") {
					t.Errorf("%s does not end in a full stop: %q", field, text)
				}
			}
			if !placeholder.MatchString(r.Says) {
				t.Error("the sentence has no values")
			}
			if len(r.Needs) == 0 || r.Check == nil {
				t.Error("needs nothing, or checks nothing")
			}
			for _, e := range r.Needs {
				if e.What() == "" || e.Get() == "" {
					t.Errorf("%s is not explained", e)
				}
				if !slices.Contains(r.Between, e.Witness()) {
					t.Errorf("needs the %s, which is not among %v", e.Witness(), r.Between)
				}
			}
			if err := fault(r); err != "" {
				t.Error(err)
			}
		})
	}
}

// TestRoots holds what Rule.Under must be: rules that exist, no circle, and no
// root that is less certain than what hangs under it.
func TestRoots(t *testing.T) {
	const open, done = 1, 2
	state := map[string]int{}
	var walk func(r *claims.Rule)
	walk = func(r *claims.Rule) {
		if state[r.ID] == open {
			t.Errorf("%s hangs under itself", r.ID)
		}
		if state[r.ID] != 0 {
			return
		}
		state[r.ID] = open
		for i, id := range r.Under {
			root := usual.Rule(id)
			switch {
			case root == nil:
				t.Errorf("%s hangs under %s, which is no rule", r.ID, id)
				continue
			case slices.Contains(r.Under[:i], id):
				t.Errorf("%s names %s twice", r.ID, id)
			case certainty(root.Kind) < certainty(r.Kind):
				t.Errorf("%s is a %s and hangs under %s, a %s", r.ID, r.Kind, id, root.Kind)
			}
			walk(root)
		}
		state[r.ID] = done
	}
	for _, r := range catalogue {
		walk(r)
	}
	for _, list := range [][]string{silentMarker, olderConnector, littlePower} {
		for _, id := range list {
			if usual.Rule(id) == nil {
				t.Errorf("%s is no rule", id)
			}
		}
	}
}

// certainty ranks kinds by what they settle; a contradiction and a breach both
// gainsay.
func certainty(k claims.Kind) int { return -max(rank(k), rank(claims.Breach)) }

func rank(k claims.Kind) int { return slices.Index(claims.Kinds(), k) }

// TestHangs puts several findings of one cause into one report, and states the
// order of the report with the root of each.
func TestHangs(t *testing.T) {
	tests := map[string]struct{ record, want string }{
		"marker claimed and silent": {`{gainsay: 1, cable: a, marker: {asked: true},
			claims: {marked: true, power: 100 W, current: 5 A, data: 10 Gbps, plugs: c-to-c}}`,
			`claimed-marked-but-silent
			claimed-power-on-unmarked-cable < claimed-marked-but-silent
			claimed-current-on-unmarked-cable < claimed-marked-but-silent
			claimed-data-on-unmarked-cable < claimed-marked-but-silent
			claimed-100-w-class-withdrawn`},
		"no marker claimed: the first names the cause": {`{gainsay: 1, cable: a, marker: {asked: true},
			claims: {marked: false, data: 10 Gbps, video: 4K60, plugs: c-to-c}}`,
			`claimed-data-on-unmarked-cable
			claimed-video-on-unmarked-cable < claimed-data-on-unmarked-cable
			claimed-unmarked-where-marking-is-required < claimed-data-on-unmarked-cable`},
		"a waived root is none": {`{gainsay: 1, cable: a, marker: {asked: true},
			claims: {marked: true, current: 5 A, voltage: 48 V},
			waive: [{rule: claimed-marked-but-silent, reason: the reader was broken}]}`,
			`claimed-current-on-unmarked-cable
			claimed-voltage-on-unmarked-cable < claimed-current-on-unmarked-cable
			claimed-marked-but-silent`},
		"a waived link does not cut the chain": {`{gainsay: 1, cable: a, marker: {near: "FF00A041 18602FA1 00000000 01020100 00082020"},
			claims: {data: 40 Gbps, modes: [displayport], video: 8K60},
			waive: [{rule: claimed-displayport-not-carried, reason: no screen is used}]}`,
			`claimed-data-above-marker
			claimed-displayport-not-carried < claimed-data-above-marker
			claimed-video-above-marker < claimed-data-above-marker`},
		"over at 3 A is the root of over at 5 A, and stands with the contradictions": {`{gainsay: 1, cable: a,
			marker: {near: "FF00A041 18602FA1 00000000 01020100 00082040"}, claims: {power: 240 W, length: 2 m},
			bench: [{length: 1 m, vbus: 300 mΩ, ground: 200 mΩ, ohmmeter: 0.5 %}]}`,
			`claimed-power-above-marker
			bench-over-limit-at-3-a
			bench-over-limit-at-claimed-current < bench-over-limit-at-3-a
			bench-over-limit-at-declared-current < bench-over-limit-at-3-a
			claimed-length-differs-from-tape`},
		"an older connector": {`{gainsay: 1, cable: a, claims: {power: 100 W, current: 5 A, modes: [displayport], video: 4K60, data: 40 Gbps, plugs: c-to-a}}`,
			`claimed-power-over-legacy-cable
			claimed-current-over-legacy-cable < claimed-power-over-legacy-cable
			claimed-data-over-legacy-cable < claimed-power-over-legacy-cable
			claimed-modes-over-legacy-cable < claimed-power-over-legacy-cable
			claimed-video-over-legacy-cable < claimed-power-over-legacy-cable`},
		"a marker at fault is the root of the claims it falls short of": {`{gainsay: 1, cable: a,
			marker: {near: "FF00A041 18602FA1 00000000 01020100 000A2042"}, claims: {power: 240 W, voltage: 48 V}}`,
			`epr-without-50-v-5-a
			claimed-power-above-marker < epr-without-50-v-5-a
			claimed-voltage-above-marker < epr-without-50-v-5-a`},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			read := 0
			for rec, err := range record.Read(strings.NewReader(strings.ReplaceAll(tt.record, "\t", "")), "a.yaml") {
				read++
				if err != nil {
					t.Fatal(err)
				}
				var got []string
				for _, f := range report(t, rec).Findings {
					line := f.Rule
					if f.Under != "" {
						line += " < " + f.Under
					}
					if !strings.HasPrefix(line, "bench-s") { // about one reading
						got = append(got, line)
					}
				}
				want := strings.Split(strings.ReplaceAll(tt.want, "\t", ""), "\n")
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("-want +got:\n%s", diff)
				}
			}
			if read != 1 {
				t.Errorf("%d records were read", read)
			}
		})
	}
}

// memoryShall is a requirement that nobody read, to try the policy with.
var memoryShall = claims.Citation{Document: "remembered", Force: claims.Shall, How: claims.Memory}

// fault says in what the rule breaks the policy written beside Force.
func fault(r *claims.Rule) string {
	if len(r.Sources) == 0 {
		return "rests on no source"
	}
	for _, c := range r.Sources {
		if c != memoryShall && !slices.Contains(Sources(), c) {
			return "rests on " + c.String() + ", which is not in the table of clauses"
		}
	}
	force, how := r.Sources[0].Force, r.Sources[0].How
	switch r.Kind {
	case claims.Contradiction:
		if len(r.Between) < 2 && !r.AllPlaces {
			return "a contradiction is between two witnesses"
		}
		if force != claims.Shall && force != claims.Nature && force != claims.Own {
			return "a contradiction rests on a " + force.String()
		}
	case claims.Breach:
		if len(r.Between) != 1 {
			return "a breach is of one witness"
		}
		if force != claims.Shall && force != claims.Nature {
			return "a breach rests on a " + force.String()
		}
		if force == claims.Shall && how != claims.Read && how != claims.Relayed {
			return "a breach rests on a requirement known " + how.String()
		}
	case claims.Doubt, claims.Remark:
		if len(r.Between) == 0 {
			return "concerns no witness"
		}
	default:
		return "has no kind"
	}
	return ""
}

// TestPolicy holds that the policy of kinds refuses what it should.
func TestPolicy(t *testing.T) {
	both := []claims.Witness{claims.Seller, claims.Marker}
	tests := map[string]struct {
		rule claims.Rule
		ok   bool
	}{
		"contradiction by a requirement":      {claims.Rule{Kind: claims.Contradiction, Between: both, Sources: []claims.Citation{source.PDCableWord}}, true},
		"contradiction by nature":             {claims.Rule{Kind: claims.Contradiction, Between: both, Sources: []claims.Citation{source.NatureLight}}, true},
		"contradiction by our reasoning":      {claims.Rule{Kind: claims.Contradiction, Between: both, Sources: []claims.Citation{source.OwnReasoning}}, true},
		"contradiction by information":        {claims.Rule{Kind: claims.Contradiction, Between: both, Sources: []claims.Citation{source.TypeCLengths}}, false},
		"contradiction by practice":           {claims.Rule{Kind: claims.Contradiction, Between: both, Sources: []claims.Citation{source.CommonPractice}}, false},
		"contradiction of one witness":        {claims.Rule{Kind: claims.Contradiction, Between: both[:1], Sources: []claims.Citation{source.PDCableWord}}, false},
		"breach of a requirement":             {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{source.PDCableWord}}, true},
		"breach of a requirement from memory": {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{memoryShall}}, false},
		"breach of information":               {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{source.TypeCActive, source.PDCableWord}}, false},
		"breach of practice":                  {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{source.CommonPractice, source.PDCableWord}}, false},
		"contradiction by a recommendation":   {claims.Rule{Kind: claims.Contradiction, Between: both, Sources: []claims.Citation{source.ILACG8}}, false},
		"breach of nature":                    {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{source.NatureLight}}, true},
		"breach of a recommendation":          {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{source.ILACG8}}, false},
		"breach of our reasoning":             {claims.Rule{Kind: claims.Breach, Between: both[:1], Sources: []claims.Citation{source.OwnReasoning}}, false},
		"breach by two witnesses":             {claims.Rule{Kind: claims.Breach, Between: both, Sources: []claims.Citation{source.PDCableWord}}, false},
		"doubt by information":                {claims.Rule{Kind: claims.Doubt, Between: both, Sources: []claims.Citation{source.TypeCLengths}}, true},
		"remark by practice":                  {claims.Rule{Kind: claims.Remark, Between: both[:1], Sources: []claims.Citation{source.CommonPractice}}, true},
		"no source":                           {claims.Rule{Kind: claims.Remark, Between: both[:1]}, false},
		"a source outside the table":          {claims.Rule{Kind: claims.Remark, Between: both[:1], Sources: []claims.Citation{{Document: "hearsay", Force: claims.Shall}}}, false},
		"no witness":                          {claims.Rule{Kind: claims.Remark, Sources: []claims.Citation{source.OwnReasoning}}, false},
		"no kind":                             {claims.Rule{Between: both, Sources: []claims.Citation{source.OwnReasoning}}, false},
	}
	for name, tt := range tests {
		got := fault(&tt.rule)
		if slices.Contains(tt.rule.Sources, memoryShall) && !strings.Contains(got, "from memory") {
			t.Errorf("%s: %q", name, got)
		}
		if (got == "") != tt.ok {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// TestCitations holds the table of clauses: complete, without a row twice.
func TestCitations(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Sources() {
		if c.Document == "" || c.Force.String() == "unset" || c.How.String() == "unset" || seen[c.String()] {
			t.Errorf("%+v is incomplete or stands twice", c)
		}
		seen[c.String()] = true
	}
	used := map[claims.Citation]bool{}
	for _, r := range catalogue {
		for _, c := range r.Sources {
			used[c] = true
		}
	}
	for _, c := range Sources() {
		if !used[c] {
			t.Errorf("no rule rests on %s", c)
		}
	}
}

// TestRetired holds that an identifier is never given twice, and that a retired
// one is still known by its reason.
func TestRetired(t *testing.T) {
	for _, r := range Retired() {
		if !kebab.MatchString(r.ID) || r.Reason == "" {
			t.Errorf("%+v is incomplete", r)
		}
		if usual.Rule(r.ID) != nil {
			t.Errorf("%s is retired and in the catalogue", r.ID)
		}
		if r.Instead != "" && usual.Rule(r.Instead) == nil {
			t.Errorf("%s points to %s, which is no rule", r.ID, r.Instead)
		}
	}
	// The catalogue has none yet, so the list is made here.
	list := []claims.RetiredRule{{ID: "some-rule", Reason: "it said the same as another", Instead: "claimed-power-above-marker"}, {ID: "old-rule", Reason: "the clause was withdrawn"}}
	for id, want := range map[string][2]string{
		"some-rule":                 {`the rule "some-rule" is retired: it said the same as another; claimed-power-above-marker takes its place`, "'gainsay rules' lists the others"},
		"old-rule":                  {`the rule "old-rule" is retired: the clause was withdrawn`, "'gainsay rules' lists the others"},
		"claimed-power-above-maker": {`no rule is called "claimed-power-above-maker"`, "perhaps claimed-power-above-marker; 'gainsay rules' lists them"},
		"zzz":                       {`no rule is called "zzz"`, "'gainsay rules' lists them"},
	} {
		wrong, right := (&claims.Checker{Rules: All(), Retired: list}).Unknown(id)
		if diff := cmp.Diff(want, [2]string{wrong, right}); diff != "" {
			t.Errorf("%s (-want +got):\n%s", id, diff)
		}
	}
}

// TestEveryClaimCanEnd holds that each claim a seller can make has a rule that
// can bear it out by another witness, or a stated reason why nothing can.
func TestEveryClaimCanEnd(t *testing.T) {
	rec := recordOf(t, "claims: {power: 60 W, current: 3 A, voltage: 20 V, data: 10 Gbps, length: 1 m, plugs: c-to-c, active: false, "+
		"marked: true, certified: true, certificate: 12345, modes: displayport, video: 4K60, conductors: 20 AWG}\n")
	report, err := usual.Check(rec)
	if err != nil {
		t.Fatal(err)
	}
	keys := 0
	for _, k := range record.Keys() {
		if strings.HasPrefix(k.Path, "claims.") && k.Path != "claims.source" {
			keys++
		}
	}
	if len(report.Claims) != keys {
		t.Errorf("%d claims are weighed, the record has %d keys for them", len(report.Claims), keys)
	}
	for _, claim := range report.Claims {
		shown := slices.ContainsFunc(catalogue, func(r *claims.Rule) bool {
			return r.Settles && r.Property == claim.Property && len(r.Between) > 1 && slices.Contains(r.Between, claims.Seller)
		})
		if why := claim.Because; shown == strings.Contains(why, "can be looked up") {
			t.Errorf("%s: a rule can show it: %t; reason why it is not: %q", claim.Property, shown, why)
		}
	}
}
