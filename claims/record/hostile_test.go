package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"

	"example.com/gainsay/claims/quantity"
)

// fill repeats a piece of text up to a size.
func fill(piece string, size int) string { return strings.Repeat(piece, size/len(piece)) }

// bomb is YAML whose aliases, written out, would be nine to the power of levels
// values.
func bomb(levels int) string {
	var b strings.Builder
	b.WriteString("gainsay: 1\ncable: a\nabout:\n  l0: &l0 [x, x, x, x, x, x, x, x, x]\n")
	for i := range levels {
		fmt.Fprintf(&b, "  l%d: &l%d [%s*l%d]\n", i+1, i+1, strings.Repeat(fmt.Sprintf("*l%d, ", i), 8), i)
	}
	return b.String()
}

// TestHostileDocuments: a document made to take memory, time or patience stands
// between two good ones, which are read; it is an error with a place, of few lines
// and short ones, or a record. What memory it takes is a small multiple of
// MaxDocument.
func TestHostileDocuments(t *testing.T) {
	const head, size = "gainsay: 1\ncable: a\n", 1 << 20
	const jsonHead = `{"gainsay":1,"cable":"a",`
	tests := map[string]struct {
		text  string
		cause error // nil: it is a record
	}{
		"alias bomb":            {bomb(30), ErrKind},
		"anchors":               {head + "about:\n" + fill("- &a x\n", size), ErrKind},
		"aliases":               {head + "about:\n- &a x\n" + fill("- *a\n", size), ErrKind},
		"alias of itself":       {head + "about: &a {a: *a}\n", ErrKind},
		"merge keys":            {head + fill("<<: {a: b}\n", size/8), ErrUnknownKey},
		"lists in lists":        {head + "label: " + fill("[", size), ErrSyntax},
		"maps in maps":          {head + "label: " + fill("{", size), ErrSyntax},
		"dashes in dashes":      {head + "label:\n " + fill("- ", size), ErrSyntax},
		"keys that are asked":   {fill("? ", size), ErrSyntax},
		"17 levels":             {head + "label: " + strings.Repeat("[", MaxDepth+1) + strings.Repeat("]", MaxDepth+1) + "\n", ErrLimit},
		"indented, and on":      {head + "about:\n" + stairs(1000), ErrLimit},
		"a huge text":           {head + "label: " + fill("x", size) + "\n", nil},
		"a huge text of blanks": {head + "label: \"" + fill(" ", size) + "\"\n", nil},
		"many lines of text":    {head + "label: |\n" + fill("  x\n", size), nil},
		"a huge key":            {head + fill("x", 1000) + ": 1\n" + fill("y", 1000) + ": 1\n", ErrUnknownKey},
		"a key again and again": {head + fill("label: x\n", size/8), ErrRepeatedKey},
		"quotes":                {head + "label: " + fill(`"`, size) + "\n", ErrSyntax},
		"colons":                {head + "label: " + fill(": ", size) + "\n", ErrSyntax},
		"comments":              {head + fill("# c\n\n", size), nil},
		"NUL":                   {head + "label: " + fill("\x00", size) + "\n", ErrSyntax},
		"a NUL":                 {head + "label: a\x00b\n", ErrSyntax},
		"escape":                {head + "label: \x1b[31m\n", ErrSyntax},
		"not UTF-8":             {head + "label: " + fill("\xff", size) + "\n", ErrSyntax},
		"half a character":      {head + "label: \xf0\x9f\n", ErrSyntax},
		"a surrogate":           {head + "label: \xed\xa0\x80\n", ErrSyntax},
		"over the limit":        {head + "label: " + fill("x", MaxDocument) + "\n", ErrLimit},
		"one line, over":        {fill("[", MaxDocument+1) + "\n", ErrLimit},

		"JSON lists in lists": {jsonHead + `"label":` + fill("[", size), ErrLimit},
		"JSON maps in maps":   {jsonHead + `"label":` + fill(`{"a":`, size), ErrLimit},
		"JSON levels closed":  {jsonHead + `"label":` + fill("[", size/2) + fill("]", size/2) + "}", ErrLimit},
		"JSON a huge text":    {jsonHead + `"label":"` + fill("x", size) + `"}`, nil},
		"JSON a huge number":  {jsonHead + `"label":` + fill("9", size) + "}", nil},
		"JSON keys":           {jsonHead + fill(`"label":"x",`, size/8) + `"z":1}`, ErrRepeatedKey},
		"JSON NUL":            {jsonHead + `"label":"` + "\x00" + `"}`, ErrSyntax},
		"JSON NUL, escaped":   {jsonHead + `"label":"\u0000"}`, nil},
		"JSON lone surrogate": {jsonHead + `"label":"\ud800"}`, nil},
		"JSON not UTF-8":      {jsonHead + `"label":"` + "\xff" + `"}`, ErrSyntax},
		"JSON over the limit": {jsonHead + `"label":"` + fill("x", MaxDocument) + `"}`, ErrLimit},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			file, before, after := "r.yaml", "gainsay: 1\ncable: first\n---\n", "\n---\ngainsay: 1\ncable: last\n"
			if strings.HasPrefix(name, "JSON") {
				file, before, after = "r.jsonl", `{"gainsay":1,"cable":"first"}`+"\n", "\n"+`{"gainsay":1,"cable":"last"}`+"\n"
			}
			var m0, m1 runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&m0)
			recs, errs := read(t, before+tt.text+after, file)
			runtime.ReadMemStats(&m1)
			if len(recs) < 2 || recs[0].Cable.Value != "first" || recs[len(recs)-1].Cable.Value != "last" {
				t.Errorf("the others are lost: %d records, %.500v", len(recs), errs)
			}
			if len(recs)+len(errs) != 3 {
				t.Errorf("%d records and %d errors, want 3 in all", len(recs), len(errs))
			}
			if tt.cause != nil && (len(errs) != 1 || !errors.Is(errs[0], tt.cause)) {
				t.Errorf("got %.500v, want %v", errs, tt.cause)
			}
			for _, err := range errs {
				var es Errors
				if !errors.As(err, &es) || len(es) > MaxErrors+1 {
					t.Fatalf("%d errors listed", len(es))
				}
				for _, e := range es {
					if n := len(e.Error()); n > 4000 || e.At.Line < 3 && file == "r.yaml" || e.At.Line != 2 && file == "r.jsonl" {
						t.Errorf("%d bytes at %v: %.300v", n, e.At, e)
					}
				}
			}
			if grown := int64(m1.Sys) - int64(m0.Sys); grown > 256*MaxDocument {
				t.Errorf("memory grew by %d MiB", grown>>20)
			}
		})
	}
	for _, text := range []string{
		head + "claims: {power: " + fill("9", size) + " W}\n", head + "claims: {power: 1 " + fill("W", size) + "}\n",
		head + "claims: {data: " + fill("U", size) + "}\n", head + "claims: {video: " + fill("9", size) + "}\n",
		head + "claims: {plugs: " + fill("c", size) + "}\n", head + "bench: {date: " + fill("2", size) + "}\n",
		head + "bench: {voltmeter: " + fill("1 % + ", size) + "}\n", head + "claims: {active: " + fill("true", size) + "}\n",
		"gainsay: " + fill("1", size) + "\ncable: a\n",
	} {
		if recs, errs := read(t, text, "r.yaml"); len(recs) != 0 || len(errs) != 1 || len(errs[0].Error()) > 4000 {
			t.Errorf("%.60q: %d records, %.300v", text, len(recs), errs)
		}
	}
}

// stairs are keys, each indented under the one before.
func stairs(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i+1) + "k:\n")
	}
	return b.String()
}

// repeating gives a text again and again without keeping it.
type repeating struct {
	text string
	at   int
	left int64
}

func (r *repeating) Read(b []byte) (int, error) {
	if r.left == 0 {
		return 0, io.EOF
	}
	n := copy(b[:min(int64(len(b)), r.left)], r.text[r.at:])
	r.at = (r.at + n) % len(r.text)
	r.left -= int64(n)
	return n, nil
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// TestManyDocuments: memory does not grow with the number of documents, and each
// is counted.
func TestManyDocuments(t *testing.T) {
	if testing.Short() {
		t.Skip("long texts")
	}
	const million = 1_000_000
	tests := map[string]struct {
		piece         string
		n             int
		records, errs int // for each piece
		name          string
	}{
		"empty ones":          {"---\n", 2 * million, 0, 0, "r.yaml"},
		"ends":                {"...\n---\n", million / 2, 0, 0, "r.yaml"},
		"comments":            {"# no record\n---\n", million / 5, 0, 0, "r.yaml"},
		"records":             {"gainsay: 1\ncable: a\n---\n", million / 20, 1, 0, "r.yaml"},
		"bad ones":            {"x: [\n---\n", million / 20, 0, 1, "r.yaml"},
		"JSON records":        {`{"gainsay":1,"cable":"a"}` + "\n", million / 5, 1, 0, "r.jsonl"},
		"JSON on one line":    {`{"gainsay":1,"cable":"a"}`, million / 5, 1, 0, "r.jsonl"},
		"JSON, no record":     {`{}` + "\n", million / 5, 0, 1, "r.jsonl"},
		"JSON that is broken": {`{"gainsay":1,"cable":` + "\n", million / 20, 0, 1, "r.jsonl"},
		"JSON empty lines":    {"\n", 3 * million, 0, 0, "r.jsonl"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			in := &repeating{text: tt.piece, left: int64(len(tt.piece)) * int64(tt.n)}
			before, records, errs, peak := heap(), 0, 0, uint64(0)
			for rec, err := range Read(in, tt.name) {
				if err != nil {
					errs++
				} else if rec != nil {
					records++
				}
				if (records+errs)%20_000 == 0 {
					peak = max(peak, heap())
				}
			}
			if records != tt.n*tt.records || errs != tt.n*tt.errs {
				t.Errorf("%d records and %d errors of %d pieces", records, errs, tt.n)
			}
			if peak = max(peak, heap()); peak > before+8<<20 {
				t.Errorf("%d KiB in use, %d before", peak>>10, before>>10)
			}
		})
	}
}

// TestHostileTables: a table of readings that is too long, cut off or broken gives
// the rows that are whole, and says what is wrong.
func TestHostileTables(t *testing.T) {
	const head, row = "current/A,vbus/mV,note\n", "1,90,\n"
	long := "1,90," + fill("x", 1000) + "\n"
	tests := map[string]struct {
		text     string
		readings int
		errs     int
		cause    error
		want     string
	}{
		"open quote":            {head + row + `1,"91,` + "\n" + row + row, 3, 1, ErrSyntax, "t.csv:3:1: not well-formed CSV"},
		"open quote, last":      {head + row + `1,"91,`, 1, 1, ErrSyntax, "t.csv:3:"},
		"open quote, head":      {`"current/A,vbus/mV` + "\n" + head + row, 1, 1, ErrSyntax, "t.csv:1:1: not well-formed CSV"},
		"two open quotes":       {head + `1,91,"x` + "\n" + row + `1,92,"y` + "\n" + row, 2, 2, ErrSyntax, "t.csv:2:1: not well-formed CSV"},
		"a note of two lines":   {head + `1,91,"x` + "\n" + `y"` + "\n" + "1,zz,\n", 1, 1, nil, "t.csv:4:3: vbus"},
		"bare quote":            {head + `1,9"1,` + "\n" + row, 1, 1, ErrSyntax, "t.csv:2:"},
		"quotes, again":         {head + fill(`"""`+"\n", 4000) + row, 1, 1, nil, ""},
		"quote on each line":    {head + fill(`"`+"\n", 4000) + row, 0, 0, nil, ""}, // only that it ends
		"many bad rows":         {head + fill("1,zz,\n", 3000) + row, 1, MaxErrors + 1, ErrLimit, "more is wrong"},
		"over the limit":        {head + fill(long, MaxTable+len(long)), (MaxTable - len(head)) / len(long), 1, ErrLimit, "longer than 16 MiB"},
		"a line over the limit": {head + row + fill("1,", MaxTable), 1, 1, ErrLimit, "t.csv:3:1: the table is longer than 16 MiB"},
		"one line":              {fill("current,", MaxTable) + "note,", 0, 1, ErrLimit, "longer than 16 MiB"},
		"column twice":          {"current/A,vbus/mV,current/mA\n" + row, 1, 1, ErrRepeatedKey, "t.csv:1:19: the column current stands here a second time"},
		"NUL":                   {head + "\x00,\x00,\x00\n" + row, 1, 2, nil, ""},
		"not UTF-8":             {head + "\xff,90,\n" + row, 1, 1, nil, ""},
		"absurd":                {head + "1e308,90,\nNaN,90,\n1,Inf,\n1,-1e999,\n1,0x10,\n" + row, 1, 5, nil, ""},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			rs, _, err := ReadTable(strings.NewReader(tt.text), "t.csv")
			var es Errors
			if !errors.As(err, &es) || name != "quote on each line" && name != "quotes, again" && (len(rs) != tt.readings || len(es) != tt.errs) {
				t.Fatalf("%d readings, %d errors (want %d, %d): %.500v", len(rs), len(es), tt.readings, tt.errs, err)
			}
			if tt.cause != nil && !errors.Is(err, tt.cause) || !strings.Contains(err.Error(), tt.want) || len(es) > MaxErrors+1 {
				t.Errorf("%.500v, want %s", err, tt.want)
			}
			for _, e := range es {
				if len(e.Error()) > 4000 {
					t.Errorf("an error of %d bytes", len(e.Error()))
				}
			}
		})
	}
	// A reader that fails loses nothing of what came before.
	rs, _, err := ReadTable(failing{strings.NewReader(head + row + row)}, "t.csv")
	if len(rs) != 2 || !errors.Is(err, errDisk) {
		t.Errorf("%d readings, %v", len(rs), err)
	}
}

// TestAbsurdQuantities: in no key that holds a quantity does a number come through
// that is not finite, or that was not meant for one.
func TestAbsurdQuantities(t *testing.T) {
	refused := []string{"1e308", "-1e308", "1e999", "-1e999", "1e400000000000", "NaN", "nan", "Inf", "-Inf", "+inf", "infinity", ".inf", "0x10", "0x1p-2",
		"1_000", "--1", "+-1", "1e+-3", "٣", "１", "½", "", strings.Repeat("9", 400)}
	// These are numbers, and so small that they are zero or next to it.
	taken := []string{"-0", "1e-999", "-1e-999", "0." + strings.Repeat("0", 400) + "1", "4.9e-324"}
	units := map[string]string{}
	for d, unit := range map[quantity.Dimension]string{quantity.Voltage: "V", quantity.Current: "A", quantity.Resistance: "ohm", quantity.Power: "W",
		quantity.Length: "m", quantity.Temperature: "°C", quantity.Area: "mm²"} {
		units[d.Hint()] = unit
	}
	keys := 0
	for _, k := range Keys() {
		unit, ok := units[k.Form]
		switch {
		case ok:
		case strings.HasSuffix(k.Path, "meter"): // an accuracy
			unit = "% + 1 mV"
			if strings.HasSuffix(k.Path, "ammeter") {
				unit = "% + 1 mA"
			} else if strings.HasSuffix(k.Path, "ohmmeter") {
				unit = "% + 1 mohm"
			}
		case k.Path == "claims.data":
			unit = "Gbps"
		case k.Path == "claims.power":
			unit = "W"
		case k.Path == "claims.current":
			unit = "A"
		case k.Path == "claims.voltage":
			unit = "V"
		default:
			continue
		}
		keys++
		for i, number := range slices.Concat(refused, taken) {
			value := strings.TrimSpace(number + " " + unit)
			recs, errs := read(t, "gainsay: 1\ncable: a\n"+inPlace(k.Path, value), "r.yaml")
			if len(recs)+len(errs) != 1 {
				t.Fatalf("%s: %q: %d records, %d errors", k.Path, value, len(recs), len(errs))
			}
			wide := number == "１" && strings.HasPrefix(k.Path, "claims.") // a label may be set in full width
			if len(recs) > 0 && i < len(refused) && !wide {
				t.Errorf("%s: %q is taken", k.Path, value)
			}
			if len(errs) > 0 && !strings.Contains(errs[0].Error(), k.Path[strings.LastIndex(k.Path, ".")+1:]) {
				t.Errorf("%s: %q: %v", k.Path, value, errs[0])
			}
			for _, r := range recs {
				b, err := json.Marshal(r) // which has no form for NaN and infinity
				if err != nil {
					t.Errorf("%s: %q: %v", k.Path, value, err)
				}
				if strings.Contains(string(b), "e+3") {
					t.Errorf("%s: %q gives %s", k.Path, value, b)
				}
			}
		}
	}
	if keys != 31 {
		t.Errorf("%d keys that hold a quantity; it should be 31", keys)
	}
}

// inPlace gives the YAML of one key, with what has to stand beside it.
func inPlace(path, value string) string {
	parts := strings.Split(path, ".")
	text := parts[len(parts)-1] + ": \"" + value + "\""
	if len(parts) == 3 {
		for _, beside := range []string{"current: 1 A", "vbus: 1 mV"} {
			if !strings.HasPrefix(beside, parts[2]+":") {
				text += ", " + beside
			}
		}
	}
	for i := len(parts) - 2; i >= 0; i-- {
		text = "{" + text + "}"
		if parts[i] == "readings" {
			text = "[" + text + "]"
		}
		text = parts[i] + ": " + text
	}
	return text + "\n"
}
