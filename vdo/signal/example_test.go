package signal_test

import (
	"fmt"
	"os"

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
