package vdo_test

import (
	"math/rand/v2"
	"testing"

	. "example.com/gainsay/vdo"
)

// stream is a run of identities of every kind, with random cable words: what a
// shelf of captures gives.
func stream(n int) [][]uint32 {
	random := rand.New(rand.NewPCG(3, 4))
	messages := make([][]uint32, 0, n)
	for len(messages) < n {
		a, b := random.Uint32(), random.Uint32()
		switch len(messages) % 4 {
		case 0:
			messages = append(messages, []uint32{ack20, idPassive, a, b, random.Uint32()})
		case 1:
			messages = append(messages, []uint32{ack10, idPassive, a, b, random.Uint32()})
		case 2:
			messages = append(messages, []uint32{ack20, idActive, a, b, random.Uint32()&^(7<<21) | 3<<21, random.Uint32()})
		case 3:
			messages = append(messages, []uint32{ack20, idVPD, a, b, random.Uint32()})
		}
	}
	return messages
}

// Decoding, and reading the few fields that a check of a cable begins with.
func BenchmarkDecode(b *testing.B) {
	messages := stream(4096)
	words := 0
	for _, m := range messages {
		words += len(m)
	}
	b.SetBytes(int64(4 * words))
	b.ReportAllocs()
	for b.Loop() {
		for _, m := range messages {
			r := Decode(m, Context{Plug: PlugNear})
			if w, ok := r.Passive(); ok {
				sink += int(w.Current()) + int(w.MaxVoltage()) + int(w.Speed()) + flag(w.EPR())
			} else if w, ok := r.Active1(); ok {
				sink += int(w.Current()) + int(w.MaxVoltage()) + int(w.Speed()) + flag(w.EPR())
			} else if w, ok := r.PD2(); ok {
				sink += int(w.Current()) + int(w.Speed())
			} else if w, ok := r.VPD(); ok {
				sink += w.ChargeThroughAmps() + w.GroundMilliohm()
			}
		}
	}
	b.ReportMetric(float64(len(messages))*float64(b.N)/b.Elapsed().Seconds(), "replies/s")
}

func BenchmarkSummarize(b *testing.B) {
	messages := stream(4096)
	b.ReportAllocs()
	for b.Loop() {
		for _, m := range messages {
			s := Summarize(Decode(m, Context{Plug: PlugNear}))
			sink += s.Amps.Or(0)
		}
	}
	b.ReportMetric(float64(len(messages))*float64(b.N)/b.Elapsed().Seconds(), "replies/s")
}

// Listing every field of every word in words for people.
func BenchmarkRead(b *testing.B) {
	messages := stream(256)
	b.ReportAllocs()
	for b.Loop() {
		for _, m := range messages {
			r := Decode(m, Context{Plug: PlugNear})
			for i, w := range m {
				for v := range r.Layout(i).Read(w) {
					sink += len(v.Meaning)
				}
			}
		}
	}
}
