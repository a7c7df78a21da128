package paste

import (
	"encoding/json"
	"errors"
	"io"
	"testing"
)

// FuzzJSON holds the parser against encoding/json: it takes the same texts, and
// where it takes none encoding/json says why.
func FuzzJSON(f *testing.F) {
	for _, text := range []string{`{"vdo":[4278231105,-1,2.5e3,true,null]}`, `{"a":"\u00e9\n","b":{"c":[[]]}}`, "[\"\xff\"]", `[8E7100000A`,
		`[1 2]`, `[1,]`, `{"a" 1}`, `{"a":1,}`, `{1:2}`, `[01]`, `[-]`, `[1.]`, `[1e+]`, `[truex]`, `[tru`, `["\q"]`, `["\u12`, "[\"\x01\"]", `[}`, `{]`} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p := parser{text: text}
		_, err := p.value(0)
		if err == nil && p.blanks() {
			return // another value behind it
		}
		if errors.Is(err, errDeep) {
			return
		}
		if valid := json.Valid([]byte(text)); valid != (err == nil) {
			t.Fatalf("%q: %v, though valid is %v to encoding/json", text, err, valid)
		}
		if errors.Is(err, errSyntax) && syntaxError(text) == nil {
			t.Errorf("%q: %v, but encoding/json sees nothing wrong", text, err)
		}
		if err != nil && !errors.Is(err, errSyntax) && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
			t.Errorf("%q: %v", text, err)
		}
	})
}
