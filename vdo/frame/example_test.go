package frame_test

import (
	"errors"
	"fmt"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

func ExampleDecode() {
	// A passive cable's answer on SOP′, its CRC behind it.
	b := []byte{0x8f, 0x51, 0x41, 0xa0, 0x00, 0xff, 0xff, 0xff, 0x60, 0x18, 0x00, 0x00, 0x00, 0x00,
		0x00, 0x01, 0x00, 0x00, 0x43, 0x26, 0x0a, 0x12, 0x82, 0x42, 0x8a, 0x86}
	m, err := frame.Decode(b)
	if err != nil {
		fmt.Println(err)
	}
	fmt.Println(m.Header.Type(), "PD", m.Header.Revision(), "from the plug:", m.Header.CablePlug())
	reply := vdo.Decode(m.Objects, m.Context(vdo.PlugNear))
	if p, ok := reply.Passive(); ok {
		fmt.Println(p.Current())
	}
	// Output:
	// Vendor_Defined PD 3.x from the plug: true
	// 5 A
}

func ExampleDecode_wrongCRC() {
	m, err := frame.Decode([]byte{0x81, 0x01, 0x63, 0x8b, 0x46, 0x15})
	fmt.Println(err)
	fmt.Println(errors.Is(err, frame.ErrCRC), m.Header.Type())
	// Output:
	// byte 2: 15468B63: the CRC does not fit the message; over these bytes it is 14468B63
	// true GoodCRC
}

func ExampleReadPacket() {
	var symbols []frame.Symbol
	for _, name := range []string{"Sync-1", "Sync-1", "Sync-3", "Sync-3",
		"1", "8", "1", "0", "3", "6", "B", "8", "6", "4", "4", "1", "EOP"} {
		s, err := frame.ParseSymbol(name)
		if err != nil {
			fmt.Println(err)
		}
		symbols = append(symbols, s)
	}
	p, _, err := frame.ReadPacket(symbols)
	fmt.Println(p.Set, p.Set.Plug(), p.Message.Header.Type(), err)
	// Output: SOP′ near GoodCRC <nil>
}

func ExampleCompose() {
	h, err := frame.Compose(frame.Fields{Type: frame.VendorDefined, Objects: 1, RevisionCode: 2})
	m := frame.Message{Header: h, Objects: []uint32{0xFF00A001}}.Sealed()
	fmt.Printf("% x %v\n", m.Append(nil), err)
	// Output: 8f 10 01 a0 00 ff a4 45 02 72 <nil>
}

// Several things may be wrong at once; what could be decoded is there all the same.
func ExampleDecode_errors() {
	// A header that counts two objects, one object and half of another.
	m, err := frame.Decode([]byte{0x8f, 0x21, 0x41, 0xa0, 0x00, 0xff, 0xa1, 0x2f})
	fmt.Printf("%08X\n", m.Objects)
	var bad *frame.Error
	if errors.As(err, &bad) {
		fmt.Println(bad.Unit, bad.At, bad.Wrong)
	}
	fmt.Println(errors.Is(err, frame.ErrTruncated), errors.Is(err, frame.ErrCRC))

	_, err = frame.ParseSymbol("Sync-9")
	fmt.Println(errors.Is(err, frame.ErrName), err)
	// Output:
	// [FF00A041]
	// byte 8 1 object and 2 bytes came after the header
	// true false
	// true "Sync-9": not the name of a 4b5b symbol; a symbol is Sync-1 to Sync-3, RST-1, RST-2, EOP, one hex digit, or five bits
}
