package vdo_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	. "example.com/gainsay/vdo"
)

// sumFields decodes replies and adds up fields of every word, weighted so that one
// cannot stand for another. testdata/kernel/stream.c does the same.
func sumFields(messages [][]uint32) (sum uint64) {
	for _, words := range messages {
		r := Decode(words, Context{})
		product, ok := r.Product()
		if !ok {
			continue
		}
		id, _ := r.ID()
		cert, _ := r.CertStat()
		sum += uint64(id.VendorID()) + uint64(flag(id.Modal())) + uint64(cert.XID()) + uint64(product.ProductID())
		if w, ok := r.Passive(); ok {
			sum += uint64(3*int(w.End()) + 5*int(w.Speed()) + 7*int(w.Current()) + 11*int(w.Latency()) +
				13*int(w.Termination()) + 17*int(w.MaxVoltage()) + 19*flag(w.EPR()))
		} else if w, ok := r.Active1(); ok {
			second, _ := r.Active2()
			sum += uint64(3*int(w.End()) + 5*int(w.Speed()) + 7*int(w.Current()) + 11*int(w.Latency()) +
				13*int(w.Termination()) + 17*int(w.MaxVoltage()) + 23*flag(second.Optical()) + 29*second.MaxTemperature())
		} else if w, ok := r.PD2(); ok {
			sum += uint64(3*int(w.End()) + 5*int(w.Speed()) + 7*int(w.Current()) + 11*int(w.Latency()) + 13*int(w.Termination()))
		} else if w, ok := r.VPD(); ok {
			sum += uint64(3*flag(w.ChargeThrough()) + 5*w.ChargeThroughAmps() + 7*w.VBUSMilliohm() + 11*w.GroundMilliohm())
		}
	}
	return sum
}

// BenchmarkDecodeAgainstKernel decodes the same replies here and with the kernel's
// macros, compiled by gcc -O2, in turns. The metric "ratio" is the time of our
// fastest pass by that of theirs. The sums of the fields must be the same.
func BenchmarkDecodeAgainstKernel(b *testing.B) {
	dirs := kernelHeaders(b)
	program := filepath.Join(b.TempDir(), "stream")
	compileWithKernel(b, dirs[len(dirs)-1], "testdata/kernel/stream.c", program, "-O2")

	messages := stream(4096)
	input := binary.NativeEndian.AppendUint32(nil, uint32(len(messages)))
	for _, m := range messages {
		input = binary.NativeEndian.AppendUint32(input, uint32(len(m)))
		for _, w := range m {
			input = binary.NativeEndian.AppendUint32(input, w)
		}
	}
	var ours, theirs = math.Inf(1), math.Inf(1)
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		const passes = 500
		kernel := exec.Command(program, fmt.Sprint(passes))
		kernel.Stdin = bytes.NewReader(input)
		out, err := kernel.Output()
		if err != nil {
			b.Fatal(err)
		}
		var want uint64
		var ns float64
		if _, err := fmt.Sscan(string(out), &want, &ns); err != nil {
			b.Fatalf("the kernel's side printed %q: %v", out, err)
		}
		theirs = min(theirs, ns)

		b.StartTimer()
		for range passes {
			from := time.Now()
			got := sumFields(messages)
			ours = min(ours, float64(time.Since(from)))
			if got != want {
				b.Fatalf("the fields add up to %d here, to %d with the kernel's macros", got, want)
			}
		}
	}
	n := float64(len(messages))
	b.ReportMetric(ours/n, "ns/reply")
	b.ReportMetric(theirs/n, "kernel-ns/reply")
	b.ReportMetric(ours/theirs, "ratio")
}
