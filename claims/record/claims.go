package record

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/claims/internal/label"
	"example.com/gainsay/claims/quantity"
)

// ErrNotUnderstood is the cause of an [Unread] claim.
var ErrNotUnderstood = errors.New("claim not understood")

// claimed is a key whose value is read as a label has it. What is not understood costs
// that claim only.
func claimed[V any](name, form, help string, read func(string) (V, string, *label.Error), shape func() *shape,
	field func(*Claims) *Stated[V], valid func(*checker, Stated[V])) key[Claims] {
	k := key[Claims]{name: name, form: form, help: help, shape: shape, empty: noValue, set: func(d *decoder, n *node, c *Claims) {
		if n.kind != scalar {
			c.unread(d, n, "", n.kind.String()+" stands here", "write one value, like "+form)
			return
		}
		if n.split {
			c.unread(d, n, n.text, "the comma splits the value in two", "write it in quotes, or with a point: "+name+": "+strings.Replace(n.text, ",", ".", 1))
			return
		}
		v, normal, err := read(n.text)
		if err != nil {
			c.unread(d, n, n.text, quoteText(err.Text)+": "+err.Wrong, err.Want)
			return
		}
		s := stated(v, n)
		s.Normal = normal
		*field(c) = s
	}}
	if valid != nil {
		k.valid = func(v *checker, c *Claims) { valid(v, *field(c)) }
	}
	return k
}

func quoteText(s string) string { return "\"" + s + "\"" }

// unread notes a claim that is not understood.
func (c *Claims) unread(d *decoder, n *node, text, wrong, want string) {
	at := n.content
	if n.kind != scalar {
		at = n.at
	}
	c.Unread = append(c.Unread, Unread{Key: n.name, Text: text,
		Err: &Error{At: at, Key: n.path(), Wrong: wrong, Want: want, Err: ErrNotUnderstood}})
}

// noValue is a claim's key without a value: silence says nothing, but a text behind a
// number sign is a comment in YAML.
func noValue(d *decoder, n *node, c *Claims) {
	c.unread(d, n, "", "this key has no value; what follows # is a comment", `write a value that has # in quotes, as in "#22", or remove the key`)
}

// rejoin puts a value together again that a decimal comma splits in a mapping in flow
// style: {length: 1,2 m} has the keys "length" and "2 m".
func rejoin(n *node) {
	if n.kind != mapping {
		return
	}
	for i := len(n.keys) - 1; i > 0; i-- {
		k, v, before := n.keys[i], n.items[i], n.items[i-1]
		if k.kind != scalar || v.kind != null || before.kind != scalar || before.quoted || !number(before.text) || k.text == "" || k.text[0] < '0' || k.text[0] > '9' {
			continue
		}
		before.text += "," + k.text
		before.split = true
		n.keys, n.items = slices.Delete(n.keys, i, i+1), slices.Delete(n.items, i, i+1)
	}
}

func number(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

func readData(text string) (DataClaim, string, *label.Error) {
	d, normal, err := label.DataOf(text)
	return DataClaim(d), normal, err
}

func readPlugs(text string) (Plugs, string, *label.Error) {
	name, err := label.Plugs(text)
	return Plugs(name), name, err
}

func readCertificate(text string) (string, string, *label.Error) {
	normal, err := label.Certificate(text)
	return normal, normal, err
}

func readVideo(text string) (VideoClaim, string, *label.Error) {
	v, normal, err := label.VideoOf(text)
	return VideoClaim(v), normal, err
}

// setModes reads a list of modes, or several in one text.
func setModes(d *decoder, n *node, c *Claims) {
	var modes []Mode
	var texts []string
	each(n, func(item *node) {
		if item.kind != scalar {
			c.unread(d, item, "", item.kind.String()+" stands here", "write a mode, like displayport")
			return
		}
		names, err := label.Modes(item.text)
		if err != nil {
			c.unread(d, item, item.text, quoteText(err.Text)+": "+err.Wrong, err.Want)
			c.Unread[len(c.Unread)-1].Key = "modes"
			return
		}
		texts = append(texts, item.text)
		for _, name := range names {
			if !slices.Contains(modes, Mode(name)) {
				modes = append(modes, Mode(name))
			}
		}
	})
	if len(modes) > 0 {
		c.Modes = Stated[[]Mode]{Value: modes, Text: strings.Join(texts, ", "), Normal: strings.Join(asStrings(modes), ", "), At: n.at, Known: true}
	}
}

// textShape is a single value of free words.
func textShape(examples ...string) func() *shape {
	return func() *shape {
		s := anyText()
		s.Examples = examples
		return s
	}
}

// valueShape is a text with a number, in whatever width, and a unit.
func valueShape(examples ...string) func() *shape {
	return func() *shape {
		return &shape{Type: []string{"string"}, Pattern: `^(?!\s*[−-])(?=.*[0-9０-９])(?=.*[^0-9０-９\s.,+−-])`, Examples: examples}
	}
}

// wordShape is a text with a letter.
func wordShape(examples ...string) func() *shape {
	return func() *shape {
		return &shape{Type: []string{"string"}, Pattern: `[^0-9\s.,+-]`, Examples: examples}
	}
}

// truthTextShape is a truth or the words for it.
func truthTextShape(example string) func() *shape {
	return func() *shape {
		return &shape{Type: []string{"boolean", "string"}, Examples: []string{"yes", "no", example}}
	}
}

func positiveOf(name string, dim quantity.Dimension) func(*checker, Stated[float64]) {
	return func(v *checker, s Stated[float64]) {
		if s.Known {
			v.quantity(name, s.At, s.Value, dim, positive)
		}
	}
}

func validPlugs(v *checker, s Stated[Plugs]) {
	if s.Known && !slices.Contains(plugNames, s.Value) {
		v.fail("plugs", s.At, quoteText(string(s.Value))+" is not known here", "write one of "+nameList(plugNames))
	}
}

// Place names where the claims were read: their source, or their number i from 0 in the
// record where none is given.
func (c *Claims) Place(i int) string {
	if c.Source.Known {
		return c.Source.Text
	}
	return fmt.Sprintf("claims %d", i+1)
}
