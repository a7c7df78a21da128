package vdo_test

import (
	"errors"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	. "example.com/gainsay/vdo"
)

// edgeWords are words at the ends and in the middle of things.
func edgeWords() []uint32 {
	words := []uint32{0, 0xFFFFFFFF, 0xAAAAAAAA, 0x55555555, 0xFF00A041, 0xFFFF0000, 0x0000FFFF}
	for i := range 32 {
		words = append(words, 1<<i, ^uint32(1<<i))
	}
	return words
}

// someWords are the edge words and n more, the same in every run.
func someWords(n int) []uint32 {
	words := edgeWords()
	random := rand.New(rand.NewPCG(1, 2))
	for range n {
		words = append(words, random.Uint32())
	}
	return words
}

// The bit tables as they were transcribed from the sources, independently of the
// package: each field with its first and last bit, an R where the run is
// reserved.
//
// Sources: PD R3.2 V1.2 T 6.33 (header), PD R3.x ID Header, Cert Stat, Product,
// Passive Cable, Active Cable VDO1 and VDO2, VPD tables; PD R2.0 V1.3 T 6-23,
// 6-28, 6-29; PD R3.0 V1.2 T 6-36, 6-37; Type-C R2.0 T F-11 with its ECN; DP Alt
// Mode 2.1 Table 4-4.
var bitTables = map[string]string{
	"vdm-header": `31:16 svid, 15:15 structured, 14:13 version-major, 12:11 version-minor, 10:8 object-position,
		7:6 command-type, 5:5 R, 4:0 command`,
	"unstructured-header": `31:16 vendor-id, 15:15 structured, 14:0 vendor-data`,
	"id-header": `31:31 usb-host, 30:30 usb-device, 29:27 product-type, 26:26 modal, 25:23 product-type-dfp,
		22:21 connector, 20:16 R, 15:0 vendor-id`,
	"id-header-partner": `31:31 usb-host, 30:30 usb-device, 29:27 product-type, 26:26 modal, 25:23 product-type-dfp,
		22:21 connector, 20:16 R, 15:0 vendor-id`,
	"id-header-pd2": `31:31 usb-host, 30:30 usb-device, 29:27 product-type, 26:26 modal, 25:16 R, 15:0 vendor-id`,
	"cert-stat":     `31:0 certification-id`,
	"product":       `31:16 product-id, 15:0 release`,
	"passive-cable-pd2": `31:28 hardware-version, 27:24 firmware-version, 23:20 R, 19:18 other-end, 17:17 receptacle,
		16:13 latency, 12:11 termination, 10:10 sstx1-direction, 9:9 sstx2-direction, 8:8 ssrx1-direction,
		7:7 ssrx2-direction, 6:5 vbus-current, 4:4 vbus-through, 3:3 R, 2:0 speed`,
	"active-cable-pd2": `31:28 hardware-version, 27:24 firmware-version, 23:20 R, 19:18 other-end, 17:17 receptacle,
		16:13 latency, 12:11 termination, 10:10 sstx1-direction, 9:9 sstx2-direction, 8:8 ssrx1-direction,
		7:7 ssrx2-direction, 6:5 vbus-current, 4:4 vbus-through, 3:3 far-plug, 2:0 speed`,
	"passive-cable": `31:28 hardware-version, 27:24 firmware-version, 23:21 vdo-version, 20:20 R, 19:18 plug-type,
		17:17 epr, 16:13 latency, 12:11 termination, 10:9 max-voltage, 8:7 R, 6:5 vbus-current, 4:3 R, 2:0 speed`,
	"active-cable-early": `31:28 hardware-version, 27:24 firmware-version, 23:21 vdo-version, 20:20 R, 19:18 plug-type,
		17:17 R, 16:13 latency, 12:11 termination, 10:9 max-voltage, 8:7 R, 6:5 vbus-current, 4:4 vbus-through,
		3:3 far-plug, 2:0 speed`,
	"active-cable-1-v12": `31:28 hardware-version, 27:24 firmware-version, 23:21 vdo-version, 20:20 R, 19:18 plug-type,
		17:17 R, 16:13 latency, 12:11 termination, 10:9 max-voltage, 8:8 sbu, 7:7 sbu-type, 6:5 vbus-current,
		4:4 vbus-through, 3:3 far-plug, 2:0 R`,
	"active-cable-1": `31:28 hardware-version, 27:24 firmware-version, 23:21 vdo-version, 20:20 R, 19:18 plug-type,
		17:17 epr, 16:13 latency, 12:11 termination, 10:9 max-voltage, 8:8 sbu, 7:7 sbu-type, 6:5 vbus-current,
		4:4 vbus-through, 3:3 far-plug, 2:0 speed`,
	"active-cable-2-v12": `31:24 max-temperature, 23:16 shutdown-temperature, 15:15 R, 14:12 u3-power, 11:11 u3-to-u0,
		10:8 R, 7:6 usb2-hub-hops, 5:5 usb2, 4:4 usb32, 3:3 lanes, 2:2 R, 1:0 signalling`,
	"active-cable-2": `31:24 max-temperature, 23:16 shutdown-temperature, 15:15 R, 14:12 u3-power, 11:11 u3-to-u0,
		10:10 medium, 9:9 active-element, 8:8 usb4, 7:6 usb2-hub-hops, 5:5 usb2, 4:4 usb32, 3:3 lanes, 2:2 isolated,
		1:1 asymmetric, 0:0 generation`,
	"vpd": `31:28 hardware-version, 27:24 firmware-version, 23:21 vdo-version, 20:17 R, 16:15 max-voltage,
		14:14 charge-through-current, 13:13 R, 12:7 vbus-impedance, 6:1 ground-impedance, 0:0 charge-through`,
	"svid-pair": `31:16 svid-first, 15:0 svid-second`,
	"thunderbolt-cable": `31:26 R, 25:25 active, 24:24 R, 23:23 link-training, 22:22 retimer, 21:21 medium, 20:19 rounded,
		18:16 speed, 15:0 mode`,
	"displayport-cable": `31:30 version, 29:28 active-component, 27:27 R, 26:26 uhbr13.5, 25:24 R, 23:16 ufp-pins,
		15:8 dfp-pins, 7:6 R, 5:2 signalling, 1:0 R`,
	"data": `31:0 data`,
}

func TestBitTables(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range Layouts() {
		want, ok := bitTables[l.Name()]
		if !ok {
			t.Errorf("%s: no table to compare with", l.Name())
			continue
		}
		if seen[l.Name()] {
			t.Errorf("%s: named twice", l.Name())
		}
		seen[l.Name()] = true
		if LayoutNamed(l.Name()) != l {
			t.Errorf("LayoutNamed(%q) gives another layout", l.Name())
		}
		var got []string
		for _, f := range l.Fields() {
			name := f.Name
			if f.Reserved() {
				name = "R"
			}
			got = append(got, strconv.Itoa(f.High())+":"+strconv.Itoa(f.Low())+" "+name)
		}
		if g, w := strings.Join(got, ", "), strings.Join(strings.Fields(want), " "); g != w {
			t.Errorf("%s:\n got %s\nwant %s", l.Name(), g, w)
		}
	}
	for name := range bitTables {
		if !seen[name] {
			t.Errorf("%s: not in Layouts()", name)
		}
	}
	if LayoutNamed("no-such-word") != nil {
		t.Error("LayoutNamed finds a layout that is not there")
	}
}

// Fields run from bit 31 down, each bit once; the reserved mask is the sum of the
// reserved runs; every layout and field says what it is.
func TestLayoutsCoverTheWord(t *testing.T) {
	for _, l := range Layouts() {
		next, names, reserved := 31, map[string]bool{}, uint32(0)
		for _, f := range l.Fields() {
			if f.High() != next || f.Low() > f.High() || f.Low() < 0 {
				t.Errorf("%s: %s is at %d:%d, want it to begin at %d", l.Name(), f.Name, f.High(), f.Low(), next)
			}
			next = f.Low() - 1
			if f.Name == "" || f.Title == "" || names[f.Name] {
				t.Errorf("%s: %q (%q): name or title missing, or name used twice", l.Name(), f.Name, f.Title)
			}
			if f.Name != strings.ToLower(f.Name) || strings.ContainsAny(f.Name, " _") {
				t.Errorf("%s: %q is not kebab-case", l.Name(), f.Name)
			}
			names[f.Name] = true
			width := f.High() - f.Low() + 1
			if uint64(f.Most()) != 1<<width-1 {
				t.Errorf("%s: %s: most is %d for %d bits", l.Name(), f.Name, f.Most(), width)
			}
			if f.Reserved() {
				for b := f.Low(); b <= f.High(); b++ {
					reserved |= 1 << b
				}
				if !strings.HasPrefix(f.Name, "reserved-") {
					t.Errorf("%s: reserved run is named %q", l.Name(), f.Name)
				}
				if len(f.Codes()) != 0 || f.Numeric() {
					t.Errorf("%s: %s is reserved and yet has codes", l.Name(), f.Name)
				}
			}
		}
		if next != -1 {
			t.Errorf("%s: bits %d to 0 are in no field", l.Name(), next)
		}
		if got := l.ReservedMask(); got != reserved {
			t.Errorf("%s: ReservedMask is %08X, its runs give %08X", l.Name(), got, reserved)
		}
		if l.Title() == "" || l.Since() == "" || l.Source() == "" {
			t.Errorf("%s: title, since or source is missing", l.Name())
		}
	}
}

// Every value of every field up to 8 bits wide has a meaning. A code that is not
// listed shows its number and is reserved; codes are listed in order.
func TestEveryValueHasAMeaning(t *testing.T) {
	for _, l := range Layouts() {
		for _, f := range l.Fields() {
			listed := map[uint32]Code{}
			last := int64(-1)
			for _, c := range f.Codes() {
				if int64(c.Raw) <= last || c.Raw > f.Most() {
					t.Errorf("%s: %s: code %d is out of order or too large", l.Name(), f.Name, c.Raw)
				}
				last = int64(c.Raw)
				listed[c.Raw] = c
			}
			if f.Most() > 0xFF {
				continue
			}
			for raw := uint32(0); raw <= f.Most(); raw++ {
				v := fieldOf(t, l, raw<<f.Low(), f.Name)
				if v.Raw != raw {
					t.Fatalf("%s: %s: put %d, read %d", l.Name(), f.Name, raw, v.Raw)
				}
				if strings.TrimSpace(v.Meaning) == "" {
					t.Errorf("%s: %s %d: no meaning", l.Name(), f.Name, raw)
				}
				c, ok := listed[raw]
				switch {
				case f.Reserved():
					if v.Standing != Reserved {
						t.Errorf("%s: %s %d: %v in a reserved run", l.Name(), f.Name, raw, v.Standing)
					}
				case ok:
					if v.Meaning != c.Meaning || v.Standing != c.Standing && v.Standing != Ignored {
						t.Errorf("%s: %s %d: %q %v, its code says %q %v",
							l.Name(), f.Name, raw, v.Meaning, v.Standing, c.Meaning, c.Standing)
					}
				case f.Numeric():
					if v.Standing != Defined && v.Standing != Ignored {
						t.Errorf("%s: %s %d: a number, yet %v", l.Name(), f.Name, raw, v.Standing)
					}
				default:
					if want := "reserved (" + strconv.Itoa(int(raw)) + ")"; v.Meaning != want || v.Standing != Reserved {
						t.Errorf("%s: %s %d: %q %v, want %q", l.Name(), f.Name, raw, v.Meaning, v.Standing, want)
					}
				}
			}
		}
	}
}

// fieldOf reads one field of a word.
func fieldOf(t testing.TB, l *Layout, word uint32, name string) FieldValue {
	t.Helper()
	for v := range l.Read(word) {
		if v.Name == name {
			return v
		}
	}
	t.Fatalf("%s has no field %s", l.Name(), name)
	return FieldValue{}
}

// One field by name is the one of the listing.
func TestValueIsOfTheListing(t *testing.T) {
	for _, l := range Layouts() {
		for _, w := range edgeWords() {
			for want := range l.Read(w) {
				got, ok := l.Value(w, want.Name)
				if !ok || got.Name != want.Name || got.Raw != want.Raw || got.Meaning != want.Meaning || got.Standing != want.Standing {
					t.Errorf("%s: %s of %08X: %v %v, want %v", l.Name(), want.Name, w, got, ok, want)
				}
			}
		}
		if _, ok := l.Value(0, "no-such-field"); ok {
			t.Errorf("%s gives a field it does not have", l.Name())
		}
	}
}

// recompose lists a word and composes it again from zero.
func recompose(l *Layout, word uint32) (uint32, error) {
	var set []Value
	for v := range l.Read(word) {
		set = append(set, Value{Field: v.Name, Raw: v.Raw})
	}
	return l.Compose(0, set...)
}

// Any word, listed and composed again, is the same word.
func TestComposeIsTheInverseOfRead(t *testing.T) {
	words := someWords(2000)
	for _, l := range Layouts() {
		for _, w := range words {
			got, err := recompose(l, w)
			if err != nil || got != w {
				t.Errorf("%s: %08X came back as %08X, %v", l.Name(), w, got, err)
			}
		}
	}
}

// Setting one field changes its bits and no other.
func TestComposeLeavesTheRestAlone(t *testing.T) {
	for _, l := range Layouts() {
		for _, f := range l.Fields() {
			mask := f.Most() << f.Low()
			for _, w := range edgeWords() {
				for _, raw := range []uint32{0, 1, f.Most()} {
					got, err := l.Compose(w, Value{f.Name, raw})
					if want := w&^mask | raw<<f.Low(); err != nil || got != want {
						t.Errorf("%s: %s=%d in %08X: %08X, %v, want %08X", l.Name(), f.Name, raw, w, got, err, want)
					}
				}
			}
		}
	}
}

func TestComposeErrors(t *testing.T) {
	l := LayoutNamed("passive-cable")
	for _, c := range []struct {
		set  Value
		err  error
		most uint32
		text string
	}{
		{Value{"colour", 1}, ErrNoSuchField, 0, "passive-cable: colour: no such field"},
		{Value{"vbus-current", 4}, ErrTooLarge, 3, "passive-cable: vbus-current: number too large for the field: 4, at most 3"},
		{Value{"latency", 1 << 31}, ErrTooLarge, 15, "passive-cable: latency: number too large for the field: 2147483648, at most 15"},
	} {
		word, err := l.Compose(0, Value{"speed", 2}, c.set, Value{"epr", 1})
		var fe *FieldError
		if !errors.Is(err, c.err) || !errors.As(err, &fe) {
			t.Fatalf("%v: got %v", c.set, err)
		}
		if fe.Layout != "passive-cable" || fe.Value != c.set || fe.Most != c.most || err.Error() != c.text {
			t.Errorf("%v: %+v %q", c.set, fe, err)
		}
		if word != 2 {
			t.Errorf("%v: word is %08X, want the values before the error only", c.set, word)
		}
	}
}

func TestReadStops(t *testing.T) {
	n := 0
	for range LayoutNamed("passive-cable").Read(0) {
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("read %d fields, want 3", n)
	}
}

// What Layouts, Fields and Codes hand out is the caller's own.
func TestListsAreCopies(t *testing.T) {
	Layouts()[0] = nil
	l := LayoutNamed("passive-cable")
	l.Fields()[0].Name = "changed"
	f := l.Fields()[4]
	f.Codes()[0].Meaning = "changed"
	if Layouts()[0] == nil || l.Fields()[0].Name == "changed" || l.Fields()[4].Codes()[0].Meaning == "changed" {
		t.Error("a caller can change the tables")
	}
}
