package paste

import (
	"math"
	"strconv"
	"strings"

	"example.com/gainsay/vdo/frame"
)

// readDecimal reads decimal numbers: words, signed or not, or bytes. Digits alone
// may as well be hex, so it is believed only where every message fits.
func readDecimal(text string) (reading, bool) {
	var r reading
	var words []word
	var octets []octet
	large, wide := false, false
	for t := range cut(text, 0, separator) {
		digits := strings.TrimPrefix(t.text, "-")
		v, ok := decimalWord(t.text)
		if !ok || !isDecimal(digits) || len(digits) > 1 && digits[0] == '0' {
			return r, false
		}
		large = large || v > 0xFF
		wide = wide || len(digits) > 2
		words = append(words, word{value: v, extent: t.extent})
		octets = append(octets, octet{byte(v), t.extent})
	}
	switch {
	case len(words) < 2:
		return r, false
	case large:
		for _, p := range packets(words, label{}) {
			if p.fit() == 0 {
				return r, false
			}
			r.add(p.found("decimal numbers"))
		}
		return r, true
	case !wide || len(octets) <= frame.MaxObjects:
		return r, false
	}
	r.bytes(octets, 1, label{}, "decimal bytes")
	return r, len(r.faults) == 0
}

// inDecimal is what a word in decimal may be.
const inDecimal = "0 to 4294967295, or from -2147483648 where it is signed"

// decimalWord reads a word in decimal, signed or not.
func decimalWord(s string) (uint32, bool) {
	v, err := strconv.ParseInt(s, 10, 64)
	return uint32(v), err == nil && wordRange(v)
}

// wordRange tells whether a number is one of 32 bits, signed or not.
func wordRange(v int64) bool { return v >= math.MinInt32 && v <= math.MaxUint32 }
