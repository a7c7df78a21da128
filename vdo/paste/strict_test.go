package paste

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
)

// TestStrict holds texts of which a part is easily taken for something else, or
// lost: the words of each message, what the reading says (a part of its name or
// of a remark), what is set aside, and the causes of the errors.
func TestStrict(t *testing.T) {
	const (
		bare   = "FF00A041 18602FA1 00000000 01020100 000A2643"
		framed = "8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01 02 01 43 26 0a 00"
		sealed = framed + " 37 91 5e 2d" // CRC-32 by Python's zlib.crc32
	)
	one := [][]uint32{passiveWords}
	type outcome struct {
		Words [][]uint32
		Aside []string
		Wrong []error
	}
	tests := map[string]struct {
		text string
		says string
		want outcome
	}{
		"four zeros":         {"0000", "", outcome{nil, nil, []error{ErrWidth}}},
		"four bytes behind":  {framed + " 01 02 03 04", "CRC wrong", outcome{one, nil, nil}},
		"nine bytes behind":  {framed + " de ad be ef 01 02 03 04 05", "", outcome{one, nil, []error{ErrTrailing}}},
		"acknowledged":       {framed + " 81 01", "", outcome{one, []string{"GoodCRC"}, nil}},
		"another ID":         {framed + " 81 03", "", outcome{one, nil, []error{ErrHalf}}},
		"zeros behind a CRC": {sealed + strings.Repeat(" 00", 38), "38 bytes of zero", outcome{one, nil, nil}},
		"zeros behind":       {framed + strings.Repeat(" 00", 42), "42 bytes of zero", outcome{one, nil, nil}},
		"zeros behind words": {framed[6:] + strings.Repeat(" 00", 44), "44 bytes of zero", outcome{one, nil, nil}},
		"zeros behind, no VDM header": {framed[18:] + strings.Repeat(" 00", 16), "16 bytes of zero",
			outcome{[][]uint32{passiveWords[1:]}, nil, nil}},
		"dump of a buffer": {"0000000 518f a041 ff00 2fa1 1860 0000 0000 0100\n0000010 0102 2643 000a 9137 2d5e 0000 0000 0000\n0000020 0000 0000 0000 0000 0000 0000 0000 0000\n*\n0000060\n",
			"22 bytes of zero", outcome{one, []string{"lines like the one before, which the dump left out"}, nil}},
		"half a word":         {bare[:40], "", outcome{[][]uint32{passiveWords[:4]}, nil, []error{ErrWidth}}},
		"half a word, marked": {"SOP' " + bare[:40], "", outcome{[][]uint32{passiveWords[:4]}, nil, []error{ErrWidth}}},
		"control between":     {"518F " + bare + " 0081", "", outcome{one, []string{"GoodCRC"}, nil}},
		"0x all over":         {"0x518F 0xFF00A041 0x18602FA1 0x00000000 0x01020100 0x000A2643 0x2D5E9137", "CRC right", outcome{one, nil, nil}},
		"0x, short words":     {"0xFF00A041 0x18602FA1 0x0000 0x1020100 0xA2643", "zeros were put", outcome{one, nil, nil}},
		"0x, control":         {"0x518F 0xFF00A041 0x18602FA1 0x0 0x1020100 0xA2643\n0x0081", "header first", outcome{one, []string{"GoodCRC"}, nil}},
		"id is a word": {"hdr=0x518F vdm=0xFF00A041 id=0x18602FA1 cert=0x00000000 prod=0x01020100 cable=0x000A2643", "message header first",
			outcome{one, nil, nil}},
		"pid is a word":  {"vdm=0xFF00A041 id=0x18602FA1 xid=0x0 pid=0x1020100 cable=0xA2643", "header first", outcome{one, nil, nil}},
		"pid is no word": {"12 pid=0x0100 vdm=0xFF00A041 id=0x18602FA1 cert=0x0 prod=0x1020100 cable=0xA2643 pid=0x0100", "header first", outcome{one, nil, nil}},
		"words":          {bare, "header first", outcome{one, nil, nil}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			res, err := Read(tt.text)
			var got outcome
			says := ""
			for _, m := range res.Messages {
				got.Words = append(got.Words, m.Words)
				says += m.ReadAs + "\n" + strings.Join(m.Remarks, "\n")
			}
			for _, s := range res.Skipped {
				got.Aside = append(got.Aside, s.Why)
			}
			var errs Errors
			if errors.As(err, &errs) {
				for _, e := range errs {
					got.Wrong = append(got.Wrong, e.Err)
				}
			}
			if len(got.Wrong) > 0 && strings.Contains(says, allZero) {
				t.Error("words are missing, and all are said to be zero")
			}
			if diff := cmp.Diff(tt.want, got, cmp.Comparer(func(a, b error) bool { return a == b })); diff != "" || !strings.Contains(says, tt.says) {
				t.Errorf("-want +got:\n%s\n%s%v", diff, says, err)
			}
		})
	}
}

// TestNearFar holds that near and far name a plug in front of a line.
func TestNearFar(t *testing.T) {
	res, err := Read("near: FF00A081\nfar: FF00A081\n")
	if err != nil || len(res.Messages) != 2 || res.Messages[0].Plug != vdo.PlugNear || res.Messages[1].Plug != vdo.PlugFar {
		t.Errorf("%+v, %v", res, err)
	}
}
