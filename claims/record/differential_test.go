package record

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// grower makes trees by chance, and writes them as JSON and, in one of the styles that
// YAML has, as YAML.
type grower struct{ *rand.Rand }

var grownTexts = []string{"", " ", "a", "true", "null", "~", "1", "-1.5e3", "0x1F", "2026-10-05", "yes", "FF00A041 1D400000", "????",
	"a: b", "a #b", "#", "- a", "---", "...", "? a", "{", "}", "[a]", "&a", "*a", "!t", "|", ">", "%", "@", "`", "'", "\"", "\\", "it's", "tab\there",
	"line\nline", "\n", "line\n", "\n\nx\n\n", " lead", "trail ", "é µ Ω \U0001F600", "\u0085", "\u2028x", "\u2029", "\r", "\r\n", "\ufeff", "\x00", "\x7f", "\u200b", "\u00a0"}

// tree gives nil, a bool, a json.Number, a string, []any or pairs of key and value.
func (g grower) tree(depth int) any {
	switch n := g.IntN(12); {
	case n < 3 && depth > 0:
		out := [][2]any{}
		seen := map[string]bool{}
		for range g.IntN(4) {
			if k := g.text(); !seen[k] {
				seen[k] = true
				out = append(out, [2]any{k, g.tree(depth - 1)})
			}
		}
		return out
	case n < 5 && depth > 0:
		out := []any{}
		for range g.IntN(4) {
			out = append(out, g.tree(depth-1))
		}
		return out
	case n < 6:
		return nil
	case n < 7:
		return g.IntN(2) == 0
	case n < 8:
		return json.Number([]string{"0", "-0", "12", "1.50", "1e5", "-0.001E-7", "123456789012345678901234567890"}[g.IntN(7)])
	}
	return g.text()
}

func (g grower) text() string {
	s := grownTexts[g.IntN(len(grownTexts))]
	if g.IntN(4) == 0 {
		s += grownTexts[g.IntN(len(grownTexts))]
	}
	return s
}

// json writes a tree as encoding/json writes its texts.
func (g grower) json(v any) string {
	var parts []string
	switch v := v.(type) {
	case [][2]any:
		for _, kv := range v {
			parts = append(parts, g.json(kv[0])+g.space()+":"+g.space()+g.json(kv[1]))
		}
		return "{" + strings.Join(parts, g.space()+",") + g.space() + "}"
	case []any:
		for _, item := range v {
			parts = append(parts, g.json(item))
		}
		return "[" + strings.Join(parts, ","+g.space()) + "]"
	}
	b, _ := json.Marshal(v)
	return string(b)
}

func (g grower) space() string { return []string{"", "", " ", "\t", "  "}[g.IntN(5)] }

// quoted writes a text in double quotes, escapes as YAML 1.2.2, 5.7, has them.
func (g grower) quoted(s string) string {
	b := strings.Builder{}
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\x%02X`, r)
		case r == 0x85 || r == 0x2028 || r == 0x2029 || r == 0xFEFF || g.IntN(20) == 0 && r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

// scalar writes one in quotes of either kind, or as a literal block where it may
// stand.
func (g grower) scalar(v any, indent int, block bool) string {
	switch v := v.(type) {
	case nil:
		return []string{"null", "~", "Null"}[g.IntN(3)]
	case bool:
		return strconv.FormatBool(v)
	case json.Number:
		return v.String()
	}
	s := v.(string)
	single := !strings.ContainsFunc(s, func(r rune) bool {
		return r < ' ' || r == 0x7f || r == 0x85 || r == 0x2028 || r == 0x2029 || r == 0xFEFF
	})
	switch {
	case block && g.IntN(2) == 0 && strings.HasSuffix(s, "line\n") && !strings.ContainsAny(s, "\r\x00\x7f\u0085\u2028\u2029\ufeff") && s[0] != ' ' && s[0] != '\n' && s[0] != '\t':
		pad := strings.Repeat(" ", indent+1)
		return "|\n" + pad + strings.ReplaceAll(strings.TrimSuffix(s, "\n"), "\n", "\n"+pad)
	case single && g.IntN(2) == 0:
		return "'" + strings.ReplaceAll(s, "'", "''") + "'"
	}
	return g.quoted(s)
}

// flow writes a tree in braces and brackets.
func (g grower) flow(v any) string {
	var parts []string
	switch v := v.(type) {
	case [][2]any:
		for _, kv := range v {
			parts = append(parts, g.scalar(kv[0], 0, false)+": "+g.flow(kv[1]))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case []any:
		for _, item := range v {
			parts = append(parts, g.flow(item))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return g.scalar(v, 0, false)
}

// yaml writes what stands behind a dash or a colon, or is the document.
func (g grower) yaml(v any, indent int) string {
	pad := "\n" + strings.Repeat(" ", indent)
	var b strings.Builder
	switch v := v.(type) {
	case [][2]any:
		if len(v) == 0 || g.IntN(4) == 0 {
			return " " + g.flow(v)
		}
		for _, kv := range v {
			b.WriteString(pad + g.scalar(kv[0], indent, false) + ":" + g.yaml(kv[1], indent+1+g.IntN(3)) + g.comment())
		}
		return b.String()
	case []any:
		if len(v) == 0 || g.IntN(4) == 0 {
			return " " + g.flow(v)
		}
		for _, item := range v {
			b.WriteString(pad + "-" + g.yaml(item, indent+1+g.IntN(3)) + g.comment())
		}
		return b.String()
	}
	return " " + g.scalar(v, indent, true)
}

func (g grower) comment() string {
	switch g.IntN(10) {
	case 0:
		return "\n# a comment: [ { ---"
	case 1:
		return "\n"
	}
	return ""
}

// A tree written in YAML is read as the same tree written in JSON is, whatever the style,
// and a stream of them with whatever stands between loses none.
func TestYAMLIsJSON(t *testing.T) {
	g := grower{rand.New(rand.NewPCG(17, 1))}
	made := 0
	enough := 100_000
	if testing.Short() {
		enough /= 10
	}
	for made < enough {
		var want []any
		var asYAML, asJSON strings.Builder
		for range 1 + g.IntN(20) {
			v := g.tree(3)
			if _, ok := v.([][2]any); !ok {
				v = [][2]any{{"k", v}}
			}
			want = append(want, v)
			made++
			asJSON.WriteString(g.json(v) + []string{"\n", "\r\n", "", " "}[g.IntN(4)])
			asYAML.WriteString([]string{"---", "--- ", "...\n---", "--- # a record\n", "\ufeff---", "# note\n%YAML 1.2\n---"}[g.IntN(6)] + g.yaml(v, 0) + "\n")
		}
		for name, text := range map[string]string{"x.yaml": asYAML.String(), "x.json": asJSON.String()} {
			if name == "x.yaml" {
				text = strings.ReplaceAll(text, "\n# note\n%YAML", "\n...\n# note\n%YAML")
			}
			got, errs, err := trees(text, name)
			if err != nil || errs != nil {
				t.Fatalf("%q: %v, %v", text, errs, err)
			}
			if len(got) != len(want) {
				t.Fatalf("%d of %d values of %q", len(got), len(want), text)
			}
			for i := range got {
				if diff := cmp.Diff(want[i], plain(got[i])); diff != "" {
					t.Fatalf("%s %q (-made +read):\n%s", name, text, diff)
				}
			}
		}
	}
}

// What stands behind, between or beside the values of a document is named in an error
// with its place; nothing of it is passed over.
func TestNothingLeftOver(t *testing.T) {
	const rec = "gainsay: 1\ncable: A"
	for name, c := range map[string]struct {
		file, text string
		line       int
	}{
		"behind a flow mapping":       {"x.yaml", "{gainsay: 1, cable: A}\nlabel: lost\n", 2},
		"JSON Lines in YAML":          {"x.yaml", "{\"gainsay\":1,\"cable\":\"A\"}\n{\"gainsay\":1,\"cable\":\"B\"}\n", 2},
		"behind a flow list":          {"x.yaml", "[a]\nb: c\n", 2},
		"a text behind a mapping":     {"x.yaml", rec + "\nlost\n", 3},
		"behind U+2028":               {"x.yaml", rec + "\u2028---\u2028gainsay: 1\ncable: B\n", 2},
		"behind U+2029":               {"x.yaml", rec + " # c\u2029lost: 1\n", 2},
		"behind NEL":                  {"x.yaml", rec + "\u0085label: lost\n", 2},
		"behind a carriage return":    {"x.yaml", rec + "\rlabel: lost\n", 2},
		"behind a quoted document":    {"x.yaml", "\"a\"\nb\n", 2},
		"a tag that empties":          {"x.yaml", rec + "\nlabel: !!null lost\n", 3},
		"a tag of ours to be":         {"x.yaml", rec + "\nlabel: !mm 5\n", 3},
		"a key that is a list":        {"x.yaml", rec + "\nabout: {? [a, b] : c}\n", 3},
		"a key that is empty":         {"x.yaml", rec + "\nabout: {'': c}\n", 3},
		"a key of blanks":             {"x.yaml", rec + "\nabout: {' ': c}\n", 3},
		"a key nobody sees":           {"x.yaml", rec + "\nabout: {\"\\u200b\\u3164\": c}\n", 3},
		"an empty key at the top":     {"x.yaml", rec + "\n: c\n", 3},
		"a second document is broken": {"x.yaml", rec + "\n---\ngainsay: [\n", 4},
		"a first document is broken":  {"x.yaml", "gainsay: [\n---\n" + rec + "\n", 1},
		"behind a JSON value":         {"x.json", "{\"gainsay\":1,\"cable\":\"A\"} lost\n", 1},
		"a bracket behind JSON":       {"x.json", "{\"gainsay\":1,\"cable\":\"A\"}]\n", 1},
		"a comma between JSON values": {"x.json", "{\"gainsay\":1,\"cable\":\"A\"},\n{\"gainsay\":1,\"cable\":\"B\"}\n", 1},
		"a text before JSON":          {"x.json", "lost\n{\"gainsay\":1,\"cable\":\"A\"}\n", 1},
	} {
		t.Run(name, func(t *testing.T) {
			_, errs := read(t, c.text, c.file)
			if len(errs) == 0 {
				t.Fatalf("%q is read without an error", c.text)
			}
			var at []int
			for _, err := range errs {
				for _, e := range err.(Errors) {
					at = append(at, e.At.Line)
				}
			}
			for _, line := range at {
				if line == c.line {
					return
				}
			}
			t.Errorf("%q: errors in lines %v, want one in line %d: %v", c.text, at, c.line, errs)
		})
	}
}

// A mark that is put anywhere behind a record is in the record or in an error: whatever
// the characters around it are.
func TestMarkIsNeverLost(t *testing.T) {
	g := grower{rand.New(rand.NewPCG(17, 2))}
	joints := []string{"\n", "\r\n", "\r", "\u0085", "\u2028", "\u2029", " ", "\t", "\v", "\f", "---", "...", "- ", "? ", ": ", "{", "}", "[", "]", ",", "'", "\"", "|", ">", "\ufeff", "\u00a0", "x", "\x00", "%YAML 1.2", "!t ", "&a ", "*a", "\\"}
	for range 50_000 {
		var b strings.Builder
		b.WriteString([]string{"gainsay: 1\ncable: A", "{gainsay: 1, cable: A}", "{\"gainsay\": 1, \"cable\": \"A\"}", "gainsay: 1\ncable: |\n  A"}[g.IntN(4)])
		for range 1 + g.IntN(5) {
			b.WriteString(joints[g.IntN(len(joints))])
		}
		text := b.String() + "MARK"
		for range g.IntN(3) {
			text += joints[g.IntN(len(joints))]
		}
		name := []string{"x.yaml", "x.json", "x"}[g.IntN(3)]
		recs, errs := read(t, text, name)
		held := len(errs) > 0
		for _, r := range recs {
			held = held || strings.Contains(fmt.Sprint(bare(r)), "MARK")
		}
		if !held {
			t.Fatalf("%s %q: the mark is neither in a record nor in an error", name, text)
		}
	}
}

// A cell of a table is read, is under a name that is passed over, or is in an error.
func TestNoCellIsLost(t *testing.T) {
	for name, c := range map[string]struct {
		table    string
		readings int
		errors   []string
	}{
		"decimal commas": {"current/A,vbus/mV,ground/mV\n1,0,93,1\n1,93,45\n", 1,
			[]string{"t.csv:2:8: the row has more cells than the first row, which names 3 columns; write decimals with a point, or separate the cells with semicolons"}},
		"semicolons": {"current/A;vbus/mV\n1,0;93,1;x\n", 0,
			[]string{"t.csv:2:10: the row has more cells than the first row, which names 2 columns; name every column in the first row"}},
		"empty cells at the end": {"current/A,loop/mV\n1,140,,\n", 1, nil},
		"a column without a name": {"current/A,loop/mV,\n1,140,\n1,141,x\n1,142,y\n", 2,
			[]string{"t.csv:3:7: column 3 has no name; name it in the first row; a column named note is passed over"}},
		"a column nobody sees": {"current/A,loop/mV,\u200b\n1,140,x\n", 0,
			[]string{"t.csv:2:7: column 3 has no name; name it in the first row; a column named note is passed over"}},
		"columns passed over": {"time,current/A,loop/mV,note\n12:00,1,140,x\n", 1, nil},
		"a unit of a kind": {"current/A,loop/mV,kind/x\n1,140,reading\n", 1,
			[]string{"t.csv:1:19: the column kind has a unit, \"x\"; name the column kind alone"}},
	} {
		t.Run(name, func(t *testing.T) {
			readings, _, err := ReadTable(strings.NewReader(c.table), "t.csv")
			var got []string
			if err != nil {
				got = strings.Split(err.Error(), "\n")
			}
			if diff := cmp.Diff(c.errors, got); diff != "" || len(readings) != c.readings {
				t.Errorf("%d readings, want %d; errors (-want +got):\n%s", len(readings), c.readings, diff)
			}
		})
	}
}

// A part of a reading that is given twice is refused: neither value is silently kept.
func TestReadingPartsOnce(t *testing.T) {
	for _, text := range []string{
		"1 A, vbus 1 mV, vbus 2 mV", "1 A, vbus 1 mV; current 2 A", "1 A, loop 1 mV, loop 1 mV", "1 A, ground 1 mV, up, down",
		"1 A, vbus 1 mV, up, flip down", "1 A, vbus 1 mV, up 5", "1 A, vbus 1 mV, down up", "current 1 A, vbus 1 mV, current 1 A",
	} {
		if r, err := ParseReading(text, Place{"typed", 1, 1}); err == nil {
			t.Errorf("%q is read as %+v", text, r)
		}
	}
}

// An error is one line, whatever stands in names and keys.
func TestErrorIsOneLine(t *testing.T) {
	for _, key := range []string{"a\nb", "a\rb", "a\r\nb", "a\u0085b", "a\u2028b", "a\u2029b"} {
		b, err := json.Marshal(map[string]any{"gainsay": 1, "cable": "A", key: 1, "about": map[string]any{key: []int{1}}})
		if err != nil {
			t.Fatal(err)
		}
		_, errs := read(t, string(b), "x"+key+".json")
		if len(errs) != 1 || len(errs[0].(Errors)) != 2 {
			t.Fatalf("%q: %v", key, errs)
		}
		for _, e := range errs[0].(Errors) {
			if strings.ContainsAny(e.Error(), "\n\r\u0085\u2028\u2029") {
				t.Errorf("%q: more than one line: %q", key, e.Error())
			}
		}
	}
}
