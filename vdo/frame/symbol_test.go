package frame_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
	. "example.com/gainsay/vdo/frame"
)

// The whole code, by the rules it was designed under rather than by its table:
// 16 data symbols, 6 K-codes, 10 unused; the unused are those of fact sheet §10.3.
func TestSymbols(t *testing.T) {
	unused := map[Symbol]bool{0: true, 1: true, 2: true, 3: true, 4: true, 5: true, 8: true, 12: true, 16: true, 31: true}
	seen := map[byte]Symbol{}
	kcodes := 0
	for s := range Symbol(32) {
		n, data := s.Nibble()
		if data {
			if was, twice := seen[n]; twice {
				t.Errorf("%X is both %v and %v", n, was, s)
			}
			seen[n] = s
			if DataSymbol(n) != s {
				t.Errorf("%X is sent as %05b and read from %05b", n, DataSymbol(n), s)
			}
		}
		if s.KCode() {
			kcodes++
		}
		if unused[s] != (!data && !s.KCode()) {
			t.Errorf("%05b: data %v, K-code %v", s, data, s.KCode())
		}
		if back, err := ParseSymbol(s.String()); err != nil || back != s {
			t.Errorf("%v is read back as %v, %v", s, back, err)
		}
	}
	if len(seen) != 16 || kcodes != 6 {
		t.Errorf("%d data symbols, %d K-codes", len(seen), kcodes)
	}
	if s := Symbol(32); s.KCode() || s.String() != "symbol 32" {
		t.Errorf("32 is %v", s)
	}
}

// Rows of fact sheet §10.3 (two relays of the PD physical layer chapter agree).
func TestSymbolTable(t *testing.T) {
	for name, want := range map[string]Symbol{
		"0": 0b11110, "7": 0b01111, "8": 0b10010, "f": 0b11101, "sync-1": 0x18, "SYNC_2": 0x11,
		"Sync3": 0x06, "RST-1": 0x07, "rst2": 0x19, "EOP": 0x0D, "11000": 0x18, "00000": 0,
	} {
		if got, err := ParseSymbol(name); err != nil || got != want {
			t.Errorf("%s is %v, %v, want %v", name, got, err, want)
		}
	}
	for _, name := range []string{"", "Sync-4", "G", "1100", "110000", "0x18", "Sync 1"} {
		_, err := ParseSymbol(name)
		var e *Error
		if !errors.As(err, &e) || e.Err != ErrName {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// The 4b5b code whole, fact sheet §10.3, in the order of the nibbles.
func TestFourToFive(t *testing.T) {
	const table = "11110 01001 10100 10101 01010 01011 01110 01111 10010 10011 10110 10111 11010 11011 11100 11101"
	for n, bits := range strings.Fields(table) {
		if got := fmt.Sprintf("%05b", DataSymbol(byte(n))); got != bits {
			t.Errorf("%X is %s, want %s", n, got, bits)
		}
	}
}

// A packet goes out low nibble first, and comes back.
func TestAppendPacket(t *testing.T) {
	got := AppendPacket(nil, SOPPrime, unhex(t, "8101638b4614"))
	if d := cmp.Diff(parse(t, goodCRC), got); d != "" {
		t.Error(d)
	}
	if got := AppendPacket(nil, HardReset, []byte{1}); len(got) != SetSymbols {
		t.Errorf("hard reset: %v", got)
	}
	if got := AppendPacket(nil, SetUnknown, []byte{1}); got != nil {
		t.Errorf("unknown set: %v", got)
	}
	if got := Set(8).String(); got != "unknown ordered set" {
		t.Error(got)
	}
}

// What errors say of their place, and how far a reader goes on.
func TestPacketErrors(t *testing.T) {
	for _, c := range []struct {
		symbols string
		taken   int
		text    string // "": no error
	}{
		{"RST-1 RST-1 RST-1 RST-2", 4, ""},
		{strings.Replace(goodCRC, "4 1 EOP", "4 Sync-1 EOP", 1), 17,
			"symbol 15: Sync-1: carries no data; between ordered set and EOP every symbol carries a hex digit"},
		{strings.Replace(goodCRC, "4 4 1 EOP", "4 Sync-1 Sync-1 EOP", 1), 17,
			"symbol 14: Sync-1: carries no data (nor does 1 more); between ordered set and EOP every symbol carries a hex digit"},
		{strings.Replace(goodCRC, " 4 1 EOP", " 4 EOP", 1), 16,
			"symbol 15: the last byte has one nibble; it has two\nbyte 5: the message is 5 bytes long"},
		{strings.TrimSuffix(goodCRC, " EOP"), 16, "symbol 16: the symbols end; a packet ends with EOP"},
		// Without an ordered set: up to the next, or behind an EOP.
		{"0 " + goodCRC, 1, "symbol 0: 0 Sync-1 Sync-1 Sync-3: no ordered set has these K-codes; SOP′ is Sync-1 Sync-1 Sync-3 Sync-3"},
		{"EOP 0 0 0 0", 1, "symbol 0: EOP 0 0 0: no ordered set"},
		{"0 0 0 0 RST-1 RST-1 RST-1 RST-2", 4, "symbol 0: 0 0 0 0: no ordered set"},
		{"0 0 0 0 0 RST-1 RST-1 0 RST-2", 9, "symbol 0: 0 0 0 0: no ordered set"},
		{"0 0 0 0 0 0 RST-1 RST-1 RST-2", 9, "symbol 0: 0 0 0 0: no ordered set"},
		{"0 0 0 0", 4, "symbol 0: 0 0 0 0: no ordered set"},
	} {
		_, taken, err := ReadPacket(parse(t, c.symbols))
		text := ""
		if err != nil {
			text = err.Error()
		}
		if taken != c.taken || !strings.HasPrefix(text, c.text) || c.text == "" && text != "" {
			t.Errorf("%s: took %d, %q, want %d, %q", c.symbols, taken, text, c.taken, c.text)
		}
	}
}

func TestMatchSet(t *testing.T) {
	for _, c := range []struct {
		names string
		want  Set
		wrong int
	}{
		{"Sync-1 Sync-1 Sync-1 Sync-2", SOP, -1},
		{"Sync-1 Sync-1 Sync-3 Sync-3", SOPPrime, -1},
		{"Sync-1 Sync-3 Sync-1 Sync-3", SOPDoublePrime, -1},
		{"Sync-1 RST-2 RST-2 Sync-3", SOPPrimeDebug, -1},
		{"Sync-1 RST-2 Sync-3 Sync-2", SOPDoublePrimeDebug, -1},
		{"RST-1 RST-1 RST-1 RST-2", HardReset, -1},
		{"RST-1 Sync-1 RST-1 Sync-3", CableReset, -1},
		{"00000 Sync-1 Sync-3 Sync-3", SOPPrime, 0},
		{"Sync-1 Sync-1 Sync-3 7", SOPPrime, 3},
		{"Sync-1 EOP Sync-1 Sync-3", SOPDoublePrime, 1},
		{"Sync-1 Sync-1 Sync-3 Sync-2", SetUnknown, -1}, // as near to SOP as to SOP′
		{"Sync-1 Sync-1 Sync-1 Sync-3", SetUnknown, -1}, // and to SOP″
		{"RST-1 Sync-1 Sync-3 Sync-3", SetUnknown, -1},  // as near to SOP′ as to Cable Reset
		{"Sync-1 Sync-1 0 1", SetUnknown, -1},
	} {
		got, wrong := MatchSet([4]Symbol(parse(t, c.names)))
		if got != c.want || wrong != c.wrong {
			t.Errorf("%s is %v, %d; want %v, %d", c.names, got, wrong, c.want, c.wrong)
		}
	}
	plugs := map[Set]vdo.Plug{SOP: vdo.PlugPartner, SOPPrime: vdo.PlugNear, SOPDoublePrime: vdo.PlugFar}
	for s := range Set(12) {
		if s.Plug() != plugs[s] {
			t.Errorf("%v is for %v", s, s.Plug())
		}
		k, ok := s.Symbols()
		if back, _ := MatchSet(k); ok && back != s || ok == (s == SetUnknown || s > CableReset) {
			t.Errorf("%v is read back as %v", s, back)
		}
	}
}

func parse(t testing.TB, names string) []Symbol {
	t.Helper()
	var out []Symbol
	for _, n := range strings.Fields(names) {
		s, err := ParseSymbol(n)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

// A GoodCRC from a plug, written out by hand: bytes 81 01 63 8b 46 14, low nibble
// first (fact sheet §10.4 and §10.6).
const goodCRC = "Sync-1 Sync-1 Sync-3 Sync-3 1 8 1 0 3 6 B 8 6 4 4 1 EOP"

func TestReadPacket(t *testing.T) {
	want := vectors[1].want
	for _, c := range []struct {
		name, symbols string
		want          Packet
		taken         int
		errs          []error
	}{
		{"good", goodCRC, Packet{Set: SOPPrime, SetWrong: -1, Bytes: unhex(t, "8101638b4614"), Message: want, EOP: true}, 17, nil},
		{"K-code tolerated", strings.Replace(goodCRC, "Sync-1", "00000", 1),
			Packet{Set: SOPPrime, SetWrong: 0, Bytes: unhex(t, "8101638b4614"), Message: want, EOP: true}, 17, nil},
		{"more behind", goodCRC + " 0 1 2", Packet{Set: SOPPrime, SetWrong: -1, Bytes: unhex(t, "8101638b4614"), Message: want, EOP: true}, 17, nil},
		{"reset", "RST-1 RST-1 RST-1 RST-2 0", Packet{Set: HardReset, SetWrong: -1}, 4, nil},
		{"symbol bad", "Sync-1 Sync-1 Sync-3 Sync-3 1 8 1 0 3 6 B 8 6 4 Sync-1 00000 EOP",
			Packet{Set: SOPPrime, SetWrong: -1, Bytes: unhex(t, "8101638b4600"), EOP: true, Bad: []int{14, 15},
				Message: Message{Header: 0x0181, CRC: 0x00468B63, HasCRC: true}}, 17, []error{ErrSymbol}},
		{"no EOP", strings.TrimSuffix(goodCRC, " EOP"),
			Packet{Set: SOPPrime, SetWrong: -1, Bytes: unhex(t, "8101638b4614"), Message: want}, 16, []error{ErrEOP}},
		{"no EOP, cut in the objects", "Sync-1 Sync-1 Sync-3 Sync-3 F 8 1 5 1 4 0 A 0 0 F F",
			Packet{Set: SOPPrime, SetWrong: -1, Bytes: unhex(t, "8f5141a000ff"),
				Message: Message{Header: 0x518F, Objects: []uint32{0xFF00A041}}}, 16, []error{ErrEOP, ErrTruncated}},
		{"nibble missing", strings.Replace(goodCRC, "4 1 EOP", "4 EOP", 1),
			Packet{Set: SOPPrime, SetWrong: -1, Bytes: unhex(t, "8101638b46"), Message: Message{Header: 0x0181}, EOP: true}, 16, []error{ErrTruncated}},
		{"no set", "Sync-1 Sync-1 0 1 EOP " + goodCRC, Packet{SetWrong: -1}, 5, []error{ErrSet}},
		{"no set, no EOP", "0 1 2 " + goodCRC, Packet{SetWrong: -1}, 3, []error{ErrSet}},
		{"too short", "Sync-1 Sync-1", Packet{SetWrong: -1}, 2, []error{ErrTruncated}},
		{"nothing", "", Packet{SetWrong: -1}, 0, []error{ErrTruncated}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, taken, err := ReadPacket(parse(t, c.symbols))
			if d := cmp.Diff(c.want, got); d != "" {
				t.Error(d)
			}
			if taken != c.taken {
				t.Errorf("took %d symbols, want %d", taken, c.taken)
			}
			if (err == nil) != (len(c.errs) == 0) || errors.Is(err, ErrCRC) {
				t.Errorf("error %v", err)
			}
			for _, want := range c.errs {
				if !errors.Is(err, want) {
					t.Errorf("error %v, want %v", err, want)
				}
			}
		})
	}
	_, _, err := ReadPacket(parse(t, strings.Replace(goodCRC, "1 8", "2 8", 1)))
	if !errors.Is(err, ErrCRC) {
		t.Errorf("a wrong nibble: %v", err)
	}
}

// TestPacketOfVectors: a packet of any length comes back whole.
func TestPacketOfVectors(t *testing.T) {
	for _, v := range vectors {
		bytes := unhex(t, v.bytes+v.crc)
		symbols := AppendPacket(nil, SOPPrime, bytes)
		got, taken, err := ReadPacket(symbols)
		if err != nil || taken != len(symbols) {
			t.Errorf("%s: took %d of %d symbols, %v", v.bytes, taken, len(symbols), err)
		}
		if d := cmp.Diff(bytes, got.Bytes); d != "" {
			t.Error(d)
		}
	}
}

func TestSymbolNamesInAnyCase(t *testing.T) {
	for name, want := range map[string]Symbol{"a": DataSymbol(10), "A": DataSymbol(10), "f": DataSymbol(15), "sync-1": Sync1, "SYNC1": Sync1,
		"rst_2": Rst2, "Rst-2": Rst2, "eop": EOP} {
		if got, err := ParseSymbol(name); err != nil || got != want {
			t.Errorf("%s: %v, %v, want %v", name, got, err, want)
		}
	}
}

func FuzzReadPacket(f *testing.F) {
	for _, v := range vectors {
		var b []byte
		for _, s := range AppendPacket(nil, SOPPrime, unhex(f, v.bytes+v.crc)) {
			b = append(b, byte(s))
		}
		f.Add(b)
	}
	f.Add([]byte{byte(Rst1), byte(Rst1), byte(Rst1), byte(Rst2), 0})
	f.Fuzz(func(t *testing.T, b []byte) {
		symbols := make([]Symbol, len(b))
		for i, v := range b {
			symbols[i] = Symbol(v)
		}
		for rest := symbols; len(rest) > 0; {
			p, taken, err := ReadPacket(rest)
			if taken < 1 || taken > len(rest) {
				t.Fatalf("took %d of %d", taken, len(rest))
			}
			if err == nil && p.SetWrong < 0 {
				if d := cmp.Diff(rest[:taken], AppendPacket(nil, p.Set, p.Bytes)); d != "" {
					t.Fatal(d)
				}
			}
			rest = rest[taken:]
		}
	})
}
