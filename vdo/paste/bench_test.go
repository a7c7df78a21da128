package paste

import (
	"fmt"
	"strings"
	"testing"
)

// BenchmarkRead shows the cost of each form at several sizes: the rate should not
// fall as the text grows.
func BenchmarkRead(b *testing.B) {
	for _, name := range []string{"words", "run", "bytes", "dump", "json", "table", "log", "symbols"} {
		for _, size := range []int{4 << 10, 64 << 10, 1 << 20} {
			form := repeated[name]
			text := form.head + strings.Repeat(form.each, size/len(form.each))
			b.Run(fmt.Sprintf("%s/%dKiB", name, size>>10), func(b *testing.B) {
				b.SetBytes(int64(len(text)))
				for b.Loop() {
					if _, err := Read(text); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkReadStream shows what reading block by block costs: a log, and bytes one
// on each line that are no message, which is the dearest way to find nothing.
func BenchmarkReadStream(b *testing.B) {
	for name, each := range map[string]string{"log": repeated["log"].each, "a byte a line": "8f\n51\n00\n"} {
		for _, size := range []int{1, 2, 4, 8} {
			text := strings.Repeat(each, size<<20/len(each))
			b.Run(fmt.Sprintf("%s/%dMiB", name, size), func(b *testing.B) {
				b.SetBytes(int64(len(text)))
				for b.Loop() {
					for range ReadStream(strings.NewReader(text)) {
					}
				}
			})
		}
	}
}
