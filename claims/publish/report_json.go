package publish

import (
	"bytes"
	"encoding/json"

	"example.com/gainsay/claims"
)

// ReportJSON gives a report as one line of JSON, fit for a terminal as [PlainJSON] makes it.
// The error is a *[json.UnsupportedValueError], for a number that JSON does not have.
func ReportJSON(r *claims.Report) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(12 << 10) // most reports
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(r); err != nil {
		return nil, err
	}
	return PlainJSON(b.Bytes()), nil
}
