package paste

import (
	"slices"
	"strconv"
	"strings"
)

// columnKind is what a table's column holds, by its name.
type columnKind uint8

const (
	otherColumn columnKind = iota
	dataColumn
	headColumn
	crcColumn
	plugColumn
)

func columnOf(name string) columnKind {
	k := plainKey(name)
	stem := strings.TrimRight(k, "0123456789")
	switch {
	case in(k, headKeys):
		return headColumn
	case in(k, crcKeys):
		return crcColumn
	case in(k, plugKeys):
		return plugColumn
	case in(k, dataKeys), in(stem, dataKeys), stem == "do", stem == "w", stem == "obj", stem == "object":
		return dataColumn
	}
	return otherColumn
}

func in(s string, list []string) bool { return slices.Contains(list, s) }

// readTable reads tables with a head: cells between commas, semicolons or tabs.
// The names in the head tell which columns hold data, message header, CRC and
// ordered set; all others stand aside. A row is a message, unless there is one
// word in each.
func readTable(text string) (reading, bool) {
	var r reading
	var columns []columnKind
	var delimiter byte
	title := "" // the head's line; it may stand again further down, where tables were joined
	var flow []word
	var flowLabel label
	flush := func() {
		if len(flow) > 0 {
			r.plain(flow, flowLabel, "table, a word in each row")
		}
		flow = nil
	}
	decimal, single := false, false
	for at, line := range lines(text) {
		if at == 0 {
			skip := len(line) - len(strings.TrimPrefix(line, string(byteOrderMark)))
			at, line = skip, line[skip:]
		}
		if strings.TrimFunc(line, blank) == "" || columns == nil && comment(line) {
			continue
		}
		if columns == nil {
			if delimiter, columns = tableHead(line); columns == nil {
				return r, false
			}
			title = line
			r.preamble = extent{0, min(at+len(line)+1, len(text))}
			single = !slices.Contains(columns, headColumn) && dataColumns(columns) == 1
			decimal = decimalCells(text[r.preamble.end:], title, delimiter, columns)
			continue
		}
		if line == title {
			continue
		}
		cells := cells(at, line, delimiter)
		if len(cells) != len(columns) {
			r.fault(fault{extent{at, at + len(line)}, line, count(len(cells), "cell") + " in this row", "the head has " + strconv.Itoa(len(columns)), ErrSyntax})
		}
		l := label{}
		var head, crc *token
		var data []token
		for i := range min(len(cells), len(columns)) {
			c := &cells[i]
			if c.text == "" {
				continue
			}
			switch columns[i] {
			case otherColumn:
				if plug, ok := plugName(c.text); ok && !l.set {
					l = label{plug, true, at} // whatever the column is called
				}
			case plugColumn:
				if plug, ok := namedPlug(c.text); ok {
					l = label{plug, true, at}
				}
			case headColumn:
				head = c
			case crcColumn:
				crc = c
			case dataColumn:
				data = append(data, *c)
			}
		}
		if single && head == nil && len(data) == 1 && len(data[0].text) <= wordDigits+len("0x")+decimalExtra(decimal) && !strings.ContainsAny(data[0].text, " \t") {
			w, f := cellWord(data[0], decimal)
			if f != nil {
				r.fault(*f)
				continue
			}
			if l.plug != flowLabel.plug || l.set != flowLabel.set {
				flush()
				flowLabel = l
			}
			flow = append(flow, w)
			continue
		}
		flush()
		r.row(head, data, crc, l, decimal)
	}
	flush()
	return r, columns != nil && (len(r.found) > 0 || len(r.faults) > 0)
}

func dataColumns(columns []columnKind) int {
	n := 0
	for _, c := range columns {
		if c == dataColumn {
			n++
		}
	}
	return n
}

func decimalExtra(decimal bool) int {
	if decimal {
		return len("-2147483648") - wordDigits
	}
	return 0
}

// row reads a row that is a message of its own.
func (r *reading) row(head *token, data []token, crc *token, l label, decimal bool) {
	var flow []piece
	var octets []octet
	if head != nil {
		digits, _ := unprefixed(head.text)
		v, err := strconv.ParseUint(digits, 16, 16)
		if err != nil {
			r.fault(fault{head.extent, head.text, "not a message header", "it has 4 hex digits, like 518F", ErrWidth})
			head = nil
		} else {
			flow = append(flow, piece{word{value: uint32(v), extent: head.extent}, true})
			octets = append(octets, octet{byte(v), head.extent}, octet{byte(v >> 8), head.extent})
		}
	}
	for _, c := range data {
		if b, ok := cellBytes(c); ok && !decimal {
			octets = append(octets, b...)
			continue
		}
		if head == nil && len(data) == 1 && !decimal {
			r.cell(c, l, "table")
			return
		}
		for t := range cut(c.text, c.start, separator) {
			w, f := cellWord(t, decimal)
			if f != nil {
				r.fault(*f)
				continue
			}
			flow = append(flow, piece{w, false})
		}
	}
	n := 0
	if head != nil {
		n = headBytes
	}
	if len(octets) > n {
		if crc != nil {
			if w, f := cellWord(*crc, false); f == nil {
				for i := range wordBytes {
					octets = append(octets, octet{byte(w.value >> (8 * i)), w.extent})
				}
			}
		}
		r.bytes(octets, 1, l, "table")
		return
	}
	if crc != nil && head != nil {
		if w, f := cellWord(*crc, false); f != nil {
			r.fault(*f)
		} else {
			flow = append(flow, piece{w, false})
		}
	}
	r.flow(flow, l, "table")
}

// cellBytes reads a cell of bytes with blanks between them.
func cellBytes(c token) ([]octet, bool) {
	var out []octet
	for t := range cut(c.text, c.start, separatorOrColon) {
		d, _ := unprefixed(t.text)
		if !isHex(d) || len(d) != 2 {
			return nil, false
		}
		out, _ = appendOctets(out, token{d, extent{t.end - 2, t.end}})
	}
	return out, len(out) > 0
}

func cellWord(t token, decimal bool) (word, *fault) {
	if !decimal {
		return parseWord(t)
	}
	v, ok := decimalWord(t.text)
	if !ok {
		return word{}, &fault{t.extent, t.text, "not a 32-bit whole number", "a decimal word is " + inDecimal, ErrWidth}
	}
	return word{value: v, extent: t.extent}, nil
}

// tableHead reads the head of a table; nil if the line is none.
func tableHead(line string) (byte, []columnKind) {
	for _, d := range []byte{';', '\t', ','} {
		if strings.IndexByte(line, d) < 0 {
			continue
		}
		var out []columnKind
		data := false
		for _, c := range cells(0, line, d) {
			k := columnOf(c.text)
			data = data || k == dataColumn && !isHex(c.text)
			out = append(out, k)
		}
		if data {
			return d, out
		}
	}
	return 0, nil
}

// cells cuts a row, with quotes around cells taken away.
func cells(at int, line string, delimiter byte) []token {
	var out []token
	for from := 0; from <= len(line); {
		end := from
		quoted := from < len(line) && line[from] == '"'
		if quoted {
			end++
			for end < len(line) && (line[end] != '"' || end+1 < len(line) && line[end+1] == '"') {
				if line[end] == '"' {
					end++
				}
				end++
			}
		}
		for end < len(line) && line[end] != delimiter {
			end++
		}
		start, text := trimmed(at+from, line[from:end])
		if quoted && len(text) >= 2 && text[len(text)-1] == '"' {
			start, text = start+1, text[1:len(text)-1]
		}
		out = append(out, token{text, extent{start, start + len(text)}})
		from = end + 1
	}
	return out
}

// decimalCells tells whether the data of a table are decimal numbers: no cell has
// a hex letter, and one is too long or too negative for hex.
func decimalCells(text, title string, delimiter byte, columns []columnKind) bool {
	decimal := false
	for at, line := range lines(text) {
		if line == title {
			continue
		}
		for i, c := range cells(at, line, delimiter) {
			if i >= len(columns) || columns[i] != dataColumn || c.text == "" {
				continue
			}
			digits := strings.TrimPrefix(c.text, "-")
			if !isDecimal(digits) {
				return false
			}
			decimal = decimal || len(digits) > wordDigits || len(digits) < len(c.text)
		}
	}
	return decimal
}
