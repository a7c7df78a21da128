package paste

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

const (
	wordDigits = 8
	headDigits = 4 // of a PD message header
)

const wantWord = "a word is 8 hex digits, like FF00A041 or 0xFF00A041"

// piece is a value of a text: a word, or the 16 bits of a PD message header.
type piece struct {
	word
	head bool
}

// readWords reads bare words. It is the reader whose errors stand where no form
// is recognised.
func readWords(text string) (reading, bool) {
	var r reading
	var toks []token
	var flow []piece
	none := true
	for t := range cut(text, 0, separator) {
		none = false
		if digits, _ := unprefixed(t.text); len(digits) == headDigits && isHex(digits) {
			// Perhaps a message header; that shows when its words have come.
			v, _ := strconv.ParseUint(digits, 16, 16)
			flow = push(flow, piece{word{value: uint32(v), extent: t.extent}, true})
			toks = push(toks, t)
			continue
		}
		w, f := parseWord(t)
		if f != nil {
			r.fault(*f)
			continue
		}
		flow = push(flow, piece{w, false})
	}
	if none {
		r.fault(fault{extent{}, "", "there is nothing here",
			"paste the words of a marker's answer, like FF00A041 18602FA1 00000000 01020100 000A2643", ErrEmpty})
		return r, true
	}
	flow = r.dropLoose(flow, toks)
	r.flow(flow, label{}, "words")
	return r, true
}

// dropLoose takes out four digits that head no message: with 0x they are a word
// without its leading zeros, else an error.
func (r *reading) dropLoose(flow []piece, toks []token) []piece {
	if len(toks) == 0 {
		return flow
	}
	// Four digits with 0x are a header before a VDM header alone; then others may be
	// those of control messages.
	short := func(i int) bool { return flow[i].head && flow[i].end-flow[i].start > headDigits }
	headed := false
	for i, p := range flow {
		headed = headed || p.head && i+1 < len(flow) && !flow[i+1].head && header(flow[i+1].value) && frame.Header(p.value).Type() == frame.VendorDefined
	}
	for i := range flow {
		if h := frame.Header(flow[i].value); short(i) && !(headed && h.Type().Defined() && !h.Extended()) {
			w, _ := parseWord(toks[0])
			flow[i] = piece{w, false}
			toks = toks[1:]
		} else if flow[i].head {
			toks = append(toks[1:], toks[0])
		}
	}
	out := make([]piece, 0, len(flow))
	for i, p := range flow {
		if !p.head {
			out = append(out, p)
			continue
		}
		h, n := frame.Header(p.value), 0
		for i+1+n < len(flow) && !flow[i+1+n].head {
			n++
		}
		counted := h.Type().Defined() && !h.Extended() && (n == h.Objects() || n == h.Objects()+1)
		cutOff := h.Type() == frame.VendorDefined && n > 0 && n < h.Objects() && header(flow[i+1].value)
		switch {
		case cutOff, counted && h.Type() == frame.VendorDefined && vdmLike(flow[i+1].value, h),
			counted && h.Type() != frame.VendorDefined && flow[0].head: // behind bare words it is half a word
			out = append(out, p)
		case short(i):
			w, _ := parseWord(toks[0])
			out = append(out, piece{w, false})
		default:
			_, f := parseWord(toks[0])
			r.fault(*f)
		}
		toks = toks[1:]
	}
	return out
}

func parseWord(t token) (word, *fault) {
	digits, prefixed := unprefixed(t.text)
	for i, c := range digits {
		if c > 0x7f || !hexDigit(byte(c)) {
			at := extent{t.end - len(digits) + i, t.end}
			return word{}, &fault{at, t.text, strconv.QuoteRune(c) + " is no hex digit", wantWord, ErrDigit}
		}
	}
	n := len(digits)
	if n != wordDigits && (!prefixed || n == 0 || n > wordDigits) {
		are := " are"
		if n == 1 {
			are = " is"
		}
		return word{}, &fault{t.extent, t.text, count(n, "hex digit") + are + " no word", wantWord, ErrWidth}
	}
	v, _ := strconv.ParseUint(digits, 16, 32) // 1 to 8 hex digits
	return word{uint32(v), t.extent, n < wordDigits}, nil
}

// flow reads words in the order of the text, with or without PD message headers
// between them.
func (r *reading) flow(flow []piece, l label, how string) {
	for i := 0; i < len(flow); {
		end := i + 1
		for end < len(flow) && !flow[end].head {
			end++
		}
		if flow[i].head {
			r.counted(flow[i], plainPieces(flow[i+1:end]), l, how)
		} else {
			r.plain(plainPieces(flow[i:end]), l, how)
		}
		i = end
	}
}

func plainPieces(flow []piece) []word {
	out := make([]word, len(flow))
	for i, p := range flow {
		out[i] = p.word
	}
	return out
}

// counted reads a message header and the words behind it.
func (r *reading) counted(head piece, words []word, l label, how string) {
	p := packet{label: l}
	p.setHead(frame.Header(head.value))
	n := min(p.head.Objects(), len(words))
	p.words = words[:n:n]
	p.extent = head.extent
	if n > 0 {
		p.end = words[n-1].end
	}
	rest := words[n:]
	if short := p.head.Objects() - n; short > 0 {
		wrong := "the message header counts " + count(p.head.Objects(), "object") + ", " + strconv.Itoa(n) + " came"
		r.fault(fault{p.extent, "", wrong, "copy the whole message", ErrTruncated})
		p.remarks = append(p.remarks, wrong)
	}
	if p.head.Type() == frame.VendorDefined && n > 0 && n < p.head.Objects() && !header(words[0].value) {
		// The word that is missing may be the VDM header.
		r.skip(p.extent, fmt.Sprintf("cut off, and not beginning with a VDM header: %08X", p.values()))
		return
	}
	if len(rest) > 0 && (rest[0].value == p.checksum() || len(rest) == 1 && !header(rest[0].value)) {
		p.end = rest[0].end
		p.checkCRC(rest[0].value)
		rest = rest[1:]
	}
	r.add(p.found(how))
	if len(rest) > 0 {
		r.plain(rest, l, how)
	}
}

// plain reads words without a message header.
func (r *reading) plain(words []word, l label, how string) {
	if octets, ok := smallValues(words); ok {
		r.bytes(octets, 1, l, how)
		return
	}
	ps := packets(words, l)
	fit := 0
	for i := range ps {
		fit += ps[i].fit()
	}
	if fit == 0 {
		// Perhaps the bytes of a dump, four to a group.
		if octets, ok := spread(words); ok {
			if best := candidates(octets, wordBytes, l); len(best) > 0 && best[0].whole(len(octets)) && best[0].points >= strong {
				r.bytes(octets, wordBytes, l, how)
				return
			}
		}
	}
	for i := range ps {
		r.add(ps[i].found(how))
	}
}

// smallValues takes many words of two digits and less for bytes.
func smallValues(words []word) ([]octet, bool) {
	const many = frame.MaxObjects + 1
	if len(words) < many {
		return nil, false
	}
	out := make([]octet, len(words))
	for i, w := range words {
		if !w.padded || w.value > 0xFF {
			return nil, false
		}
		out[i] = octet{byte(w.value), w.extent}
	}
	return out, true
}

// spread takes words for groups of four bytes.
func spread(words []word) ([]octet, bool) {
	out := make([]octet, 0, wordBytes*len(words))
	for _, w := range words {
		if w.padded || w.end-w.start < wordDigits {
			return nil, false
		}
		for i := range wordBytes {
			at := w.end - wordDigits + 2*i
			out = append(out, octet{byte(w.value >> (24 - 8*i)), extent{at, at + 2}})
		}
	}
	return out, true
}

// readShort reads words whose leading zeros were dropped, without 0x. That is
// believed only where the structure holds: the first word, and the ID header, are
// whole, and there are as many words as the product type has.
func readShort(text string) (reading, bool) {
	var r reading
	var words []word
	short := false
	for t := range cut(text, 0, separator) {
		if !isHex(t.text) || len(t.text) > wordDigits {
			return r, false
		}
		v, _ := strconv.ParseUint(t.text, 16, 32)
		words = append(words, word{uint32(v), t.extent, len(t.text) < wordDigits})
		short = short || len(t.text) < wordDigits
	}
	if !short {
		return r, false
	}
	ps := packets(words, label{})
	for i := range ps {
		p := &ps[i]
		if p.words[0].padded || !p.headerless && len(p.words) > 1 && p.words[1].padded && identityACK(p.words[0].value) {
			return r, false
		}
		for _, w := range p.words {
			// A dropped digit is a zero in front, so what is left begins with another.
			if w.padded && w.end-w.start > 1 && text[w.start] == '0' {
				return r, false
			}
		}
		if p.fit() < fitIdentity+fitObjects+fitReserved {
			return r, false
		}
	}
	for i := range ps {
		r.add(ps[i].found("words, leading zeros dropped"))
	}
	return r, true
}

// readRun reads digits in one long run, a message on each line: words, or bytes
// in the order of the wire.
func readRun(text string) (reading, bool) {
	var r reading
	any := false
	for t := range cut(text, 0, separator) {
		digits, _ := unprefixed(t.text)
		if len(digits) <= wordDigits && !(any && isHex(digits) && len(digits) >= headDigits && len(digits)%2 == 0) || !isHex(digits) {
			return r, false
		}
		any = true
		r.run(token{digits, extent{t.end - len(digits), t.end}}, label{}, "one run of digits")
	}
	return r, any
}

// run reads one run of hex digits.
func (r *reading) run(t token, l label, how string) {
	octets, odd := appendOctets(nil, t)
	if odd {
		r.fault(fault{extent{t.end - 1, t.end}, t.text, strconv.Itoa(len(t.text)) + " hex digits: half a byte is left over",
			"a byte has two digits, a word eight", ErrHalf})
	}
	r.bytes(octets, 1, l, how)
}

// appendOctets cuts hex digits into bytes. An odd digit at the end is left out.
func appendOctets(list []octet, t token) (octets []octet, odd bool) {
	list = slices.Grow(list, len(t.text)/2)
	for i := 0; i+2 <= len(t.text); i += 2 {
		list = append(list, octet{hexValue(t.text[i])<<4 | hexValue(t.text[i+1]), extent{t.start + i, t.start + i + 2}})
	}
	return list, len(t.text)%2 != 0
}

// plugName reads the name of an ordered set, as SOP, SOP', SOP″ or SOP_PRIME.
// It reports false for anything else.
func plugName(s string) (vdo.Plug, bool) {
	s = strings.ToUpper(strings.TrimRight(s, ":,.*"))
	rest, ok := strings.CutPrefix(s, "SOP")
	if !ok {
		return 0, false
	}
	rest = quoteMarks.Replace(rest)
	rest = strings.TrimLeft(rest, "-_")
	switch rest {
	case "":
		return vdo.PlugPartner, true
	case "'", "1", "P", "PRIME":
		return vdo.PlugNear, true
	case "''", "2", "PP", "DP", "DPRIME", "DOUBLEPRIME", "DOUBLE_PRIME", "DOUBLE-PRIME", "PRIME_PRIME", "PRIMEPRIME":
		return vdo.PlugFar, true
	case "'_DEBUG", "'DEBUG", "''_DEBUG", "''DEBUG", "PRIME_DEBUG", "DOUBLE_PRIME_DEBUG", "'_DBG", "''_DBG":
		return vdo.PlugUnknown, true
	}
	return 0, false
}

var quoteMarks = strings.NewReplacer("’", "'", "‘", "'", "′", "'", "`", "'", "\"", "''", "″", "''", "”", "''", "“", "''")
