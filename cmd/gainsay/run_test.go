package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
	"example.com/gainsay/vdo"
)

func checkFile(t *testing.T, path string) *claims.Report {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for rec, err := range record.Read(f, path) {
		if err != nil {
			t.Fatal(err)
		}
		report, err := rules.Checker().Check(rec)
		if err != nil {
			t.Fatal(err)
		}
		return report
	}
	t.Fatalf("%s: no record", path)
	return nil
}

func TestCommands(t *testing.T) {
	const words = "FF00A041 18602FA1 00000000 01020100 000A2643"
	tests := map[string]struct {
		args  []string
		stdin string
		code  int
		out   []string // parts of stdout
		err   []string // parts of stderr
	}{
		"no command":           {nil, "", 2, nil, []string{"Usage:"}},
		"help":                 {[]string{"--help"}, "", 0, []string{"Commands:", "check", "Example:"}, nil},
		"help of a command":    {[]string{"help", "decode"}, "", 0, []string{"gainsay decode", "Example:"}, nil},
		"unknown command":      {[]string{"chekc"}, "", 2, nil, []string{`no command is called "chekc"; perhaps check`, "check"}},
		"unknown option":       {[]string{"check", "--josn"}, "", 2, nil, []string{"josn", "gainsay check --help"}},
		"decode words":         {append([]string{"decode"}, strings.Fields(words)...), "", 0, []string{"Discover Identity, ACK", "5 A, up to 50 V, EPR", "USB4 Gen 3"}, nil},
		"decode stdin":         {[]string{"decode"}, words, 0, []string{"words, header first"}, nil},
		"decode dash":          {[]string{"decode", "-"}, words, 0, []string{"words, header first"}, nil},
		"decode headerless":    {[]string{"decode", "18602FA1", "0", "0x0", "0x000A2643"}, "", 2, []string{"starting at the ID header", "zeros were put in front"}, []string{`"0": 1 hex digit is no word`}},
		"decode as PD 2.0":     {[]string{"decode", "--revision", "2.0", "18002FA1 00000000 00000000 00084651"}, "", 0, []string{"SSTX1 direction", "configurable", "follow the PD revision given"}, nil},
		"decode both readings": {[]string{"decode", "18002FA1 00000000 00000000 00084651"}, "", 0, []string{"read as a PD 2.0 answer the same words would declare"}, nil},
		"decode bytes":         {[]string{"decode"}, "8f 51 41 a0 00 ff ff ff 60 18 00 00 00 00 00 01 00 00 43 26 0a 12", 0, []string{"bytes, message header first", "5 A, up to 50 V, EPR"}, nil},
		"decode with CRC":      {[]string{"decode"}, "8f 51 41 a0 00 ff ff ff 60 18 00 00 00 00 00 01 00 00 43 26 0a 12 82 42 8a 86", 0, []string{"CRC", "5 A, up to 50 V, EPR"}, nil},
		"decode wrong CRC":     {[]string{"decode"}, "8f 51 41 a0 00 ff ff ff 60 18 00 00 00 00 00 01 00 00 43 26 0a 12 82 42 8a 87", 0, []string{"CRC wrong", "the CRC is wrong", "5 A, up to 50 V, EPR"}, nil},
		"decode a capture":     {[]string{"decode", "../../vdo/signal/testdata/conversation.vcd"}, "", 0, []string{"capture of bench.CC1", "5 A", "Set aside: GoodCRC"}, nil},
		"decode a table":       {[]string{"decode", "--capture", "--json", "../../vdo/signal/testdata/levels.csv"}, "", 0, []string{`"time_s":`, `"plug":"near"`}, nil},
		"decode broken":        {[]string{"decode", "../../vdo/signal/testdata/broken.vcd"}, "", 2, []string{"did not arrive whole", "EOP; and symbol 17", "5 A, up to 50 V, EPR"}, []string{"packet at 705µs", "the CRC does not fit"}},
		"decode bad threshold": {[]string{"decode", "--threshold", "half"}, "", 2, nil, []string{"--threshold", "a number should stand here"}},
		"decode half a byte":   {[]string{"decode"}, "8f 51 41 a0 00 f", 2, nil, []string{"line 1, column 16"}},
		"decode forms":         {[]string{"decode", "--forms"}, "", 0, []string{"words ", "kernel ", "log "}, nil},
		"decode bad form":      {[]string{"decode", "--as", "runes"}, "FF00A041", 2, nil, []string{"--forms lists them"}},
		"decode one layout":    {[]string{"decode", "--layout", "vpd", "110050C3"}, "", 0, []string{"VBUS impedance", "66 mΩ", "33 mΩ"}, nil},
		"decode bad layout":    {[]string{"decode", "--layout", "vpdd", "110050C3"}, "", 2, nil, []string{"perhaps vpd"}},
		"decode bad token":     {[]string{"decode"}, "FF00A041\n  18602FGA", 2, []string{"Discover Identity"}, []string{"line 2, column 9", "'G' is no hex digit"}},
		"decode nothing":       {[]string{"decode"}, "  \n", 2, nil, []string{"nothing here"}},
		"decode mixed":         {[]string{"decode", "-", "FF00A041"}, "", 2, nil, []string{"not both"}},
		"check without a name": {[]string{"check"}, "", 2, nil, []string{"name a file"}},
		"check missing file":   {[]string{"check", "no-such.yaml"}, "", 2, nil, []string{"no-such.yaml: no such file"}},
		"check empty":          {[]string{"check", "-"}, "", 2, nil, []string{"no record was found"}},
		"check bad among good": {[]string{"check", "-"}, "gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: b\nclaims: {power: 5 V}\n---\ngainsay: 1\ncable: c\n", 2,
			[]string{"3 records checked", "not read      power 5 V"}, []string{"stdin:6:17: claims.power", "no wattage stands here"}},
		"check bad key among good": {[]string{"check", "-"}, "gainsay: 1\ncable: a\n---\ngainsay: 1\ncable: b\nclaim: {power: 5 W}\n---\ngainsay: 1\ncable: c\n", 2,
			[]string{"2 records checked"}, []string{"stdin:6:1: claim: no such key"}},
		"check contradiction": {[]string{"check", "-"}, "gainsay: 1\ncable: a\nclaims: {power: 300 W}\n", 1, []string{"claimed-power-above-standard"}, nil},
		"check waived": {[]string{"check", "--full", "-"}, "gainsay: 1\ncable: a\nclaims: {power: 300 W}\nwaive: [{rule: claimed-power-above-standard, reason: misprint}]\n", 0,
			[]string{"Waived: misprint"}, nil},
		"check unknown waiver": {[]string{"check", "-"}, "gainsay: 1\ncable: a\nwaive: [{rule: no-such-rule, reason: x}]\n", 2, nil, []string{`no rule is called "no-such-rule"`}},
		"check bad word in a block": {[]string{"check", "-"}, "gainsay: 1\ncable: a\nmarker:\n  near: |\n    FF00A041\n    1860ZFA1\n", 2, nil,
			[]string{"stdin:6:9: marker.near", "'Z' is no hex digit"}},
		"check either way": {[]string{"check", "-"}, "gainsay: 1\ncable: a\nmarker: {near: \"186020180000000001020100000A2643\"}\n", 2, nil,
			[]string{"stdin:3:17: marker.near: this can be read in two ways"}},
		"check request alone": {[]string{"check", "-"}, "gainsay: 1\ncable: a\nmarker: {near: FF00A001}\n", 2, nil,
			[]string{"stdin:3:16: marker.near: there is no answer of this plug here, only a request: Discover Identity", "asked: true"}},
		"check hostile text":    {[]string{"check", "-"}, "gainsay: 1\ncable: \"a\\e[31m\\u202e\"\n", 0, []string{`a\x1b[31m\u202e`}, nil},
		"rules":                 {[]string{"rules"}, "", 0, []string{"contradiction:", "claimed-power-above-marker"}, nil},
		"rule explained":        {[]string{"rules", "bench-ground-over-limit"}, "", 0, []string{"Finds that", "§4.4.1", "Needs", "Next"}, nil},
		"rule misspelt":         {[]string{"rules", "bench-ground-over-limt"}, "", 2, nil, []string{"perhaps bench-ground-over-limit"}},
		"layouts":               {[]string{"layout"}, "", 0, []string{"passive-cable ", "thunderbolt-cable"}, nil},
		"layout":                {[]string{"layout", "passive-cable"}, "", 0, []string{"T 6.42", "vbus-current", "10b  5 A"}, nil},
		"compose":               {[]string{"compose", "passive-cable", "plug-type=2", "epr=1", "latency=1", "max-voltage=3", "vbus-current=0b10", "speed=3"}, "", 0, []string{"0x000A2643"}, nil},
		"compose too large":     {[]string{"compose", "passive-cable", "speed=8"}, "", 2, nil, []string{"too large", "at most 7"}},
		"ports":                 {[]string{"ports", "--root", "../../testdata/typec"}, "", 0, []string{"port0", "5 A, up to 50 V, EPR", "does not show the VDM header", "no cable is shown"}, nil},
		"ports as JSON":         {[]string{"ports", "--json", "--root", "../../testdata/typec", "port0"}, "", 0, []string{`"port":"port0"`, `"current_a":5`, `"thunderbolt_lane_gbps":20`}, nil},
		"ports, no such":        {[]string{"ports", "--root", "../../testdata/typec", "port7"}, "", 2, nil, []string{`no port is called "port7"; there are port0, port1, port2, port3`}},
		"ports, a record, none": {[]string{"ports", "--record", "--root", "../../testdata/typec", "port1"}, "", 2, nil, []string{"port1: no cable is shown"}},
		"ports, all records":    {[]string{"ports", "--record", "--root", "../../testdata/typec"}, "", 0, []string{`cable: "port0"`, `cable: "port3"`}, []string{"port1: no cable is shown"}},
		"ports, no class":       {[]string{"ports", "--root", "../../testdata"}, "", 2, nil, []string{"no USB Type-C ports", "--root"}},
		"compose no field":      {[]string{"compose", "passive-cable", "sped=1"}, "", 2, nil, []string{"no such field"}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			code, out, errs := gainsay(t, tt.stdin, tt.args...)
			if code != tt.code {
				t.Errorf("exit %d, want %d\nstdout: %s\nstderr: %s", code, tt.code, out, errs)
			}
			for _, part := range tt.out {
				if !strings.Contains(out, part) {
					t.Errorf("stdout lacks %q:\n%s", part, out)
				}
			}
			for _, part := range tt.err {
				if !strings.Contains(errs, part) {
					t.Errorf("stderr lacks %q:\n%s", part, errs)
				}
			}
			if len(tt.err) == 0 && errs != "" {
				t.Errorf("stderr: %s", errs)
			}
		})
	}
}

// TestHelp holds that every command's help fits 80 columns and ends with a
// worked example that runs.
func TestHelp(t *testing.T) {
	t.Chdir("../..")
	for _, c := range commands() {
		t.Run(c.name, func(t *testing.T) {
			_, out, _ := gainsay(t, "", c.name, "--help")
			for _, line := range strings.Split(out, "\n") {
				if len([]rune(line)) > publish.Width {
					t.Errorf("too long: %s", line)
				}
			}
			_, example, ok := strings.Cut(out, "\nExample:\n")
			if !ok {
				t.Fatal("no example")
			}
			args := shellWords(strings.ReplaceAll(strings.TrimSpace(example), "\\\n", " "))
			if args[0] != "gainsay" || args[1] != c.name {
				t.Fatalf("the example is %q", example)
			}
			for i, a := range args {
				if a == ">" {
					args = args[:i]
					break
				}
			}
			if code, _, errs := gainsay(t, "", args[1:]...); code == exitUndone {
				t.Errorf("the example fails: %s", errs)
			}
		})
	}
}

// TestDraftFromWords holds that pasted words stand in the record, which can then be
// checked.
func TestDraftFromWords(t *testing.T) {
	for _, form := range [][]string{nil, {"--json"}} {
		args := append([]string{"draft", "NF-9", "--near", "-"}, form...)
		code, rec, errs := gainsay(t, "8f 51 41 a0 00 ff ff ff 60 18 00 00 00 00 00 01 00 00 43 26 0a 12", args...)
		if code != exitDone || errs != "" {
			t.Fatalf("exit %d: %s", code, errs)
		}
		if _, out, errs := gainsay(t, rec, "check", "-"); errs != "" || !strings.Contains(out, "The marker declares 5 A, 50 V and EPR.") {
			t.Errorf("%v: %s%s", form, errs, out)
		}
	}
	for text, want := range map[string]string{"nonsense": "draft: --near:", "FF00A001": "no answer of this plug"} {
		if code, _, errs := gainsay(t, "", "draft", "--near", text); code != exitUndone || !strings.Contains(errs, want) {
			t.Errorf("%q: exit %d, %s", text, code, errs)
		}
	}
}

// shellWords cuts a command line at blanks outside double quotes.
func shellWords(line string) []string {
	quoted := false
	words := strings.FieldsFunc(line, func(r rune) bool {
		if r == '"' {
			quoted = !quoted
		}
		return !quoted && (r == ' ' || r == '\n')
	})
	for i := range words {
		words[i] = strings.Trim(words[i], "\"")
	}
	return words
}

// TestDraft holds that a draft passes check as it is, and again with every
// example value in place.
func TestDraft(t *testing.T) {
	_, draft, _ := gainsay(t, "", "draft", "NF-9")
	if code, out, errs := gainsay(t, draft, "check", "-"); code != exitDone || errs != "" || !strings.HasPrefix(out, "NF-9: No claim recorded. Not measured yet.\n") {
		t.Errorf("exit %d, stderr %q, stdout %s", code, errs, out)
	}
	_, asJSON, _ := gainsay(t, "", "draft", "--json", "NF-9")
	if code, _, errs := gainsay(t, asJSON, "check", "-"); code != exitDone {
		t.Errorf("as JSON: exit %d: %s", code, errs)
	}
	var filled []string
	for _, line := range strings.Split(draft, "\n") {
		bare, ok := strings.CutPrefix(line, "# ")
		switch {
		case !ok:
			filled = append(filled, line)
		case strings.HasPrefix(strings.TrimSpace(bare), "#"), strings.HasPrefix(bare, "A record"), strings.HasPrefix(bare, "yaml-language-server:"):
		default:
			filled = append(filled, strings.NewReplacer(`"..."`, `"FF00A041"`, ` ..."`, `"`).Replace(bare))
		}
	}
	text := strings.Join(filled, "\n")
	for rec, err := range record.Read(strings.NewReader(text), "draft.yaml") {
		if err != nil {
			t.Errorf("filled in: %v\n%s", err, text)
		} else if !rec.Claims[0].Power.Known || len(rec.Bench) != 1 {
			t.Errorf("filled in, but not read:\n%s", text)
		}
	}
}

// TestPortsRecord holds that the record made of a port can be checked as it is, and
// carries what the marker answered.
func TestPortsRecord(t *testing.T) {
	_, rec, errs := gainsay(t, "", "ports", "--record", "--root", "../../testdata/typec", "port0")
	if errs != "" {
		t.Errorf("stderr: %s", errs)
	}
	code, out, errs := gainsay(t, rec, "check", "-")
	if code != exitDone || errs != "" || !strings.Contains(out, "The marker declares 5 A, 50 V and EPR.") {
		t.Errorf("exit %d, stderr %q, stdout %s", code, errs, out)
	}
}

// TestDecodeJSON holds the machine form against the published example.
func TestDecodeJSON(t *testing.T) {
	_, out, _ := gainsay(t, "FF00A041 18602FA1 00000000 01020100 000A2643", "decode", "--json")
	var got struct {
		Gainsay int
		ReadAs  string `json:"read_as"`
		At      map[string]int
		Reply   map[string]string
		Cable   map[string]any
		Words   []struct {
			Index  int
			Word   string
			Layout string
			Fields []struct {
				Name     string
				Bits     [2]int
				Raw      uint32
				Standing string
			}
		}
		Remarks []string
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	wantCable := map[string]any{
		"product": "passive-cable", "vendor_id": "0x2FA1", "certification_id": "0x00000000", "product_id": "0x0102", "release": "0x0100",
		"current_a": 5.0, "max_voltage_v": 50.0, "epr": true, "speed": "usb4-gen3", "rate_gbps": 40.0,
		"latency_ns": map[string]any{"over": 0.0, "upto": 10.0}, "vconn_required": false, "plug_type": "type-c",
		"modal": false, "displayport_lane_gbps": 20.0, "displayport_concluded": true,
	}
	if diff := cmp.Diff(wantCable, got.Cable); diff != "" {
		t.Errorf("cable (-want +got):\n%s", diff)
	}
	wantReply := map[string]string{"command": "discover-identity", "answer": "ack", "structured_version": "2.0", "revision": "3.x"}
	if diff := cmp.Diff(wantReply, got.Reply); diff != "" {
		t.Errorf("reply (-want +got):\n%s", diff)
	}
	if got.Gainsay != 1 || got.ReadAs != "words, header first" || got.At["line"] != 1 || got.At["column"] != 1 || got.Remarks == nil {
		t.Errorf("envelope: %+v", got)
	}
	for _, w := range got.Words {
		next := 31
		for _, f := range w.Fields {
			if f.Bits[0] != next {
				t.Errorf("%s: field %s begins at bit %d, want %d", w.Layout, f.Name, f.Bits[0], next)
			}
			next = f.Bits[1] - 1
		}
		if next != -1 {
			t.Errorf("%s: fields end above bit 0", w.Layout)
		}
	}
}

// TestDecodeLines holds that each line of input gives one line of JSON, in order,
// errors included.
func TestDecodeLines(t *testing.T) {
	in := "FF00A041 18602FA1 00000000 01020100 000A2643\nnonsense and more\n\nFF008081\n"
	code, out, _ := gainsay(t, in, "decode", "--json", "--lines")
	var kinds []string
	for sc := bufio.NewScanner(strings.NewReader(out)); sc.Scan(); {
		var line struct {
			Error string
			At    struct{ Line int }
			Reply struct{ Answer string }
		}
		if err := json.Unmarshal(sc.Bytes(), &line); err != nil {
			t.Fatal(err)
		}
		kind := line.Reply.Answer
		if line.Error != "" {
			kind = "error"
		}
		kinds = append(kinds, kind+" "+string(rune('0'+line.At.Line)))
	}
	if diff := cmp.Diff([]string{"ack 1", "error 2", "error 3", "nak 4"}, kinds); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if code != exitUndone {
		t.Errorf("exit %d, want %d", code, exitUndone)
	}
}

// TestDecodeLong: a text too long to be held is read block by block, and nothing of
// it is lost.
func TestDecodeLong(t *testing.T) {
	const line = "FF00A041 18602FA1 00000000 01020100 000A2643\n"
	n := 2*maxHeld/len(line) + 1
	_, out, errs := gainsay(t, strings.Repeat(line, n)+"FF00A041 1860ZFA1\n", "decode", "--json")
	answers := strings.Count(out, `"product":"passive-cable"`)
	if answers != n {
		t.Errorf("%d answers, want %d", answers, n)
	}
	if want := fmt.Sprintf("line %d, column 14", n+1); !strings.Contains(errs, want) {
		t.Errorf("stderr %q, want %q", errs, want)
	}
}

// TestFolder holds that a folder gives its records and that one bad file does
// not cost the others.
func TestFolder(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("a.yaml", "gainsay: 1\ncable: a\n")
	write("b.jsonl", "{\"gainsay\":1,\"cable\":\"b\"}\n{\"gainsay\":1,\"cable\":\n{\"gainsay\":1,\"cable\":\"c\"}\n")
	write("notes.txt", "not a record")
	code, out, errs := gainsay(t, "", "check", "--json", dir, filepath.Join(dir, "gone.yaml"))
	if n := strings.Count(out, "\n"); n != 3 {
		t.Errorf("%d reports, want 3:\n%s", n, out)
	}
	if code != exitUndone || !strings.Contains(errs, "b.jsonl:2:22:") || !strings.Contains(errs, "gone.yaml") {
		t.Errorf("exit %d, stderr %s", code, errs)
	}
}

// TestCaptureBesideRecord: a record may name a capture beside it, of the CC line
// or of any text that decode reads, and no file elsewhere.
func TestCaptureBesideRecord(t *testing.T) {
	dir := t.TempDir()
	for name, from := range map[string]string{"line.vcd": "conversation.vcd", "line.csv": "levels.csv"} {
		b, err := os.ReadFile("../../vdo/signal/testdata/" + from)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "words.txt"), []byte("FF00A041 18602FA1 00000000 01020100 000A2643\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	for near, want := range map[string]string{
		"line.vcd": "The marker declares 5 A", "line.csv": "The marker declares 5 A", "words.txt": "The marker declares 5 A",
		"gone.vcd": `"gone.vcd": no such file`, "../words.txt": "invalid argument",
	} {
		rec := filepath.Join(dir, "r.yaml")
		if err := os.WriteFile(rec, []byte("gainsay: 1\ncable: a\nmarker: {near: "+near+"}\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		_, out, errs := gainsay(t, "", "check", rec)
		if !strings.Contains(out+errs, want) {
			t.Errorf("%s: want %q in\n%s%s", near, want, out, errs)
		}
	}
	_, _, errs := gainsay(t, "gainsay: 1\ncable: a\nmarker: {near: line.vcd}\n", "check", "-")
	if !strings.Contains(errs, "stdin:3:16: marker.near") || !strings.Contains(errs, "a record that is a file itself") {
		t.Errorf("from stdin: %s", errs)
	}
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("broken pipe") }

func TestOutputFails(t *testing.T) {
	var errs strings.Builder
	if code := run([]string{"layout"}, strings.NewReader(""), brokenPipe{}, &errs); code != exitUndone {
		t.Errorf("exit %d, want %d", code, exitUndone)
	}
	if !strings.Contains(errs.String(), "broken pipe") {
		t.Errorf("stderr: %s", errs.String())
	}
}

// TestLayoutJSON holds that every layout is listed with its 32 bits.
func TestLayoutJSON(t *testing.T) {
	_, out, _ := gainsay(t, "", "layout", "--json")
	if n := strings.Count(out, "\n"); n != len(vdo.Layouts()) {
		t.Errorf("%d layouts, want %d", n, len(vdo.Layouts()))
	}
	for line := range strings.Lines(out) {
		var l struct {
			Layout string
			Fields []struct{ Bits [2]int }
		}
		if err := json.Unmarshal([]byte(line), &l); err != nil {
			t.Fatal(err)
		}
		bits := 0
		for _, f := range l.Fields {
			bits += f.Bits[0] - f.Bits[1] + 1
		}
		if bits != 32 {
			t.Errorf("%s: %d bits", l.Layout, bits)
		}
	}
}

// TestOhms works a vector end to end at the prompt: R = 133.553 mΩ, u = 0.439 mΩ, degrees of freedom practically infinite.
// Two independent methods agree on it; it is not published.
func TestOhms(t *testing.T) {
	table := "kind,current/A,vbus/mV\n" +
		"reading,3.002,402.1\nreading,2.998,401.6\nreading,3.001,402.0\nreading,2.999,401.7\nreading,3.000,401.9\n" +
		"null,3,1.20\nnull,3,1.22\nnull,3,1.19\nnull,3,1.21\nnull,3,1.18\n"
	code, out, errs := gainsay(t, table, "ohms", "--json", "--voltmeter", "0.05 % + 3 counts of 0.01 mV", "--ammeter", "0.5 % + 2 mA", "-")
	if code != exitDone || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var got struct {
		Bench struct {
			VBUS struct{ Ohm, U float64 }
		}
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if r := got.Bench.VBUS.Ohm; r < 0.1335530 || r > 0.1335537 {
		t.Errorf("R = %v Ω, want 0.13355333", r)
	}
	if u := got.Bench.VBUS.U; u < 0.000438 || u > 0.000441 {
		t.Errorf("u = %v Ω, want 0.00043926", u)
	}
}

func TestOhmsCommand(t *testing.T) {
	tests := map[string]struct {
		args  []string
		stdin string
		code  int
		out   []string
		err   []string
	}{
		// Common practice: at 1 A, millivolts are milliohms.
		"millivolts are milliohms": {[]string{"--reading", "1 A, vbus 92 mV, ground 45 mV"}, "", 0,
			[]string{"VBUS        92.0 ± 3.8 mΩ", "ground      45.0 ± 2.4 mΩ", "loop        137.0 ± 6.1 mΩ", "accuracy is not on record"}, nil},
		"over at the current asked": {[]string{"--reading", "1 A, vbus 120 mV, ground 45 mV", "--at", "5 A"}, "", 1, []string{"VBUS over 100 mΩ"}, nil},
		"a reading as a file":       {[]string{"1 A, vbus 92 mV"}, "", 2, nil, []string{"no such file", "a reading is given with --reading"}},
		"no reading":                {nil, "", 2, nil, []string{"no reading"}},
		"zero current":              {[]string{"--reading", "0 A, vbus 1 mV"}, "", 2, nil, []string{"test current of zero"}},
		"null larger":               {[]string{"--reading", "1 A, vbus 1 mV", "--null", "1 A, vbus 5 mV"}, "", 2, nil, []string{"null"}},
		"bad part":                  {[]string{"--reading", "1 A, vbuss 1 mV"}, "", 2, nil, []string{`"vbuss 1 mV" is no part of a reading`}},
		"bad unit":                  {[]string{"--reading", "1 A, vbus 1 mA"}, "", 2, nil, []string{"unit of current, not of voltage"}},
		"bad rule":                  {[]string{"--reading", "1 A, vbus 1 mV", "--accept", "maybe"}, "", 2, nil, []string{"guard, simple"}},
		"one bad row":               {[]string{"-"}, "current/A,vbus/mV\n1,90\n1,zz\n1,91\n", 2, []string{"VBUS        90.5"}, []string{"stdin:3:3", "a number should stand here"}},
		"unknown column":            {[]string{"-"}, "current/A,vbuss/mV\n1,90\n", 2, nil, []string{`no column is called "vbuss/mV"`}},
		"semicolons and commas":     {[]string{"-"}, "current/A;vbus/mV;ground/mV\n1,0;90,5;44,1\n", 0, []string{"VBUS        90.5 ± 6.3 mΩ", "ground      44.1 ± 3.4 mΩ"}, nil},
		"simple acceptance": {[]string{"--reading", "1 A, vbus 99.99 mV, ground 45 mV", "--voltmeter", "1 %", "--ammeter", "1 %", "--accept", "simple"}, "", 0,
			[]string{"VBUS within 100 mΩ"}, nil},
		"guard band": {[]string{"--reading", "1 A, vbus 99.99 mV, ground 45 mV", "--voltmeter", "1 %", "--ammeter", "1 %"}, "", 0,
			[]string{"VBUS undecided against 100 mΩ", "to settle"}, nil},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			code, out, errs := gainsay(t, tt.stdin, append([]string{"ohms"}, tt.args...)...)
			if code != tt.code {
				t.Errorf("exit %d, want %d\nstdout: %s\nstderr: %s", code, tt.code, out, errs)
			}
			for _, part := range tt.out {
				if !strings.Contains(out, part) {
					t.Errorf("stdout lacks %q:\n%s", part, out)
				}
			}
			for _, part := range tt.err {
				if !strings.Contains(errs, part) {
					t.Errorf("stderr lacks %q:\n%s", part, errs)
				}
			}
		})
	}
}
