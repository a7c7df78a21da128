package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Limits of one document. What goes beyond is an error that says so.
const (
	MaxDocument = 4 << 20 // bytes
	MaxDepth    = 16      // levels of nesting
)

// node is the neutral tree that YAML and JSON become: one strict conversion
// serves both.
type node struct {
	kind    kind
	text    string // of a scalar
	quoted  bool   // a scalar that is text whatever it looks like
	at      Place  // of the value
	content Place  // of a scalar's first character of content
	block   bool   // a literal block scalar: its lines are lines of the file
	keys    []*node
	items   []*node // of a list, or the values of a map
}

type kind uint8

const (
	scalar kind = iota + 1
	list
	mapping
	null
)

func (k kind) String() string {
	switch k {
	case scalar:
		return "a single value"
	case list:
		return "a list"
	case mapping:
		return "a mapping"
	}
	return "nothing"
}

// chunk is the text of one document and where it begins.
type chunk struct {
	file   string
	line   int // of its first line, from 1
	before int // characters of that line in front of it
	text   []byte
	// starts has the byte offset of every line, once index has been called.
	starts []int
}

// index finds the lines. Every place of a document is then cheap to find, which
// a long document needs.
func (c *chunk) index() {
	c.starts = []int{0}
	for i, b := range c.text {
		if b == '\n' {
			c.starts = append(c.starts, i+1)
		}
	}
}

func (c chunk) fail(line, column int, cause error, wrong, want string) Errors {
	return Errors{{At: Place{c.file, line, column}, Wrong: wrong, Want: want, Err: cause}}
}

var yamlLine = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`line (\d+):? ?`) })

// yamlTree parses one YAML document. It gives nil for an empty one.
func (c chunk) yamlTree() (*node, Errors) {
	if !utf8.Valid(c.text) {
		line, column := c.badUTF8()
		return nil, c.fail(line, column, ErrSyntax, "not valid UTF-8", "save the file as UTF-8")
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(c.text, &doc); err != nil {
		line := c.line
		text := strings.TrimPrefix(err.Error(), "yaml: ")
		if m := yamlLine().FindStringSubmatch(text); m != nil {
			n, _ := strconv.Atoi(m[1])
			line += max(n, 1) - 1
			text = strings.Replace(text, m[0], "", 1)
		}
		return nil, c.fail(line, 1, ErrSyntax, "not well-formed YAML: "+text, "")
	}
	if doc.Kind == 0 || len(doc.Content) == 0 {
		return nil, nil
	}
	c.index()
	return c.fromYAML(doc.Content[0], 1)
}

func (c chunk) badUTF8() (line, column int) {
	i := 0
	for i < len(c.text) {
		r, n := utf8.DecodeRune(c.text[i:])
		if r == utf8.RuneError && n == 1 {
			break
		}
		i += n
	}
	return c.place(i)
}

// place turns a byte offset in the chunk into a line and a column.
func (c chunk) place(offset int) (line, column int) {
	p := cursor{chunk: c}
	return p.place(offset)
}

// cursor finds places one after another without counting again what lies before
// the last.
type cursor struct {
	chunk
	offset, line, column int // of the last place, line and column from 0
}

func (p *cursor) place(offset int) (line, column int) {
	offset = min(offset, len(p.text))
	if offset < p.offset {
		p.offset, p.line, p.column = 0, 0, 0
	}
	for _, b := range p.text[p.offset:offset] {
		switch {
		case b == '\n':
			p.line, p.column = p.line+1, 0
		case utf8.RuneStart(b):
			p.column++
		}
	}
	p.offset = offset
	column = p.column + 1
	if p.line == 0 {
		column += p.before
	}
	return p.chunk.line + p.line, column
}

func (c chunk) fromYAML(y *yaml.Node, depth int) (*node, Errors) {
	at := Place{c.file, c.line + max(y.Line, 1) - 1, max(y.Column, 1)}
	if depth > MaxDepth {
		return nil, c.fail(at.Line, at.Column, ErrLimit, fmt.Sprintf("nested more than %d levels deep", MaxDepth), "")
	}
	if y.Anchor != "" || y.Kind == yaml.AliasNode {
		return nil, c.fail(at.Line, at.Column, ErrKind, "anchors and aliases are not read", "write the value out")
	}
	n := &node{at: at, content: at}
	switch y.Kind {
	case yaml.ScalarNode:
		n.kind, n.text = scalar, y.Value
		n.quoted = y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
		switch {
		case y.Tag == "!!null":
			n.kind = null
		case y.Style&yaml.LiteralStyle != 0:
			n.block = true
			n.content = Place{c.file, at.Line + 1, c.indent(at.Line+1) + 1}
		case y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
			n.content.Column++
		}
	case yaml.SequenceNode:
		n.kind = list
	case yaml.MappingNode:
		n.kind = mapping
	default:
		return nil, c.fail(at.Line, at.Column, ErrKind, "not a value gainsay reads", "")
	}
	for i, child := range y.Content {
		m, errs := c.fromYAML(child, depth+1)
		if errs != nil {
			return nil, errs
		}
		if n.kind == mapping && i%2 == 0 {
			if m.kind == null {
				m.kind = scalar // the key "null" is a word here, whatever YAML makes of it
			}
			n.keys = append(n.keys, m)
		} else {
			n.items = append(n.items, m)
		}
	}
	return n, nil
}

// indent counts the blanks a line of the file begins with.
func (c chunk) indent(line int) int {
	i := line - c.line
	if i < 0 || i >= len(c.starts) {
		return 0
	}
	rest := c.text[c.starts[i]:]
	return len(rest) - len(bytes.TrimLeft(rest, " "))
}

// jsonTree parses one JSON value.
func (c chunk) jsonTree() (*node, Errors) {
	if !utf8.Valid(c.text) {
		line, column := c.badUTF8()
		return nil, c.fail(line, column, ErrSyntax, "not valid UTF-8", "save the file as UTF-8")
	}
	dec := json.NewDecoder(bytes.NewReader(c.text))
	dec.UseNumber()
	p := &jsonParser{cursor{chunk: c}, dec}
	n, errs := p.value(1)
	if errs != nil {
		return nil, errs
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		line, column := p.place(p.start())
		return nil, c.fail(line, column, ErrSyntax, "something is left over after the JSON value", "")
	}
	return n, nil
}

type jsonParser struct {
	cursor
	dec *json.Decoder
}

// start is where the next token begins.
func (p *jsonParser) start() int {
	i := int(p.dec.InputOffset())
	for i < len(p.text) && bytes.IndexByte([]byte(" \t\r\n,:"), p.text[i]) >= 0 {
		i++
	}
	return i
}

func (p *jsonParser) value(depth int) (*node, Errors) {
	start := p.start()
	line, column := p.place(start)
	tok, err := p.dec.Token()
	if err != nil {
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			line, column = p.place(max(int(syntax.Offset)-1, p.start()))
		}
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			line, column = p.place(len(p.text))
			err = errors.New("the value does not end")
		}
		return nil, p.fail(line, column, ErrSyntax, "not well-formed JSON: "+strings.TrimPrefix(err.Error(), "json: "), "")
	}
	if depth > MaxDepth {
		return nil, p.fail(line, column, ErrLimit, fmt.Sprintf("nested more than %d levels deep", MaxDepth), "")
	}
	at := Place{p.file, line, column}
	n := &node{at: at, content: at}
	switch t := tok.(type) {
	case nil:
		n.kind = null
	case string:
		n.kind, n.text, n.quoted = scalar, t, true
		n.content.Column++
	case json.Number:
		n.kind, n.text = scalar, t.String()
	case bool:
		n.kind, n.text = scalar, strconv.FormatBool(t)
	case json.Delim:
		n.kind = list
		if t == '{' {
			n.kind = mapping
		}
		for p.dec.More() {
			if n.kind == mapping {
				key, errs := p.value(depth + 1)
				if errs != nil {
					return nil, errs
				}
				n.keys = append(n.keys, key)
			}
			item, errs := p.value(depth + 1)
			if errs != nil {
				return nil, errs
			}
			n.items = append(n.items, item)
		}
		if _, errs := p.close(); errs != nil {
			return nil, errs
		}
	}
	return n, nil
}

func (p *jsonParser) close() (json.Token, Errors) {
	tok, err := p.dec.Token()
	if err != nil {
		line, column := p.place(p.start())
		return nil, p.fail(line, column, ErrSyntax, "not well-formed JSON: the value does not end here", "")
	}
	return tok, nil
}
