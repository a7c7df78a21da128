package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// plain turns a tree into what encoding/json makes of the same text: nil, bool,
// json.Number, string, []any, and pairs of key and value in order for an object.
func plain(n *node) any {
	switch n.kind {
	case null:
		return nil
	case list:
		out := []any{}
		for _, item := range n.items {
			out = append(out, plain(item))
		}
		return out
	case mapping:
		out := [][2]any{}
		for i, key := range n.keys {
			out = append(out, [2]any{key.text, plain(n.items[i])})
		}
		return out
	}
	if b, err := strconv.ParseBool(n.text); !n.quoted && err == nil && len(n.text) > 1 {
		return b
	}
	if n.quoted {
		return n.text
	}
	return json.Number(n.text)
}

// byTokens reads the same by way of the standard library.
func byTokens(text string) (any, error) {
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	v, err := tokenValue(d)
	if err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("left over")
	}
	return v, nil
}

func tokenValue(d *json.Decoder) (any, error) {
	t, err := d.Token()
	if err != nil {
		return nil, err
	}
	switch t {
	case json.Delim('['):
		out := []any{}
		for d.More() {
			v, err := tokenValue(d)
			if err != nil {
				return nil, err
			}
			out = append(out, v)
		}
		_, err := d.Token()
		return out, err
	case json.Delim('{'):
		out := [][2]any{}
		for d.More() {
			key, err := d.Token()
			if err != nil {
				return nil, err
			}
			v, err := tokenValue(d)
			if err != nil {
				return nil, err
			}
			out = append(out, [2]any{key, v})
		}
		_, err := d.Token()
		return out, err
	}
	return t, nil
}

// sameJSON holds our parser against encoding/json: both take a text, and make the
// same of it, or neither does.
func sameJSON(t *testing.T, text string) {
	t.Helper()
	if !utf8.ValidString(text) {
		return // refused before
	}
	n, errs := chunk{file: "x.json", line: 1, text: []byte(text)}.jsonTree(new(nodes))
	want, err := byTokens(text)
	if err == nil && !json.Valid([]byte(text)) {
		err = errors.New("not valid") // tokens alone let some pass
	}
	if errors.Is(errs, ErrLimit) {
		return // the depth is our limit
	}
	if (errs == nil) != (err == nil) {
		t.Fatalf("%q: %v, and encoding/json: %v", text, errs, err)
	}
	if errs != nil {
		at := errs[0].At
		lines := strings.Split(text, "\n")
		if at.Line < 1 || at.Line > len(lines) || at.Column < 1 || at.Column > utf8.RuneCountInString(lines[at.Line-1])+1 {
			t.Errorf("%q: %v points outside", text, errs)
		}
		return
	}
	if diff := cmp.Diff(want, plain(n)); diff != "" {
		t.Errorf("%q (-encoding/json +ours):\n%s", text, diff)
	}
}

// RFC 8259, and encoding/json as its reader.
var jsonTexts = []string{
	`{}`, `[]`, `null`, `true`, `false`, `0`, `-0`, `1.5e-3`, `1E+9`, `""`, ` [ 1 , "a" , { "b" : null } ] `,
	`"\u00e9\n\t\"\\\/\b\f\r"`, `"\ud83d\ude00"`, `"\ud83d"`, `"\ude00x"`, `"\ud83d\ud83d\ude00"`, `"\ud83dx\u0041"`,
	`01`, `1.`, `.5`, `-`, `+1`, `1e`, `1e+`, `--1`, `0x1`, `NaN`, `tru`, `nul`, `truefalse`, `1 2`, `{} {}`, `"a`, `"\x"`, `"\u12g4"`, `"\u12"`,
	"\"\t\"", "\"\n\"", `{"a"}`, `{"a":}`, `{"a":1,}`, `{a:1}`, `{1:1}`, `{,}`, `[1,]`, `[,1]`, `[1 2]`, `[`, `{`, `{"a":[1}`, `]`, `}`, `:`, `,`,
	`{"a":1,"a":2}`, "\u00a0[]", "[\u2028]", "{\"a\":\"é€😀\"}", "[\"é\", x]", "\ufeff[]", "[1,\n\n 2,\n x]", "", " ",
}

func TestJSONTree(t *testing.T) {
	for _, text := range jsonTexts {
		sameJSON(t, text)
	}
}

func FuzzJSONTree(f *testing.F) {
	for _, text := range jsonTexts {
		f.Add(text)
	}
	f.Add(fullJSON)
	f.Fuzz(func(t *testing.T, text string) { sameJSON(t, text) })
}

// A tree made in room that was used before is the same as in new room.
func TestRoomIsUsedAgain(t *testing.T) {
	room := new(nodes)
	for _, text := range []string{fullJSON, `[1,[2,[3]],{"a":{"b":[]}}]`, fullJSON, `{}`, fullJSON} {
		room.reset()
		again, errs := chunk{file: "x", line: 1, text: []byte(text)}.jsonTree(room)
		if errs != nil {
			t.Fatal(errs)
		}
		fresh, _ := chunk{file: "x", line: 1, text: []byte(text)}.jsonTree(new(nodes))
		if diff := cmp.Diff(plain(fresh), plain(again)); diff != "" {
			t.Errorf("%s (-new +used):\n%s", text, diff)
		}
	}
}

func BenchmarkReadJSON(b *testing.B) {
	line := []byte(strings.Join(strings.Fields(fullJSON), " ") + "\n")
	text := bytes.Repeat(line, 100)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		for _, err := range Read(bytes.NewReader(text), "x.jsonl") {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
}
