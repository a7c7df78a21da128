package paste

import (
	"errors"
	"strings"

	"example.com/gainsay/vdo/frame"
)

// readSymbols reads lists of 4b5b symbols: K-codes by name, data symbols as hex
// digits or five bits. Places in the errors are those of the symbols.
func readSymbols(text string) (reading, bool) {
	var r reading
	if !kCodes(text) {
		return r, false
	}
	var symbols []frame.Symbol
	var at []extent
	for t := range cut(text, 0, symbolSeparator) {
		s, err := frame.ParseSymbol(t.text)
		var fe *frame.Error
		if errors.As(err, &fe) {
			r.fault(fault{t.extent, t.text, fe.Wrong, fe.Want, ErrSyntax})
			continue
		}
		symbols, at = append(symbols, s), append(at, t.extent)
	}
	for len(symbols) > 0 {
		p, n, err := frame.ReadPacket(symbols)
		r.symbolPacket(p, at[:n], err)
		symbols, at = symbols[n:], at[n:]
	}
	return r, true
}

func symbolSeparator(c rune) bool { return separator(c) || c == '+' || c == '/' }

// kCodes tells whether at least an ordered set's worth of K-codes is named, or
// given in bits.
func kCodes(text string) bool {
	const shortest, longest = len("EOP"), len("Sync_-1")
	n := 0
	for t := range cut(text, 0, symbolSeparator) {
		if strings.IndexByte("SsRrEe01", t.text[0]) < 0 || len(t.text) < shortest || len(t.text) > longest {
			continue
		}
		if s, err := frame.ParseSymbol(t.text); err == nil && s.KCode() {
			if n++; n == frame.SetSymbols {
				return true
			}
		}
	}
	return false
}

func (r *reading) symbolPacket(p frame.Packet, at []extent, err error) {
	whole := extent{at[0].start, at[len(at)-1].end}
	crcWrong := false
	for _, e := range frameErrors(err) {
		if errors.Is(e, frame.ErrCRC) {
			crcWrong = true
			continue
		}
		i := e.At
		if e.Unit == frame.InBytes {
			i = frame.SetSymbols + 2*e.At
		}
		i = max(0, min(i, len(at)-1))
		cause := ErrSyntax
		switch {
		case errors.Is(e, frame.ErrTruncated), errors.Is(e, frame.ErrEOP):
			cause = ErrTruncated
		case errors.Is(e, frame.ErrCount), errors.Is(e, frame.ErrSet), errors.Is(e, frame.ErrExtended):
			cause = ErrStructure
		}
		r.fault(fault{at[i], e.Token, e.Wrong, e.Want, cause})
	}
	switch {
	case p.Set == frame.SetUnknown:
		return
	case p.Set.Reset():
		r.skip(whole, p.Set.String())
		return
	case len(p.Bytes) < headBytes:
		return
	}
	out := packet{label: label{plug: p.Set.Plug(), set: true, since: whole.start}}
	out.setHead(p.Message.Header)
	for i, v := range p.Message.Objects {
		from := frame.SetSymbols + 2*(headBytes+wordBytes*i)
		to := min(from+2*wordBytes, len(at)) - 1
		out.words = append(out.words, word{value: v, extent: extent{at[min(from, to)].start, at[to].end}})
	}
	if p.Message.HasCRC && (err == nil || crcWrong) {
		out.checkCRC(p.Message.CRC)
	}
	if p.SetWrong >= 0 {
		out.remarks = append(out.remarks, "one K-code of the ordered set is wrong; three of four make it "+p.Set.String())
	}
	if len(p.Bad) > 0 {
		out.remarks = append(out.remarks, "some symbols carry no data; their digits are 0 in the words")
	}
	out.extent = whole
	r.add(out.found("4b5b symbols"))
}

// frameErrors are the parts of an error of package frame.
func frameErrors(err error) []*frame.Error {
	var out []*frame.Error
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range many.Unwrap() {
			out = append(out, frameErrors(e)...)
		}
		return out
	}
	var fe *frame.Error
	if errors.As(err, &fe) {
		out = append(out, fe)
	}
	return out
}
