package paste

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// plainKey takes a key or a column's name without regard to case and marks.
func plainKey(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'A' && r <= 'Z':
			return r | 0x20
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		}
		return -1
	}, s)
}

// Keys and column names, as plainKey gives them.
var (
	dataKeys = []string{"words", "word", "vdos", "vdo", "objects", "dataobjects", "data", "payload", "bytes", "raw", "hex", "frame", "packet", "value"}
	headKeys = []string{"header", "hdr", "messageheader", "pdheader", "msgheader"}
	crcKeys  = []string{"crc", "crc32"}
	plugKeys = []string{"sop", "plug", "set", "orderedset", "sopstar", "soptype", "frametype"}
)

// readJSON reads JSON, one value or several: lists of words or bytes as numbers
// or hex strings, objects with a header and data, the kernel's attributes, and
// what gainsay prints with --json.
func readJSON(text string) (reading, bool) {
	var r reading
	lead := len(text) - len(strings.TrimLeftFunc(text, blank))
	if lead == len(text) || text[lead] != '{' && text[lead] != '[' {
		return r, false
	}
	p := parser{text: text, at: lead}
	var loose []node
	values := 0
	for {
		n, err := p.value(0)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			if values == 0 && !p.strings {
				return r, false
			}
			at := p.at
			wrong, want := "the JSON ends early", "a JSON value should stand here, whole"
			if errors.Is(err, errSyntax) {
				if syntax := syntaxError(text[lead:]); syntax != nil {
					at, wrong = lead+max(0, int(syntax.Offset)-1), "JSON: "+syntax.Error()
				}
			} else if errors.Is(err, errDeep) {
				wrong, want = fmt.Sprintf("JSON is nested more than %d levels deep", maxDepth), "copy the object or list that has the words, without what is around it"
			}
			if len(n.items) > 0 {
				r.json(&n, label{}) // what came whole
			}
			at = min(at, len(text)-1)
			r.fault(fault{extent{at, at + 1}, "", wrong, want, ErrSyntax})
			break
		}
		values++
		r.units = append(r.units, n.extent)
		if n.kind == '{' && n.get("word") != nil && n.get("gainsay") == nil {
			loose = append(loose, *n.get("word"))
			continue
		}
		r.list(loose, label{})
		loose = nil
		r.json(&n, label{})
	}
	r.list(loose, label{})
	return r, (values > 0 || p.strings) && (len(r.found) > 0 || len(r.faults) > 0)
}

// json reads one value.
func (r *reading) json(n *node, l label) {
	switch n.kind {
	case '[':
		if scalars(n) {
			r.list(n.items, l)
			return
		}
		if words, ok := column(n); ok {
			r.list(words, l)
			return
		}
		for i := range n.items {
			r.json(&n.items[i], l)
		}
	case '{':
		if n.get("gainsay") != nil && r.printed(n) {
			return
		}
		if s := n.get(plugKeys...); s != nil && s.kind == '"' {
			if plug, ok := namedPlug(s.text); ok {
				l = label{plug, true, n.start}
			}
		}
		if n.get("idheader") != nil {
			r.attributes(n)
			return
		}
		data := n.get(dataKeys...)
		if data == nil {
			for i := range n.items {
				r.json(&n.items[i], l)
			}
			return
		}
		if h := n.get(headKeys...); h != nil && (h.kind == '0' || h.kind == '"') && data.kind == '[' {
			if v, ok := number(h); ok && v <= 0xFFFF {
				r.headed(h, uint16(v), data, n.get(crcKeys...), l)
				return
			}
		}
		switch {
		case data.kind == '0' || data.kind == '"':
			r.list([]node{*data}, l)
		default:
			r.json(data, l)
		}
	}
}

// namedPlug reads an ordered set's name, or near, far, partner.
func namedPlug(s string) (vdo.Plug, bool) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case vdo.PlugNear.String():
		return vdo.PlugNear, true
	case vdo.PlugFar.String():
		return vdo.PlugFar, true
	case vdo.PlugPartner.String():
		return vdo.PlugPartner, true
	}
	return plugName(s)
}

// printed reads what gainsay itself prints with --json.
func (r *reading) printed(n *node) bool {
	if e := n.get("error"); e != nil {
		r.skip(n.extent, "an error that gainsay printed: "+e.text)
		return true
	}
	if e := n.get("setaside"); e != nil {
		r.skip(n.extent, "set aside before: "+e.text)
		return true
	}
	list := n.get("words")
	if list == nil {
		return false
	}
	f, ok := r.printedMessage(n)
	if !ok {
		return false
	}
	if others := n.get("others"); others != nil {
		for i := range others.items {
			if o, ok := r.printedMessage(&others.items[i]); ok {
				f.others = append(f.others, o)
			}
		}
	}
	r.add(f)
	return true
}

func (r *reading) printedMessage(n *node) (found, bool) {
	list := n.get("words")
	if list == nil {
		return found{}, false
	}
	var words []word
	headerless := false
	for i := range list.items {
		w := list.items[i].get("word")
		if w == nil {
			continue
		}
		v, ok := number(w)
		if !ok {
			r.fault(fault{w.extent, w.text, "not a word", wantWord, ErrWidth})
			continue
		}
		if l := list.items[i].get("layout"); l != nil && len(words) == 0 {
			headerless = strings.HasPrefix(l.text, "id-header")
		}
		words = append(words, word{value: v, extent: w.extent})
	}
	if len(words) == 0 {
		return found{}, false
	}
	p := newPacket(words, label{})
	p.headerless = headerless
	if reply := n.get("reply"); reply != nil {
		if s := reply.get("plug"); s != nil {
			p.plug, _ = namedPlug(s.text)
		}
		if s := reply.get("revision"); s != nil && headerless {
			p.revision = revision(s.text)
		}
	}
	return p.found("printed by gainsay"), true
}

// revision reads a PD revision as people and the kernel write it.
func revision(s string) vdo.Revision {
	switch {
	case strings.HasPrefix(s, "1"):
		return vdo.Revision1
	case strings.HasPrefix(s, "2"):
		return vdo.Revision2
	case strings.HasPrefix(s, "3"):
		return vdo.Revision3
	}
	return vdo.RevisionUnknown
}

// scalars tells a list without lists or objects in it.
func scalars(n *node) bool {
	for _, i := range n.items {
		if i.kind != '0' && i.kind != '"' {
			return false
		}
	}
	return len(n.items) > 0
}

// column takes one value of each object of a list: a word of one message each.
func column(n *node) ([]node, bool) {
	var out []node
	for i := range n.items {
		o := &n.items[i]
		if o.kind != '{' || o.get(headKeys...) != nil || o.get(plugKeys...) != nil || o.get("gainsay") != nil {
			return nil, false
		}
		v := o.get(dataKeys...)
		if v == nil || v.kind != '0' && !(v.kind == '"' && len(v.text) <= wordDigits+2) {
			return nil, false
		}
		out = append(out, *v)
	}
	return out, len(out) > 0
}

// number is a value of 32 bits: decimal, and perhaps signed, where it is a JSON
// number, hex in a string.
func number(n *node) (uint32, bool) {
	if n.kind == '"' {
		digits, _ := unprefixed(strings.TrimSpace(n.text))
		v, err := strconv.ParseUint(digits, 16, 32)
		return uint32(v), err == nil
	}
	return decimalWord(n.text)
}

// list reads a list of numbers or hex strings: words, or bytes.
func (r *reading) list(items []node, l label) {
	if len(items) == 0 {
		return
	}
	if len(items) == 1 && items[0].kind == '"' {
		r.cell(token{items[0].text, items[0].extent}, l, "JSON string")
		return
	}
	var words []word
	var octets []octet
	bytes, signed, decimal := true, false, false
	bad := 0
	for i := range items {
		n := &items[i]
		v, ok := number(n)
		if !ok {
			bad++
			continue
		}
		digits, _ := unprefixed(n.text)
		if n.kind == '"' && len(digits) != 2 || v > 0xFF || n.text[0] == '-' {
			bytes = false
		}
		signed = signed || n.text[0] == '-'
		decimal = decimal || n.kind == '0'
		words = append(words, word{value: v, extent: n.extent})
		octets = append(octets, octet{byte(v), n.extent})
	}
	if bad*2 > len(items) || len(words) == 0 {
		return // names, not values
	}
	for i := range items {
		if _, ok := number(&items[i]); !ok {
			r.fault(fault{items[i].extent, items[i].text, "not a 32-bit whole number",
				"a word is " + inDecimal + ", or 8 hex digits in a string", ErrWidth})
		}
	}
	how := "JSON, hex strings"
	if decimal {
		how = "JSON, decimal numbers"
	}
	if signed {
		how = "JSON, signed decimal numbers"
	}
	if bytes && len(octets) > 1 && (len(octets) > frame.MaxObjects || octets[0].value != 0) {
		r.bytes(octets, 1, l, strings.Replace(how, "JSON", "JSON, bytes", 1))
		return
	}
	r.plain(words, l, how)
}

// headed reads an object that has the message header apart from the words.
func (r *reading) headed(h *node, v uint16, data, crc *node, l label) {
	flow := []piece{{word{value: uint32(v), extent: h.extent}, true}}
	for i := range data.items {
		n := &data.items[i]
		w, ok := number(n)
		if !ok {
			r.fault(fault{n.extent, n.text, "not a 32-bit whole number", wantWord, ErrWidth})
			continue
		}
		flow = append(flow, piece{word{value: w, extent: n.extent}, false})
	}
	if crc != nil {
		if w, ok := number(crc); ok {
			flow = append(flow, piece{word{value: w, extent: crc.extent}, false})
		}
	}
	r.flow(flow, l, "JSON")
}

// attributes reads an object that has the kernel's attributes for keys.
func (r *reading) attributes(n *node) {
	var g identityGroup
	for i, name := range attributeNames {
		item := n.get(plainKey(name))
		if item == nil {
			continue
		}
		v, ok := number(item)
		if !ok {
			r.fault(fault{item.extent, item.text, "not a word", wantWord, ErrWidth})
			continue
		}
		g.set(i, word{value: v, extent: item.extent})
	}
	if s := n.get("usbpowerdeliveryrevision"); s != nil {
		g.revision = revision(s.text)
	}
	r.identity(&g, "JSON, kernel attributes")
}

// cell reads one string or table cell: words, bytes or a run of digits in hex, or
// base64.
func (r *reading) cell(t token, l label, how string) {
	if strings.TrimFunc(t.text, blank) == "" {
		return
	}
	if len(t.text) != t.end-t.start {
		// Something in it is escaped, so the places inside it are not known.
		r.fault(fault{t.extent, t.text, "escapes in a string of digits", wantWord, ErrDigit})
		return
	}
	widest := 0
	for v := range cut(t.text, t.start, separatorOrColon) {
		d, _ := unprefixed(v.text)
		widest = max(widest, len(d))
	}
	var sub reading
	var ok bool
	switch {
	case widest > wordDigits:
		sub, ok = readRun(t.text)
	case widest <= headDigits:
		sub, ok = readBytes(t.text)
	}
	if !ok {
		sub, ok = readBase64(t.text)
	}
	if !ok {
		sub, _ = readWords(t.text)
	}
	sub.shift(t.start)
	for i := range sub.found {
		sub.found[i].relabel(l, how)
	}
	r.join(sub)
}
