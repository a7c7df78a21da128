package vdo_test

import (
	"encoding/binary"
	"slices"
	"testing"

	. "example.com/gainsay/vdo"
)

// Any words under any context: nothing panics, the listing of each word covers
// it, the typed words are the words themselves, and a summary follows.
func FuzzDecode(f *testing.F) {
	for _, c := range replies {
		b := []byte{byte(c.ctx.Plug), byte(c.ctx.Revision), byte(flag(c.ctx.Headerless))}
		for _, w := range c.words {
			b = binary.BigEndian.AppendUint32(b, w)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) < 3 || len(b) > 3+4*16 {
			return
		}
		ctx := Context{Plug: Plug(b[0] % 4), Revision: Revision(b[1] % 4), Headerless: b[2]&1 != 0}
		var words []uint32
		for rest := b[3:]; len(rest) >= 4; rest = rest[4:] {
			words = append(words, binary.BigEndian.Uint32(rest))
		}
		r := Decode(words, ctx)
		for i, w := range words {
			l := r.Layout(i)
			if LayoutNamed(l.Name()) != l {
				t.Fatalf("word %d has layout %s, which is not in the list", i, l.Name())
			}
			back, next := uint32(0), 31
			for v := range l.Read(w) {
				if v.High() != next || v.Meaning == "" {
					t.Fatalf("%s: %s begins at %d, want %d; meaning %q", l.Name(), v.Name, v.High(), next, v.Meaning)
				}
				next = v.Low() - 1
				back |= v.Raw << v.Low()
			}
			if next != -1 || back != w {
				t.Fatalf("%s: %08X is listed as %08X", l.Name(), w, back)
			}
			if got, err := recompose(l, w); err != nil || got != w {
				t.Fatalf("%s: %08X is composed again as %08X, %v", l.Name(), w, got, err)
			}
		}
		if r.Got() < r.Objects() && slices.Contains(r.Assumptions(), SurplusObjects) {
			t.Fatal("too few and too many words at once")
		}
		other, ok := r.Otherwise()
		if ok && !slices.Equal(other.Words(), words) {
			t.Fatal("the other reading has other words")
		}
		s := Summarize(r, other)
		if s.PD2 && (s.Volts.Known() || s.EPR.Known()) {
			t.Fatal("a PD 2.0 answer declares a voltage")
		}
		if ctx.Plug == PlugPartner && len(declared(s)) != 0 {
			t.Fatalf("a partner declares %v", declared(s))
		}
		if a := s.Amps.Or(3); a != 3 && a != 5 {
			t.Fatalf("%d A", a)
		}
		if v := s.Volts.Or(20); v != 20 && v != 50 {
			t.Fatalf("%d V", v)
		}
		_, _, _ = s.LinearRedriver(), s.LaneGbps(), s.DisplayPortRate()
		_, _ = s.HasSVID(SVIDThunderbolt), s.HasSVID(SVIDDisplayPort)
	})
}
