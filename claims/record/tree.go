package record

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
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
	split   bool   // a scalar that a comma had split, put together again
	at      Place  // of the value
	content Place  // of a scalar's first character of content
	block   bool   // a literal block scalar: its lines are lines of the file
	keys    []*node
	items   []*node // of a list, or the values of a map

	// Where it stands: under a key, or as an item, counted from 1. Known once the
	// node above was read.
	up   *node
	name string
	item int
}

// nodes is room for the nodes of one document after another. A tree lives until
// its document has become a record, which keeps no node.
type nodes struct {
	blocks [][]node
	taken  int
}

const (
	nodesInBlock = 128
	blocksToKeep = 64 // what a larger document took is given back
)

func (ns *nodes) take() *node {
	block := ns.taken / nodesInBlock
	if block == len(ns.blocks) {
		ns.blocks = append(ns.blocks, make([]node, nodesInBlock))
	}
	n := &ns.blocks[block][ns.taken%nodesInBlock]
	ns.taken++
	*n = node{keys: n.keys[:0], items: n.items[:0]}
	return n
}

// reset gives all nodes taken back.
func (ns *nodes) reset() {
	ns.taken = 0
	if len(ns.blocks) > blocksToKeep {
		ns.blocks = nil
	}
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

// shown names a node that is a key by what it looks like.
func (n *node) shown() string {
	if n.kind != scalar {
		return n.kind.String()
	}
	return "blank"
}

// blank reports whether nothing of a text can be seen. U+2800 is a cell of Braille
// without a dot.
func blank(s string) bool {
	for _, r := range s {
		if unicode.IsGraphic(r) && !unicode.IsSpace(r) && r != '\u2800' &&
			!unicode.In(r, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector) {
			return false
		}
	}
	return true
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
func (c chunk) yamlTree(room *nodes) (*node, Errors) {
	if len(bytes.TrimSpace(c.text)) == 0 {
		return nil, nil
	}
	if !utf8.Valid(c.text) {
		line, column := c.badUTF8()
		return nil, c.fail(line, column, ErrSyntax, "not valid UTF-8", "save the file as UTF-8")
	}
	if i, r := lineEndNotCounted(c.text); i >= 0 {
		line, column := c.place(i)
		return nil, c.fail(line, column, ErrSyntax, fmt.Sprintf("the line ends with %U", r),
			fmt.Sprintf(`end lines with a line feed, or write "\\u%04X" in quotes`, r))
	}
	var doc, more yaml.Node
	d := yaml.NewDecoder(bytes.NewReader(c.text))
	switch err := d.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, nil // blanks and comments only
	case err != nil:
		return nil, c.failYAML(err)
	}
	// The parser stops behind the first value. What is left is read, to be named.
	switch err := d.Decode(&more); {
	case errors.Is(err, io.EOF):
	case err == nil:
		return nil, c.fail(c.line+max(more.Line, 1)-1, max(more.Column, 1), ErrSyntax, "a second value stands behind the record", betweenRecords)
	case strings.HasSuffix(err.Error(), "did not find expected <document start>"):
		errs := c.failYAML(err)
		errs[0].Wrong, errs[0].Want = "something is left over after the value of the document", betweenRecords
		return nil, errs
	default:
		return nil, c.failYAML(err)
	}
	if len(doc.Content) == 0 {
		return nil, nil
	}
	c.index()
	return c.fromYAML(doc.Content[0], 1, room)
}

const betweenRecords = "put a line with --- between two records; name a file of JSON Lines .jsonl"

// fromParser are the faults that the YAML parser finds in the order of the tokens. It
// counts their lines from 0, those of all others from 1.
var fromParser = map[string]bool{
	"did not find expected key":              true,
	"did not find expected '-' indicator":    true,
	"did not find expected ',' or ']'":       true,
	"did not find expected ',' or '}'":       true,
	"did not find expected node content":     true,
	"did not find expected <document start>": true,
	"found undefined tag handle":             true,
	"found incompatible YAML document":       true,
	"found duplicate %YAML directive":        true,
	"found duplicate %TAG directive":         true,
}

var unknownAnchor = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^unknown anchor '(.*)' referenced$`) })

// failYAML gives an error of the YAML parser its place in the file.
func (c chunk) failYAML(err error) Errors {
	text := strings.TrimPrefix(err.Error(), "yaml: ")
	if m := unknownAnchor().FindStringSubmatch(text); m != nil {
		line, column := c.place(max(bytes.Index(c.text, []byte("*"+m[1])), 0))
		return c.fail(line, column, ErrKind, "anchors and aliases are not read", "write the value out, or put a text in quotes")
	}
	n := 1
	if m := yamlLine().FindStringSubmatch(text); m != nil {
		n, _ = strconv.Atoi(m[1])
		text = strings.Replace(text, m[0], "", 1)
		if fromParser[text] {
			n++
		}
	}
	// At the end of the text the parser counts a line that is not there.
	n = min(max(n, 1), max(bytes.Count(bytes.TrimRight(c.text, "\r\n"), []byte("\n"))+1, 1))
	return c.fail(c.line+n-1, 1, ErrSyntax, "not well-formed YAML: "+text, "")
}

// lineEndNotCounted finds a character that ends a line for the YAML parser (YAML 1.1,
// 5.4) and for no editor, so that lines could not be counted: NEL, LS, PS, and a
// carriage return without a line feed. It returns -1 where there is none.
func lineEndNotCounted(text []byte) (int, rune) {
	for i, b := range text {
		switch {
		case b == '\r' && !bytes.HasPrefix(text[i:], []byte("\r\n")):
			return i, '\r'
		case b == 0xC2 && bytes.HasPrefix(text[i:], []byte("\u0085")):
			return i, '\u0085'
		case b == 0xE2 && bytes.HasPrefix(text[i:], []byte("\u2028")):
			return i, '\u2028'
		case b == 0xE2 && bytes.HasPrefix(text[i:], []byte("\u2029")):
			return i, '\u2029'
		}
	}
	return -1, 0
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

// characters counts those that begin in a text, which may begin or end inside one.
func characters(text []byte) (n int) {
	for _, b := range text {
		if utf8.RuneStart(b) {
			n++
		}
	}
	return n
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

func (c chunk) fromYAML(y *yaml.Node, depth int, room *nodes) (*node, Errors) {
	at := Place{c.file, c.line + max(y.Line, 1) - 1, max(y.Column, 1)}
	if depth > MaxDepth {
		return nil, c.fail(at.Line, at.Column, ErrLimit, fmt.Sprintf("nested more than %d levels deep", MaxDepth), "")
	}
	if y.Anchor != "" || y.Kind == yaml.AliasNode {
		return nil, c.fail(at.Line, at.Column, ErrKind, "anchors and aliases are not read", "write the value out")
	}
	if y.Style&yaml.TaggedStyle != 0 {
		return nil, c.fail(at.Line, at.Column, ErrKind, "tags are not read", "leave "+strconv.Quote(y.Tag)+" out; put a text in quotes")
	}
	n := room.take()
	n.at, n.content = at, at
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
		m, errs := c.fromYAML(child, depth+1, room)
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
