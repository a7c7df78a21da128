package main

import "example.com/gainsay/claims/record"

// unread lists what is wrong with the claims of a record that were not understood. The
// rest of the record is judged all the same.
func unread(rec *record.Record) (lines []string) {
	for i := range rec.Claims {
		for _, u := range rec.Claims[i].Unread {
			lines = append(lines, u.Err.Error())
		}
	}
	return lines
}

func (e *env) claimsUnread(lines []string) {
	for _, line := range lines {
		e.failLines(line)
	}
}
