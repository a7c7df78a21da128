package frame_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/gainsay/vdo"
	. "example.com/gainsay/vdo/frame"
)

// Every header is composed again from its accessors.
func TestHeaderRoundTrip(t *testing.T) {
	for i := range 1 << 16 {
		h := Header(i)
		f := Fields{h.Type(), h.Objects(), h.ID(), h.CablePlug(), h.RevisionCode(), h.ReservedBit()}
		got, err := Compose(f)
		if err != nil || got != h {
			t.Fatalf("%04X: %+v gives %04X, %v", i, f, uint16(got), err)
		}
	}
}

// The positions of fact sheet §10.1, each field by a word with it alone.
func TestHeaderFields(t *testing.T) {
	for _, c := range []struct {
		h    Header
		want Fields
	}{
		{0x8000, Fields{Type: NewType(Extended, 0)}},
		{0x7000, Fields{Type: NewType(Data, 0), Objects: 7}},
		{0x0E00, Fields{ID: 7}},
		{0x0100, Fields{CablePlug: true}},
		{0x00C0, Fields{RevisionCode: 3}},
		{0x0020, Fields{ReservedBit: true}},
		{0x001F, Fields{Type: NewType(Control, 31)}},
	} {
		got := Fields{c.h.Type(), c.h.Objects(), c.h.ID(), c.h.CablePlug(), c.h.RevisionCode(), c.h.ReservedBit()}
		if got != c.want {
			t.Errorf("%04X: %+v, want %+v", uint16(c.h), got, c.want)
		}
	}
	for code, want := range []vdo.Revision{vdo.Revision1, vdo.Revision2, vdo.Revision3, vdo.RevisionUnknown} {
		if got := Header(code << 6).Revision(); got != want {
			t.Errorf("revision code %d is %v, want %v", code, got, want)
		}
	}
	if MaxObjects != 7 {
		t.Errorf("at most %d objects", MaxObjects)
	}
}

func TestComposeRange(t *testing.T) {
	for _, f := range []Fields{
		{Type: VendorDefined, Objects: 8},
		{Type: VendorDefined, Objects: -1},
		{Type: VendorDefined, Objects: 0},
		{Type: GoodCRC, Objects: 1},
		{Type: GoodCRC, ID: 8},
		{Type: GoodCRC, RevisionCode: 4},
		{Type: NewType(Kind(3), 1)},
	} {
		_, err := Compose(f)
		var e *Error
		if !errors.As(err, &e) || e.Err != ErrField || e.Want == "" {
			t.Errorf("%+v: %v", f, err)
		}
	}
}

// Every type by its number: fact sheet §10.1, the message type tables of PD R3.x.
func TestEveryTypeName(t *testing.T) {
	for kind, text := range map[Kind]string{
		Control: `- GoodCRC GotoMin Accept Reject Ping PS_RDY Get_Source_Cap
			Get_Sink_Cap DR_Swap PR_Swap VCONN_Swap Wait Soft_Reset Data_Reset Data_Reset_Complete
			Not_Supported Get_Source_Cap_Extended Get_Status FR_Swap Get_PPS_Status Get_Country_Codes Get_Sink_Cap_Extended Get_Source_Info
			Get_Revision - - - - - - -`,
		Data: `- Source_Capabilities Request BIST Sink_Capabilities Battery_Status Alert Get_Country_Info
			Enter_USB EPR_Request EPR_Mode Source_Info Revision - - Vendor_Defined
			- - - - - - - - - - - - - - - -`,
		Extended: `- Source_Capabilities_Extended Status Get_Battery_Cap Get_Battery_Status Battery_Capabilities Get_Manufacturer_Info Manufacturer_Info
			Security_Request Security_Response Firmware_Update_Request Firmware_Update_Response PPS_Status Country_Info Country_Codes Sink_Capabilities_Extended
			Extended_Control EPR_Source_Capabilities EPR_Sink_Capabilities - - - - -
			- - - - - - Vendor_Defined_Extended -`,
	} {
		names := strings.Fields(text)
		if len(names) != 32 {
			t.Fatalf("%v: %d names", kind, len(names))
		}
		for code, want := range names {
			typ := NewType(kind, code)
			if want == "-" {
				want = fmt.Sprintf("reserved %v message (%d)", kind, code)
			}
			if got := typ.String(); got != want || typ.Kind() != kind || typ.Code() != code {
				t.Errorf("%v %d: %v %d, %s, want %s", kind, code, typ.Kind(), typ.Code(), got, want)
			}
		}
	}
}

func TestTypeNames(t *testing.T) {
	for _, c := range []struct {
		typ  Type
		want string
	}{
		{GoodCRC, "GoodCRC"}, {Accept, "Accept"}, {Reject, "Reject"}, {SoftReset, "Soft_Reset"},
		{NotSupported, "Not_Supported"}, {SourceCap, "Source_Capabilities"}, {VendorDefined, "Vendor_Defined"},
		{NewType(Control, 0), "reserved control message (0)"},
		{NewType(Control, 15), "Data_Reset_Complete"},
		{NewType(Data, 31), "reserved data message (31)"},
		{NewType(Extended, 31), "reserved extended message (31)"},
		{NewType(Kind(3), 1), "reserved kind 3 message (1)"},
	} {
		if got := c.typ.String(); got != c.want {
			t.Errorf("%d: %s, want %s", c.typ, got, c.want)
		}
		if got, want := c.typ.Defined(), !strings.HasPrefix(c.want, "reserved"); got != want {
			t.Errorf("%s: defined is %v", c.want, got)
		}
	}
}
