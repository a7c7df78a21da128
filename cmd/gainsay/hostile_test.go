package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"example.com/gainsay/claims/shelf"
)

// evil means something to a terminal, a browser, a spreadsheet, a Markdown reader
// and a template, wherever it is put.
const evil = "=cmd|' /C calc'!A0<script>alert(1)</script>\"><img src=x onerror=alert(2)>]]>--></style>" +
	"\x1b]0;title\a\x1b[31m\u009b31m\x7f\u202etxt\u2066\u200b\u2028\U000e0041|a|`b`*c*[d](http://e.invalid){{.}}\\'"

// evilRecord has TEXT in every key of a record that holds any text.
const evilRecord = `gainsay: 1
cable: TEXT
label: TEXT
about: {seller: TEXT, model: TEXT, batch: TEXT, price: TEXT, TEXT: TEXT}
claims: {certificate: TEXT, source: TEXT, power: 300 W}
bench: {date: 2026-10-05, note: TEXT, ohmmeter: 0.5 % + 0.1 mohm, vbus: 121 mohm, ground: 58 mohm}
waive: [{rule: claimed-power-above-standard, reason: TEXT}]
marker: {near: "FF00A041 18602FA1 00000000 00010100 000A4644"}
`

// harmless holds that nothing in an output is obeyed by what shows it.
func harmless(t *testing.T, what, out string) {
	t.Helper()
	for i, r := range out {
		if r == '\n' || r == '\r' && strings.HasPrefix(out[i:], "\r\n") || r == ' ' || r == '\u00a0' {
			continue
		}
		if !unicode.IsGraphic(r) || unicode.Is(unicode.Z, r) {
			t.Errorf("%s: %U comes through: %q", what, r, out[max(0, i-40):min(len(out), i+40)])
			return
		}
	}
}

// TestHostileText: whatever text stands in a record, in words, in captures, in
// tables, in the names of files and on the command line, no output carries what a
// terminal, a browser, a spreadsheet or a Markdown reader obeys; and the text is
// not lost.
func TestHostileText(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		if runtime.GOOS == "windows" {
			name = strings.Map(func(r rune) rune {
				if r < ' ' || strings.ContainsRune(`<>:"/\|?*`, r) {
					return 'x'
				}
				return r
			}, name)
		}
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return name
	}
	badName := strings.ReplaceAll(evil, "/", "")
	q := strconv.Quote(evil) // Go's escapes of these are YAML's
	goodFile := write(badName+"good.yaml", strings.ReplaceAll(evilRecord, "TEXT", q))
	bad := "gainsay: 1\ncable: " + q + "\n" + q + ": x\nclaims: {power: " + q + ", plugs: " + q + ", data: " + q + ", video: " + q + ", active: " + q + ", modes: [" + q +
		"], conductors: " + q + "}\nmarker: {revision: " + q + "}\nbench: {date: " + q + ", voltmeter: " + q + ", " + q + ": " + q + "}\nwaive: [{" + q + ": " + q + "}]\n"
	badFile := write(badName+"bad.yaml", bad+"---\ngainsay: "+q+"\ncable: a\n---\ngainsay: 1\ncable: b\nmarker: {near: "+q+"}\n---\n"+
		"gainsay: 1\ncable: c\nwaive: [{rule: "+q+", reason: "+q+"}]\n---\n\x1b: [\n---\n{\x1b\n")
	words := write(badName+"words.txt", evil+"\n")
	capture := write(badName+"c.csv", "time,"+strings.ReplaceAll(evil, "\n", "")+"\n0,0\n1,1\n"+evil+",1\n")
	vcd := write(badName+"c.vcd", "$timescale 1ns $end\n$scope module "+strings.ReplaceAll(evil, " ", "")+" $end\n$var wire 1 ! "+strings.ReplaceAll(evil, " ", "")+
		" $end\n$enddefinitions $end\n#0\n0!\n"+evil+"\n")
	table := write(badName+"t.csv", "current/A,vbus/mV,note,kind\n1,90,"+strconv.Quote("x")+",reading\n"+strings.ReplaceAll(evil, `"`, "")+",90,x,reading\n1,90,x,"+
		strings.ReplaceAll(evil, `"`, "")+"\n")
	tableHead := write(badName+"h.csv", strings.ReplaceAll(evil, `"`, "")+",vbus/mV\n1,90\n")
	for _, name := range []string{"port0/data_role", "port0-cable/type", "port0-cable/identity/id_header", "port0-cable/identity/product_type_vdo1", "port0-cable/plug_type"} {
		write("tree/sys/class/typec/"+name, evil)
	}

	var columns []string
	for _, c := range shelf.Columns() {
		columns = append(columns, c.Name)
	}
	runs := [][]string{
		{"check", badFile}, {"check", "--json", badFile}, {"shelf", badFile}, {"check", dir}, {"check", filepath.Join(dir, badName)},
		{"shelf", "--carry", "60 W", goodFile}, {"shelf", "--carry", "60 W", "--json", goodFile},
		{"shelf", "--where", "seller~script", "--columns", strings.Join(columns, ","), goodFile},
		{"add", "--show", "--date", "2026-10-05", "--reading", "1 A, vbus 93 mV", goodFile}, {"add", "--show", "--reading", evil, goodFile},
		{"add", "--show", "--cable", evil + "x", "--reading", "1 A, vbus 93 mV", goodFile}, {"add", "--show", "--reading", "1 A, vbus 9 mV", badFile},
		{"draft", evil}, {"draft", "--json", evil}, {"draft", "--near", evil}, {"draft", "--near", words},
		{"decode", evil}, {"decode", "--json", evil}, {"decode", words}, {"decode", "--lines", words}, {"decode", "--json", words},
		{"decode", "--capture", capture}, {"decode", "--json", "--capture", capture}, {"decode", vcd}, {"decode", "--json", vcd}, {"decode", "--wire", evil, vcd},
		{"ohms", table}, {"ohms", "--json", table}, {"ohms", tableHead}, {"ohms", "--reading", evil}, {"ohms", "--reading", "1 A, vbus 9 mV", "--voltmeter", evil},
		{"ports", "--root", filepath.Join(dir, "tree")}, {"ports", "--json", "--root", filepath.Join(dir, "tree")},
		{"ports", "--record", "--root", filepath.Join(dir, "tree")}, {"ports", "--root", evil}, {"ports", "--root", filepath.Join(dir, "tree"), evil},
		{evil}, {"help", evil}, {"rules", evil}, {"layout", evil}, {"compose", evil}, {"compose", "passive-cable", evil}, {"compose", "passive-cable", "speed=" + evil},
		{"check", "--" + evil}, {"check", "--form", evil, goodFile}, {"check", "--accept", evil, goodFile}, {"check", "-o", filepath.Join(dir, evil, "x"), goodFile},
		{"shelf", "--where", evil, goodFile}, {"shelf", "--sort", evil, goodFile}, {"shelf", "--columns", evil, goodFile}, {"shelf", "--bands", evil, goodFile},
		{"shelf", "--carry", evil, goodFile}, {"decode", "--as", evil, "FF00A041"}, {"decode", "--layout", evil, "FF00A041"}, {"decode", "--plug", evil, "FF00A041"},
		{"decode", "--revision", evil, "FF00A041"}, {"decode", "--threshold", evil, vcd}, {"completion", evil}, {"manual", evil}, {"schema", evil},
	}
	for _, form := range forms {
		runs = append(runs, []string{"check", "--form", form, goodFile}, []string{"shelf", "--form", form, goodFile})
	}
	for _, args := range runs {
		name := fmt.Sprintf("%.60q", args)
		code, out, errs := gainsay(t, "", args...)
		harmless(t, name+" on stdout", out)
		harmless(t, name+" on stderr", errs)
		form := ""
		if len(args) == 4 && args[1] == "--form" && args[3] == goodFile {
			form = args[2]
		}
		switch {
		case code == exitUndone && errs == "":
			t.Errorf("%s: exit 2 and no word why", name)
		case slices.Contains(forms, form) && errs != "" && !strings.Contains(errs, "claims.certificate"): // which is not understood
			t.Errorf("%s: exit %d, %.500s", name, code, errs)
		case form == formHTML:
			if strings.Contains(out, "<script>alert") || strings.Contains(out, "<img") || strings.Contains(out, "]]>") || !strings.Contains(out, "&lt;script&gt;alert(1)") {
				t.Errorf("%s: text is markup, or lost", name)
			}
		case form == formMarkdown:
			if strings.Contains(out, "<script") && !strings.Contains(out, `\<script`) || !strings.Contains(out, `\<script\>alert\(1\)`) {
				t.Errorf("%s: text is markup, or lost", name)
			}
		case form == formCSV:
			rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
			if err != nil || !strings.Contains(out, "<script>alert(1)") {
				t.Errorf("%s: %v; or text is lost", name, err)
			}
			for _, row := range rows {
				for _, cell := range row {
					if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
						t.Errorf("%s: a formula: %.60q", name, cell)
					}
				}
			}
		}
		if slices.Contains(args, "--json") || form == formJSON {
			kept := false
			for dec := json.NewDecoder(strings.NewReader(out)); ; {
				var v any
				if err := dec.Decode(&v); err != nil {
					if err != io.EOF {
						t.Errorf("%s: not JSON: %v", name, err)
					}
					break
				}
				kept = kept || holds(v, evil)
			}
			if args[len(args)-1] == goodFile && !kept {
				t.Errorf("%s: the text is lost", name)
			}
		}
	}
	// A draft of such an id is a record of it.
	for _, form := range [][]string{nil, {"--json"}} {
		_, draft, _ := gainsay(t, "", append([]string{"draft", evil}, form...)...)
		if code, out, errs := gainsay(t, draft, "check", "--json", "-"); code != exitDone || errs != "" || !strings.Contains(out, quotedPlain(evil)) {
			t.Errorf("a draft%v: exit %d, %s%.300s", form, code, errs, out)
		}
	}
}

// quotedPlain is a text as this program's JSON has it.
func quotedPlain(s string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(plainJSON{&b})
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		return err.Error()
	}
	return strings.TrimSpace(b.String())
}

// holds tells whether some text of a JSON value is this one.
func holds(v any, text string) bool {
	switch v := v.(type) {
	case string:
		return v == text
	case []any:
		for _, e := range v {
			if holds(e, text) {
				return true
			}
		}
	case map[string]any:
		for _, e := range v {
			if holds(e, text) {
				return true
			}
		}
	}
	return false
}

// TestAbsurdReports: the largest and smallest quantities that are taken, in every
// key at once and against ordinary ones, give reports in every form without NaN or
// infinity, or an error.
func TestAbsurdReports(t *testing.T) {
	extremes := map[string]map[string]string{ // by unit
		"largest":  {"W": "1e9", "A": "1e6", "V": "1e6", "m": "1e6", "ohm": "1e12", "°C": "1e4", "mm²": "1e4", "Gbps": "1e6", "%": "100"},
		"smallest": {"W": "1e-300", "A": "1e-300", "V": "1e-300", "m": "1e-300", "ohm": "1e-300", "°C": "-273.15", "mm²": "1e-300", "Gbps": "1e-300", "%": "1e-300"},
		"zero":     {"W": "0", "A": "0", "V": "0", "m": "0", "ohm": "0", "°C": "0", "mm²": "0", "Gbps": "0", "%": "0"},
		"negative": {"W": "-5", "A": "-5", "V": "-5", "m": "-5", "ohm": "-5", "°C": "-5", "mm²": "-5", "Gbps": "-5", "%": "-5"},
	}
	ordinary := map[string]string{"W": "140", "A": "3", "V": "0.3", "m": "2", "ohm": "0.1", "°C": "23", "mm²": "0.5", "Gbps": "40", "%": "0.5"}
	keys := []struct{ section, key, unit string }{
		{"claims", "power", "W"}, {"claims", "current", "A"}, {"claims", "voltage", "V"}, {"claims", "length", "m"}, {"claims", "data", "Gbps"},
		{"claims", "conductors", "mm²"}, {"bench", "length", "m"}, {"bench", "ambient", "°C"}, {"bench", "voltmeter", "%"}, {"bench", "ammeter", "%"},
		{"bench", "ohmmeter", "%"}, {"bench", "vbus", "ohm"}, {"bench", "ground", "ohm"}, {"bench", "loop", "ohm"},
		{"null", "current", "A"}, {"null", "vbus", "V"}, {"null", "ground", "V"}, {"null", "loop", "V"},
		{"reading", "current", "A"}, {"reading", "vbus", "V"}, {"reading", "ground", "V"}, {"reading", "loop", "V"},
	}
	// document puts a value into the keys chosen, and ordinary ones into the others;
	// ohms gives resistances as printed by a meter in place of readings.
	document := func(with map[string]string, ohms bool, chosen func(i int) bool) string {
		parts := map[string][]string{}
		for i, k := range keys {
			v := ordinary[k.unit]
			if chosen(i) {
				v = with[k.unit]
			}
			if k.section == "bench" && k.unit == "ohm" && !ohms || ohms && (k.section == "null" || k.section == "reading") {
				continue
			}
			if k.section == "null" && v == ordinary[k.unit] && k.unit == "V" {
				v = "1e-3"
			}
			parts[k.section] = append(parts[k.section], fmt.Sprintf("%s: %s %s", k.key, v, k.unit))
		}
		in := func(name string) string { return strings.Join(parts[name], ", ") }
		text := "gainsay: 1\ncable: a\nabout: {price: 1e308 EUR}\nclaims: {" + in("claims") + "}\nmarker: {near: \"FF00A041 18602FA1 00000000 00010100 000A4644\"}\nbench: {" + in("bench")
		if !ohms {
			text += ", null: {" + in("null") + "}, readings: [{" + in("reading") + "}, {" + in("reading") + "}]"
		}
		return text + "}\n"
	}
	checked := 0
	for name, with := range extremes {
		for _, ohms := range []bool{false, true} {
			for one := -1; one < len(keys); one++ { // one key, or all
				text := document(with, ohms, func(i int) bool { return one < 0 || i == one })
				for _, args := range [][]string{{"check", "--json", "-"}, {"check", "-"}, {"check", "--form", "html", "-"}, {"shelf", "--form", "csv", "-"},
					{"shelf", "--carry", "60 W", "--json", "-"}, {"shelf", "--form", "html", "-"}} {
					if one >= 0 && args[1] == "--form" {
						continue // a page of all is enough
					}
					code, out, errs := gainsay(t, text, args...)
					what := fmt.Sprintf("%s, key %d, %v", name, one, args)
					switch {
					case code == exitUndone && (errs == "" || strings.Contains(errs, "cannot write")):
						t.Errorf("%s: exit 2, %q\n%s", what, errs, text)
					case code != exitUndone && errs != "":
						t.Errorf("%s: exit %d, %q", what, code, errs)
					}
					for _, word := range []string{"NaN", "+Inf", "-Inf", "Infinity", "Inf "} {
						if strings.Contains(out, word) || strings.Contains(errs, word) {
							t.Errorf("%s: %s in %s%.600s\n%s", what, word, errs, out, text)
						}
					}
					if code != exitUndone || out != "" { // a claim that is not understood costs itself only
						checked++
					}
				}
			}
		}
	}
	if checked < 250 {
		t.Errorf("only %d reports", checked)
	}
}
