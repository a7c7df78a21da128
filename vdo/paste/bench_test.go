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

// BenchmarkReadStream shows what reading block by block costs.
func BenchmarkReadStream(b *testing.B) {
	text := strings.Repeat(repeated["log"].each, (4<<20)/len(repeated["log"].each))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		for _, err := range ReadStream(strings.NewReader(text)) {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
}
