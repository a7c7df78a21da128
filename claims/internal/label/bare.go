package label

import "strings"

// Most claims are a number and a unit, or a name as this package writes it. They are read
// without the tables of words that say nothing.

// bareAmount reads a number and a unit of one table, as "240 W"; false for all else.
func bareAmount(text string, table map[string]float64) (float64, bool) {
	i := 0
	for i < len(text) && (digit(text[i]) || text[i] == '.') {
		i++
	}
	unit := strings.TrimPrefix(text[i:], " ")
	by := table[strings.ToLower(unit)]
	if i == 0 || i > 8 || by == 0 {
		return 0, false
	}
	v, err := number(text[:i])
	if err != nil || v <= 0 {
		return 0, false
	}
	v = scaled(v, by)
	return v, v <= mostAmount
}
