package paste

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// hostile are pieces of text that, repeated, make a reader look for the same thing
// again and again if it is written carelessly.
var hostile = []string{
	`\"`, `"`, `'"\x41`, "=[", "=[1]", "={", "id 0x1 ", "aa  ", "0000: aa  ", "{", "[", "[]", `{"a":`, "1,", ";", "Sync-1 ", "518F ",
	"FF00A041", "FF00A001 ", "8f51", "SOP' ", "\n", "0:\n", "*\n", "word 0: ", "==> a <==\n", "id_header:0\n", "/*", "8f:", "a=", "\u00a0", "8f 11 81 a0 00 ff de ad be ef ", "]byte{", "\x1b[",
}

// TestHostile: such a text gives no more errors than are listed, each with a
// place in it.
func TestHostile(t *testing.T) {
	for _, each := range hostile {
		text := strings.Repeat(each, (1<<13)/len(each))
		for _, text := range []string{text, "0000: 8f 51\n" + text, "SOP: \\x41 " + text, "word;x\n" + text} {
			_, err := Read(text)
			var errs Errors
			if errors.As(err, &errs) && len(errs) > MaxErrors+1 {
				t.Errorf("%.20q gives %d errors", text, len(errs))
			}
			for _, e := range errs {
				if e.At.Line < 1 || e.At.Column < 1 {
					t.Errorf("%.20q: no place in %v", text, e)
				}
				if len(e.Error()) > 4*tokenShown+1000 { // each byte may be shown as four
					t.Errorf("%.20q: an error of %d bytes", text, len(e.Error()))
				}
			}
		}
	}
}

// BenchmarkHostile shows that what a byte of such a text costs does not grow with
// its length.
func BenchmarkHostile(b *testing.B) {
	for _, each := range hostile {
		for _, size := range []int{1 << 12, 1 << 15, 1 << 18} {
			text := strings.Repeat(each, size/len(each))
			b.Run(fmt.Sprintf("%q/%d", each, size), func(b *testing.B) {
				b.SetBytes(int64(len(text)))
				for b.Loop() {
					Read(text)
				}
			})
		}
	}
}
