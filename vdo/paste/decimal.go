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
		v, err := strconv.ParseInt(t.text, 10, 64)
		if err != nil || !isDecimal(digits) || len(digits) > 1 && digits[0] == '0' || v < math.MinInt32 || v > math.MaxUint32 {
			return r, false
		}
		large = large || v < 0 || v > 0xFF
		wide = wide || len(digits) > 2
		words = append(words, word{value: uint32(v), extent: t.extent})
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
