package record

import "strings"

// Nearest suggests what a misspelt name may have been meant for, as "perhaps label"
// or "perhaps vbus or loop"; empty where no name is near. Case does not matter. Near
// are names that contain the text or begin it, else those that take the fewest
// edits, a swap of neighbours counting as one: no more than one in three characters,
// and three.
func Nearest(text string, names []string) string {
	text = strings.ToLower(text)
	var found []string
	least := min(max(len(text)/3, 1), 3)
	for _, name := range names {
		lower := strings.ToLower(name)
		switch {
		case lower == text:
			return "perhaps " + name
		case len(text) > 2 && (strings.Contains(lower, text) || strings.HasPrefix(text, lower)):
			if least > 0 {
				found, least = nil, 0
			}
			found = append(found, name)
		case least > 0:
			switch n := edits(text, lower, least); {
			case n < least:
				found, least = []string{name}, n
			case n == least:
				found = append(found, name)
			}
		}
	}
	if found == nil {
		return ""
	}
	return "perhaps " + strings.Join(found, " or ")
}

// edits counts the characters to replace, add, drop or swap with their neighbour that
// turn a into b; more than most is most and one.
func edits(a, b string, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return most + 1
	}
	rows := [3][]int{make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		row, last, beforeLast := rows[i%3], rows[(i+2)%3], rows[(i+1)%3]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j-1]+cost, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], beforeLast[j-2]+1)
			}
		}
	}
	return min(rows[len(a)%3][len(b)], most+1)
}
