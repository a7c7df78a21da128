package paste

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
)

// collect gathers a stream into the form of Read.
func collect(in io.Reader) (Result, error) {
	var res Result
	var errs Errors
	for item, err := range ReadStream(in) {
		var e *Error
		switch {
		case errors.As(err, &e):
			errs = append(errs, e)
		case err != nil:
			return res, err
		case item.Message != nil:
			res.Messages = append(res.Messages, *item.Message)
		default:
			res.Skipped = append(res.Skipped, *item.Skipped)
		}
	}
	return finish(res, errs)
}

// TestStreamSamples holds that a short text gives the same from a stream.
func TestStreamSamples(t *testing.T) {
	files, _ := filepath.Glob("testdata/forms/*.txt")
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		want := listing(Read(string(b)))
		got := listing(collect(iotest.OneByteReader(bytes.NewReader(b))))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-Read +ReadStream):\n%s", file, diff)
		}
	}
}

// repeated are texts of one form that go on and on.
var repeated = map[string]struct{ head, each string }{
	"words":      {"", "FF00A041 18602FA1 00000000\n01020100 000A2643\n"},
	"run":        {"", "8f5141a000ffa12f6018000000000001020143260a00\n"},
	"log":        {"", "12:00:01 SOP' 518F FF00A041 18602FA1 00000000 01020100 000A2643\n12:00:02 SOP' 0081\n"},
	"log labels": {"", "SOP'\n  VDM: 0xFF00A041\n  ID: 0x18602FA1\n  XID: 0x0\n  PID: 0x1020100\n  Cable: 0xA2643\n"},
	"table":      {"t;SOP;Header;Data\n", "1;SOP';518F;41 A0 00 FF A1 2F 60 18 00 00 00 00 00 01 02 01 43 26 0A 00\n2;SOP';108F;01 A0 00 FF\n"},
	"json":       {"", `{"sop":"SOP'","vdo":[4278231105,408956833,0,16908544,665155]}` + "\n"},
	"symbols":    {"", "Sync-1 Sync-1 Sync-3 Sync-3 1 8 0 0 5 F B B 1 4 3 6 EOP\n"},
	"bytes":      {"", "8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01 02 01 43 26 0a 00 37 91 5e 2d\n"},
	"dump":       {"", "0000: 8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01\n0010: 02 01 43 26 0a 00 37 91 5e 2d\n"},
	"dump, long": {longDump(3 * streamBlock), ""},
	"kernel":     {"", "port0-cable/identity/id_header:0x18602fa1\nport0-cable/identity/cert_stat:0x0\nport0-cable/identity/product:0x1020100\nport0-cable/identity/product_type_vdo1:0xa2643\n"},
	"titled":     {"", "==> cert_stat <==\n0x0\n\n==> id_header <==\n0x18602fa1\n\n==> product <==\n0x1020100\n\n==> product_type_vdo1 <==\n0xa2643\n"},
	"json lines": {"", "{\n  \"vdo\": [\n    -16736191,\n    408956833,\n    0,\n    16908544,\n    665155\n  ]\n}\n"},
	"array":      {"", "uint32_t vdo[5] = {\n  0xFF00A041U, 0x18602FA1U,\n  0x00000000U, 0x01020100U, 0x000A2643U\n};\n"},
	"byte array": {"", "unsigned char a[] = {\n  0x8f, 0x51, 0x41, 0xa0, 0x00, 0xff, 0xa1, 0x2f, 0x60, 0x18, 0x00, 0x00,\n  0x00, 0x00, 0x00, 0x01, 0x02, 0x01, 0x43, 0x26, 0x0a, 0x00\n};\nunsigned int a_len = 22;\n"},
	"two dumped": {"", "00000000: 8f51 41a0 00ff a12f 6018 0000 0000 0001\n00000010: 0201 4326 0a00 8f11 81a0 00ff\n"},
	"registers":  {"", "30: 17 01 8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01 02 01 43 26 0a 00\n"},
	"wrapped":    {"", " 8f 61 41 a0 00 ff a1 2f 60 24 40 1f 00 00 00 01\n 02 01 5b 3e 6a 00 09 32 50 46 c8 d1 b1 27\n"},
	"errors":     {"", "FF00A041 18602FA1 00000000 01020100 000A2643\nnonsense\n"},
	"escapes":    {"", `b'\x8fQA\xa0\x00\xff\xa1/` + "`" + `\x18\x00\x00\x00\x00\x00\x01\x02\x01C&\n\x00'` + "\n"},
}

// longDump is a dump whose offsets go on from line to line, a message on each.
func longDump(size int) string {
	var b strings.Builder
	for at := 0; b.Len() < size; at += 26 {
		fmt.Fprintf(&b, "%08x: 8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01 02 01 43 26 0a 00 37 91 5e 2d\n", at)
	}
	return b.String()
}

// TestStreamBlocks holds that a text over many blocks gives each message once, in
// order, with its place, as Read gives it.
func TestStreamBlocks(t *testing.T) {
	for name, form := range repeated {
		t.Run(name, func(t *testing.T) {
			text := form.head + strings.Repeat(form.each, 3*streamBlock/max(1, len(form.each)))
			res, err := Read(text)
			got, gotErr := collect(strings.NewReader(text))
			if name == "errors" {
				// Read stops counting at MaxErrors; a stream counts by block.
				if n := strings.Count(text, "nonsense"); len(got.Messages) != n {
					t.Errorf("%d messages, want %d", len(got.Messages), n)
				}
				return
			}
			if err != nil || gotErr != nil {
				t.Fatalf("Read: %v\nReadStream: %v", err, gotErr)
			}
			if len(res.Messages)+len(res.Skipped) == 0 {
				t.Fatal("nothing was read")
			}
			if diff := cmp.Diff(res, got); diff != "" {
				t.Errorf("%d and %d messages (-Read +ReadStream):\n%.3000s", len(res.Messages), len(got.Messages), diff)
			}
		})
	}
}

// again repeats a text without keeping it.
type again struct {
	text string
	left int
	at   int
}

func (a *again) Read(b []byte) (int, error) {
	if a.left == 0 {
		return 0, io.EOF
	}
	n := copy(b[:min(len(b), a.left)], a.text[a.at:])
	a.at = (a.at + n) % len(a.text)
	a.left -= n
	return n, nil
}

// TestStreamMemory holds that a long text takes no more memory than a short one.
func TestStreamMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("a long text")
	}
	each := repeated["log"].each
	const size = 4 << 20
	var most, before runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	n, peak := 0, uint64(0)
	for item, err := range ReadStream(&again{text: each, left: size}) {
		if err != nil {
			t.Fatal(err)
		}
		if item.Message != nil {
			n++
		}
		if n%5000 == 0 && item.Message != nil {
			runtime.GC()
			runtime.ReadMemStats(&most)
			peak = max(peak, most.HeapAlloc)
		}
	}
	if want := size / len(each); n < want || n > want+1 {
		t.Errorf("%d messages, want %d", n, want)
	}
	if limit := before.HeapAlloc + 8<<20; peak > limit || peak == 0 {
		t.Errorf("%d KiB in use, at most %d wanted", peak>>10, limit>>10)
	}
}

// TestStreamLimits holds the limit of a block, and what comes of a reader's
// error.
func TestStreamLimits(t *testing.T) {
	_, err := collect(strings.NewReader("FF00A081\n" + strings.Repeat(" ", MaxBlock)))
	if err != nil {
		t.Errorf("blanks up to the limit: %v", err)
	}
	res, err := collect(strings.NewReader("FF00A081\n" + strings.Repeat("A", 2*MaxBlock)))
	if !errors.Is(err, ErrLong) || !strings.Contains(err.Error(), "1 MiB") || len(res.Messages) != 1 {
		t.Errorf("a line over the limit: %d messages, %.200v", len(res.Messages), err)
	}
	// It costs itself alone.
	for _, long := range []string{strings.Repeat("A", 2*MaxBlock), strings.Repeat("\x00", MaxBlock), strings.Repeat("FF00A041 ", MaxBlock/4)} {
		res, err = collect(strings.NewReader("FF00A081\n" + long + "\nFF00A082\n" + long + "\nFF00A081\n" + long))
		var errs Errors
		if !errors.As(err, &errs) || len(errs) != 3 || errs[1].At != (Place{4, 1}) || len(res.Messages) != 3 {
			t.Fatalf("lines over the limit among others: %d messages, %.500v", len(res.Messages), err)
		}
		for i, m := range res.Messages {
			if want := (Place{2*i + 1, 1}); m.From != want {
				t.Errorf("message %d at %v, want %v", i, m.From, want)
			}
		}
	}
	// A label in front holds all that follows together.
	each := "FF00A041 18602FA1 00000000 01020100 000A2643\n"
	res, err = collect(strings.NewReader("SOP'\n" + strings.Repeat(each, MaxBlock/len(each)+99)))
	if !errors.Is(err, ErrLong) || len(res.Messages) < MaxBlock/len(each) {
		t.Errorf("a label over the limit: %d messages, %.200v", len(res.Messages), err)
	}
	broken := errors.New("broken")
	if _, err := collect(io.MultiReader(strings.NewReader("FF00A081\n"), iotest.ErrReader(broken))); err != broken {
		t.Errorf("%v", err)
	}
	if _, err := collect(strings.NewReader("")); !errors.Is(err, ErrEmpty) {
		t.Errorf("nothing: %v", err)
	}
	for range ReadStream(strings.NewReader("FF00A081\nFF00A081\n")) {
		break // must not go on
	}
}
