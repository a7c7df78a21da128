package signal

import (
	"bytes"
	"io"
	"runtime"
	"strconv"
	"testing"

	"example.com/gainsay/vdo/frame"
)

// endless writes a capture that goes on, a packet at a time.
type endless struct {
	packets int
	csv     bool
	pending []byte
	x       *transmitter
	b       []byte
	level   int
}

func newEndless(t testing.TB, packets int, csv bool) *endless {
	e := &endless{packets: packets, csv: csv, x: newTransmitter(300e3, 1), b: vector(t, "passive")}
	e.pending = []byte("$timescale 1 ns $end $var wire 1 ! CC $end $var wire 1 # CC2 $end $enddefinitions $end\n")
	if csv {
		e.pending = []byte("ns,CC\n")
	}
	return e
}

func (e *endless) Read(p []byte) (int, error) {
	for len(e.pending) == 0 {
		if e.packets == 0 {
			return 0, io.EOF
		}
		e.packets--
		e.x.edges = e.x.edges[:0]
		e.x.packet(frame.SOPPrime, e.b)
		for _, at := range e.x.edges {
			e.level ^= 1
			if !e.csv {
				e.pending = append(e.pending, '#')
			}
			e.pending = strconv.AppendInt(e.pending, int64(at*1e9), 10)
			if e.csv {
				e.pending = append(e.pending, ',', '0'+byte(e.level), '\n')
			} else {
				e.pending = append(e.pending, '\n', '0'+byte(e.level), '!', '\n')
			}
		}
	}
	n := copy(p, e.pending)
	e.pending = e.pending[n:]
	return n, nil
}

// What is kept in memory does not grow with the capture.
func TestFlatMemory(t *testing.T) {
	const packets = 4000 // some 20 MB
	for _, csv := range []bool{false, true} {
		n := 0
		var early, most uint64
		for p, err := range Read(newEndless(t, packets, csv), Options{}) {
			if err != nil || p.Set != frame.SOPPrime {
				t.Fatal(err)
			}
			if n++; n%400 == 0 {
				runtime.GC()
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				if early == 0 {
					early = m.HeapAlloc
				}
				most = max(most, m.HeapAlloc)
			}
		}
		if n != packets {
			t.Errorf("%d packets", n)
		}
		t.Logf("%d KB early, %d KB at most", early>>10, most>>10)
		if most > early+1<<20 {
			t.Errorf("the heap grew from %d to %d bytes", early, most)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for name, csv := range map[string]bool{"VCD": false, "levels": true} {
		b.Run(name, func(b *testing.B) {
			text, err := io.ReadAll(newEndless(b, 200, csv))
			if err != nil {
				b.Fatal(err)
			}
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				for _, err := range Read(bytes.NewReader(text), Options{}) {
					if err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
