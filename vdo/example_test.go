package vdo_test

import (
	"errors"
	"fmt"

	"example.com/gainsay/vdo"
)

// A marker's answer to Discover Identity, and what it declares.
func Example() {
	words := []uint32{0xFF00A041, 0x1860FFFF, 0x00000000, 0x00000100, 0x120A2643}
	reply := vdo.Decode(words, vdo.Context{Plug: vdo.PlugNear})

	for i := range reply.Words() {
		fmt.Printf("%08X %s\n", reply.Words()[i], reply.Layout(i).Title())
	}

	s := vdo.Summarize(reply)
	if amps, ok := s.Amps.Get(); ok {
		fmt.Println("current:", amps, "A")
	}
	if volts, ok := s.Volts.Get(); ok {
		fmt.Println("voltage:", volts, "V")
	}
	if speed, ok := s.Speed.Get(); ok {
		fmt.Println("speed:", speed)
	}
	if !s.SVIDs.Known() {
		fmt.Println("alternate modes: not asked")
	}
	// Output:
	// FF00A041 Structured VDM header
	// 1860FFFF ID Header VDO
	// 00000000 Cert Stat VDO
	// 00000100 Product VDO
	// 120A2643 Passive Cable VDO
	// current: 5 A
	// voltage: 50 V
	// speed: USB4 Gen 3
	// alternate modes: not asked
}

// Every bit of a word, reserved runs included.
func ExampleLayout_Read() {
	const word = 0x00084051
	for f := range vdo.LayoutNamed("passive-cable-pd2").Read(word) {
		fmt.Printf("%2d:%-2d %-17s %2d  %s\n", f.High(), f.Low(), f.Name, f.Raw, f.Meaning)
	}
	// Output:
	// 31:28 hardware-version   0  0
	// 27:24 firmware-version   0  0
	// 23:20 reserved-23-20     0  zero, as it should be
	// 19:18 other-end          2  Type-C
	// 17:17 receptacle         0  plug
	// 16:13 latency            2  10 to 20 ns, about 2 m
	// 12:11 termination        0  VCONN not required after discovery
	// 10:10 sstx1-direction    0  fixed
	//  9:9  sstx2-direction    0  fixed
	//  8:8  ssrx1-direction    0  fixed
	//  7:7  ssrx2-direction    0  fixed
	//  6:5  vbus-current       2  5 A
	//  4:4  vbus-through       1  yes
	//  3:3  reserved-3         0  zero, as it should be
	//  2:0  speed              1  USB 3.1 Gen 1
}

// The word for a 3 A, 20 V, USB 2.0 passive cable.
func ExampleLayout_Compose() {
	layout := vdo.LayoutNamed("passive-cable")
	word, err := layout.Compose(0,
		vdo.Value{Field: "plug-type", Raw: uint32(vdo.EndTypeC)},
		vdo.Value{Field: "latency", Raw: 1},
		vdo.Value{Field: "vbus-current", Raw: uint32(vdo.Current3A)},
		vdo.Value{Field: "speed", Raw: uint32(vdo.USB2)},
	)
	fmt.Printf("%08X %v\n", word, err)

	_, err = layout.Compose(word, vdo.Value{Field: "vbus-current", Raw: 7})
	fmt.Println(err)
	fmt.Println(errors.Is(err, vdo.ErrTooLarge))
	// Output:
	// 00082020 <nil>
	// passive-cable: vbus-current: number too large for the field: 7, at most 3
	// true
}

// A word is its own value: its fields are methods.
func ExamplePassiveCable() {
	cable := vdo.PassiveCable(0x120A2643)
	amps, _ := cable.Current().Amps()
	delay, _ := cable.Latency().Passive()
	fmt.Println(amps, cable.MaxVoltage().Volts(), cable.EPR(), cable.Speed(), delay.UpTo)
	// Output:
	// 5 50 true USB4 Gen 3 10
}

// Words pasted without their VDM header: what had to be assumed, and the other
// reading.
func ExampleReply_Otherwise() {
	reply := vdo.Decode([]uint32{0x1800FFFF, 0, 0x00000100, 0x00084051}, vdo.Context{Headerless: true})
	for _, a := range reply.Assumptions() {
		fmt.Println(a)
	}
	fmt.Println("read as:", reply.Layout(3).Title())
	if other, ok := reply.Otherwise(); ok {
		fmt.Println("or as:", other.Layout(3).Title())
	}
	// Output:
	// no VDM header: the words are taken to be a Discover Identity answer, beginning at the ID header
	// nothing gives the revision: the layouts of PD 3.x are assumed
	// read as: Passive Cable VDO
	// or as: Cable VDO, passive, PD 2.0
}

// A Thunderbolt cable with linear re-drivers: its ID header says passive, its
// mode word says active.
func ExampleSummarize() {
	near := vdo.Context{Plug: vdo.PlugNear}
	s := vdo.Summarize(
		vdo.Decode([]uint32{0xFF00A041, 0x1C60FFFF, 0, 0x00000100, 0x000A2643}, near),
		vdo.Decode([]uint32{0xFF00A042, 0x80870000}, near),
		vdo.Decode([]uint32{0x8087A043, 0x020B0001}, near),
	)
	fmt.Println(s.Product.Or(vdo.NotACable))
	fmt.Println("linear re-drivers:", s.LinearRedriver().Or(false))
	fmt.Println("Gbps a lane:", s.LaneGbps().Or(0))
	dp, known := s.HasSVID(vdo.SVIDDisplayPort).Get()
	fmt.Println("DisplayPort SVID:", dp, known)
	// Output:
	// passive cable
	// linear re-drivers: true
	// Gbps a lane: 20
	// DisplayPort SVID: false true
}

// What could not be placed, and why.
func ExampleLayout_Compose_errors() {
	_, err := vdo.LayoutNamed("passive-cable").Compose(0, vdo.Value{Field: "vbus-amps", Raw: 2})
	var bad *vdo.FieldError
	if errors.As(err, &bad) {
		fmt.Println(bad.Layout, bad.Value.Field, bad.Value.Raw)
	}
	fmt.Println(errors.Is(err, vdo.ErrNoSuchField), errors.Is(err, vdo.ErrTooLarge))
	// Output:
	// passive-cable vbus-amps 2
	// true false
}
