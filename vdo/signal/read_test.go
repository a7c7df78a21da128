package signal

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// conversation is what the golden captures hold: a request on SOP′, the plug's
// GoodCRC, its answer, the port's GoodCRC.
func conversation(t testing.TB, x *transmitter) {
	x.idle(100e-6)
	x.packet(frame.SOPPrime, vector(t, "request"))
	x.packet(frame.SOPPrime, vector(t, "GoodCRC"))
	x.idle(200e-6)
	x.packet(frame.SOPPrime, vector(t, "passive"))
	x.packet(frame.SOPPrime, vector(t, "GoodCRC"))
}

var conversationSays = []string{
	"SOP′ 8f1001a000ffa4450272",
	"SOP′ 8101638b4614",
	"SOP′ 8f5141a000ffffff6018000000000001000043260a1282428a86",
	"SOP′ 8101638b4614",
}

// says reads a capture and words packets and errors.
func says(r io.Reader, o Options) (packets []string, errs []error) {
	for p, err := range Read(r, o) {
		if p.Set != frame.SetUnknown || err == nil {
			s := fmt.Sprintf("%v %x", p.Set, p.Bytes)
			if err != nil {
				s += " broken"
			}
			packets = append(packets, s)
		}
		if err != nil {
			errs = append(errs, err)
		}
	}
	return packets, errs
}

func TestRead(t *testing.T) {
	x := newTransmitter(300e3, 1)
	x.jitter = 0.02
	conversation(t, x)
	end := x.now + 100e-6
	volts := scope{rate: 2.5e6, high: 1.1, rise: 200e-9, noise: 0.03}
	idleHigh := scope{rate: 5e6, low: 1.7, high: 0, rise: 100e-9}
	half := 0.55
	for _, c := range []struct {
		name, text string
		o          Options
	}{
		{"VCD, ns", asVCD(x.edges, 1e-9, "1 ns"), Options{}},
		{"VCD, 10 ns written together", asVCD(x.edges, 1e-8, "10ns"), Options{}},
		{"VCD, ps", asVCD(x.edges, 1e-12, "1ps"), Options{Wire: "CC1"}},
		{"VCD, full name", asVCD(x.edges, 1e-7, "100 ns"), Options{Wire: "bench.CC1"}},
		{"VCD, unit given", asVCD(x.edges, 1e-6/16, "1 s"), Options{TimeUnit: 1e-6 / 16}},
		{"levels, us", asLevels(x.edges, 1e-6, "Time (us),CC1"), Options{}},
		{"levels, ns", asLevels(x.edges, 1e-9, "time_ns,CC1"), Options{}},
		{"levels, unit given", asLevels(x.edges, 1e-6, "# no heading"), Options{TimeUnit: 1e-6}},
		{"levels, heading and units", asLevels(x.edges, 1e-6, "captured on the bench\nTime,CC1\nus,V"), Options{Wire: "CC1"}},
		{"volts", string(volts.asVolts(x.edges, end, "%.9f,%.3f\n")), Options{}},
		{"volts, exponents and tabs", string(volts.asVolts(x.edges, end, "%e\t%e\n")), Options{}},
		{"volts, decimal comma", strings.ReplaceAll(string(volts.asVolts(x.edges, end, "%.9f;%.3f\r\n")), ".", ","), Options{}},
		{"volts, blanks, quotes", string(volts.asVolts(x.edges, end, "\"%.9f\"   \"%.3f\"\n")), Options{}},
		{"volts, threshold", string(volts.asVolts(x.edges, end, "%.9f,%.3f\n")), Options{Threshold: &half}},
		{"volts, upside down", string(idleHigh.asVolts(x.edges, end, "%.9f,%.3f\n")), Options{}},
		{"volts, long after 1970", strings.ReplaceAll(string(volts.asVolts(x.edges, end, "1764000000%.9f,%.3f\n")), "00000000.", "000000."), Options{}},
		{"volts, spikes of one sample", spiked(volts, x.edges, end, 1), Options{}},
		{"volts, longer spikes, threshold", spiked(volts, x.edges, end, 2), Options{Threshold: &half}},
		{"VCD, not known in between", strings.NewReplacer("#0\n", "#0\nx!\nZ!\n", "\n1!\n", "\n1!\nz!\nX!\n").Replace(asVCD(x.edges, 1e-9, "1 ns")), Options{}},
		{"VCD, vector", strings.NewReplacer("wire 1 ! CC1", "reg 8 ! CC1 [7:0]", "0!", "b10x !\nb10 !", "1!", "b11000010 !").Replace(asVCD(x.edges, 1e-9, "1 ns")), Options{Wire: "CC1"}},
		{"VCD, bit of a vector", strings.Replace(asVCD(x.edges, 1e-9, "1 ns"), "CC1", "CC [1]", 1), Options{Wire: "CC[1]"}},
		{"VCD, real", strings.NewReplacer("wire 1 ! CC1", "real 64 ! CC1", "0!", "r0.05 !", "1!", "R1.1e0 !").Replace(asVCD(x.edges, 1e-9, "1 ns")), Options{}},
		{"byte order mark", "\uFEFF" + asLevels(x.edges, 1e-6, "us,CC1"), Options{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, errs := says(iotest.HalfReader(strings.NewReader(c.text)), c.o)
			if d := cmp.Diff(conversationSays, got); d != "" || len(errs) > 0 {
				t.Error(d, errs)
			}
		})
	}
}

// spiked is a capture with disturbances far above the signal now and then.
func spiked(o scope, edges []float64, until float64, length int) string {
	ts, vs := o.samples(edges, until)
	var b strings.Builder
	for i := range ts {
		v := vs[i]
		if i%500 < length && i < 500*3 {
			v = 20
		}
		fmt.Fprintf(&b, "%.9f,%.3f\n", ts[i], v)
	}
	return b.String()
}

// The capture's own time is kept, before zero and long after 1970.
func TestReadOrigin(t *testing.T) {
	x := newTransmitter(300e3, 1)
	x.idle(1.25e-3)
	x.packet(frame.SOPPrime, vector(t, "GoodCRC"))
	for _, c := range []struct {
		zero string // the first row, at the time 0 of the transmitter
		add  time.Duration
	}{
		{"-0.5", 0}, {"-1e-3", 0}, {"0", 0}, {"1764000000", 1764000000 * time.Second},
	} {
		var b strings.Builder
		fmt.Fprintf(&b, "%s,0\n", c.zero)
		level := 0
		for _, e := range x.edges {
			level ^= 1
			row := fmt.Sprintf("%.9f", e)
			if c.add > 0 {
				row = c.zero + row[1:]
			}
			fmt.Fprintf(&b, "%s,%d\n", row, level)
		}
		for p, err := range Read(strings.NewReader(b.String()), Options{}) {
			if want := c.add + 1250*time.Microsecond; err != nil || (p.Start-want).Abs() > 20 {
				t.Errorf("from %s: %d ns, want %d, %v", c.zero, p.Start, want, err)
			}
		}
	}
}

func TestReadTimes(t *testing.T) {
	x := newTransmitter(300e3, 1)
	x.idle(1.25e-3)
	x.packet(frame.SOPDoublePrime, vector(t, "passive"))
	text := strings.Replace(asLevels(x.edges, 1e-6, "us,far"), "0,0\n", "-1000,0\n", 1)
	for p, err := range Read(strings.NewReader(text), Options{}) {
		if err != nil {
			t.Fatal(err)
		}
		// 64 + 20 + 26·10 + 5 = 349 bits at 300 kbps.
		want := 1250*time.Microsecond + 349*time.Second/300e3
		if p.Start != 1250*time.Microsecond || (p.End-want).Abs() > 2*time.Nanosecond {
			t.Errorf("from %v to %v, want to %v", p.Start, p.End, want)
		}
		if p.BitRate < 299e3 || p.BitRate > 301e3 || p.Wire != "far" || p.Plug() != vdo.PlugFar || p.Remarks != nil {
			t.Errorf("%.0f bits/s on %s, %v, %q", p.BitRate, p.Wire, p.Plug(), p.Remarks)
		}
	}
}

func TestRemarks(t *testing.T) {
	good := frame.AppendPacket(nil, frame.SOPPrime, vector(t, "GoodCRC"))
	for _, c := range []struct {
		name string
		send func(x *transmitter)
		want []string
	}{
		{"plain", func(x *transmitter) { x.symbols(good) }, nil},
		{"lost edges", func(x *transmitter) { x.lost = 15; x.symbols(good) }, []string{"only 54 of 64 bits of the preamble were recognised"}},
		{"K-code", func(x *transmitter) {
			s := append([]frame.Symbol(nil), good...)
			s[2] = 0
			x.symbols(s)
		}, []string{"one K-code of SOP′ was wrong, number 3"}},
		{"not closed", func(x *transmitter) { x.bare = true; x.symbols(good) }, []string{"no edge closes the last bit"}},
		{"slow", func(x *transmitter) { x.rate = 255e3; x.symbols(good) }, []string{"the bit rate is 255.0 kbps; 270 to 330 are allowed"}},
		{"glitch", func(x *transmitter) {
			x.symbols(good)
			at := x.edges[110] + 0.8e-6
			x.edges = append(append(append([]float64(nil), x.edges[:111]...), at, at+1e-7), x.edges[111:]...)
		}, []string{"pulses shorter than 300 ns left out: 1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := newTransmitter(300e3, 1)
			x.idle(1e-3)
			c.send(x)
			n := 0
			for p, err := range Read(strings.NewReader(asVCD(x.edges, 1e-9, "1 ns")), Options{}) {
				n++
				if d := cmp.Diff(c.want, p.Remarks); d != "" || err != nil {
					t.Error(d, err)
				}
			}
			if n != 1 {
				t.Errorf("%d packets", n)
			}
		})
	}
}

// Of several wires the one with readable packets gives them, even if another is
// busier, and one that carries the same does not give them again; a name chooses.
func TestChoice(t *testing.T) {
	x := newTransmitter(300e3, 1)
	conversation(t, x)
	var b strings.Builder
	b.WriteString("$timescale 1 ns $end $scope module a $end $var wire 1 ! clk $end $var wire 1 \" CC $end $upscope $end\n" +
		"$scope module b $end $var wire 1 # CC $end $var real 64 $ level $end $upscope $end $enddefinitions $end\n")
	clock, level := 0, 0
	next := 0
	for ns := 0.0; ns < x.now*1e9; ns += 500 {
		for next < len(x.edges) && x.edges[next]*1e9 < ns {
			level ^= 1
			fmt.Fprintf(&b, "#%.0f %d# r%d $\n", x.edges[next]*1e9, level, 3*level)
			next++
		}
		clock ^= 1
		fmt.Fprintf(&b, "#%.0f %d!\n", ns, clock)
	}
	for _, c := range []struct {
		wire, used string
		cause      error
		text       string
	}{
		{"", "b.CC", nil, ""},
		{"b.CC", "b.CC", nil, ""},
		{"level", "b.level", nil, ""},
		{"clk", "", ErrNoPacket, "edges on a.clk"},
		{"a.CC", "", ErrNoPacket, "no packet in 0 edges on a.CC"},
		{"CC", "", ErrWire, "give one of: a.CC, b.CC"},
		{"CC2", "", ErrWire, "there are: a.clk, a.CC, b.CC, b.level"},
	} {
		t.Run(c.wire, func(t *testing.T) {
			n := 0
			for p, err := range Read(strings.NewReader(b.String()), Options{Wire: c.wire}) {
				if !errors.Is(err, c.cause) {
					t.Errorf("%v, want %v", err, c.cause)
				}
				if c.cause != nil && !strings.Contains(err.Error(), c.text) {
					t.Errorf("%v, want %q in it", err, c.text)
				}
				if p.Wire != c.used {
					t.Errorf("read on %q, want %q", p.Wire, c.used)
				}
				n++
			}
			if c.cause == nil && n != 4 || c.cause != nil && n != 1 {
				t.Errorf("%d results", n)
			}
		})
	}

	t.Run("columns", func(t *testing.T) {
		ts, vs := scope{rate: 4e6, high: 1.1}.samples(x.edges, x.now)
		var b strings.Builder
		b.WriteString("t [ms];CC2 (V);CC1 (V)\n")
		for i := range ts {
			fmt.Fprintf(&b, "%.6f;%.2f;%.2f\n", ts[i]*1e3, 0.4+0.01*float64(i%3), vs[i])
		}
		for p, err := range Read(strings.NewReader(b.String()), Options{}) {
			if err != nil || p.Wire != "CC1 (V)" {
				t.Errorf("%v on %s", err, p.Wire)
			}
		}
		for _, name := range []string{"", "CC1", "CC1 (V)"} {
			got, errs := says(strings.NewReader(b.String()), Options{Wire: name})
			if d := cmp.Diff(conversationSays, got); d != "" || len(errs) > 0 {
				t.Error(d, errs)
			}
		}
	})

	t.Run("too many", func(t *testing.T) {
		_, errs := says(strings.NewReader(strings.Repeat("0,", maxTried+1)+"0\n"), Options{})
		if len(errs) != 1 || !errors.Is(errs[0], ErrWire) {
			t.Error(errs)
		}
	})

	// Where no packet is whole the wire with the broken ones is reported.
	t.Run("only broken", func(t *testing.T) {
		x := newTransmitter(300e3, 1)
		x.packet(frame.SOPPrime, []byte{0x81, 1, 0, 0, 0, 0})
		text := strings.Replace(asVCD(x.edges, 1e-9, "1 ns"), "$upscope", "$var wire 1 % CC2 $end $upscope", 1)
		got, errs := says(strings.NewReader(text), Options{})
		if len(got) != 1 || len(errs) != 1 || !errors.Is(errs[0], frame.ErrCRC) {
			t.Error(got, errs)
		}
	})
}

// A plug that is turned over during the capture, and a long stretch of something
// busier in front: all packets come, each with its wire, broken ones too.
func TestSeveralWires(t *testing.T) {
	x := newTransmitter(300e3, 1)
	x.idle(1e-3)
	x.packet(frame.SOPPrime, vector(t, "request"))
	first := len(x.edges)
	x.packet(frame.SOPPrime, vector(t, "passive"))
	x.packet(frame.SOPPrime, []byte{0x81, 1, 0, 0, 0, 0})
	var b strings.Builder
	b.WriteString("$timescale 1 ns $end $var wire 1 ! CLK $end $var wire 1 a CC1 $end $var wire 1 b CC2 $end $enddefinitions $end\n#0 0a 0b\n")
	for i := range 100000 {
		fmt.Fprintf(&b, "#%d %d!\n", 10*i, i&1)
	}
	for i, e := range x.edges {
		id, level := "a", (i+1)&1
		if i >= first {
			id, level = "b", (i-first+1)&1
		}
		fmt.Fprintf(&b, "#%.0f %d%s\n", e*1e9, level, id)
	}
	for _, c := range []struct {
		wire string
		want []string
	}{
		{"", []string{
			fmt.Sprintf("CC1 %x whole", vector(t, "request")),
			fmt.Sprintf("CC2 %x whole", vector(t, "passive")),
			"CC2 810100000000 broken"}},
		{"CC1", []string{fmt.Sprintf("CC1 %x whole", vector(t, "request"))}},
	} {
		var got []string
		for p, err := range Read(strings.NewReader(b.String()), Options{Wire: c.wire}) {
			s := "whole"
			if err != nil {
				s = "broken"
			}
			got = append(got, fmt.Sprintf("%s %x %s", p.Wire, p.Bytes, s))
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Error(d)
		}
	}

	// A wire with broken packets only is heard beside one with whole ones.
	y := newTransmitter(300e3, 1)
	y.packet(frame.SOPPrime, vector(t, "GoodCRC"))
	y.packet(frame.SOPPrime, []byte{0x81, 1, 0, 0, 0, 0})
	half := len(y.edges) / 2
	b.Reset()
	b.WriteString("$timescale 1 ns $end $var wire 1 a CC1 $end $var wire 1 b CC2 $end $enddefinitions $end\n")
	for i, e := range y.edges {
		fmt.Fprintf(&b, "#%.0f %d%c\n", e*1e9, i&1, "ab"[i/half])
	}
	got, errs := says(strings.NewReader(b.String()), Options{})
	if d := cmp.Diff([]string{"SOP′ 8101638b4614", "SOP′ 810100000000 broken"}, got); d != "" || len(errs) != 1 {
		t.Error(d, errs)
	}
}

// A CC line that is one bit of a vector, the others moving or unknown.
func TestVectorBit(t *testing.T) {
	x := newTransmitter(300e3, 1)
	conversation(t, x)
	for _, c := range []struct {
		size         int
		bounds, name string
		value        func(level, i int) string
	}{
		{4, "[3:0]", "port[2]", func(level, i int) string { return fmt.Sprintf("%d%dx%d", i>>3&1, level, i>>4&1) }},
		{4, "[0:3]", "port[1]", func(level, i int) string { return fmt.Sprintf("%d%dz%d", i>>3&1, level, i>>4&1) }},
		{4, "", "port[2]", func(level, i int) string { return fmt.Sprintf("%d%dx0", i>>3&1, level) }},
		{8, "[15:8]", "port[8]", func(level, _ int) string { return fmt.Sprint(level) }},          // extended with 0
		{8, "[15:8]", "port[9]", func(level, _ int) string { return fmt.Sprintf("x%d1", level) }}, // extended with x
	} {
		for _, wire := range []string{c.name, "bench." + c.name} {
			var b strings.Builder
			fmt.Fprintf(&b, "$timescale 1 ns $end $scope module bench $end $var wire %d ! port %s $end $upscope $end $enddefinitions $end\n#0 b%s !\n",
				c.size, c.bounds, c.value(0, 0))
			for i, e := range x.edges {
				fmt.Fprintf(&b, "#%.0f b%s !\n", e*1e9, c.value((i+1)&1, i))
			}
			for p := range Read(strings.NewReader(b.String()), Options{Wire: wire}) {
				if p.Wire != "bench."+c.name {
					t.Errorf("%s: on %q", c.name, p.Wire)
				}
			}
			got, errs := says(strings.NewReader(b.String()), Options{Wire: wire})
			if d := cmp.Diff(conversationSays, got); d != "" || len(errs) > 0 {
				t.Error(c.name, wire, d, errs)
			}
		}
	}
	_, errs := says(strings.NewReader("$timescale 1 ns $end $var wire 8 ! port [7:0] $end $enddefinitions $end\n"), Options{Wire: "port[8]"})
	if len(errs) != 1 || !errors.Is(errs[0], ErrWire) {
		t.Error(errs)
	}
}

// Places that cannot be read are reported; what is around them is read.
func TestBadText(t *testing.T) {
	x := newTransmitter(300e3, 1)
	conversation(t, x)
	plainVCD, plainCSV := asVCD(x.edges, 1e-9, "1 ns"), asLevels(x.edges, 1e-6, "us,CC1")
	in := func(text, after, what string) string {
		i := strings.Index(text, after)
		if i < 0 {
			t.Fatalf("no %q", after)
		}
		return text[:i+len(after)] + what + text[i+len(after):]
	}
	long := strings.Repeat("9", 1<<17)
	for _, c := range []struct {
		name, text string
		cause      error
		want       string // the error
		packets    int
	}{
		{"VCD: a stray word", in(plainVCD, "$end\n#0\n", "  hello\n"), ErrVCD, `line 7, column 3: "hello": neither a time nor a value nor a keyword; a line is like #1200, 0!, b101 !, r1.25 ! or $dumpvars`, 4},
		{"VCD: undeclared", in(plainVCD, "$end\n#0\n", "1%\n"), ErrVCD, `line 7, column 1: "%": a value of an identifier that is not declared; each identifier has its $var`, 4},
		{"VCD: no identifier", in(plainVCD, "$end\n#0\n", "1\n"), ErrVCD, `line 7, column 1: "1": a value without an identifier; the identifier follows, without a blank`, 4},
		{"VCD: vector alone", in(plainVCD, "#0\n", "b101 "), ErrVCD, `line 7, column 1: "b101": a value without an identifier; a vector or real is followed by a blank and its identifier`, 4},
		{"VCD: bad vector", in(plainVCD, "#0\n", "b121 !\n"), ErrVCD, `line 7, column 1: "b121": not a value; a value is 0, 1, x or z, b and such digits, or r and a number`, 4},
		{"VCD: bad time", in(plainVCD, "0!\n$end\n", "#12a\n"), ErrVCD, `line 10, column 1: "#12a": not a time; a time is # and a whole number`, 4},
		{"VCD: backwards", strings.TrimSuffix(plainVCD, "\n") + "\n#7\n", ErrTime, `"#7": time runs backwards`, 4},
		{"VCD: unknown keyword", in(plainVCD, "$upscope $end\n", "$what is it $end\n"), ErrVCD, `line 5, column 1: "$what is it": not understood; a keyword of IEEE 1364, like $var, $scope, $timescale or $dumpvars`, 4},
		{"VCD: bad variable", in(plainVCD, "$upscope $end\n", "$var wire one % CC2 $end\n"), ErrVCD, `line 5, column 1: "$var wire one % CC2": not understood; it is like $var wire 1 ! CC1 $end`, 4},
		{"VCD: long token", in(plainVCD, "0!\n$end\n", long+"\n"), ErrTooLong, `line 10, column 1: "`, 4},
		{"VCD: definitions do not end", strings.Replace(plainVCD, "$enddefinitions $end\n", "", 1), ErrVCD, `line 5, column 1: "#0": a value within the definitions; $enddefinitions $end stands before the values`, 4},
		{"VCD: open section", "$comment for ever", ErrVCD, `line 1, column 1: "$comment": the text ends within this section; $end closes it`, 0},
		{"VCD: only definitions", "$timescale 1 ns $end", ErrVCD, `line 1, column 21: the text ends within the definitions`, 0},
		{"VCD: timescale", strings.Replace(plainVCD, "1 ns", "5 ns", 1), ErrTimescale, `line 1, column 1: "$timescale 5 ns": not understood; it is 1, 10 or 100 and s, ms, us, ns, ps or fs, like $timescale 10 ns $end`, 0},
		{"VCD: no variables", "$timescale 1 ns $end $enddefinitions $end #0", ErrWire, `line 1, column 38: "$end": the dump declares no wire; it has declarations like $var wire 1 ! CC1 $end`, 0},
		{"VCD: range", in(plainVCD, "$upscope $end\n", "$var wire 4 % bus [7:0] $end\n"), ErrVCD, `line 5, column 1: "$var wire 4 % bus [7:0]": not understood; a range fits the size, like $var wire 8 ! port [7:0] $end`, 4},
		{"CSV: a word", in(plainCSV, "0,0\n", "5.5,high\n"), ErrCSV, `line 3, column 5: "high": not a level; a level is 0, 1 or a voltage, as a number without its unit`, 4},
		{"CSV: not a time", in(plainCSV, "0,0\n", "now,1\n"), ErrCSV, `line 3, column 1: "now": not a time; the first cell of a row is a number`, 4},
		{"CSV: short row", in(plainCSV, "0,0\n", "5.5\n"), ErrCSV, `line 3, column 1: "5.5": the row ends after 1 cells; the first row had 2`, 4},
		{"CSV: backwards", plainCSV + "2,1\n", ErrTime, `"2": time runs backwards; times do not decrease from row to row; the row is left out`, 4},
		{"CSV: long line", in(plainCSV, "0,0\n", long+"\n"), ErrTooLong, `line 3, column 1: "`, 4},
		{"CSV: one column", "1\n2\n3\n", ErrCSV, `line 1, column 1: "1": only one column; a row is a time and a level, with a comma, a semicolon, a tab or blanks between`, 0},
		{"CSV: prose", "Dear workshop,\nthe capture did not work.\n", ErrCSV, `line 3, column 1: "the": no row of numbers up to here; a row is a time and a level, like 0.0000125,1`, 0},
		{"nothing", "", ErrNoPacket, `there is nothing in the capture; it holds times and levels of a CC line`, 0},
		{"no packets", "0,0\n1,1\n2,0\n", ErrNoPacket, `no packet in 2 edges on column 2; a packet begins with some 90 edges, 1.5 to 3.7 µs apart; half of the first ones here are within 1e+06 µs of the one before`, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, errs := says(strings.NewReader(c.text), Options{})
			if len(got) != c.packets {
				t.Errorf("%d packets, want %d", len(got), c.packets)
			}
			found := false
			for _, err := range errs {
				var e *Error
				if errors.As(err, &e) && errors.Is(err, c.cause) && strings.Contains(err.Error(), c.want) {
					found = true
				}
			}
			if !found {
				t.Errorf("errors %v\nwant %s", errs, c.want)
			}
			if c.packets > 0 && len(errs) != 1 {
				t.Errorf("%d errors: %v", len(errs), errs)
			}
		})
	}

	t.Run("too many", func(t *testing.T) {
		_, errs := says(strings.NewReader(plainVCD+strings.Repeat("?\n", 1000)), Options{})
		if n := len(errs); n != maxErrors+1 || !errors.Is(errs[n-1], ErrTooMany) {
			t.Errorf("%d errors, the last %v", n, errs[n-1])
		}
	})
	t.Run("reader fails", func(t *testing.T) {
		for _, text := range []string{plainVCD, plainCSV} {
			got, errs := says(io.MultiReader(strings.NewReader(text), iotest.ErrReader(os.ErrPermission)), Options{})
			if len(got) != 4 || len(errs) != 1 || !errors.Is(errs[0], os.ErrPermission) {
				t.Errorf("%v, %v", got, errs)
			}
		}
	})
	t.Run("caller stops", func(t *testing.T) {
		for range Read(strings.NewReader(plainVCD), Options{}) {
			break
		}
	})
}

// A broken packet among good ones in a capture: its time and its cause.
func TestBrokenInCapture(t *testing.T) {
	x := newTransmitter(300e3, 1)
	x.packet(frame.SOPPrime, vector(t, "request"))
	x.idle(1e-3)
	at := x.now
	x.packet(frame.SOPPrime, []byte{0x81, 1, 0x63, 0x8b, 0x46, 0x15})
	x.packet(frame.SOPPrime, vector(t, "passive"))
	var broken *BrokenError
	n := 0
	for p, err := range Read(strings.NewReader(asVCD(x.edges, 1e-9, "1 ns")), Options{}) {
		n++
		if n != 2 {
			if err != nil {
				t.Error(err)
			}
			continue
		}
		if !errors.As(err, &broken) || !errors.Is(err, frame.ErrCRC) {
			t.Fatal(err)
		}
		if d := broken.Start.Seconds() - at; d < -2e-9 || d > 2e-9 || broken.Wire != "bench.CC1" || p.Start != broken.Start {
			t.Errorf("%+v, sent at %g s", broken, at)
		}
		if p.Message.Header.Type() != frame.GoodCRC {
			t.Errorf("%v", p.Message.Header.Type())
		}
	}
	if n != 3 {
		t.Errorf("%d packets", n)
	}
}
