package record

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gopkg.in/yaml.v3"

	"example.com/gainsay/claims/quantity"
)

// full has every key of the format.
const full = `gainsay: 1
cable: NF-014
label: "2 m braided, blue sleeve"
about: {seller: Tarrowby Electrics, bought: 2026-09-30, price: 12.90 EUR}
claims:
  power: 240 W
  current: 5 A
  voltage: 48 V
  data: USB4 Gen 3
  length: 2 m
  plugs: c-to-c
  active: false
  marked: true
  certified: true
  certificate: 12345
  modes: [displayport, thunderbolt-4]
  video: 8K60
  conductors: 20 AWG
  source: "product page, 2026-10-02"
marker:
  near: |
    FF00A041 18602FA1
    00000000
  far: ["0xFF00A041", 18602FA1]
  turned: FF00A041 18602FA1
  asked: true
  revision: "3.0"
bench:
  - date: 2026-10-05
    length: 1.98 m
    plugs: c-to-c
    ambient: 23 °C
    voltmeter: 0.05 % + 20 µV
    ammeter: 0.1 % + 1 mA
    null: {current: 1 A, vbus: 1.2 mV, ground: 0.9 mV}
    readings:
      - {current: 1.0002 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}
      - {current: -1 A, loop: -140 mV}
  - date: 2027-01-11
    ohmmeter: 0.5 % + 0.1 mΩ
    vbus: 92 mohm
    ground: 45 mohm
    loop: 140 mohm
    note: after a term in the cart
  - date: 2027-02-01
    by: M. Tarn
    copper: 41 °C
    steady: true
    wires: {usb2: yes, superspeed: 2 lanes, sbu: 2, cc: 56 kohm, vconn: no, shield: true}
    heat: {current: 5 A, shell: 44 °C, after: 60 min}
    reference: {resistor: 100.0 mohm, tolerance: 0.1 %, current: 1 A, drop: 100.4 mV}
    voltmeter: {accuracy: 0.05 % + 20 µV, calibrated: 2026-03-01, due: 2027-03-01, certificate: K-17, expanded: 12 µV, k: 2.1}
    ammeter: {expanded: 1 mA}
    null: [{current: 1 A, vbus: 1.2 mV}, {current: 1 A, vbus: 1.3 mV}]
    readings: [{current: 1 A, vbus: 93.1 mV, mating: 2}]
waive:
  - {rule: some-rule, reason: a known misprint}
published: {date: 2026-11-02, supersedes: NF-013, reply: none yet}
photos: [nf-014-label.jpg, plug.PNG]
rig: bench-a.rig.yaml
`

const fullJSON = `{"gainsay":1,"cable":"NF-014","label":"2 m braided, blue sleeve",
"about":{"seller":"Tarrowby Electrics","bought":"2026-09-30","price":"12.90 EUR"},
"claims":{"power":"240 W","current":"5 A","voltage":"48 V","data":"USB4 Gen 3","length":"2 m","plugs":"c-to-c",
"active":false,"marked":true,"certified":true,"certificate":12345,"modes":["displayport","thunderbolt-4"],"video":"8K60",
"conductors":"20 AWG","source":"product page, 2026-10-02"},
"marker":{"near":"FF00A041 18602FA1\n00000000\n","far":["0xFF00A041","18602FA1"],"turned":"FF00A041 18602FA1","asked":true,"revision":"3.0"},
"bench":[{"date":"2026-10-05","length":"1.98 m","plugs":"c-to-c","ambient":"23 \u00b0C","voltmeter":"0.05 % + 20 \u00b5V",
"ammeter":"0.1 % + 1 mA","null":{"current":"1 A","vbus":"1.2 mV","ground":"0.9 mV"},
"readings":[{"current":"1.0002 A","vbus":"93.1 mV","ground":"44.9 mV","flip":"up"},{"current":"-1 A","loop":"-140 mV"}]},
{"date":"2027-01-11","ohmmeter":"0.5 % + 0.1 m\u03a9","vbus":"92 mohm","ground":"45 mohm","loop":"140 mohm","note":"after a term in the cart"},
{"date":"2027-02-01","by":"M. Tarn","copper":"41 \u00b0C","steady":true,
"wires":{"usb2":"yes","superspeed":"2 lanes","sbu":2,"cc":"56 kohm","vconn":"no","shield":true},
"heat":{"current":"5 A","shell":"44 \u00b0C","after":"60 min"},
"reference":{"resistor":"100.0 mohm","tolerance":"0.1 %","current":"1 A","drop":"100.4 mV"},
"voltmeter":{"accuracy":"0.05 % + 20 \u00b5V","calibrated":"2026-03-01","due":"2027-03-01","certificate":"K-17","expanded":"12 \u00b5V","k":2.1},
"ammeter":{"expanded":"1 mA"},"null":[{"current":"1 A","vbus":"1.2 mV"},{"current":"1 A","vbus":"1.3 mV"}],
"readings":[{"current":"1 A","vbus":"93.1 mV","mating":2}]}],
"waive":[{"rule":"some-rule","reason":"a known misprint"}],
"published":{"date":"2026-11-02","supersedes":"NF-013","reply":"none yet"},"photos":["nf-014-label.jpg","plug.PNG"],"rig":"bench-a.rig.yaml"}
`

func read(t testing.TB, text, name string) (recs []*Record, errs []error) {
	t.Helper()
	for rec, err := range Read(strings.NewReader(text), name) {
		if err != nil {
			errs = append(errs, err)
			continue
		}
		// A claim that is not understood counts here like any other fault of the record.
		var unread Errors
		for _, c := range rec.Claims {
			for _, u := range c.Unread {
				unread = append(unread, u.Err)
			}
		}
		if len(unread) > 0 {
			errs = append(errs, unread)
			continue
		}
		recs = append(recs, rec)
	}
	return recs, errs
}

func one(t *testing.T, text, name string) *Record {
	t.Helper()
	recs, errs := read(t, text, name)
	if len(errs) > 0 || len(recs) != 1 {
		t.Fatalf("%d records, errors %v", len(recs), errs)
	}
	return recs[0]
}

func TestEveryKey(t *testing.T) {
	r := one(t, full, "full.yaml")
	got := map[string]any{
		"cable": r.Cable.Value, "label": r.Label.Value, "about": r.About,
		"power": r.Claims[0].Power.Value, "current": r.Claims[0].Current.Value, "voltage": r.Claims[0].Voltage.Value,
		"data": r.Claims[0].Data.Value, "length": r.Claims[0].Length.Value, "plugs": r.Claims[0].Plugs.Value,
		"active": r.Claims[0].Active, "marked": r.Claims[0].Marked.Value, "certified": r.Claims[0].Certified.Value,
		"certificate": r.Claims[0].Certificate.Value, "modes": r.Claims[0].Modes.Value, "video": r.Claims[0].Video.Value,
		"conductors": r.Claims[0].Conductors.Value, "source": r.Claims[0].Source.Value,
		"near": r.Marker.Near.Value.Text, "far": r.Marker.Far.Value.Text, "turned": r.Marker.Turned.Value.Text, "asked": r.Marker.Asked.Value, "revision": r.Marker.Revision.Value,
		"sessions": len(r.Bench), "ambient": r.Bench[0].Ambient.Value, "tape": r.Bench[0].Length.Value, "seen": r.Bench[0].Plugs.Value,
		"voltmeter": r.Bench[0].Voltmeter.Value, "ammeter": r.Bench[0].Ammeter.Value, "ohmmeter": r.Bench[1].Ohmmeter.Value,
		"null": r.Bench[0].Nulls[0].VBUS.Value, "reading": r.Bench[0].Readings[0].VBUS.Value, "flip": r.Bench[0].Readings[0].Flip.Value,
		"reversed": r.Bench[0].Readings[1].Loop.Value, "date": r.Bench[1].Date.Value.Format(time.DateOnly),
		"vbus": r.Bench[1].VBUS.Value, "ground": r.Bench[1].Ground.Value, "loop": r.Bench[1].Loop.Value, "note": r.Bench[1].Note.Value,
		"by": r.Bench[2].By.Value, "copper": r.Bench[2].Copper.Value, "steady": r.Bench[2].Steady.Value,
		"usb2": r.Bench[2].Wires.Value.USB2.Value, "superspeed": r.Bench[2].Wires.Value.SuperSpeed.Value,
		"sbu": r.Bench[2].Wires.Value.SBU.Value, "cc": r.Bench[2].Wires.Value.CC.Value, "vconn": r.Bench[2].Wires.Value.VCONN.Known,
		"heat":       []float64{r.Bench[2].Heat.Value.Current.Value, r.Bench[2].Heat.Value.Shell.Value, r.Bench[2].Heat.Value.After.Value},
		"reference":  []float64{r.Bench[2].Reference.Value.Resistor.Value, r.Bench[2].Reference.Value.Tolerance.Value.Reading, r.Bench[2].Reference.Value.Current.Value, r.Bench[2].Reference.Value.Drop.Value},
		"calibrated": r.Bench[2].Calibrated.Voltmeter.Standard(), "by certificate alone": r.Bench[2].Calibrated.Ammeter.Standard(),
		"due": r.Bench[2].Calibrated.Voltmeter.Due.Value.Format(time.DateOnly), "nulls": len(r.Bench[2].Nulls), "mating": r.Bench[2].Readings[0].Mating.Value,
		"published": r.Published.Value.Reply.Value, "photos": r.Photos[1].Value, "rig": r.Rig.Value,
		"waive": r.Waive[0].Rule.Value + ": " + r.Waive[0].Reason.Value,
	}
	want := map[string]any{
		"cable": "NF-014", "label": "2 m braided, blue sleeve",
		"about": []Note{{"seller", "Tarrowby Electrics"}, {"bought", "2026-09-30"}, {"price", "12.90 EUR"}},
		"power": 240.0, "current": 5.0, "voltage": 48.0, "data": DataClaim{Gbps: 40, Standard: "USB4 Gen 3"}, "length": 2.0, "plugs": CToC,
		"active": Stated[bool]{Value: false, Text: "false", At: Place{"full.yaml", 12, 11}, Known: true, Normal: "no"},
		"marked": true, "certified": true, "certificate": "12345", "modes": []Mode{DisplayPort, Thunderbolt4},
		"video": VideoClaim{7680, 4320, 60}, "conductors": quantity.GaugeArea(20), "source": "product page, 2026-10-02",
		"near": "FF00A041 18602FA1\n00000000\n", "far": "0xFF00A041\n18602FA1", "turned": "FF00A041 18602FA1", "asked": true, "revision": "3.0",
		"sessions": 3, "ambient": 23.0, "tape": 1.98, "seen": CToC,
		"voltmeter": quantity.Accuracy{Reading: 0.0005, Fixed: 20e-6}, "ammeter": quantity.Accuracy{Reading: 0.001, Fixed: 0.001},
		"ohmmeter": quantity.Accuracy{Reading: 0.005, Fixed: 0.0001},
		"null":     0.0012, "reading": 0.0931, "flip": "up", "reversed": -0.14, "date": "2027-01-11",
		"vbus": 0.092, "ground": 0.045, "loop": 0.14, "note": "after a term in the cart",
		"by": "M. Tarn", "copper": 41.0, "steady": true, "usb2": Continuity{Through: true}, "superspeed": Continuity{Through: true, Count: 2},
		"sbu": Continuity{Through: true, Count: 2}, "cc": Continuity{Through: true, Ohm: 56e3}, "vconn": true,
		"heat": []float64{5, 44, 3600}, "reference": []float64{0.1, 0.001, 1, 0.1004},
		"calibrated": 12e-6 / 2.1, "by certificate alone": 0.5e-3, "due": "2027-03-01", "nulls": 2, "mating": 2,
		"published": "none yet", "photos": "plug.PNG", "rig": "bench-a.rig.yaml",
		"waive": "some-rule: a known misprint",
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestKeysCovered holds that the record above names every key there is.
func TestKeysCovered(t *testing.T) {
	for _, k := range Keys() {
		name := k.Path[strings.LastIndex(k.Path, ".")+1:]
		if !strings.Contains(full, name+":") {
			t.Errorf("key %s does not stand in the full record", k.Path)
		}
		if k.Help == "" || k.Form == "" {
			t.Errorf("key %s has no help or form", k.Path)
		}
	}
}

func TestJSONIsTheSameTree(t *testing.T) {
	yes := one(t, full, "full.yaml")
	for name, text := range map[string]string{"lines": strings.ReplaceAll(fullJSON, "\n", "") + "\n", "spread": fullJSON, "no name": fullJSON} {
		file := "full.json"
		if name == "no name" {
			file = "stdin"
		}
		got := one(t, text, file)
		if diff := cmp.Diff(yes, got, cmpopts.IgnoreTypes(Place{}), cmpopts.IgnoreUnexported(Pasted{}), cmpopts.IgnoreFields(Stated[Pasted]{}, "Text")); diff != "" {
			t.Errorf("%s (-YAML +JSON):\n%s", name, diff)
		}
	}
}

func TestPlaces(t *testing.T) {
	r := one(t, full, "full.yaml")
	tests := []struct {
		name string
		got  Place
		want string
	}{
		{"block, first line", r.Marker.Near.Value.Place(1, 1), "full.yaml:22:5"},
		{"block, second word", r.Marker.Near.Value.Place(1, 10), "full.yaml:22:14"},
		{"block, second line", r.Marker.Near.Value.Place(2, 3), "full.yaml:23:7"},
		{"list, quoted", r.Marker.Far.Value.Place(1, 1), "full.yaml:24:10"},
		{"list, second", r.Marker.Far.Value.Place(2, 1), "full.yaml:24:23"},
		{"claim", r.Claims[0].Power.At, "full.yaml:6:10"},
		{"quoted", r.Label.At, "full.yaml:3:9"},
		{"reading", r.Bench[0].Readings[1].At, "full.yaml:38:9"},
	}
	for _, tt := range tests {
		if tt.got.String() != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, tt.got, tt.want)
		}
	}
}

func TestErrors(t *testing.T) {
	const head = "gainsay: 1\ncable: a\n"
	tests := map[string]struct {
		text  string
		name  string
		want  string // the beginning of the error
		part  string // what it also says
		cause error
	}{
		"unknown key":        {head + "clams: {}\n", "", "r.yaml:3:1: clams: no such key", "perhaps claims", ErrUnknownKey},
		"unknown inner key":  {head + "bench:\n  voltmetre: 1 %\n", "", "r.yaml:4:3: bench.voltmetre: no such key", "perhaps voltmeter", ErrUnknownKey},
		"stranger":           {head + "bench:\n  weather: fine\n", "", "r.yaml:4:3: bench.weather: no such key", "the keys here are date, by, length", ErrUnknownKey},
		"swapped letters":    {head + "claims: {pwoer: 5 W}\n", "", "r.yaml:3:10: claims.pwoer: no such key", "perhaps power", ErrUnknownKey},
		"wrong unit":         {head + "claims: {length: 2 V}\n", "", `r.yaml:3:18: claims.length: "2 V": "V" is a unit of voltage`, "2 m", ErrNotUnderstood},
		"no unit":            {head + "claims: {power: 240}\n", "", `r.yaml:3:17: claims.power: "240": "240" has no unit`, "100 W", ErrNotUnderstood},
		"negative length":    {head + "claims: {length: -2 m}\n", "", `r.yaml:3:18: claims.length: "-2 m": the length is not above zero`, "", ErrNotUnderstood},
		"negative ohms":      {head + "bench: {vbus: -5 mohm}\n", "", "r.yaml:3:15: bench.vbus: a resistance of -5 mohm is negative", "", ErrValue},
		"repeated key":       {head + "label: a\nlabel: b\n", "", "r.yaml:4:1: label: this key stands here a second time", "line 3", ErrRepeatedKey},
		"repeated in JSON":   {`{"gainsay":1,"cable":"a","label":"b","label":"c"}`, "r.json", "r.json:1:38: label: this key stands here a second time", "", ErrRepeatedKey},
		"version":            {"gainsay: 2\ncable: a\nnew-key: 1\n", "", `r.yaml:1:10: gainsay: format version "2" is not known`, "version 1", ErrVersion},
		"missing version":    {"cable: a\n", "", "r.yaml:1:1: gainsay: this key is missing, so this is no record", "", ErrMissingKey},
		"missing cable":      {"gainsay: 1\n", "", "r.yaml:1:1: cable: this key is missing", "", ErrMissingKey},
		"cable no value":     {"gainsay: 1\ncable:\n", "", "r.yaml:2:7: cable: this key has no value", "", ErrMissingKey},
		"cable null, JSON":   {`{"gainsay":1,"cable":null}`, "r.json", "r.json:1:22: cable: this key has no value", "", ErrMissingKey},
		"blank cable":        {"gainsay: 1\ncable: \" \"\n", "", "r.yaml:2:9: cable: the id is empty", "", ErrValue},
		"version no value":   {"gainsay:\ncable: a\n", "", "r.yaml:1:9: gainsay: this key has no value", "", ErrMissingKey},
		"version is a list":  {"gainsay: [1]\ncable: a\n", "", "r.yaml:1:10: gainsay: a list stands here", "", ErrKind},
		"truth, old YAML":    {head + "claims: {active: perhaps}\n", "", `r.yaml:3:18: claims.active: "perhaps": this is neither yes nor no`, "active or passive", ErrNotUnderstood},
		"merge key":          {head + "claims: {<<: {power: 5 W}}\n", "", "r.yaml:3:10: claims.<<: no such key", "", ErrUnknownKey},
		"too cold":           {head + "bench: {ambient: -400 °C}\n", "", `r.yaml:3:18: bench.ambient: "-400 °C": colder than absolute zero`, "", quantity.ErrRange},
		"null, no drop":      {head + "bench: {null: {current: 1 A}}\n", "", "r.yaml:3:15: bench.null: no drop is given", "vbus, ground or loop", ErrMissingKey},
		"waiver, no value":   {head + "waive: [{rule: , reason: x}]\n", "", "r.yaml:3:16: waive[0].rule: this key has no value", "", ErrMissingKey},
		"waiver, empty rule": {head + "waive: [{rule: '', reason: x}]\n", "", "r.yaml:3:16: waive[0].rule: the rule is empty", "", ErrValue},
		"waiver, null":       {head + "waive: [{rule: a, reason: ~}]\n", "", "r.yaml:3:27: waive[0].reason: this key has no value", "", ErrMissingKey},
		"empty cable":        {"gainsay: 1\ncable: \"\"\n", "", "r.yaml:2:8: cable: the id is empty", "", ErrValue},
		"list for a value":   {head + "label: [a]\n", "", "r.yaml:3:8: label: a list stands here", "", ErrKind},
		"value for a map":    {head + "claims: 5 W\n", "", "r.yaml:3:9: claims: a single value stands here", "mapping", ErrKind},
		"record is a list":   {"- a\n", "", "r.yaml:1:1: a list stands here", "", ErrKind},
		"truth":              {head + "claims: {active: yes please}\n", "", `r.yaml:3:18: claims.active: "yes please": this is neither yes nor no`, "", ErrNotUnderstood},
		"plugs":              {head + "claims: {plugs: c-to-d}\n", "", `r.yaml:3:17: claims.plugs: "c-to-d": "d" is not an end known here`, "put the words in label", ErrNotUnderstood},
		"mode":               {head + "claims: {modes: [displayport, firewire]}\n", "", `r.yaml:3:31: claims.modes[1]: "firewire": "firewire" is not a mode known here`, "", ErrNotUnderstood},
		"data":               {head + "claims: {data: USB 9}\n", "", `r.yaml:3:16: claims.data: "USB 9": "USB 9" is neither a rate nor a standard known here`, "USB4 Gen 4", ErrNotUnderstood},
		"video":              {head + "claims: {video: 9K}\n", "", `r.yaml:3:17: claims.video: "9K": 9K is not a picture size known here`, "", ErrNotUnderstood},
		"comma in flow":      {head + "claims: {length: 1,2 m, power: 60 W}\n", "", "r.yaml:3:18: claims.length: the comma splits the value in two", "length: 1.2 m", ErrNotUnderstood},
		"comment for value":  {head + "claims:\n  conductors: #22AWG\n", "", "r.yaml:4:14: claims.conductors: this key has no value", `"#22"`, ErrNotUnderstood},
		"claim is a mapping": {head + "claims: {power: {a: b}}\n", "", "r.yaml:3:17: claims.power: a mapping stands here", "100 W", ErrNotUnderstood},
		"date":               {head + "bench: {date: 5.10.2026}\n", "", `r.yaml:3:15: bench.date: "5.10.2026" is no date`, "2026-10-05", ErrValue},
		"no current":         {head + "bench: {readings: [{vbus: 5 mV}]}\n", "", "r.yaml:3:20: bench.readings[0].current: this key is missing", "", ErrMissingKey},
		"zero current":       {head + "bench: {readings: [{current: 0 A, vbus: 5 mV}]}\n", "", "r.yaml:3:30: bench.readings[0].current: a test current of zero", "", ErrValue},
		"no drop":            {head + "bench: {readings: [{current: 1 A}]}\n", "", "r.yaml:3:20: bench.readings[0]: no drop is given", "vbus, ground or loop", ErrMissingKey},
		"accuracy":           {head + "bench: {voltmeter: good}\n", "", `r.yaml:3:20: bench.voltmeter: "good": each part begins with a number`, "20 µV", quantity.ErrNumber},
		"waiver, no reason":  {head + "waive: [{rule: a}]\n", "", "r.yaml:3:9: waive[0].reason: this key is missing", "", ErrMissingKey},
		"waiver, empty":      {head + "waive: [{rule: a, reason: \" \"}]\n", "", "r.yaml:3:28: waive[0].reason: the reason is empty", "", ErrValue},
		"revision":           {head + "marker: {revision: \"4\"}\n", "", `r.yaml:3:21: marker.revision: "4" is no revision of USB PD`, "", ErrValue},
		"alias":              {"gainsay: 1\ncable: &a x\nlabel: *a\n", "", "r.yaml:2:8: anchors and aliases are not read", "", ErrKind},
		"deep":               {head + "label: " + strings.Repeat("[", 40) + strings.Repeat("]", 40) + "\n", "", "r.yaml:3:", "nested more than 16 levels", ErrLimit},
		"deep JSON":          {`{"gainsay":1,"cable":"a","label":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + "}", "r.json", "r.json:1:", "nested more than 16 levels", ErrLimit},
		"YAML syntax":        {head + "label: \"open\n", "", "r.yaml:", "not well-formed YAML", ErrSyntax},
		"JSON syntax":        {`{"gainsay":1,"cable":}`, "r.json", "r.json:1:22: not well-formed JSON", "", ErrSyntax},
		"JSON left over":     {`{"gainsay":1,"cable":"a"} x`, "r.json", "r.json:1:27: something is left over", "", ErrSyntax},
		"JSON unfinished":    {`{"gainsay":1,"cable":"a"`, "r.json", "r.json:1:25:", "does not end", ErrSyntax},
		"JSON line unclosed": {"{\"gainsay\":1,\"cable\":\"a\" \r\n", "r.jsonl", "r.jsonl:1:25:", "does not end", ErrSyntax},
		"JSON text unclosed": {"{\"gainsay\":1,\"cable\":\"a\n}\n", "r.json", "r.json:1:24:", "does not end on its line", ErrSyntax},
		"not UTF-8":          {head + "label: \xff\n", "", "r.yaml:3:8: not valid UTF-8", "", ErrSyntax},
		"not UTF-8 in JSON":  {"{\"gainsay\":1,\"cable\":\"\xff\"}", "r.json", "r.json:1:23: not valid UTF-8", "", ErrSyntax},
		"too long":           {head + "label: \"" + strings.Repeat("x", MaxDocument) + "\"\n", "", "r.yaml:1:1: the document is longer than 4 MiB", "", ErrLimit},
		"number for a level": {head + "claims: {power: .inf W}\n", "", "r.yaml:3:17: claims.power:", "100 W", ErrNotUnderstood},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			if tt.name == "" {
				tt.name = "r.yaml"
			}
			recs, errs := read(t, tt.text, tt.name)
			if len(errs) != 1 || len(recs) != 0 {
				t.Fatalf("%d records, %d errors: %v", len(recs), len(errs), errs)
			}
			var es Errors
			if !errors.As(errs[0], &es) || len(es) != 1 {
				t.Fatalf("got %v, want one *Error", errs[0])
			}
			if text := es[0].Error(); !strings.HasPrefix(text, tt.want) || !strings.Contains(text, tt.part) {
				t.Errorf("got  %s\nwant %s … %s", text, tt.want, tt.part)
			}
			if !errors.Is(errs[0], tt.cause) {
				t.Errorf("cause %v, want %v", es[0].Err, tt.cause)
			}
		})
	}
}

// TestAllErrors: everything wrong in a document is reported at once.
func TestAllErrors(t *testing.T) {
	_, errs := read(t, "gainsay: 1\nlable: x\nclaims: {power: 5 V, plugs: z}\n", "r.yaml")
	var es Errors
	if len(errs) != 1 || !errors.As(errs[0], &es) || len(es) != 4 {
		t.Errorf("got %v, want four errors (label, power, plugs, cable)", errs)
	}
}

// TestOthersSurvive: a bad document does not cost the others.
func TestOthersSurvive(t *testing.T) {
	good := func(id string) string { return "gainsay: 1\ncable: " + id + "\n" }
	tests := map[string]struct {
		text, name string
		ids        string
		errs       int
	}{
		"YAML syntax":      {good("a") + "---\ngainsay: [1\n---\n" + good("b"), "r.yaml", "a b", 1},
		"YAML end marker":  {good("a") + "...\n---\n" + good("b") + "...\n", "r.yaml", "a b", 0},
		"YAML head marker": {"---\n" + good("a"), "r.yaml", "a", 0},
		"content behind":   {"--- {gainsay: 1, cable: a}\n--- \n" + good("b"), "r.yaml", "a b", 0},
		"empty documents":  {"---\n---\n# nothing\n---\n" + good("a"), "r.yaml", "a", 0},
		"CRLF":             {strings.ReplaceAll(good("a")+"---\n"+good("b"), "\n", "\r\n"), "r.yaml", "a b", 0},
		"BOM":              {"\uFEFF" + good("a"), "r.yaml", "a", 0},
		"too long":         {good("a") + "---\n# " + strings.Repeat("x", MaxDocument) + "\n---\n" + good("b"), "r.yaml", "a b", 1},
		"JSON lines":       {`{"gainsay":1,"cable":"a"}` + "\n" + `{"gainsay":1,"cable":` + "\n" + `{"gainsay":1,"cable":"b"}` + "\n", "r.jsonl", "a b", 1},
		"JSON open string": {`{"gainsay":1,"cable":"a}` + "\n" + `{"gainsay":1,"cable":"b"}` + "\n", "r.jsonl", "b", 1},
		"JSON no newline":  {`{"gainsay":1,"cable":"a"}`, "r.json", "a", 0},
		"JSON spread":      {"{\n \"gainsay\": 1,\n \"cable\": \"a\"\n}\n\n{\"gainsay\":1,\"cable\":\"b\"}", "r.json", "a b", 0},
		"JSON rubbish":     {"rubbish\n" + `{"gainsay":1,"cable":"b"}` + "\n", "r.jsonl", "b", 1},
		"JSON other order": {`{"cable":"a","gainsay":` + "\n" + `{"cable":"b","gainsay":1}` + "\n" + `{"cable":"c","gainsay":1}`, "r.jsonl", "b c", 1},
		"JSON spread, bad": {"{\n \"gainsay\": 1,\n \"cable\": [\"a\"\n}\n{\n \"cable\": \"b\",\n \"gainsay\": 1\n}\n", "r.json", "b", 1},
		"JSON on one line": {`{"gainsay":1,"cable":"a"} {"gainsay":1,"cable":"}{"}{"gainsay":2,"cable":"x"}{"gainsay":1,"cable":"b"}`, "r.json", "a }{ b", 1},
		"JSON long line":   {strings.Repeat(`{"gainsay":1,"cable":"a","label":"`+strings.Repeat("x", 40_000)+`"}`, 3) + "\n", "r.json", "a a a", 0},
		"JSON stray close": {"]]" + `{"gainsay":1,"cable":"a"}` + "\n}\n" + `{"gainsay":1,"cable":"b"}`, "r.json", "a b", 2},
		"JSON no indent":   {"{\"gainsay\":1,\"cable\":\"a\",\"bench\":[\n{\n\"date\":\"2026-10-05\"},\n{\"loop\":\"1 ohm\"}]}\n", "r.json", "a", 0},
		"YAML directive":   {"%YAML 1.2\n---\n" + good("a") + "...\n%YAML 1.2\n---\n" + good("b"), "r.yaml", "a b", 0},
		"YAML percent":     {"%nonsense\n---\n" + good("b"), "r.yaml", "b", 1},
		"YAML in braces":   {"{gainsay: 1, cable: a}\n", "stdin", "a", 0},
		"nothing":          {"", "r.yaml", "", 0},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			recs, errs := read(t, tt.text, tt.name)
			var ids []string
			for _, r := range recs {
				ids = append(ids, r.Cable.Value)
			}
			if got := strings.Join(ids, " "); got != tt.ids || len(errs) != tt.errs {
				t.Errorf("records %q, %d errors (%v); want %q, %d", got, len(errs), errs, tt.ids, tt.errs)
			}
		})
	}
}

// TestPlaceOnSharedLine: several JSON values on a line keep their columns.
func TestPlaceOnSharedLine(t *testing.T) {
	_, errs := read(t, "\n"+`{"gainsay":1,"cable":"µ"} {"gainsay":1,"cable":"b","lable":1}`, "r.json")
	if len(errs) != 1 || !strings.HasPrefix(errs[0].Error(), "r.json:2:52: lable") {
		t.Errorf("got %v, want an error at r.json:2:52", errs)
	}
}

// TestManyErrors: the list of errors ends, and says so.
func TestManyErrors(t *testing.T) {
	text := "gainsay: 1\ncable: a\n"
	for i := range 3 * MaxErrors {
		text += fmt.Sprintf("x%d: 1\n", i)
	}
	_, errs := read(t, text, "r.yaml")
	var es Errors
	if len(errs) != 1 || !errors.As(errs[0], &es) || len(es) != MaxErrors+1 || !errors.Is(es[MaxErrors], ErrLimit) {
		t.Errorf("%d errors, want %d and a last one that says there are more", len(es), MaxErrors)
	}
}

// longDocuments gives documents of one form each that grow with n.
func longDocuments(n int) map[string]struct{ text, name string } {
	const head = "gainsay: 1\ncable: a\n"
	numbered := func(n int, form string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, form, i)
		}
		return b.String()
	}
	return map[string]struct{ text, name string }{
		"JSON keys on lines":    {`{"gainsay":1,"cable":"a","about":{` + numbered(3*n, "\"k%d\":1,\n") + `"z":1}}`, "r.json"},
		"JSON keys on one line": {`{"gainsay":1,"cable":"a","about":{` + numbered(3*n, `"k%d":1,`) + `"z":1}}`, "r.json"},
		"YAML literals":         {head + "about:\n" + numbered(n, "  k%d: |\n    x\n"), "r.yaml"},
		"modes":                 {head + "claims: {modes: [" + strings.Repeat("displayport, ", n) + "displayport]}\n", "r.yaml"},
		"words":                 {head + "marker: {near: [" + strings.Repeat("FF00A041, ", n) + "FF00A041]}\n", "r.yaml"},
		"sessions":              {head + "bench:\n" + strings.Repeat("- {date: 2026-10-05}\n", n), "r.yaml"},
	}
}

// TestLongDocuments: a long document reads as well as a short one.
func TestLongDocuments(t *testing.T) {
	for name, doc := range longDocuments(5000) {
		t.Run(name, func(t *testing.T) { one(t, doc.text, doc.name) })
	}
}

// BenchmarkLongDocuments shows that the time a byte takes does not grow with the
// length.
func BenchmarkLongDocuments(b *testing.B) {
	for _, n := range []int{1000, 10_000, 50_000} {
		for name, doc := range longDocuments(n) {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.SetBytes(int64(len(doc.text)))
				for b.Loop() {
					for _, err := range Read(strings.NewReader(doc.text), doc.name) {
						if err != nil {
							b.Fatal(err)
						}
					}
				}
			})
		}
	}
}

type failing struct{ io.Reader }

var errDisk = errors.New("disk on fire")

func (f failing) Read(p []byte) (int, error) {
	n, err := f.Reader.Read(p)
	if err != nil {
		err = errDisk
	}
	return n, err
}

// TestReaderFails: an error of the reader itself is passed on, after what came
// before it.
func TestReaderFails(t *testing.T) {
	n, last := 0, error(nil)
	for rec, err := range Read(failing{strings.NewReader("gainsay: 1\ncable: a\n---\ngainsay: 1\n")}, "r.yaml") {
		if rec != nil {
			n++
		}
		last = err
	}
	if n != 1 || !errors.Is(last, errDisk) {
		t.Errorf("%d records, then %v", n, last)
	}
}

func TestStandards(t *testing.T) {
	for text, want := range map[string]DataClaim{
		"USB 2.0": {Gbps: 0.48, Standard: "USB 2.0"}, "usb 3.2 gen 2": {Gbps: 10, Standard: "USB 3.2 Gen 2"}, "USB3.0": {Gbps: 5, Standard: "USB 3.2 Gen 1"},
		"USB 3.2 Gen 2x2": {Gbps: 20, Standard: "USB 3.2 Gen 2x2"}, "USB4 Gen3": {Gbps: 40, Standard: "USB4 Gen 3"}, "USB4 Gen 4": {Gbps: 80, Standard: "USB4 Gen 4"},
		"40 Gbps": {Gbps: 40}, "480 Mbps": {Gbps: 0.48}, "charge only": {None: true},
	} {
		r := one(t, "gainsay: 1\ncable: a\nclaims: {data: "+text+"}\n", "r.yaml")
		if diff := cmp.Diff(want, r.Claims[0].Data.Value, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", text, diff)
		}
	}
}

func TestLegacy(t *testing.T) {
	for p, want := range map[Plugs]bool{CToC: false, CCaptive: false, CToA: true, CToMicroB: true, "": false} {
		if p.Legacy() != want {
			t.Errorf("%q: %t", p, p.Legacy())
		}
	}
}

func TestParseReading(t *testing.T) {
	r, err := ParseReading("1.0002 A, vbus 93.1 mV; ground 44.9 mV, up", Place{"x", 1, 1})
	if err != nil || r.Current.Value != 1.0002 || r.VBUS.Value != 0.0931 || r.Ground.Value != 0.0449 || r.Flip.Value != "up" {
		t.Errorf("%+v, %v", r, err)
	}
	if r.Ground.At.Column != 32 {
		t.Errorf("ground stands at column %d, want 32", r.Ground.At.Column)
	}
	for text, want := range map[string]string{
		"":                        "a number should stand here",
		"1 A":                     "no drop is given",
		"vbus 5 mV":               "no current is given",
		"1 A, vbus 5":             "the unit is missing",
		"1 A, sideways":           "no part of a reading",
		"1 A, vbus 5 mV, flip in": "not known here",
	} {
		if _, err := ParseReading(text, Place{"x", 1, 1}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func TestWords(t *testing.T) {
	w := Words(0xFF00A041, 1)
	if w.Value.Text != "FF00A041\n00000001" || !w.Known {
		t.Errorf("%+v", w)
	}
	if p := w.Value.Place(1, 1); p != (Place{}) {
		t.Errorf("words from Go stand at %v", p)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(full, "r.yaml")
	f.Add(fullJSON, "r.json")
	f.Add("--- {gainsay: 1, cable: a}\n...\n---\n", "stdin")
	f.Add("{\"gainsay\":1,\"cable\":\n{\"gainsay\":1", "r.jsonl")
	f.Add("gainsay: 1\ncable: &a [*a]\n", "r.yaml")
	f.Fuzz(func(t *testing.T, text, name string) {
		for rec, err := range Read(strings.NewReader(text), name) {
			switch {
			case rec == nil && err == nil:
				t.Fatal("neither a record nor an error")
			case err != nil:
				for _, e := range err.(Errors) {
					if e.At.Line < 1 || e.At.Column < 1 || e.Wrong == "" || e.Err == nil {
						t.Fatalf("error without place, text or cause: %#v", e)
					}
				}
			case rec.Cable.Value == "":
				t.Fatal("a record without an id")
			}
		}
	})
}

func FuzzReadTable(f *testing.F) {
	f.Add("time;current/A;vbus/mV;ground/mV;flip;kind\n0;1;1,2;0.9;;null\n1;1.0001;99.9;45;up;\n")
	f.Add("current,loop (mV)\n\"1 A\",90\n\"open")
	f.Fuzz(func(t *testing.T, text string) {
		rs, nulls, err := ReadTable(strings.NewReader(text), "t.csv")
		for _, r := range rs {
			if !r.Current.Known || r.Current.Value == 0 || !r.VBUS.Known && !r.Ground.Known && !r.Loop.Known {
				t.Fatalf("no reading: %+v", r)
			}
		}
		for _, r := range nulls {
			if !r.Current.Known {
				t.Fatalf("a null without a current: %+v", r)
			}
		}
		if err != nil {
			for _, e := range err.(Errors) {
				if e.At.Line < 1 || e.At.Column < 1 || e.Wrong == "" {
					t.Fatalf("error without place or text: %#v", e)
				}
			}
		}
	})
}

func BenchmarkReadYAML(b *testing.B) {
	b.SetBytes(int64(len(full)))
	for b.Loop() {
		for _, err := range Read(strings.NewReader(full), "r.yaml") {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkDecodeYAML is what yaml.v3 alone takes for the same record: decoding it
// into a plain struct, with nothing held against anything.
func BenchmarkDecodeYAML(b *testing.B) {
	type reading struct{ Current, VBUS, Ground, Loop, Flip string }
	type session struct {
		Date, Length, Plugs, Ambient, Voltmeter, Ammeter, Ohmmeter string
		VBUS, Ground, Loop, Note                                   string
		Null                                                       reading
		Readings                                                   []reading
	}
	type plain struct {
		Gainsay      int
		Cable, Label string
		About        map[string]string
		Claims       struct {
			Power, Current, Voltage, Data, Length, Plugs string
			Active, Marked, Certified                    bool
			Certificate, Video, Conductors, Source       string
			Modes                                        []string
		}
		Marker struct {
			Near, Revision string
			Far            []string
			Asked          bool
		}
		Bench []session
		Waive []struct{ Rule, Reason string }
	}
	b.SetBytes(int64(len(full)))
	for b.Loop() {
		var p plain
		if err := yaml.Unmarshal([]byte(full), &p); err != nil || len(p.Bench) != 2 || p.Bench[0].Readings[0].VBUS == "" {
			b.Fatal(p, err)
		}
	}
}

func BenchmarkReadJSONLines(b *testing.B) {
	line := strings.ReplaceAll(fullJSON, "\n", "") + "\n"
	b.SetBytes(int64(len(line)))
	for b.Loop() {
		for _, err := range Read(strings.NewReader(line), "r.jsonl") {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
}
