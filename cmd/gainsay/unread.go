package main

import "example.com/gainsay/claims"

// unread lists what is wrong with the claims of a record that were not understood, and
// with its marker's texts. The rest of the record is judged all the same.
func unread(c *claims.Case) (lines []string) {
	for i := range c.Sold {
		for _, u := range c.Sold[i].Unread {
			lines = append(lines, u.Err.Error())
		}
	}
	for _, err := range c.Unread {
		lines = append(lines, err.Error())
	}
	return lines
}

func (e *env) saysUnread(lines []string) {
	for _, line := range lines {
		e.failLines(line)
	}
}
