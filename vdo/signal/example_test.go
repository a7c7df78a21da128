package signal_test

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"example.com/gainsay/vdo/frame"
	"example.com/gainsay/vdo/signal"
)

func ExampleRead() {
	f, err := os.Open("testdata/conversation.vcd")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer f.Close()
	for p, err := range signal.Read(f, signal.Options{}) {
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(p.Set, p.Message.Header.Type(), len(p.Message.Objects))
		if reply, ok := p.Reply(); ok {
			if w, ok := reply.Passive(); ok {
				fmt.Println(w.Current())
			}
		}
	}
	// Output:
	// SOP′ Vendor_Defined 1
	// SOP′ GoodCRC 0
	// SOP′ Vendor_Defined 5
	// 5 A
	// SOP′ GoodCRC 0
}

// A packet that did not arrive whole comes with what could be decoded; a text that
// cannot be read has a place.
func ExampleRead_errors() {
	f, err := os.Open("testdata/broken.vcd")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer f.Close()
	for p, err := range signal.Read(f, signal.Options{}) {
		var broken *signal.BrokenError
		if errors.As(err, &broken) {
			fmt.Printf("%v on %s: %d objects; CRC wrong %v, cut off %v\n", broken.Start, broken.Wire, len(p.Message.Objects),
				errors.Is(err, frame.ErrCRC), errors.Is(err, frame.ErrEOP))
		}
	}
	for _, err := range signal.Read(strings.NewReader("time,CC1\n0,0\n1e-6,high\n"), signal.Options{}) {
		var bad *signal.Error
		if errors.As(err, &bad) {
			fmt.Println(bad.Line, bad.Column, errors.Is(err, signal.ErrCSV), errors.Is(err, signal.ErrNoPacket))
		}
	}
	// Output:
	// 705µs on bench.CC1: 5 objects; CRC wrong true, cut off false
	// 1.89833ms on bench.CC1: 1 objects; CRC wrong false, cut off true
	// 3 6 true false
	// 0 0 false true
}
