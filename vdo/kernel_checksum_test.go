package vdo_test

import (
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	. "example.com/gainsay/vdo"
)

// A fieldList is one line of testdata/kernel/checksum.c: which fields of a layout
// the kernel's macros know.
type fieldList struct {
	name    string // the whole, as the program prints it
	layout  string
	ignored uint32   // bits of the word taken as zero
	fields  []string // with / and how many low bits count
	sum     uint64   // over the kernel's macros
}

// TestKernelChecksums holds a checksum over the typed accessors (the listing where
// a field has none) against one over the kernel's macros, for every word that is a
// multiple of -stride. It changes with any number of any field of any word.
func TestKernelChecksums(t *testing.T) {
	type program struct{ kernel, path string }
	var programs []program
	for _, dir := range kernelHeaders(t) {
		p := program{filepath.Base(filepath.Dir(dir)), filepath.Join(t.TempDir(), "checksum")}
		compileWithKernel(t, dir, "testdata/kernel/checksum.c", p.path, "-O2")
		programs = append(programs, p)
	}
	// The kernels have mostly the same macros: ours are summed up once.
	type words struct { // that are read once for all their lists
		layout  string
		ignored uint32
	}
	lists := map[words][]fieldList{}
	known := map[string]bool{}
	for _, p := range programs {
		kernel, err := runChecksum(p.path, *stride, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, list := range kernel {
			if !known[list.name] {
				known[list.name] = true
				of := words{list.layout, list.ignored}
				lists[of] = append(lists[of], list)
			}
		}
	}
	ours := map[string]uint64{}
	for of, lists := range lists {
		l := LayoutNamed(of.layout)
		if l == nil {
			t.Fatalf("the program names layout %s, which is not there", of.layout)
		}
		accessorSums(t, l, of.ignored, lists, ours)
	}
	for _, p := range programs {
		t.Run(p.kernel, func(t *testing.T) {
			fields, layouts := 0, map[string]bool{}
			kernel := kernelSums(t, p.path)
			for _, list := range kernel {
				want, ok := ours[list.name]
				if !ok || list.sum != want {
					t.Errorf("%s: the kernel's checksum is %016x, ours %016x", list.name, list.sum, want)
				}
				fields += len(list.fields)
				layouts[list.layout] = true
			}
			// "data" has no macro. Linux 6.1 has the fewest.
			if len(kernel) < 31 || fields < 164 || len(layouts) != len(Layouts())-1 {
				t.Errorf("%d lists of %d fields in %d layouts were compared; some are missing", len(kernel), fields, len(layouts))
			}
			t.Logf("%d lists of %d fields in %d layouts compared", len(kernel), fields, len(layouts))
		})
	}
}

// kernelSums runs the program over all words, in pieces, and adds up.
func kernelSums(t *testing.T, program string) []fieldList {
	t.Helper()
	sums, err := runChecksum(program, *stride, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	var mutex sync.Mutex
	inParallel(t, "the kernel's macros", *stride, func(from, to, step uint64) error {
		piece, err := runChecksum(program, step, from, to)
		if err != nil {
			return err
		}
		if len(piece) != len(sums) {
			return fmt.Errorf("the program printed %d lines, %d before", len(piece), len(sums))
		}
		mutex.Lock()
		defer mutex.Unlock()
		for i := range sums {
			sums[i].sum += piece[i].sum
		}
		return nil
	})
	return sums
}

func runChecksum(program string, step, from, to uint64) ([]fieldList, error) {
	decimal := func(n uint64) string { return strconv.FormatUint(n, 10) }
	out, err := exec.Command(program, decimal(step), decimal(from), decimal(to)).Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			return nil, fmt.Errorf("%w: %s", err, exit.Stderr)
		}
		return nil, err
	}
	var sums []fieldList
	for line := range strings.Lines(string(out)) {
		part := strings.Fields(line)
		if len(part) < 4 {
			return nil, fmt.Errorf("the program printed %q", line)
		}
		sum, err := strconv.ParseUint(part[1], 16, 64)
		if err != nil {
			return nil, err
		}
		ignored, err := strconv.ParseUint(part[2], 16, 32)
		if err != nil {
			return nil, err
		}
		sums = append(sums, fieldList{
			name:   strings.Join(append(part[:1:1], part[2:]...), " "),
			layout: part[0], ignored: uint32(ignored), fields: part[3:], sum: sum,
		})
	}
	return sums, nil
}

// A term is a field's part in a checksum.
type term struct {
	from   uint32 // its place in what the accessors give
	span   Span   // where no accessor reads it
	typed  bool
	most   uint32
	factor uint64
}

// accessorSums puts in sums the checksums of the same fields of the same words, as
// the accessors of the layout give them, with some bits taken as zero.
func accessorSums(t *testing.T, l *Layout, ignored uint32, lists []fieldList, sums map[string]uint64) {
	t.Helper()
	take, places := typedFields(t, l)
	terms := make([][]term, len(lists))
	for k, list := range lists {
		for i, s := range list.fields {
			name, width, _ := strings.Cut(s, "/")
			bits, err := strconv.Atoi(width)
			if err != nil || bits < 1 || bits > 32 {
				t.Fatalf("the program printed %q for a field", s)
			}
			f := fieldOf(t, l, 0, name)
			from, typed := places[name]
			terms[k] = append(terms[k], term{uint32(from), f.Span(), typed, ^uint32(0) >> (32 - bits), checksumFactor(i)})
		}
	}
	ofWord := checksumFactor(kernelFields)
	var mutex sync.Mutex
	inParallel(t, l.Name(), *stride, func(from, to, step uint64) error {
		var accessed [maxFields]uint32
		part := make([]uint64, len(lists))
		for at := from; at < to; at += step {
			word := uint32(at) &^ ignored
			take(word, &accessed)
			for k := range terms {
				h := uint64(word) * ofWord
				for i := range terms[k] {
					f := &terms[k][i]
					n := accessed[f.from%maxFields]
					if !f.typed {
						n = f.span.Get(word)
					}
					h += uint64(n&f.most) * f.factor
				}
				h = (h ^ h>>32) * 0xD6E8FEB86659FD93
				part[k] += h ^ h>>29
			}
		}
		mutex.Lock()
		defer mutex.Unlock()
		for k := range lists {
			sums[lists[k].name] += part[k]
		}
		return nil
	})
}

// kernelFields is MAX_FIELDS of testdata/kernel/layouts.h.
const kernelFields = 14

// checksumFactor is the factor of field i, an odd number out of splitmix64.
func checksumFactor(i int) uint64 {
	z := uint64(i+1) * 0x9E3779B97F4A7C15
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31 | 1
}
