package vdo_test

import (
	flags "flag" // flag is a helper in alloc_test.go
	"fmt"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	. "example.com/gainsay/vdo"
)

// The words of every layout, all 2^32 of them with -stride 1; DEVELOPERS.md says
// how long that takes. What is proven, and through which function:
//
//   - TestEveryWord, for each word that is a multiple of -stride, in each layout,
//     with span.get, span.put and Field.off, the functions Read and Compose are
//     made of: the fields' numbers, each at its place, add up to the word, so that
//     every bit is in one field and no bit in two; put back one by one over the
//     inverted word they give the word; the reserved runs' bits are the word's
//     under ReservedMask; each typed accessor gives the field's number; a field is
//     off exactly where the table switches says so.
//   - TestEveryListing, for each multiple of -list-stride, through Layout.Read and
//     Layout.Compose themselves: Read gives the same numbers, with the meaning and
//     standing noted for that field and number; Compose makes the word again, from
//     zero and from the inverted word.
//   - TestEveryMeaning, always, for each number of each field up to 16 bits wide,
//     through Field.value, which Read yields: the meaning is the same whatever the
//     other bits are and however often it is asked, and the one in
//     testdata/meanings.golden; so is the standing, but for fields that are off.
//   - TestEveryWideMeaning, for each multiple of -stride, through Field.value: the
//     meaning of a field of 32 bits is its number in hexadecimal.
//
// What is not run: Read itself for all 2^32 words, with every text; it would take
// most of a day for all layouts. Field.value makes a text of nothing but the
// field's number, and a standing of that and Field.off. Numbers and off are covered
// whole; that value uses nothing else is what the other words of TestEveryMeaning
// and the strides of TestEveryListing show.
//
// TestKernelChecksums compares the accessors with the kernel's macros over the same
// words.
var (
	stride     = flags.Uint64("stride", 40009, "go through the words that are multiples of this; odd, 1 for all")
	listStride = flags.Uint64("list-stride", 400009, "list and compose the words that are multiples of this; odd")
)

const allWords = 1 << 32

// inParallel goes through the multiples of step below 2^32 in pieces, on all
// processors. each must stop at the first word it finds wrong, and say so. A panic
// is reported with the piece it happened in.
func inParallel(t *testing.T, what string, step uint64, each func(from, to, step uint64) error) {
	t.Helper()
	if step%2 == 0 {
		t.Fatalf("a stride of %d leaves out low bits; give an odd one", step)
	}
	const pieces = 64
	var (
		next, done atomic.Uint64
		group      sync.WaitGroup
		failed     atomic.Bool
		start      = time.Now()
	)
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			var from, to uint64
			defer func() {
				if p := recover(); p != nil {
					failed.Store(true)
					t.Errorf("%s: panic between %08X and %08X: %v", what, from, to, p)
				}
			}()
			for {
				piece := next.Add(1) - 1
				if piece >= pieces || failed.Load() {
					return
				}
				from, to = piece*(allWords/pieces), (piece+1)*(allWords/pieces)
				from = (from + step - 1) / step * step
				if from >= to {
					continue
				}
				if err := each(from, to, step); err != nil {
					failed.Store(true)
					t.Errorf("%s: %v", what, err)
					return
				}
				done.Add((to - from + step - 1) / step)
			}
		})
	}
	group.Wait()
	t.Logf("%s: %d words in %.1f s", what, done.Load(), time.Since(start).Seconds())
}

// A place is a field as the loop over the words needs it.
type place struct {
	span  Span
	low   uint32
	run   uint32 // all ones in a reserved run, else 0
	typed uint32 // all ones where a typed accessor reads the field, else 0
	from  uint32 // the accessor's place in what take gives
}

// A rule switches a field off where field number by is value.
type rule struct {
	off       func(word uint32) bool
	by, value uint32
	field     string
}

func TestEveryWord(t *testing.T) {
	for _, l := range Layouts() {
		take, names := typedFields(t, l)
		var places []place
		var rules []rule
		index := map[string]int{}
		fields := l.Fields()
		for i := range fields {
			f := &fields[i]
			index[f.Name] = i
			p := place{span: f.Span(), low: uint32(f.Low())}
			if f.Reserved() {
				p.run = ^uint32(0)
			}
			if at, ok := names[f.Name]; ok {
				p.typed, p.from = ^uint32(0), uint32(at)
			}
			places = append(places, p)
		}
		if len(places) > maxFields {
			t.Fatalf("%s has %d fields, more than the loop has room for", l.Name(), len(places))
		}
		for i := range fields {
			f := &fields[i]
			s, ok := switches[l.Name()+" "+f.Name]
			if ok != (f.Off() != nil) {
				t.Errorf("%s %s: can be off: %v; the table of switches says %v", l.Name(), f.Name, f.Off() != nil, ok)
			} else if ok {
				rules = append(rules, rule{f.Off(), uint32(index[s.by]), s.off, f.Name})
			}
		}
		inParallel(t, l.Name(), *stride, func(from, to, step uint64) error {
			mask := l.ReservedMask()
			b := new(block)
			for at := from; at < to; {
				b.n = 0
				for ; at < to && b.n < blockSize; at += step {
					b.add(uint32(at), take)
				}
				for i := range places {
					b.field(&places[i], i)
				}
				for i, word := range b.words[:b.n] {
					if b.sum[i] != uint64(word) || b.back[i] != word || b.reserved[i] != word&mask || b.differ[i] != 0 {
						return b.wrong(i, mask, fields, names)
					}
				}
				for i := range rules {
					r := &rules[i]
					for k, word := range b.words[:b.n] {
						if r.off(word) != (b.numbers[r.by][k] == r.value) {
							return fmt.Errorf("%08X: %s is off: %v", word, r.field, r.off(word))
						}
					}
				}
			}
			return nil
		})
	}
}

// A block is a run of words that is gone through field by field, so that a field's
// place stays in registers.
type block struct {
	n        int
	words    [blockSize]uint32
	sum      [blockSize]uint64            // of the fields' numbers, each at its place
	back     [blockSize]uint32            // the inverted word with the fields put back
	reserved [blockSize]uint32            // the bits of reserved runs
	differ   [blockSize]uint32            // where listing and accessor differ
	accessed [blockSize][maxFields]uint32 // what the accessors give
	numbers  [maxFields][blockSize]uint32 // what the listing gives
}

const blockSize = 128

func (b *block) add(word uint32, take func(uint32, *[maxFields]uint32)) {
	i := b.n
	b.n++
	b.words[i], b.sum[i], b.back[i], b.reserved[i], b.differ[i] = word, 0, ^word, 0, 0
	take(word, &b.accessed[i])
}

func (b *block) field(p *place, at int) {
	numbers := &b.numbers[at]
	span, low, run, typed, from := p.span, p.low&31, p.run, p.typed, p.from%maxFields
	for i, word := range b.words[:b.n] {
		n := span.Get(word)
		numbers[i] = n
		placed := uint64(n) << low
		b.sum[i] += placed
		b.back[i] = span.Put(b.back[i], n)
		b.reserved[i] |= uint32(placed) & run
		b.differ[i] |= (n ^ b.accessed[i][from]) & typed
	}
}

// wrong says what is wrong with word i of the block.
func (b *block) wrong(i int, mask uint32, fields []Field, places map[string]int) error {
	word := b.words[i]
	for k, f := range fields {
		if at, ok := places[f.Name]; ok && b.accessed[i][at] != b.numbers[k][i] {
			return fmt.Errorf("%08X: %s is %d, its accessor says %d", word, f.Name, b.numbers[k][i], b.accessed[i][at])
		}
	}
	return fmt.Errorf("%08X: the fields add up to %08X, compose %08X, reserve %08X where the mask says %08X",
		word, b.sum[i], b.back[i], b.reserved[i], word&mask)
}

func TestEveryListing(t *testing.T) {
	for _, l := range Layouts() {
		fields := l.Fields()
		notes := make([][]note, len(fields))
		for i := range fields {
			notes[i] = notesOf(l, &fields[i])
		}
		inParallel(t, l.Name(), *listStride, func(from, to, step uint64) error {
			mask := l.ReservedMask()
			set := make([]Value, 0, maxFields)
			for at := from; at < to; at += step {
				word, i, reserved := uint32(at), 0, uint32(0)
				set = set[:0]
				for v := range l.Read(word) {
					want := fields[i].Value(word)
					if v.Name != want.Name || v.Raw != want.Span().Get(word) {
						return fmt.Errorf("%08X: field %d is %s, %d; want %s, %d", word, i, v.Name, v.Raw, want.Name, want.Raw)
					}
					said := note{v.Meaning, v.Standing}
					noted := note{want.Meaning, want.Standing}
					if notes[i] != nil {
						noted = notes[i][v.Raw]
						s, ok := switches[l.Name()+" "+v.Name]
						if ok && fieldNumber(fields, s.by, word) == s.off {
							noted.standing = Ignored
						}
					}
					if said != noted {
						return fmt.Errorf("%08X: %s %d is %v; noted was %v", word, v.Name, v.Raw, said, noted)
					}
					if v.Reserved() {
						reserved |= v.Raw << v.Low()
					}
					set = append(set, Value{Field: v.Name, Raw: v.Raw})
					i++
				}
				if i != len(fields) || reserved != word&mask {
					return fmt.Errorf("%08X: %d fields listed, want %d; reserved bits %08X, want %08X",
						word, i, len(fields), reserved, word&mask)
				}
				for _, start := range []uint32{0, ^word} {
					if got, err := l.Compose(start, set...); got != word || err != nil {
						return fmt.Errorf("%08X: came back as %08X over %08X, %v", word, got, start, err)
					}
				}
			}
			return nil
		})
	}
}

func fieldNumber(fields []Field, name string, word uint32) uint32 {
	for i := range fields {
		if fields[i].Name == name {
			return fields[i].Span().Get(word)
		}
	}
	panic("no field " + name)
}

// A note is what the listing said of a number.
type note struct {
	meaning  string
	standing Standing
}

func (n note) String() string { return fmt.Sprintf("%v, %q", n.standing, n.meaning) }

// notesOf asks for the meaning and standing of every number of a field, with the
// field switched on; nil for a field wider than 16 bits.
func notesOf(l *Layout, f *Field) []note {
	if f.Most() > 0xFFFF {
		return nil
	}
	notes := make([]note, f.Most()+1)
	for n := range notes {
		v := f.Value(f.Span().Put(switchOn(l.Name()), uint32(n)))
		notes[n] = note{v.Meaning, v.Standing}
	}
	return notes
}

// Numbers that share their meaning with another number of the field.
var sameMeaning = map[string]string{
	"passive-cable vbus-current": "invalid, to be read as 3 A",
}

// Each number of each field up to 16 bits: one meaning, whatever else the word
// says; another one for each number; and the meaning the golden file has. Fields
// wider than 5 bits are there with a digest.
func TestEveryMeaning(t *testing.T) {
	var listing strings.Builder
	for _, l := range Layouts() {
		fields := l.Fields()
		for i := range fields {
			f := &fields[i]
			name := l.Name() + " " + f.Name
			s, canBeOff := switches[name]
			notes := notesOf(l, f)
			if notes == nil {
				continue
			}
			seen := map[string]int{}
			digest := uint64(14695981039346656037) // FNV-1a
			failures := 0
			for n, noted := range notes {
				place := uint32(n) << f.Low()
				others := ^(f.Most() << f.Low())
				for _, background := range []uint32{0, others, others & 0xAAAAAAAA, others & 0x55555555} {
					v := f.Value(background | place)
					want := noted
					if canBeOff && fieldNumber(fields, s.by, background) == s.off {
						want.standing = Ignored
					}
					if got := (note{v.Meaning, v.Standing}); got != want || v.Raw != uint32(n) {
						t.Errorf("%s %d in %08X: %d, %v; want %v", name, n, background|place, v.Raw, got, want)
						failures++
					}
				}
				if other, ok := seen[noted.meaning]; ok && !f.Reserved() && sameMeaning[name] != noted.meaning {
					t.Errorf("%s: %d and %d both mean %q", name, other, n, noted.meaning)
					failures++
				}
				if strings.TrimSpace(noted.meaning) == "" {
					t.Errorf("%s %d: no meaning", name, n)
					failures++
				}
				if failures > 5 {
					t.Fatal("too many failures; the rest is not shown")
				}
				seen[noted.meaning] = n
				line := name + " " + strconv.Itoa(n) + ": " + noted.standing.String() + ", " + noted.meaning + "\n"
				if f.Most() < 1<<5 {
					listing.WriteString(line)
				}
				for _, b := range []byte(line) {
					digest = (digest ^ uint64(b)) * 1099511628211
				}
			}
			if f.Most() >= 1<<5 {
				fmt.Fprintf(&listing, "%s 0 to %d: digest %016x\n", name, f.Most(), digest)
			}
		}
	}
	golden(t, "testdata/meanings.golden", listing.String())
}

// Fields of more than 16 bits hold plain numbers; zero may have a word.
func TestEveryWideMeaning(t *testing.T) {
	zero := map[string]string{"cert-stat certification-id": "none presented"}
	const figures = "0123456789ABCDEF"
	wide := 0
	for _, l := range Layouts() {
		fields := l.Fields()
		for i := range fields {
			f := &fields[i]
			if f.Most() <= 0xFFFF {
				continue
			}
			wide++
			name := l.Name() + " " + f.Name
			inParallel(t, name, *stride, func(from, to, step uint64) error {
				want := []byte("0x________")
				for at := from; at < to; at += step {
					word := uint32(at)
					v := f.Value(word)
					for i := range 8 {
						want[2+i] = figures[word>>(28-4*i)&15]
					}
					matches := v.Meaning == string(want)
					if text, ok := zero[name]; ok && word == 0 {
						matches = v.Meaning == text
					}
					if v.Raw != word || !matches || v.Standing != Defined {
						return fmt.Errorf("%08X: %08X, %v, %q", word, v.Raw, v.Standing, v.Meaning)
					}
				}
				return nil
			})
		}
	}
	if wide != 2 {
		t.Errorf("%d fields of more than 16 bits; two were there", wide)
	}
}

var update = flags.Bool("update", false, "write the golden files")

// golden compares text with a file, line by line.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}
