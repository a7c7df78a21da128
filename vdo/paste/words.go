package paste

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/gainsay/vdo"
)

const wordDigits = 8

// token is a run of characters between separators.
type token struct {
	text     string
	from, to Place
}

// separator tells the characters that stand between words.
func separator(r rune) bool {
	return unicode.IsSpace(r) || strings.ContainsRune(",;[](){}<>\"'`|\uFEFF", r)
}

// tokens cuts a text at separators.
func tokens(text string, sep func(rune) bool) []token {
	var out []token
	line, column, start := 1, 1, -1
	var from, last Place
	for i, r := range text {
		if sep(r) {
			if start >= 0 {
				out = append(out, token{text[start:i], from, last})
				start = -1
			}
		} else {
			if start < 0 {
				start, from = i, Place{line, column}
			}
			last = Place{line, column}
		}
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	if start >= 0 {
		out = append(out, token{text[start:], from, last})
	}
	return out
}

// word is one data object and where it stood.
type word struct {
	value    uint32
	from, to Place
	padded   bool // written with fewer than 8 digits
}

func readWords(text string) (Result, Errors) {
	var words []word
	var errs Errors
	for _, t := range tokens(text, separator) {
		w, err := parseWord(t)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		words = append(words, w)
	}
	if len(words) == 0 && len(errs) == 0 {
		errs = append(errs, &Error{At: Place{1, 1}, Wrong: "there is nothing here",
			Want: "paste the words of a marker's answer, like FF00A041 18602FA1 00000000 01020100 000A2643", Err: ErrEmpty})
	}
	return Result{Messages: messages(words, "words")}, errs
}

const wantWord = "a word is 8 hex digits, like FF00A041 or 0xFF00A041"

func parseWord(t token) (word, *Error) {
	digits := t.text
	prefixed := false
	if len(digits) > 2 && digits[0] == '0' && (digits[1] == 'x' || digits[1] == 'X') {
		digits, prefixed = digits[2:], true
	}
	for i, r := range digits {
		if r > unicode.MaxASCII || !strings.ContainsRune("0123456789abcdefABCDEF", r) {
			at := t.from
			at.Column += utf8.RuneCountInString(t.text[:len(t.text)-len(digits)+i])
			return word{}, &Error{At: at, Token: t.text, Wrong: strconv.QuoteRune(r) + " is no hex digit", Want: wantWord, Err: ErrDigit}
		}
	}
	switch n := len(digits); {
	case n == wordDigits, prefixed && n > 0 && n < wordDigits:
	default:
		return word{}, &Error{At: t.from, Token: t.text, Wrong: strconv.Itoa(n) + " hex digits are no word", Want: wantWord, Err: ErrWidth}
	}
	v, err := strconv.ParseUint(digits, 16, 32)
	if err != nil {
		return word{}, &Error{At: t.from, Token: t.text, Wrong: "not a 32-bit number", Want: wantWord, Err: ErrWidth}
	}
	return word{uint32(v), t.from, t.to, len(digits) < wordDigits}, nil
}

// messages cuts words into messages: one begins at every word that can only be
// a structured VDM header.
func messages(words []word, how string) []Message {
	var out []Message
	for i := 0; i < len(words); {
		end := i + 1
		for end < len(words) && !header(words[end].value) {
			end++
		}
		out = append(out, message(words[i:end], how))
		i = end
	}
	return out
}

func message(words []word, how string) Message {
	m := Message{From: words[0].from, To: words[len(words)-1].to}
	padded := false
	for _, w := range words {
		m.Words = append(m.Words, w.value)
		padded = padded || w.padded
	}
	m.Headerless = !header(m.Words[0])
	m.ReadAs = how + ", header first"
	if m.Headerless {
		m.ReadAs = how + ", starting at the ID header"
	}
	if padded {
		m.Remarks = append(m.Remarks, "some words have fewer than 8 digits: zeros were put in front")
	}
	return m
}

// header tells whether a word can only be a structured VDM header, not an ID
// header or a cable word: a known SVID in front, a valid version and a command
// that a cable answers. Under another vendor's SVID it must be the answer to
// Discover Modes and not look like an ID header.
func header(w uint32) bool {
	h := vdo.VDMHeader(w)
	if !h.Structured() {
		return false
	}
	if h.SVID() == vdo.SVIDPowerDelivery {
		// As an ID header or a cable word this would hold reserved codes, so it is a
		// header even where its version or its reserved bit is at fault.
		return h.Command() >= vdo.DiscoverIdentity && h.Command() <= vdo.Attention
	}
	if h.Major() > 1 || h.Minor() > 1 || h.ReservedBit() {
		return false
	}
	switch h.SVID() {
	case vdo.SVIDDisplayPort, vdo.SVIDThunderbolt:
		return h.Command() >= vdo.DiscoverModes
	}
	p := vdo.IDHeader(w).Product()
	cable := p == vdo.PassiveType || p == vdo.ActiveType || p == vdo.VPDType
	return h.Command() == vdo.DiscoverModes && h.Type() == vdo.ACK && !cable && h.SVID() != 0
}
