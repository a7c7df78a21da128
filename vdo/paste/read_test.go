package paste

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
)

// TestErrors holds what is not understood: cause, place, token, and what was read
// all the same.
func TestErrors(t *testing.T) {
	type wrong struct {
		Line, Column int
		Token        string
		Err          error
	}
	tests := map[string]struct {
		text  string
		words int // in all messages
		want  []wrong
	}{
		"nothing":          {"", 0, []wrong{{1, 1, "", ErrEmpty}}},
		"blanks":           {" \t\r\n\uFEFF", 0, []wrong{{1, 1, "", ErrEmpty}}},
		"no hex digit":     {"FF00A041\n  18602FGA", 1, []wrong{{2, 9, "18602FGA", ErrDigit}}},
		"seven digits":     {"FF00A041 18602FA", 1, []wrong{{1, 10, "18602FA", ErrWidth}}},
		"nine digits":      {"0xFF00A041 0x018602FA1", 1, []wrong{{1, 12, "0x018602FA1", ErrWidth}}},
		"two bad, one bom": {"\uFEFFFF00A041 1860\u00a02FA1 zero", 1, []wrong{{1, 11, "1860", ErrWidth}, {1, 16, "2FA1", ErrWidth}, {1, 21, "zero", ErrDigit}}},
		"odd run":          {"FF00A04118602FA10000000001020100000A26430", 5, []wrong{{1, 41, "FF00A04118602FA10000000001020100000A26430", ErrHalf}}},
		"half a word":      {"FF00A04118602FA10000000001020100000A264312", 5, []wrong{{1, 41, "", ErrHalf}}},
		"half a word, wire": {"8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01 02 01 43 26 0a 00 81", 5,
			[]wrong{{1, 67, "", ErrHalf}}},
		"trailing bytes": {"8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01 02 01 43 26 0a 00\n37 91 5e 2d\nff ff ff ff ff", 5,
			[]wrong{{3, 1, "", ErrTrailing}}},
		"cut off":           {"518F FF00A041 18602FA1", 2, []wrong{{1, 1, "", ErrTruncated}}},
		"bytes of no form":  {"01 02 03 04 05 06 07", 0, []wrong{{1, 1, "", ErrStructure}}},
		"half an escape":    {`"\x41\xa0\x00\xff\xa` + `"`, 1, []wrong{{1, 18, `\xa`, ErrHalf}}},
		"bad escape":        {`"\x41\xa0\x00\xff\q"`, 1, []wrong{{1, 18, `\q`, ErrDigit}}},
		"JSON too large":    {"[4278231105, 4294967296, 0, 0, 0]", 4, []wrong{{1, 14, "4294967296", ErrWidth}}},
		"JSON too negative": {"[-16736191, -2147483649]", 1, []wrong{{1, 13, "-2147483649", ErrWidth}}},
		"JSON fraction":     {"[4278231105, 408956833, 0.5]", 2, []wrong{{1, 25, "0.5", ErrWidth}}},
		"JSON too deep":     {`{"vdo":` + strings.Repeat("[", maxDepth+1) + "4278231105", 0, []wrong{{1, 71, "", ErrSyntax}}},
		"JSON cut off":      {`{"vdo":[4278231105,408956833]}` + "\n" + `{"vdo":[42782`, 2, []wrong{{2, 13, "", ErrSyntax}}},
		"row too short":     {"sop;vdo1;vdo2\nSOP';FF00A041;18602FA1\nSOP';FF00A081\n", 3, []wrong{{3, 1, "SOP';FF00A081", ErrSyntax}}},
		"cell":              {"t;word\n1;FF00A041\n2;1860ZFA1\n", 1, []wrong{{3, 7, "1860ZFA1", ErrDigit}}},
		"attribute":         {"identity/id_header:0x18602fa1\nidentity/cert_stat:none\nidentity/product:0x01020100", 1, []wrong{{1, 20, "", ErrTruncated}, {2, 20, "none", ErrDigit}}},
		"symbol":            {"Sync-1 Sync-1 Sync-3 Sync-3 1 8 0 0 5 F B B 1 4 3 6 EOP x", 0, []wrong{{1, 57, "x", ErrSyntax}}},
		"symbols without end": {"Sync-1 Sync-1 Sync-3 Sync-3 1 8 0 0 5 F B B 1 4 3 6", 0,
			[]wrong{{1, 51, "", ErrTruncated}}},
		"register": {"0x30: 0x07\n0x31: 0x01\n0x32: 0x118F\n0x34: 0xFF00A08G\n", 0,
			[]wrong{{3, 7, "", ErrTruncated}, {4, 16, "0xFF00A08G", ErrDigit}}},
		"array":           {"uint32_t v[] = { 0xFF00A041, 0x18602FA1, oops };", 2, []wrong{{1, 42, "oops", ErrDigit}}},
		"array not ended": {"v = [0xFF00A041, 0x18602FA1", 2, []wrong{{1, 5, "[", ErrTruncated}}},
		"dump line":       {"0000: 41 a0 00 ff\nsee below\n0004: a1 2f 60 18", 2, []wrong{{2, 1, "see below", ErrSyntax}}},
		"label":           {"VDO0: FF00A041\nVDO1: 18602FA11\n", 1, []wrong{{2, 7, "18602FA11", ErrWidth}}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			res, err := Read(tt.text)
			n := 0
			for _, m := range res.Messages {
				n += len(m.Words)
			}
			var got []wrong
			var errs Errors
			if errors.As(err, &errs) {
				for _, e := range errs {
					got = append(got, wrong{e.At.Line, e.At.Column, e.Token, e.Err})
					if e.Wrong == "" || e.Want == "" {
						t.Errorf("%v says not what is wrong and what would be right", e)
					}
					if !errors.Is(err, e.Err) {
						t.Errorf("%v does not unwrap", e)
					}
				}
			}
			if diff := cmp.Diff(tt.want, got, cmp.Comparer(func(a, b error) bool { return a == b })); diff != "" {
				t.Errorf("-want +got:\n%s\n%v", diff, err)
			}
			if n != tt.words {
				t.Errorf("%d words were read, want %d", n, tt.words)
			}
		})
	}
}

// TestAside holds what is understood but no answer of a cable.
func TestAside(t *testing.T) {
	tests := map[string]struct {
		text     string
		messages int
		why      []string
	}{
		"request":                    {"FF00A001", 0, []string{"a request: Discover Identity"}},
		"request and answer":         {"FF008001 FF008041 18002FA1 00000000 01020100 00084051", 1, []string{"a request: Discover Identity"}},
		"request of modes":           {"80878003", 0, []string{"a request: Discover Modes of SVID 0x8087"}},
		"GoodCRC, CRC right":         {"81 01 63 8b 46 14", 0, []string{"GoodCRC"}}, // vector of facts §10.6
		"partner by ordered set":     {"SOP: FF00A041 52A02FA1 00000000 01020100", 0, []string{"the port partner's, not the cable's: Discover Identity ACK (SOP)"}},
		"partner without VDM header": {"SOP: 18602FA1 00000000 01020100 000A2643", 0, []string{"the port partner's, not the cable's: identity (SOP)"}},
		// Bit 8 of the message header is 0: a sink sent it, no plug (facts §10.1).
		"partner by power role": {"428F FF00A041 52A02FA1 00000000 01020100", 0, []string{"from a port, not from a cable plug, by its message header: Discover Identity ACK"}},
		// Bit 5 is 1: a port with the data role DFP; reserved 0 on SOP′.
		"partner by data role": {"43AF FF00A041 52A02FA1 00000000 01020100", 0, []string{"from a port, by the data role in its message header: Discover Identity ACK"}},
		"source capabilities":  {"SOP 1 message 11A1 2601912C", 0, []string{"Source_Capabilities, SOP"}},
		"modes of the partner": {"SOP FF018043 00000405", 0, []string{"the port partner's, not the cable's: Discover Modes of SVID 0xFF01 ACK (SOP)"}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			res, err := Read(tt.text)
			if err != nil {
				t.Error(err)
			}
			var why []string
			for _, s := range res.Skipped {
				why = append(why, s.Why)
			}
			if diff := cmp.Diff(tt.why, why); diff != "" || len(res.Messages) != tt.messages {
				t.Errorf("%d messages, want %d; aside (-want +got):\n%s", len(res.Messages), tt.messages, diff)
			}
		})
	}
}

// TestVectors reads the wire bytes of facts §10.6, whose CRCs were computed
// there.
func TestVectors(t *testing.T) {
	for name, tt := range map[string]struct {
		text  string
		words []uint32
	}{
		"passive": {"8f 51 41 a0 00 ff ff ff 60 18 00 00 00 00 00 01 00 00 43 26 0a 12 82 42 8a 86",
			[]uint32{0xFF00A041, 0x1860FFFF, 0, 0x00000100, 0x120A2643}},
		"active": {"8f 61 41 a0 00 ff ff ff 60 24 00 00 00 00 00 01 00 00 5b 3e 6a 00 09 32 50 46 b8 f0 36 02",
			[]uint32{0xFF00A041, 0x2460FFFF, 0, 0x00000100, 0x006A3E5B, 0x46503209}},
		"PD 2.0": {"4f 51 41 80 00 ff ff ff 00 18 00 00 00 00 00 01 00 00 51 40 08 00 fb e2 b5 de",
			[]uint32{0xFF008041, 0x1800FFFF, 0, 0x00000100, 0x00084051}},
	} {
		t.Run(name, func(t *testing.T) {
			res, err := Read(tt.text)
			if err != nil || len(res.Messages) != 1 {
				t.Fatalf("%d messages, %v", len(res.Messages), err)
			}
			m := res.Messages[0]
			if diff := cmp.Diff(tt.words, m.Words); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
			if !strings.HasSuffix(m.ReadAs, "CRC right") {
				t.Errorf("read as %s", m.ReadAs)
			}
		})
	}
}

// TestWrongCRC holds that a wrong CRC is said and costs nothing.
func TestWrongCRC(t *testing.T) {
	res, err := Read("8f 51 41 a0 00 ff ff ff 60 18 00 00 00 00 00 01 00 00 43 26 0a 12 82 42 8a 87")
	if err != nil || len(res.Messages) != 1 {
		t.Fatalf("%d messages, %v", len(res.Messages), err)
	}
	m := res.Messages[0]
	if m.Revision != vdo.Revision3 || !strings.HasSuffix(m.ReadAs, "CRC wrong") || len(m.Remarks) != 1 || !strings.Contains(m.Remarks[0], "878A4282") {
		t.Errorf("%+v", m)
	}
}

// TestOthers holds that two readings that fit equally well are both given, and
// that one that fits better stands alone.
func TestOthers(t *testing.T) {
	// ID header 18602018 read from the other end is 18206018: both a passive cable.
	res, err := Read("18602018 00000000 01020100 000A2643")
	if err != nil || len(res.Messages) != 1 || len(res.Messages[0].Others) != 0 {
		t.Errorf("words apart are words: %+v, %v", res, err)
	}
	res, err = Read("1860201800000000 01020100000A2643")
	if err == nil {
		t.Errorf("halves of a message on their own: %+v", res)
	}
	res, err = Read("1860201800000000" + "01020100000A2643")
	if err != nil || len(res.Messages) != 1 || len(res.Messages[0].Others) != 1 {
		t.Fatalf("%+v, %v", res, err)
	}
	m := res.Messages[0]
	if diff := cmp.Diff([][]uint32{{0x18206018, 0, 0x00010201, 0x43260A00}, {0x18602018, 0, 0x01020100, 0x000A2643}},
		[][]uint32{m.Words, m.Others[0].Words}); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	res, err = Read("18602FA100000000" + "01020100000A2643")
	if err != nil || len(res.Messages) != 1 || len(res.Messages[0].Others) != 0 {
		t.Errorf("an ID header with reserved bits fits worse: %+v, %v", res, err)
	}
}

// TestPlugNames holds the spellings of the ordered sets.
func TestPlugNames(t *testing.T) {
	for name, want := range map[string]vdo.Plug{
		"SOP": vdo.PlugPartner, "sop:": vdo.PlugPartner,
		"SOP'": vdo.PlugNear, "SOP’": vdo.PlugNear, "SOP′": vdo.PlugNear, "SOP_PRIME": vdo.PlugNear, "SOP1": vdo.PlugNear, "SOP2": vdo.PlugFar, "SOPp": vdo.PlugNear,
		"SOP''": vdo.PlugFar, `SOP"`: vdo.PlugFar, "SOP″": vdo.PlugFar, "SOP_DOUBLE_PRIME": vdo.PlugFar, "SOP_PRIME_PRIME:": vdo.PlugFar,
		"SOP'_DEBUG": vdo.PlugUnknown,
	} {
		if got, ok := plugName(name); !ok || got != want {
			t.Errorf("%s is %v, %v", name, got, ok)
		}
	}
	for _, name := range []string{"", "SOPHIE", "SO", "SOP3", "ASOP"} {
		if got, ok := plugName(name); ok {
			t.Errorf("%q is %v", name, got)
		}
	}
}

// TestReadAs holds that a reader can be forced, and says no where it must.
func TestReadAs(t *testing.T) {
	if _, err := ReadAs("FF00A041", "no-such"); !errors.Is(err, ErrReader) {
		t.Errorf("no such reader: %v", err)
	}
	if _, err := ReadAs("FF00A041", "json"); !errors.Is(err, ErrSyntax) {
		t.Errorf("no JSON: %v", err)
	}
	res, err := ReadAs("SOP' FF00A081", "log")
	if err != nil || len(res.Messages) != 1 || res.Messages[0].Plug != vdo.PlugNear {
		t.Errorf("%+v, %v", res, err)
	}
}

// TestManyErrors holds that errors are counted, not hoarded.
func TestManyErrors(t *testing.T) {
	_, err := Read(strings.Repeat("nonsense ", 3*MaxErrors))
	var errs Errors
	if !errors.As(err, &errs) || len(errs) != MaxErrors+1 {
		t.Fatalf("%d errors", len(errs))
	}
	if last := errs[MaxErrors]; last.Err != ErrMore || !strings.HasPrefix(last.Wrong, "200 more") {
		t.Errorf("%v", last)
	}
}

// TestMaxText holds the limit of a text.
func TestMaxText(t *testing.T) {
	text := strings.Repeat(" ", MaxText-8) + "FF00A081 "
	res, err := ReadAs(text[:MaxText], "words")
	if err != nil || len(res.Messages) != 1 {
		t.Errorf("at the limit: %d messages, %v", len(res.Messages), err)
	}
	if _, err := ReadAs(text, "words"); !errors.Is(err, ErrLong) {
		t.Errorf("over the limit: %v", err)
	}
	if _, err := Read(text); !errors.Is(err, ErrLong) || !strings.Contains(err.Error(), "64 MiB") {
		t.Errorf("over the limit: %v", err)
	}
}
