package signal

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// captures are the files under testdata, made by the transmitter out of the
// vectors of fact sheet §10.6. -update makes them anew.
func captures(t testing.TB) map[string]string {
	talk := newTransmitter(303e3, 1)
	talk.jitter = 0.02
	conversation(t, talk)

	active := newTransmitter(285e3, 2)
	active.lost = 1
	active.packet(frame.SOPDoublePrime, vector(t, "active"))
	active.noise(300e-6, 2e-6)
	active.packet(frame.SOPPrime, vector(t, "PD 2.0"))

	broken := newTransmitter(300e3, 3)
	broken.idle(50e-6)
	broken.packet(frame.SOPPrime, vector(t, "request"))
	damaged := vector(t, "passive")
	damaged[19] ^= 0x20 // a bit of the cable word
	broken.packet(frame.SOPPrime, damaged)
	broken.bits(wireBits(frame.AppendPacket(nil, frame.SOPPrime, vector(t, "passive")))[:150])
	broken.packet(frame.SOPPrime, vector(t, "GoodCRC"))
	broken.symbols(frame.AppendPacket(nil, frame.CableReset, nil))

	short := newTransmitter(315e3, 4)
	short.idle(20e-6)
	short.packet(frame.SOPPrime, vector(t, "GoodCRC"))
	volts := scope{rate: 2e6, low: 0.02, high: 1.12, rise: 250e-9, noise: 0.02, seed: 1}

	return map[string]string{
		"conversation.vcd": asVCD(talk.edges, 1e-8, "10 ns"),
		"levels.csv":       asLevels(active.edges, 1e-6, "Time (us),CC1"),
		"broken.vcd":       asVCD(broken.edges, 1e-8, "10 ns"),
		"volts.csv": "time;CC1\n" +
			strings.ReplaceAll(string(volts.asVolts(short.edges, short.now+10e-6, "%.7f;%.2f\n")), ".", ","),
	}
}

// Each capture under testdata reads as its golden file says.
func TestGolden(t *testing.T) {
	if *update {
		for name, text := range captures(t) {
			if err := os.WriteFile(filepath.Join("testdata", name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	files, err := filepath.Glob("testdata/*.[cv][sc][vd]")
	if err != nil || len(files) != len(captures(t)) {
		t.Fatalf("%d captures, %v", len(files), err)
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			f, err := os.Open(name)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			var b strings.Builder
			for p, err := range Read(f, Options{}) {
				fmt.Fprintf(&b, "%v to %v on %s, %.0f bits/s: %v %x\n", p.Start, p.End, p.Wire, p.BitRate, p.Set, p.Bytes)
				if err == nil && !p.Set.Reset() {
					fmt.Fprintf(&b, "  %v, plug %v, %08X\n", p.Message.Header.Type(), p.Plug(), p.Message.Objects)
				}
				for _, r := range p.Remarks {
					fmt.Fprintf(&b, "  remark: %s\n", r)
				}
				if err != nil {
					fmt.Fprintf(&b, "  error: %s\n", err)
				}
			}
			golden := name + ".golden"
			if *update {
				if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(string(want), b.String()); d != "" {
				t.Error(d)
			}
		})
	}
}

// The words of the golden captures go through vdo.Decode.
func TestToWords(t *testing.T) {
	f, err := os.Open("testdata/conversation.vcd")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var passive []vdo.PassiveCable
	for p, err := range Read(f, Options{}) {
		if err != nil {
			t.Fatal(err)
		}
		r, ok := p.Reply()
		if want := p.Message.Header.Type() == frame.VendorDefined; ok != want {
			t.Errorf("%v gives a reply: %v", p.Message.Header.Type(), ok)
		}
		if w, ok := r.Passive(); ok && r.Identity() {
			passive = append(passive, w)
		}
		if c := r.Context(); ok && c != (vdo.Context{Plug: vdo.PlugNear, Revision: vdo.Revision3}) {
			t.Errorf("%+v", c)
		}
	}
	if d := cmp.Diff([]vdo.PassiveCable{0x120A2643}, passive); d != "" {
		t.Error(d)
	}
}

// A BrokenError leads to its cause by errors.Is and errors.As.
func TestBrokenErrorUnwraps(t *testing.T) {
	err := error(&BrokenError{Cause: errors.Join(ErrTiming, &frame.Error{Err: frame.ErrEOP})})
	var e *frame.Error
	if !errors.Is(err, ErrTiming) || !errors.Is(err, frame.ErrEOP) || !errors.As(err, &e) {
		t.Error(err)
	}
}
