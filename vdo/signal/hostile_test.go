package signal

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
)

// pieces gives a text that is made as it is read: a head, then a piece again and
// again.
type pieces struct {
	rest  []byte
	piece func(i int) string
	i, n  int
}

func (p *pieces) Read(b []byte) (int, error) {
	n := copy(b, p.rest)
	p.rest = p.rest[n:]
	for n < len(b) && p.i < p.n {
		p.rest = append(p.rest[:0], p.piece(p.i)...)
		p.i++
		m := copy(b[n:], p.rest)
		p.rest, n = p.rest[m:], n+m
	}
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

// TestHostile: captures made to take memory or time. Each is read to its end, or
// given up with a reason, within a bound of memory that does not depend on its
// length.
func TestHostile(t *testing.T) {
	const dump = "$timescale 1ns $end\n$var wire 1 ! CC $end\n$enddefinitions $end\n"
	same := func(s string) func(int) string { return func(int) string { return s } }
	tests := map[string]struct {
		head   string
		piece  func(i int) string
		n      int
		format Format
		cause  error // among the errors
	}{
		"scopes in scopes, many variables": {"", func(i int) string {
			if i < 20_000 {
				return "$scope module aaaaaaaa $end\n"
			}
			return fmt.Sprintf("$var wire 1 %x x $end\n", i)
		}, 40_000, VCD, ErrTooLong},
		"scopes without end":      {"", same("$scope module " + strings.Repeat("a", 300) + " $end\n"), 300_000, VCD, ErrTooLong},
		"too many variables":      {"", func(i int) string { return fmt.Sprintf("$var wire 1 %x x $end\n", i) }, maxWires + 1, VCD, ErrTooLong},
		"a token without end":     {dump + "#0\n", same(strings.Repeat("x", 1000)), 20_000, VCD, ErrTooLong},
		"a section without end":   {dump + "$comment ", same("x "), 1_000_000, VCD, ErrVCD},
		"no definitions":          {"", same("$scope "), 1_000_000, VCD, ErrVCD},
		"NUL":                     {dump, same(strings.Repeat("\x00", 1000)), 10_000, VCD, ErrTooLong},
		"a line without end":      {"t,a\n0,0\n", same(strings.Repeat("1,", 1000)), 10_000, CSV, ErrTooLong},
		"headings without end":    {"", same("time,level\n"), 100_000, CSV, ErrCSV},
		"NUL in a table":          {"t,a\n0,0\n", same("\x00,\x00\n"), 100_000, CSV, ErrTooMany},
		"numbers out of range":    {"t,a\n0,0\n", same("1e308,1e308\n-1e308,NaN\nInf,-Inf\n"), 10_000, CSV, ErrTooMany},
		"edges that mean nothing": {dump, func(i int) string { return fmt.Sprintf("#%d\n%d!\n", 1700*i, i&1) }, 300_000, VCD, ErrNoPacket},
		"time runs backwards":     {dump, func(i int) string { return fmt.Sprintf("#%d\n%d!\n", 1_000_000-i, i&1) }, 10_000, VCD, ErrTooMany},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			var errs []error
			for _, err := range Read(&pieces{rest: []byte(tt.head), piece: tt.piece, n: tt.n}, Options{Format: tt.format}) {
				if err != nil {
					errs = append(errs, err)
				}
				if len(errs) > maxErrors+1 {
					t.Fatalf("%d errors", len(errs))
				}
			}
			runtime.ReadMemStats(&after)
			if joined := errors.Join(errs...); !errors.Is(joined, tt.cause) {
				t.Errorf("got %.500v, want %v", joined, tt.cause)
			}
			for _, err := range errs {
				if len(err.Error()) > 1000 {
					t.Errorf("an error of %d bytes: %.200v", len(err.Error()), err)
				}
			}
			// What is kept is at most the names and their tables.
			if grown := int64(after.Sys) - int64(before.Sys); grown > 4*maxNames {
				t.Errorf("memory grew by %d MiB", grown>>20)
			}
		})
	}
}
