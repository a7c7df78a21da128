package paste

import (
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// maxDepth bounds how deep JSON may be nested.
const maxDepth = 64

// node is one JSON value and where it stood.
type node struct {
	extent
	kind  byte // '{', '[', '"', '0' for a number, 'x' for the rest
	text  string
	keys  []string // as plainKey gives them
	items []node
}

func (n *node) get(keys ...string) *node {
	for _, k := range keys {
		if i := slices.Index(n.keys, k); i >= 0 {
			return &n.items[i]
		}
	}
	return nil
}

var (
	errDeep   = errors.New("nested too deep")
	errSyntax = errors.New("no JSON")
)

// syntaxError says what is wrong with a text of JSON values in the words of
// encoding/json. That reads values as well, but takes too long over each to read
// every text with it.
func syntaxError(text string) *json.SyntaxError {
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	for {
		_, err := d.Token()
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) || err != nil {
			return syntax
		}
	}
}

// parser reads JSON values with their places. What came whole before an error is
// part of the result.
type parser struct {
	text    string
	at      int
	strings bool // a string was read: the text looks like JSON
}

// blanks goes to the next character and tells whether there is one.
func (p *parser) blanks() bool {
	for p.at < len(p.text) {
		switch p.text[p.at] {
		case ' ', '\t', '\r', '\n':
			p.at++
		default:
			return true
		}
	}
	return false
}

func (p *parser) value(depth int) (node, error) {
	if !p.blanks() {
		return node{}, io.EOF
	}
	switch c := p.text[p.at]; {
	case c == '{' || c == '[':
		return p.container(depth)
	case c == '"':
		return p.string()
	case c == '-' || c >= '0' && c <= '9':
		return p.number()
	}
	for _, word := range []string{"true", "false", "null"} {
		rest := p.text[p.at:]
		if strings.HasPrefix(rest, word) {
			n := node{extent: extent{p.at, p.at + len(word)}, kind: 'x'}
			p.at = n.end
			return n, nil
		}
		if strings.HasPrefix(word, rest) {
			return node{}, io.ErrUnexpectedEOF
		}
	}
	return node{}, errSyntax
}

func (p *parser) container(depth int) (node, error) {
	n := node{extent: extent{p.at, p.at + 1}, kind: p.text[p.at]}
	if depth >= maxDepth {
		return n, errDeep
	}
	p.at++
	for first := true; ; first = false {
		if !p.blanks() {
			return n, io.ErrUnexpectedEOF
		}
		if p.text[p.at] == n.kind+2 { // ']' or '}'
			p.at++
			n.end = p.at
			return n, nil
		}
		if !first {
			if p.text[p.at] != ',' {
				return n, errSyntax
			}
			p.at++
		}
		key := ""
		if n.kind == '{' {
			k, err := p.key()
			if err != nil {
				return n, err
			}
			key = plainKey(k)
		}
		item, err := p.value(depth + 1)
		if err == nil && item.kind == '0' && item.end == len(p.text) {
			return n, io.ErrUnexpectedEOF // more digits may have stood there
		}
		if err == nil || len(item.items) > 0 { // or what came of it
			if n.kind == '{' {
				n.keys = append(n.keys, key)
			}
			n.items, n.end = append(n.items, item), item.end
		}
		if errors.Is(err, io.EOF) {
			err = io.ErrUnexpectedEOF
		}
		if err != nil {
			return n, err
		}
	}
}

// key reads a key and its colon.
func (p *parser) key() (string, error) {
	if !p.blanks() {
		return "", io.ErrUnexpectedEOF
	}
	if p.text[p.at] != '"' {
		return "", errSyntax
	}
	k, err := p.string()
	if err != nil {
		return "", err
	}
	if !p.blanks() {
		return "", io.ErrUnexpectedEOF
	}
	if p.text[p.at] != ':' {
		return "", errSyntax
	}
	p.at++
	return k.text, nil
}

// string reads a string. Where nothing in it is escaped, its place is that of the
// characters between the quotes.
func (p *parser) string() (node, error) {
	end, escaped := p.at+1, false
	for ; ; end++ {
		if end >= len(p.text) {
			return node{}, io.ErrUnexpectedEOF
		}
		c := p.text[end]
		if c == '"' {
			break
		}
		if c < ' ' {
			return node{}, errSyntax
		}
		if c != '\\' {
			continue
		}
		escaped = true
		end++
		if end < len(p.text) && strings.IndexByte(`"\/bfnrtu`, p.text[end]) < 0 {
			return node{}, errSyntax
		}
		if end < len(p.text) && p.text[end] == 'u' {
			for range 4 {
				end++
				if end < len(p.text) && !hexDigit(p.text[end]) {
					return node{}, errSyntax
				}
			}
		}
	}
	n := node{extent: extent{p.at + 1, end}, kind: '"', text: p.text[p.at+1 : end]}
	if escaped || !utf8.ValidString(n.text) {
		if err := json.Unmarshal([]byte(p.text[p.at:end+1]), &n.text); err != nil {
			return node{}, errSyntax
		}
		if len(n.text) != n.end-n.start {
			n.extent = extent{p.at, end + 1}
		}
	}
	p.at, p.strings = end+1, true
	return n, nil
}

// number reads a number: digits, a fraction, an exponent.
func (p *parser) number() (node, error) {
	at := p.at
	digits := func() bool {
		from := at
		for at < len(p.text) && p.text[at]-'0' <= 9 {
			at++
		}
		return at > from
	}
	has := func(chars string) bool {
		if at < len(p.text) && strings.IndexByte(chars, p.text[at]) >= 0 {
			at++
			return true
		}
		return false
	}
	has("-")
	whole := has("0") || digits()
	if whole && has(".") {
		whole = digits()
	}
	if whole && has("eE") {
		has("+-")
		whole = digits()
	}
	switch {
	case !whole && at == len(p.text):
		return node{}, io.ErrUnexpectedEOF
	case !whole:
		return node{}, errSyntax
	}
	n := node{extent: extent{p.at, at}, kind: '0', text: p.text[p.at:at]}
	p.at = at
	return n, nil
}
