package record

import (
	"fmt"
	"strconv"
	"time"
)

// Days that a record may hold. The first is common practice: no bench is older. It keeps
// the zero time, which is no date, out of records.
var (
	firstDay = time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC)
	lastDay  = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)
)

const dateForm = "write it like 2026-10-05"

// ParseDate reads a day from 1900-01-01 to 9999-12-31, as "2026-10-05", at midnight UTC.
// The error is [ErrValue] with what is wrong with the text.
func ParseDate(text string) (time.Time, error) {
	v, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return time.Time{}, fmt.Errorf("%s is no date%.0w", strconv.Quote(text), ErrValue)
	}
	if err := checkDate(v); err != nil {
		return time.Time{}, err
	}
	return v, nil
}

// checkDate returns an error for a day that no record may hold.
func checkDate(v time.Time) error {
	if v.Before(firstDay) || v.After(lastDay) {
		return fmt.Errorf("%q is not between %s and %s%.0w", v.Format(time.DateOnly), firstDay.Format(time.DateOnly), lastDay.Format(time.DateOnly), ErrValue)
	}
	return nil
}
