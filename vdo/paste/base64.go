package paste

import (
	"encoding/base64"
	"strings"
)

// readBase64 reads base64, standard or with - and _, a message on each line or
// one over several lines. Since much text is base64 by its letters, it is
// believed only where the bytes are messages by structure, to the last.
func readBase64(text string) (reading, bool) {
	var r reading
	var rows [][]octet
	for t := range cut(text, 0, func(c rune) bool { return blank(c) || strings.ContainsRune("\"',;", c) }) {
		octets, ok := base64Octets(t)
		if !ok {
			return r, false
		}
		rows = append(rows, octets)
	}
	if len(rows) == 0 {
		return r, false
	}
	r.rows(rows, 1, label{}, "base64")
	return r, len(r.faults) == 0
}

// base64Octets decodes a token. Each byte has the place of the characters that
// hold it.
func base64Octets(t token) ([]octet, bool) {
	s := strings.NewReplacer("-", "+", "_", "/").Replace(t.text)
	b, err := base64.StdEncoding.Strict().DecodeString(s)
	if err != nil {
		if b, err = base64.RawStdEncoding.Strict().DecodeString(s); err != nil {
			return nil, false
		}
	}
	if len(b) < wordBytes {
		return nil, false
	}
	out := make([]octet, len(b))
	for i, v := range b {
		from := i * 8 / 6
		out[i] = octet{v, extent{t.start + from, min(t.start+(i*8+7)/6+1, t.end)}}
	}
	return out, true
}
