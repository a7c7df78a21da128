package paste

import (
	"strings"
	"testing"
	"time"
)

// TestLinear holds that hostile texts cost no more than a long one: each is a
// megabyte, and takes seconds where something is looked for again and again.
func TestLinear(t *testing.T) {
	for _, each := range []string{
		`\"`, `"`, `'"\x41`, "=[", "=[1]", "={", "id 0x1 ", "aa  ", "0000: aa  ", "{", "[", "[]", `{"a":`, "1,", ";", "Sync-1 ", "518F ",
		"FF00A041", "FF00A001 ", "8f51", "SOP' ", "\n", "0:\n", "*\n", "word 0: ", "==> a <==\n", "id_header:0\n", "/*", "8f:", "a=", "\u00a0",
	} {
		text := strings.Repeat(each, (1<<16)/len(each))
		for _, text := range []string{text, "0000: 8f 51\n" + text, "SOP: \\x41 " + text, "word;x\n" + text} {
			start := time.Now()
			Read(text) // whatever it makes of it
			if d := time.Since(start); d > 20*time.Second {
				t.Errorf("%.20q takes %v", text, d)
			}
		}
	}
}
