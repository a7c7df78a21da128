package frame

import (
	"strconv"
	"strings"
	"sync"
)

// Symbol is one 5-bit code of the line, written as in the specification's table.
// Its least significant bit goes out first.
type Symbol uint8

const (
	// SymbolBits is the width of a 4b5b symbol.
	SymbolBits = 5
	symbols    = 1 << SymbolBits
)

// K-codes: the symbols that carry no data.
const (
	Sync1 Symbol = 0b11000 // in every set but Hard Reset
	Sync2 Symbol = 0b10001 // in SOP and SOP″_Debug
	Sync3 Symbol = 0b00110 // in SOP′ and SOP″, their debug sets and Cable Reset
	Rst1  Symbol = 0b00111 // in Hard Reset and Cable Reset
	Rst2  Symbol = 0b11001 // in Hard Reset and the debug sets
	EOP   Symbol = 0b01101 // end of packet
)

// fourToFive is the code of each nibble.
var fourToFive = [16]Symbol{
	0b11110, 0b01001, 0b10100, 0b10101, 0b01010, 0b01011, 0b01110, 0b01111,
	0b10010, 0b10011, 0b10110, 0b10111, 0b11010, 0b11011, 0b11100, 0b11101,
}

var symbolNames, fiveToFour = func() (names [symbols]string, nibbles [symbols]int8) {
	for s := range nibbles {
		nibbles[s] = -1
	}
	for n, s := range fourToFive {
		names[s] = strings.ToUpper(strconv.FormatInt(int64(n), 16))
		nibbles[s] = int8(n)
	}
	names[Sync1], names[Sync2], names[Sync3] = "Sync-1", "Sync-2", "Sync-3"
	names[Rst1], names[Rst2], names[EOP] = "RST-1", "RST-2", "EOP"
	return names, nibbles
}()

// DataSymbol is the code of a nibble; of a larger number the low four bits count.
func DataSymbol(nibble byte) Symbol { return fourToFive[nibble&0xf] }

// Nibble is the data the symbol carries; false for K-codes and unused codes.
func (s Symbol) Nibble() (byte, bool) {
	if s >= symbols || fiveToFour[s] < 0 {
		return 0, false
	}
	return byte(fiveToFour[s]), true
}

// KCode tells the six symbols of ordered sets and EOP.
func (s Symbol) KCode() bool {
	_, data := s.Nibble()
	return s < symbols && !data && symbolNames[s] != ""
}

// String is the K-code's name, the hex digit a data symbol carries, or for an
// unused code its five bits.
func (s Symbol) String() string {
	if s >= symbols {
		return "symbol " + itoa(int(s))
	}
	if n := symbolNames[s]; n != "" {
		return n
	}
	return bits(s)
}

func bits(s Symbol) string {
	b := strconv.FormatInt(int64(s), 2)
	return strings.Repeat("0", SymbolBits-len(b)) + b
}

// ParseSymbol reads a symbol's name: a K-code (case, hyphens and underscores do
// not matter), one hex digit for a data symbol, or five bits, most significant
// first. Anything else is an *Error with the cause ErrName.
func ParseSymbol(text string) (Symbol, error) {
	if s, ok := symbolsByName()[plainName(text)]; ok {
		return s, nil
	}
	return 0, &Error{Token: strconv.Quote(text), Wrong: "not the name of a 4b5b symbol",
		Want: "a symbol is Sync-1 to Sync-3, RST-1, RST-2, EOP, one hex digit, or five bits", Err: ErrName}
}

// symbolsByName finds a symbol by each of its plain names.
var symbolsByName = sync.OnceValue(func() map[string]Symbol {
	m := make(map[string]Symbol, 2*symbols)
	for s, name := range symbolNames {
		m[bits(Symbol(s))] = Symbol(s)
		if name != "" {
			m[plainName(name)] = Symbol(s)
		}
	}
	return m
})

// plainName takes a name without regard to case, hyphens and underscores.
func plainName(s string) string {
	return strings.ToUpper(strings.Map(func(c rune) rune {
		if c == '-' || c == '_' {
			return -1
		}
		return c
	}, s))
}
