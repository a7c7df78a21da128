package record

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// jsonTree parses one JSON value (RFC 8259).
func (c chunk) jsonTree(room *nodes) (*node, Errors) {
	if !utf8.Valid(c.text) {
		line, column := c.badUTF8()
		return nil, c.fail(line, column, ErrSyntax, "not valid UTF-8", "save the file as UTF-8")
	}
	p := jsonParser{cursor: cursor{chunk: c}, doc: string(c.text), room: room}
	n, errs := p.value(1)
	if errs != nil {
		return nil, errs
	}
	p.blanks()
	if p.at < len(p.doc) {
		line, column := p.place(p.at)
		return nil, c.fail(line, column, ErrSyntax, "something is left over after the JSON value", "")
	}
	return n, nil
}

// jsonParser goes through the document once. Our own, because every value needs
// its place and keeps its text as written, and a long file has many values.
type jsonParser struct {
	cursor
	doc  string // the text again; a string without escapes is a part of it
	at   int    // byte offset of what comes next
	room *nodes
}

func (p *jsonParser) blanks() {
	for p.at < len(p.doc) {
		switch p.doc[p.at] {
		case ' ', '\t', '\r', '\n':
			p.at++
		default:
			return
		}
	}
}

// bad is a fault at a byte offset. A value that does not end is at fault where its
// text ends, which is before the end of its line.
func (p *jsonParser) bad(at int, what string) Errors {
	if at >= len(p.doc) {
		at, what = len(strings.TrimRight(p.doc, " \t\r\n")), "the value does not end"
	}
	line, column := p.place(at)
	return p.fail(line, column, ErrSyntax, "not well-formed JSON: "+what, "")
}

// unexpected is the fault of a character that does not belong where it stands.
func (p *jsonParser) unexpected(want string) Errors {
	if p.at >= len(p.doc) {
		return p.bad(p.at, "")
	}
	r, _ := utf8.DecodeRuneInString(p.doc[p.at:])
	return p.bad(p.at, strconv.QuoteRune(r)+" stands where "+want+" should")
}

func (p *jsonParser) value(depth int) (*node, Errors) {
	p.blanks()
	if p.at >= len(p.doc) {
		return nil, p.bad(p.at, "")
	}
	line, column := p.place(p.at)
	if depth > MaxDepth {
		return nil, p.fail(line, column, ErrLimit, fmt.Sprintf("nested more than %d levels deep", MaxDepth), "")
	}
	n := p.room.take()
	n.at = Place{p.file, line, column}
	n.content = n.at
	switch b := p.doc[p.at]; b {
	case '"':
		text, errs := p.quoted()
		if errs != nil {
			return nil, errs
		}
		n.kind, n.text, n.quoted = scalar, text, true
		n.content.Column++
	case '{':
		n.kind = mapping
		return n, p.inside(n, depth, '}')
	case '[':
		n.kind = list
		return n, p.inside(n, depth, ']')
	default:
		text, ok := p.literal()
		if !ok {
			return nil, p.unexpected("a value")
		}
		n.kind, n.text = scalar, text
		if text == "null" {
			n.kind, n.text = null, ""
		}
	}
	return n, nil
}

// inside reads what stands between the brackets of a list or a mapping.
func (p *jsonParser) inside(n *node, depth int, end byte) Errors {
	p.at++
	p.blanks()
	if p.at < len(p.doc) && p.doc[p.at] == end {
		p.at++
		return nil
	}
	for {
		if n.kind == mapping {
			p.blanks()
			if p.at >= len(p.doc) || p.doc[p.at] != '"' {
				return p.unexpected("a key in quotes")
			}
			key, errs := p.value(depth + 1)
			if errs != nil {
				return errs
			}
			n.keys = append(n.keys, key)
			p.blanks()
			if p.at >= len(p.doc) || p.doc[p.at] != ':' {
				return p.unexpected("a colon")
			}
			p.at++
		}
		item, errs := p.value(depth + 1)
		if errs != nil {
			return errs
		}
		n.items = append(n.items, item)
		p.blanks()
		if p.at < len(p.doc) {
			switch p.doc[p.at] {
			case ',':
				p.at++
				continue
			case end:
				p.at++
				return nil
			}
		}
		return p.unexpected("a comma or the end of " + n.kind.String())
	}
}

// literal reads a number, true, false or null, and gives it as written.
func (p *jsonParser) literal() (string, bool) {
	rest := p.doc[p.at:]
	n := numberLength(rest)
	for _, word := range [...]string{"true", "false", "null"} {
		if strings.HasPrefix(rest, word) {
			n = len(word)
		}
	}
	p.at += n
	return rest[:n], n > 0
}

// numberLength gives the length of the JSON number at the start of s, 0 if there
// is none.
func numberLength(s string) int {
	i := 0
	digits := func() bool {
		from := i
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i > from
	}
	if i < len(s) && s[i] == '-' {
		i++
	}
	if i < len(s) && s[i] == '0' {
		i++
	} else if !digits() {
		return 0
	}
	if i < len(s) && s[i] == '.' {
		i++
		if !digits() {
			return 0
		}
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		i++
		if i < len(s) && (s[i] == '+' || s[i] == '-') {
			i++
		}
		if !digits() {
			return 0
		}
	}
	return i
}

// quoted reads a string in quotes.
func (p *jsonParser) quoted() (string, Errors) {
	from := p.at + 1
	for i := from; i < len(p.doc); i++ {
		switch b := p.doc[i]; {
		case b == '"':
			p.at = i + 1
			return p.doc[from:i], nil
		case b == '\\':
			return p.escaped(from, i)
		case b < ' ':
			return "", p.control(i)
		}
	}
	return "", p.bad(len(p.doc), "")
}

// control is the fault of a control character in a string.
func (p *jsonParser) control(at int) Errors {
	if p.doc[at] == '\n' || p.doc[at] == '\r' {
		return p.bad(at, "a string does not end on its line")
	}
	return p.bad(at, "a control character stands in a string")
}

var jsonEscapes = [256]byte{'"': '"', '\\': '\\', '/': '/', 'b': '\b', 'f': '\f', 'n': '\n', 'r': '\r', 't': '\t'}

// escaped reads a string on from its first escape.
func (p *jsonParser) escaped(from, i int) (string, Errors) {
	text := []byte(p.doc[from:i])
	for i < len(p.doc) {
		switch b := p.doc[i]; {
		case b == '"':
			p.at = i + 1
			return string(text), nil
		case b < ' ':
			return "", p.control(i)
		case b != '\\':
			text = append(text, b)
			i++
		case i+1 >= len(p.doc):
			return "", p.bad(len(p.doc), "")
		case p.doc[i+1] == 'u':
			r, ok := hex4(p.doc[i+2:])
			if !ok {
				return "", p.bad(i, "four hex digits should follow \\u")
			}
			i += 6
			if utf16.IsSurrogate(r) {
				second, ok := rune(0), false
				if strings.HasPrefix(p.doc[i:], `\u`) {
					second, ok = hex4(p.doc[i+2:])
				}
				if r = utf16.DecodeRune(r, second); ok && r != utf8.RuneError {
					i += 6
				}
			}
			text = utf8.AppendRune(text, r)
		case jsonEscapes[p.doc[i+1]] != 0:
			text = append(text, jsonEscapes[p.doc[i+1]])
			i += 2
		default:
			return "", p.bad(i, "no such escape in a string")
		}
	}
	return "", p.bad(len(p.doc), "")
}

func hex4(s string) (rune, bool) {
	if len(s) < 4 {
		return 0, false
	}
	v, err := strconv.ParseUint(s[:4], 16, 16)
	return rune(v), err == nil
}
