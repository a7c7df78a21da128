package paste_test

import (
	"errors"
	"fmt"
	"strings"

	"example.com/gainsay/vdo/paste"
)

func ExampleRead() {
	res, err := paste.Read(`
12:00:01.002 SOP'  port > plug  108F FF00A001
12:00:01.004 SOP'  plug > port  518F FF00A041 18602FA1 00000000 01020100 000A2643
12:00:01.009 SOP'  plug > port  FF00A08
`)
	for _, m := range res.Messages {
		fmt.Printf("line %d: %s, %v plug, %08X\n", m.From.Line, m.ReadAs, m.Plug, m.Words)
	}
	for _, s := range res.Skipped {
		fmt.Printf("line %d: %s\n", s.From.Line, s.Why)
	}
	fmt.Println(err)
	// Output:
	// line 3: words behind labels, message header first, near plug, [FF00A041 18602FA1 00000000 01020100 000A2643]
	// line 2: a request: Discover Identity, SOP′, from the port
	// line 4, column 33: "FF00A08": 7 hex digits are no word; a word is 8 hex digits, like FF00A041 or 0xFF00A041
}

func ExampleReadStream() {
	text := strings.NewReader("8f5141a000ffa12f6018000000000001020143260a00\n8100\nFF00A081FF\n")
	for item, err := range paste.ReadStream(text) {
		switch {
		case err != nil:
			fmt.Println(err)
		case item.Message != nil:
			fmt.Printf("%s: %08X\n", item.Message.ReadAs, item.Message.Words)
		default:
			fmt.Println("aside:", item.Skipped.Why)
		}
	}
	// Output:
	// one run of digits, message header first: [FF00A041 18602FA1 00000000 01020100 000A2643]
	// aside: GoodCRC
	// one run of digits, words, high byte first, header first: [FF00A081]
	// line 3, column 9: 1 byte behind the message: half a word; a word has 4 bytes
}

// What was not understood has a cause and a place; what was is in the result.
func ExampleRead_errors() {
	res, err := paste.Read("FF00A041 18602FA1 00000000 01020100 000A2643\n\nFF00A041 18602FA1 00000000 01020100 000A264X\n")
	fmt.Println(len(res.Messages), errors.Is(err, paste.ErrDigit))
	var all paste.Errors
	if errors.As(err, &all) {
		for _, one := range all {
			fmt.Println(one.At.Line, one.At.Column, one.Token)
		}
	}
	_, err = paste.ReadAs("FF00A041", "tea-leaves")
	fmt.Println(errors.Is(err, paste.ErrReader))
	// Output:
	// 2 true
	// 3 44 000A264X
	// true
}
