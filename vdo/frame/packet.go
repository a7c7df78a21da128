package frame

import (
	"errors"
	"fmt"
	"strings"
)

// Packet is a message with what the line puts around it.
type Packet struct {
	Set Set // the ordered set that opened it
	// SetWrong is the index of the one K-code of the ordered set that was wrong
	// and tolerated, else -1.
	SetWrong int
	Bytes    []byte  // between ordered set and EOP, CRC included
	Message  Message // what Bytes decode to
	EOP      bool    // whether the end of the packet came
	// Bad are the indexes of symbols between ordered set and EOP that carry no
	// data. Their nibbles are 0 in Bytes.
	Bad []int
}

// ReadPacket reads the packet that the symbols begin with, and says how many it
// took: through EOP, or four for a reset. Up to EOP a message ends with its CRC.
// To read several, call it again with the rest. It takes at least one symbol, if
// there is one.
//
// Each thing wrong is an *Error, several are joined: ErrSet, ErrSymbol, ErrEOP,
// and those of Decode. A CRC is not reported as wrong where a bad symbol
// already says why. Without an ordered set nothing is decoded.
func ReadPacket(s []Symbol) (p Packet, taken int, err error) {
	p.SetWrong = -1
	if len(s) < SetSymbols {
		return p, len(s), &Error{Unit: InSymbols, At: len(s), Wrong: "the symbols end",
			Want: "an ordered set has " + itoa(SetSymbols) + " K-codes", Err: ErrTruncated}
	}
	p.Set, p.SetWrong = MatchSet([SetSymbols]Symbol(s))
	if p.Set == SetUnknown {
		return p, unopened(s), &Error{Unit: InSymbols, Token: list(s[:SetSymbols]),
			Wrong: "no ordered set has these K-codes", Want: "SOP′ is Sync-1 Sync-1 Sync-3 Sync-3", Err: ErrSet}
	}
	taken = SetSymbols
	if p.Set.Reset() {
		return p, taken, nil
	}

	var nibbles []byte
	for ; taken < len(s) && !p.EOP; taken++ {
		if s[taken] == EOP {
			p.EOP = true
			continue
		}
		n, ok := s[taken].Nibble()
		if !ok {
			p.Bad = append(p.Bad, taken)
		}
		nibbles = append(nibbles, n)
	}
	for i := 0; i+1 < len(nibbles); i += 2 {
		p.Bytes = append(p.Bytes, nibbles[i]|nibbles[i+1]<<4)
	}

	var errs []error
	if len(p.Bad) > 0 {
		errs = append(errs, badSymbols(s, p.Bad))
	}
	if !p.EOP {
		errs = append(errs, &Error{Unit: InSymbols, At: taken, Wrong: "the symbols end", Want: "a packet ends with EOP", Err: ErrEOP})
	}
	if len(nibbles)%2 != 0 {
		errs = append(errs, &Error{Unit: InSymbols, At: SetSymbols + len(nibbles), Wrong: "the last byte has one nibble",
			Want: "it has two", Err: ErrTruncated})
	}
	read := DecodeWire
	if !p.EOP { // cut off, so that the last bytes may be no CRC
		read = Decode
	}
	m, err := read(p.Bytes)
	p.Message = m
	for _, e := range split(err) {
		if len(p.Bad) == 0 || !errors.Is(e, ErrCRC) {
			errs = append(errs, e)
		}
	}
	return p, taken, join(errs)
}

// unopened counts the symbols before the next place where a packet may begin:
// after an EOP, or at an ordered set.
func unopened(s []Symbol) int {
	for i := 1; i < len(s); i++ {
		if s[i-1] == EOP {
			return i
		}
		if len(s)-i >= SetSymbols {
			if set, wrong := MatchSet([SetSymbols]Symbol(s[i:])); set != SetUnknown && wrong < 0 {
				return i
			}
		}
	}
	return len(s)
}

func badSymbols(s []Symbol, bad []int) *Error {
	e := &Error{Unit: InSymbols, At: bad[0], Token: s[bad[0]].String(),
		Wrong: "carries no data", Want: "between ordered set and EOP every symbol carries a hex digit", Err: ErrSymbol}
	if n := len(bad) - 1; n > 0 {
		do := "do"
		if n == 1 {
			do = "does"
		}
		e.Wrong += fmt.Sprintf(" (nor %s %d more)", do, n)
	}
	return e
}

func list(s []Symbol) string {
	names := make([]string, len(s))
	for i := range s {
		names[i] = s[i].String()
	}
	return strings.Join(names, " ")
}

// split undoes join.
func split(err error) []error {
	if err == nil {
		return nil
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		return many.Unwrap()
	}
	return []error{err}
}

// AppendPacket adds the symbols of a packet: the ordered set, the bytes with the
// low nibble of each first, EOP. The bytes should end with the CRC. An unknown
// set adds nothing; a reset adds its K-codes alone.
func AppendPacket(s []Symbol, set Set, b []byte) []Symbol {
	k, ok := set.Symbols()
	if !ok {
		return s
	}
	s = append(s, k[:]...)
	if set.Reset() {
		return s
	}
	for _, v := range b {
		s = append(s, DataSymbol(v), DataSymbol(v>>4))
	}
	return append(s, EOP)
}
