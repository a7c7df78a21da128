package frame_test

import (
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash/crc32"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
	. "example.com/gainsay/vdo/frame"
)

// The synthetic vectors of the fact sheet on the marker, §10.6.
var vectors = []struct {
	name  string
	bytes string // header and objects
	crc   string // as on the wire
	want  Message
	typ   Type
	plug  bool // sent by the plug
	rev   vdo.Revision
	first vdo.VDMHeader
}{
	{"request", "8f10 01a000ff", "a4450272",
		Message{Header: 0x108F, Objects: []uint32{0xFF00A001}, CRC: 0x720245A4, HasCRC: true},
		VendorDefined, false, vdo.Revision3, 0xFF00A001},
	{"GoodCRC", "8101", "638b4614",
		Message{Header: 0x0181, CRC: 0x14468B63, HasCRC: true},
		GoodCRC, true, vdo.Revision3, 0},
	{"passive", "8f51 41a000ff ffff6018 00000000 00010000 43260a12", "82428a86",
		Message{Header: 0x518F, Objects: []uint32{0xFF00A041, 0x1860FFFF, 0, 0x00000100, 0x120A2643}, CRC: 0x868A4282, HasCRC: true},
		VendorDefined, true, vdo.Revision3, 0xFF00A041},
	{"active", "8f61 41a000ff ffff6024 00000000 00010000 5b3e6a00 09325046", "b8f03602",
		Message{Header: 0x618F, Objects: []uint32{0xFF00A041, 0x2460FFFF, 0, 0x00000100, 0x006A3E5B, 0x46503209}, CRC: 0x0236F0B8, HasCRC: true},
		VendorDefined, true, vdo.Revision3, 0xFF00A041},
	{"passive, PD 2.0", "4f51 418000ff ffff0018 00000000 00010000 51400800", "fbe2b5de",
		Message{Header: 0x514F, Objects: []uint32{0xFF008041, 0x1800FFFF, 0, 0x00000100, 0x00084051}, CRC: 0xDEB5E2FB, HasCRC: true},
		VendorDefined, true, vdo.Revision2, 0xFF008041},
}

func unhex(t testing.TB, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.ReplaceAll(s, " ", ""))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestVectors(t *testing.T) {
	for _, v := range vectors {
		t.Run(v.name, func(t *testing.T) {
			bare := unhex(t, v.bytes)
			wire := unhex(t, v.bytes+v.crc)

			got, err := Decode(wire)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(v.want, got); d != "" {
				t.Error(d)
			}
			if d := cmp.Diff(wire, got.Append(nil)); d != "" {
				t.Error(d)
			}
			h := got.Header
			if h.Type() != v.typ || h.CablePlug() != v.plug || h.Revision() != v.rev || h.ID() != 0 || h.ReservedBit() {
				t.Errorf("%v, from plug %v, %v, ID %d", h.Type(), h.CablePlug(), h.Revision(), h.ID())
			}

			without, err := Decode(bare)
			if err != nil {
				t.Fatal(err)
			}
			want := v.want
			want.CRC, want.HasCRC = 0, false
			if d := cmp.Diff(want, without); d != "" {
				t.Error(d)
			}
			if d := cmp.Diff(v.want, without.Sealed()); d != "" {
				t.Error(d)
			}

			reply := vdo.Decode(got.Objects, got.Context(vdo.PlugNear))
			if first, _ := reply.Header(); first != v.first {
				t.Errorf("VDM header %08X", first)
			}
		})
	}
}

// The register left over data and CRC together is the same for every message:
// fact sheet §10.5, 0x2144DF1C after the final complement.
func TestResidue(t *testing.T) {
	for _, v := range vectors {
		if got := Checksum(unhex(t, v.bytes+v.crc)); got != 0x2144DF1C {
			t.Errorf("%s: %08X", v.name, got)
		}
	}
}

// The standard library's CRC-32 is the independent reference.
func FuzzChecksum(f *testing.F) {
	f.Add([]byte("123456789"))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, b []byte) {
		if got, want := Checksum(b), crc32.ChecksumIEEE(b); got != want {
			t.Errorf("%08X, want %08X", got, want)
		}
	})
}

func TestBroken(t *testing.T) {
	passive := vectors[2]
	objects := passive.want.Objects
	for _, c := range []struct {
		name  string
		bytes string
		wire  bool
		want  Message
		errs  []error
		text  string // in the error
	}{
		{"nothing", "", false, Message{}, []error{ErrTruncated}, "byte 0: the message is 0 bytes long"},
		{"one byte", "8f", false, Message{}, []error{ErrTruncated}, "byte 1: the message is 1 byte long"},
		{"packet without room for a CRC", "8101 638b", true, Message{Header: 0x0181}, []error{ErrTruncated}, "header and CRC have 6"},
		{"CRC wrong", passive.bytes + "82428a87", false,
			Message{Header: 0x518F, Objects: objects, CRC: 0x878A4282, HasCRC: true},
			[]error{ErrCRC}, "byte 22: 878A4282: the CRC does not fit the message; over these bytes it is 868A4282"},
		{"cut after three objects", "8f51 41a000ff ffff6018 00000000", false,
			Message{Header: 0x518F, Objects: objects[:3]},
			[]error{ErrTruncated}, "byte 14: 3 objects came after the header; the header counts 5 objects"},
		{"cut within an object", "8f51 41a000ff ffff60", false,
			Message{Header: 0x518F, Objects: objects[:1]},
			[]error{ErrTruncated}, "1 object and 3 bytes came"},
		{"cut within the CRC", passive.bytes + "8242", false,
			Message{Header: 0x518F, Objects: objects},
			[]error{ErrTruncated}, ", and a CRC has 4 bytes"},
		{"packet cut within the CRC", passive.bytes + "8242", true,
			Message{Header: 0x518F, Objects: objects[:4], CRC: 0x4282120A, HasCRC: true},
			[]error{ErrTruncated, ErrCRC}, "4 objects and 2 bytes came"},
		{"one object too many", "8f40 41a000ff ffff6018 00000000 00010000 43260a12 00000000", false,
			Message{Header: 0x408F, Objects: append(objects[:5:5], 0)},
			[]error{ErrCount}, "byte 18: 6 objects came after the header; the header counts 4 objects"},
		{"control message with objects", "8101 41a000ff 00000000", false,
			Message{Header: 0x0181, Objects: []uint32{0xFF00A041, 0}},
			[]error{ErrCount}, "the header counts 0 objects"},
		{"extended, chunked", "8292 0280 1122", false,
			Message{Header: 0x9282, Body: []byte{2, 0x80, 0x11, 0x22}},
			[]error{ErrExtended}, "Status: an extended message is not a list of data objects"},
		{"extended, not chunked", "8282 0300 112233", false,
			Message{Header: 0x8282, Body: []byte{3, 0, 0x11, 0x22, 0x33}},
			[]error{ErrExtended}, "byte 0"},
		{"extended, cut", "8282 0300 1122", false,
			Message{Header: 0x8282, Body: []byte{3, 0, 0x11, 0x22}},
			[]error{ErrExtended, ErrTruncated}, "by its headers it has 5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			read := Decode
			if c.wire {
				read = DecodeWire
			}
			b := unhex(t, c.bytes)
			got, err := read(b)
			if d := cmp.Diff(c.want, got); d != "" {
				t.Error(d)
			}
			for _, cause := range []error{ErrTruncated, ErrCount, ErrCRC, ErrExtended} {
				want := false
				for _, e := range c.errs {
					want = want || e == cause
				}
				if errors.Is(err, cause) != want {
					t.Errorf("cause %v: %v, want %v, of: %v", cause, !want, want, err)
				}
			}
			var e *Error
			if !errors.As(err, &e) || !strings.Contains(err.Error(), c.text) {
				t.Errorf("error %q, want %q", err, c.text)
			}
		})
	}
}

// A CRC that fits tells that nothing was cut, so that the count is what is wrong,
// even where the length alone would pass for a message without a CRC.
func TestCountUnderGoodCRC(t *testing.T) {
	for _, header := range []Header{0x418F, 0x518F, 0x618F, 0x718F} {
		four := Message{Header: header, Objects: []uint32{0xFF00A041, 0x1860FFFF, 0, 0x100}}.Sealed()
		got, err := Decode(four.Append(nil))
		if d := cmp.Diff(four, got); d != "" {
			t.Error(d)
		}
		if want := header.Objects() != 4; errors.Is(err, ErrCount) != want || errors.Is(err, ErrTruncated) {
			t.Errorf("header %04X: %v", uint16(header), err)
		}
	}
}

// Lengths: of extended messages that are not chunked by the nine bits of their own
// header, of all others by the objects counted.
func TestLengths(t *testing.T) {
	const extended, revision3 = 0x8000, 0x0080
	body := func(ext uint16, bytes int) Message {
		b := binary.LittleEndian.AppendUint16(nil, ext)
		return Message{Header: extended | revision3 | 2, Body: append(b, make([]byte, bytes)...)}
	}
	for _, c := range []struct {
		name string
		m    Message
		text string // of ErrCount: under a CRC that fits nothing was cut
	}{
		{"no byte", body(0, 0), ""},
		{"260 bytes", body(260, 260), ""},
		{"a byte too few", body(4, 3), "byte 7: 5 bytes came after the header; by its headers it has 6"},
		{"a byte too many", body(4, 5), "byte 8: 7 bytes came after the header; by its headers it has 6"},
		{"request bit set, not chunked", body(1<<10|1<<9|4, 4), ""},
		{"chunk number set, not chunked", body(1<<14|4, 4), ""},
		{"chunked, no objects", body(1<<15|26, 26), "byte 2: 28 bytes came after the header; by its headers it has 0"},
		{"chunked, seven objects", Message{Header: extended | 7<<12 | revision3 | 2, Body: append([]byte{26, 0x80}, make([]byte, 26)...)}, ""},
		{"an object of small numbers", Message{Header: 1<<12 | revision3 | 1, Objects: []uint32{0x00001234}}, ""},
		{"no object of one", Message{Header: 1<<12 | revision3 | 1}, "byte 2: 0 objects came after the header; the header counts 1 object"},
	} {
		_, err := DecodeWire(c.m.Sealed().Append(nil))
		if want := c.text != ""; errors.Is(err, ErrCount) != want || errors.Is(err, ErrTruncated) || errors.Is(err, ErrCRC) {
			t.Errorf("%s: %v", c.name, err)
		} else if want && !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: %v, want %s", c.name, err, c.text)
		}
	}
	if _, err := Decode(body(0, 0).Append(nil)); errors.Is(err, ErrTruncated) || errors.Is(err, ErrCount) {
		t.Errorf("two headers alone: %v", err)
	}
	_, err := Decode(unhex(t, "8f10 01a000ff 00"))
	if want := "byte 6: 1 object and 1 byte came after the header; the header counts 1 object, and a CRC has 4 bytes"; err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

func FuzzDecode(f *testing.F) {
	for _, v := range vectors {
		f.Add(unhex(f, v.bytes+v.crc))
		f.Add(unhex(f, v.bytes))
	}
	f.Add(unhex(f, "8282 0300 112233"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 600 {
			return
		}
		m, err := Decode(b)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Wrong == "" || e.Want == "" || e.At > len(b) {
				t.Fatalf("%#v", err)
			}
		}
		if !errors.Is(err, ErrTruncated) {
			if d := cmp.Diff(b, m.Append(nil)); d != "" {
				t.Fatal(d)
			}
		}
		if s := m.Sealed(); !m.Header.Extended() {
			back, err := DecodeWire(s.Append(nil))
			if errors.Is(err, ErrCRC) || errors.Is(err, ErrTruncated) {
				t.Fatal(err)
			}
			if d := cmp.Diff(s, back); d != "" {
				t.Fatal(d)
			}
		}
		_ = vdo.Summarize(vdo.Decode(m.Objects, m.Context(vdo.PlugNear)))
	})
}
