package vdo_test

import (
	"slices"
	"testing"

	. "example.com/gainsay/vdo"
)

const (
	idPassive = 0x18000000 | 0xFFFF // PD 2.0 and older PD 3.0: no connector stated
	idActive  = 0x20000000 | 0xFFFF
	idVPD     = 0x70000000 | 0xFFFF // can act as a device
	idNothing = 0x00000000 | 0xFFFF
	idOdd     = 0x28000000 | 0xFFFF // product type 101b, reserved

	ack10 = 0xFF008041
	ack20 = 0xFF00A041
	ack21 = 0xFF00A841
)

// activeWord is a first active word of the given VDO version.
func activeWord(version uint32) uint32 { return 0x00083A51 | version<<21 }

// Which layout each word of a message has, how many objects it should have, and
// what was assumed. Source: PD R2.0 to R3.2, Discover Identity (objects); VDO
// version values of the Active Cable VDO tables (form).
var replies = []struct {
	name    string
	words   []uint32
	ctx     Context
	layouts []string
	objects int
	assumed []Assumption
}{
	{
		name: "passive, PD 2.0", words: []uint32{ack10, idPassive, 0, 0, 0x00084051},
		layouts: []string{"vdm-header", "id-header-pd2", "cert-stat", "product", "passive-cable-pd2"}, objects: 5,
	},
	{
		name: "passive, PD 3.x", words: []uint32{ack20, idPassive, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "passive-cable"}, objects: 5,
	},
	{
		name: "passive, structured 2.1", words: []uint32{ack21, idPassive, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "passive-cable"}, objects: 5,
	},
	{
		name: "active, PD 2.0", words: []uint32{ack10, idActive, 0, 0, 0x00085051},
		layouts: []string{"vdm-header", "id-header-pd2", "cert-stat", "product", "active-cable-pd2"}, objects: 5,
	},
	{
		name: "active, early PD 3.0, VDO 1.0", words: []uint32{ack20, idActive, 0, 0, activeWord(0)},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-early"}, objects: 5,
		assumed: []Assumption{AssumedEarlyForm},
	},
	{
		name: "an identity under a vendor's SVID", words: []uint32{0x1E4EA041, idPassive, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "data", "data", "data", "data"}, objects: 0,
		assumed: []Assumption{ForeignIdentity},
	},
	{
		name: "active, VDO 1.2", words: []uint32{ack20, idActive, 0, 0, activeWord(2), 0x46500009},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1-v12", "active-cable-2-v12"}, objects: 6,
	},
	{
		name: "active, VDO 1.3", words: []uint32{ack20, idActive, 0, 0, activeWord(3), 0x46503209},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1", "active-cable-2"}, objects: 6,
	},
	{
		name: "active, two words and VDO 1.0", words: []uint32{ack20, idActive, 0, 0, activeWord(0), 0x46500009},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1-v12", "active-cable-2-v12"}, objects: 6,
		assumed: []Assumption{AssumedForm},
	},
	{
		name: "active, two words and VDO 1.1", words: []uint32{ack20, idActive, 0, 0, activeWord(1), 0x46500009},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1-v12", "active-cable-2-v12"}, objects: 6,
		assumed: []Assumption{AssumedForm},
	},
	{
		name: "active, one word and VDO 1.1", words: []uint32{ack20, idActive, 0, 0, activeWord(1)},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-early"}, objects: 5,
		assumed: []Assumption{AssumedForm},
	},
	{
		name: "active, one word and VDO 1.2", words: []uint32{ack20, idActive, 0, 0, activeWord(2)},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-early"}, objects: 5,
		assumed: []Assumption{AssumedForm},
	},
	{
		name: "active, VDO 1.3 without its second word", words: []uint32{ack20, idActive, 0, 0, activeWord(3)},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1"}, objects: 6,
		assumed: []Assumption{AssumedForm, MissingObjects},
	},
	{
		name: "active, two words and a reserved VDO version", words: []uint32{ack20, idActive, 0, 0, activeWord(7), 0x46503209},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1", "active-cable-2"}, objects: 6,
		assumed: []Assumption{AssumedForm},
	},
	{
		name: "VPD", words: []uint32{ack20, idVPD, 0, 0, 0x110050C3},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "vpd"}, objects: 5,
	},
	{
		name: "VPD that a PD 2.0 port asked", words: []uint32{ack10, idVPD, 0, 0, 0x110050C3},
		layouts: []string{"vdm-header", "id-header-pd2", "cert-stat", "product", "vpd"}, objects: 5,
		assumed: []Assumption{AssumedVPD},
	},
	{
		name: "not a cable", words: []uint32{ack20, idNothing, 0, 0},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product"}, objects: 4,
	},
	{
		name: "not a cable, one word too many", words: []uint32{ack20, idNothing, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "data"}, objects: 4,
		assumed: []Assumption{SurplusObjects},
	},
	{
		name: "reserved product type", words: []uint32{ack20, idOdd, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "data"}, objects: 0,
	},
	{
		name: "passive, one word too many", words: []uint32{ack20, idPassive, 0, 0, 0x120A2643, 0},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "passive-cable", "data"}, objects: 5,
		assumed: []Assumption{SurplusObjects},
	},
	{
		name: "passive PD 2.0, one word too many", words: []uint32{ack10, idPassive, 0, 0, 0x00084051, 0},
		layouts: []string{"vdm-header", "id-header-pd2", "cert-stat", "product", "passive-cable-pd2", "data"}, objects: 5,
		assumed: []Assumption{SurplusObjects},
	},
	{
		name: "active, one word too many", words: []uint32{ack20, idActive, 0, 0, activeWord(3), 0x46503209, 1},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1", "active-cable-2", "data"}, objects: 6,
		assumed: []Assumption{SurplusObjects},
	},
	{
		name: "passive without its cable word", words: []uint32{ack20, idPassive, 0, 0},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product"}, objects: 5,
		assumed: []Assumption{MissingObjects},
	},
	{
		name: "identity that stops after the ID header", words: []uint32{ack20, idPassive},
		layouts: []string{"vdm-header", "id-header"}, objects: 5,
		assumed: []Assumption{MissingObjects},
	},
	{
		name: "identity without any object", words: []uint32{ack20},
		layouts: []string{"vdm-header"}, objects: 0,
	},
	{
		name: "request", words: []uint32{0xFF00A001}, layouts: []string{"vdm-header"},
	},
	{
		name: "NAK", words: []uint32{ack20 + 0x40}, layouts: []string{"vdm-header"},
	},
	{
		name: "BUSY", words: []uint32{ack20 + 0x80}, layouts: []string{"vdm-header"},
	},
	{
		name: "NAK with a word that does not belong there", words: []uint32{ack20 + 0x40, idPassive},
		layouts: []string{"vdm-header", "data"},
	},
	{
		name: "unstructured", words: []uint32{0xF0550001, 0x11, 0x22}, layouts: []string{"unstructured-header", "data", "data"},
	},
	{
		name: "SVIDs", words: []uint32{0xFF00A042, 0x8087FF01, 0}, layouts: []string{"vdm-header", "svid-pair", "svid-pair"},
	},
	{
		name: "Thunderbolt modes", words: []uint32{0x8087A043, 0x020B0001}, layouts: []string{"vdm-header", "thunderbolt-cable"},
	},
	{
		name: "DisplayPort modes", words: []uint32{0xFF01A843, 0x401C1C1C}, layouts: []string{"vdm-header", "displayport-cable"},
	},
	{
		name: "modes of a vendor", words: []uint32{0xF055A043, 0x00000001, 0x00000002}, layouts: []string{"vdm-header", "data", "data"},
	},
	{
		name: "Discover SVIDs under the wrong SVID", words: []uint32{0x8087A042, 0x8087FF01}, layouts: []string{"vdm-header", "data"},
	},
	{
		name: "Enter Mode", words: []uint32{0x8087A144, 0x00000001}, layouts: []string{"vdm-header", "data"},
	},
	{
		name: "PD 2.0 answer of a PD 3 marker", ctx: Context{Plug: PlugNear, Revision: Revision3},
		words:   []uint32{ack10, idPassive, 0, 0, 0x00084651},
		layouts: []string{"vdm-header", "id-header-pd2", "cert-stat", "product", "passive-cable-pd2"}, objects: 5,
	},
	{
		name: "structured 2.0 in a PD 2.0 message", ctx: Context{Plug: PlugNear, Revision: Revision2},
		words:   []uint32{ack20, idPassive, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "passive-cable"}, objects: 5,
	},
	{
		name: "reserved structured version", words: []uint32{0xFF00C041, idPassive, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "passive-cable"}, objects: 5,
		assumed: []Assumption{AssumedVersion2},
	},
	{
		name: "reserved structured version, SVIDs", words: []uint32{0xFF00E042, 0}, layouts: []string{"vdm-header", "svid-pair"},
		assumed: []Assumption{AssumedVersion2},
	},
	{
		name: "the other reserved structured version, SVIDs", words: []uint32{0xFF00C042, 0}, layouts: []string{"vdm-header", "svid-pair"},
		assumed: []Assumption{AssumedVersion2},
	},
	{
		name: "far plug", ctx: Context{Plug: PlugFar, Revision: Revision3}, words: []uint32{ack20, idActive, 0, 0, activeWord(3), 0x46503209},
		layouts: []string{"vdm-header", "id-header", "cert-stat", "product", "active-cable-1", "active-cable-2"}, objects: 6,
	},
	{
		// On SOP 011b is a power supply, and what follows its identity is no cable word.
		name: "partner", ctx: Context{Plug: PlugPartner, Revision: Revision3}, words: []uint32{ack20, idPassive, 0, 0, 0x120A2643},
		layouts: []string{"vdm-header", "id-header-partner", "cert-stat", "product", "data"},
	},
	{
		name: "partner's modes", ctx: Context{Plug: PlugPartner}, words: []uint32{0x8087A043, 0x00000001}, layouts: []string{"vdm-header", "data"},
	},
	{
		name: "partner's DisplayPort modes", ctx: Context{Plug: PlugPartner}, words: []uint32{0xFF01A043, 0x1C46}, layouts: []string{"vdm-header", "data"},
	},
	{
		name: "headerless", ctx: Context{Headerless: true}, words: []uint32{idPassive, 0, 0, 0x120A2643},
		layouts: []string{"id-header", "cert-stat", "product", "passive-cable"}, objects: 5,
		assumed: []Assumption{AssumedIdentity, AssumedPD3},
	},
	{
		name: "headerless, PD 2.0 given", ctx: Context{Headerless: true, Revision: Revision2}, words: []uint32{idPassive, 0, 0, 0x00084051},
		layouts: []string{"id-header-pd2", "cert-stat", "product", "passive-cable-pd2"}, objects: 5,
		assumed: []Assumption{AssumedIdentity, RevisionFromCaller},
	},
	{
		name: "headerless, PD 3.x given", ctx: Context{Headerless: true, Revision: Revision3}, words: []uint32{idActive, 0, 0, activeWord(3), 0x46503209},
		layouts: []string{"id-header", "cert-stat", "product", "active-cable-1", "active-cable-2"}, objects: 6,
		assumed: []Assumption{AssumedIdentity, RevisionFromCaller},
	},
	{
		name: "headerless, the ID header alone", ctx: Context{Headerless: true}, words: []uint32{idVPD},
		layouts: []string{"id-header"}, objects: 5,
		assumed: []Assumption{AssumedIdentity, AssumedPD3, MissingObjects},
	},
	{
		name: "headerless, without its cable word", ctx: Context{Headerless: true}, words: []uint32{idPassive, 0, 0},
		layouts: []string{"id-header", "cert-stat", "product"}, objects: 5,
		assumed: []Assumption{AssumedIdentity, AssumedPD3, MissingObjects},
	},
	{name: "empty"},
	{name: "empty, headerless", ctx: Context{Headerless: true}},
}

func TestReplies(t *testing.T) {
	for _, c := range replies {
		t.Run(c.name, func(t *testing.T) {
			r := Decode(c.words, c.ctx)
			var got []string
			for i := range r.Words() {
				got = append(got, r.Layout(i).Name())
			}
			if !slices.Equal(got, c.layouts) {
				t.Errorf("layouts\n got %v\nwant %v", got, c.layouts)
			}
			if r.Objects() != c.objects {
				t.Errorf("should have %d objects, want %d", r.Objects(), c.objects)
			}
			want := len(c.words)
			if c.ctx.Headerless {
				want++
			}
			if r.Got() != want {
				t.Errorf("got %d objects, want %d", r.Got(), want)
			}
			if as := r.Assumptions(); !slices.Equal(as, c.assumed) {
				t.Errorf("assumptions\n got %v\nwant %v", as, c.assumed)
			}
			if !slices.Equal(r.Words(), c.words) || r.Context() != c.ctx {
				t.Error("words or context changed")
			}
			// A word beyond the last, or before the first, has some layout and does
			// no harm.
			if r.Layout(len(c.words)+9) == nil || r.Layout(-1) == nil {
				t.Error("no layout outside the words")
			}
			// The typed words are those with the layouts.
			has := func(name string) bool { return slices.Contains(c.layouts, name) }
			_, id := r.ID()
			_, cert := r.CertStat()
			_, product := r.Product()
			_, pd2 := r.PD2()
			_, passive := r.Passive()
			_, active1 := r.Active1()
			_, active2 := r.Active2()
			_, vpd := r.VPD()
			for _, p := range []struct {
				what      string
				got, want bool
			}{
				{"ID", id, has("id-header") || has("id-header-pd2") || has("id-header-partner")},
				{"CertStat", cert, has("cert-stat")},
				{"Product", product, has("product")},
				{"PD2", pd2, has("passive-cable-pd2") || has("active-cable-pd2")},
				{"Passive", passive, has("passive-cable")},
				{"Active1", active1, has("active-cable-1") || has("active-cable-1-v12") || has("active-cable-early")},
				{"Active2", active2, has("active-cable-2") || has("active-cable-2-v12")},
				{"VPD", vpd, has("vpd")},
			} {
				if p.got != p.want {
					t.Errorf("%s is there: %v, want %v", p.what, p.got, p.want)
				}
			}
			wantForm := ActiveFormNone
			switch {
			case has("active-cable-early"):
				wantForm = ActiveFormEarly
			case has("active-cable-1-v12"):
				wantForm = ActiveFormV12
			case has("active-cable-1"):
				wantForm = ActiveFormCurrent
			}
			if r.ActiveForm() != wantForm {
				t.Errorf("form %d, want %d", r.ActiveForm(), wantForm)
			}
		})
	}
}

// Every assumption says what it is.
func TestAssumptionsAreWorded(t *testing.T) {
	seen := map[string]bool{}
	for a := AssumedIdentity; a <= MissingObjects; a++ {
		s := a.String()
		if s == "" || seen[s] || s[len(s)-1] == '.' || s == "assumption "+string(rune('0'+a)) {
			t.Errorf("%d: %q", a, s)
		}
		seen[s] = true
	}
}

func TestOtherwise(t *testing.T) {
	words := []uint32{idPassive, 0, 0, 0x00084651}
	other, ok := Decode(words, Context{Headerless: true}).Otherwise()
	if !ok {
		t.Fatal("headerless words of unknown revision have two readings")
	}
	if got := other.Layout(3).Name(); got != "passive-cable-pd2" || !other.PD2Layout() {
		t.Errorf("the other reading has %s", got)
	}
	if !slices.Equal(other.Words(), words) {
		t.Error("the other reading has other words")
	}
	if _, again := other.Otherwise(); again {
		t.Error("the other reading has a third")
	}
	for name, r := range map[string]Reply{
		"a header decides":      Decode([]uint32{ack20, idPassive, 0, 0, 0}, Context{}),
		"the caller decides":    Decode(words, Context{Headerless: true, Revision: Revision3}),
		"nothing can be read":   Decode(nil, Context{Headerless: true}),
		"the caller gave PD1":   Decode(words, Context{Headerless: true, Revision: Revision1}),
		"a NAK has no readings": Decode([]uint32{ack20 + 0x40}, Context{}),
	} {
		if _, ok := r.Otherwise(); ok {
			t.Errorf("%s, and yet there is another reading", name)
		}
	}
}

func TestBlank(t *testing.T) {
	for _, c := range []struct {
		words []uint32
		ctx   Context
		want  bool
	}{
		{[]uint32{ack20, 0, 0, 0, 0}, Context{}, true},
		{[]uint32{ack20, 0, 0, 0, 1}, Context{}, false},
		{[]uint32{ack20}, Context{}, false},
		{[]uint32{0, 0, 0, 0}, Context{Headerless: true}, true},
		{nil, Context{}, false},
		{nil, Context{Headerless: true}, false},
	} {
		if got := Decode(c.words, c.ctx).Blank(); got != c.want {
			t.Errorf("%08X: blank %v", c.words, got)
		}
	}
}

// Headerless words are an identity; with a header the header says so.
func TestIdentity(t *testing.T) {
	for _, c := range []struct {
		words []uint32
		ctx   Context
		want  bool
	}{
		{[]uint32{ack10, idPassive}, Context{}, true},
		{[]uint32{ack21, idPassive}, Context{}, true},
		{[]uint32{ack20 + 0x40}, Context{}, false},
		{[]uint32{0xFF00A001}, Context{}, false},
		{[]uint32{0xFF00A042, 0}, Context{}, false},
		{[]uint32{idPassive}, Context{Headerless: true}, true},
		{nil, Context{Headerless: true}, false},
		{nil, Context{}, false},
	} {
		r := Decode(c.words, c.ctx)
		if r.Identity() != c.want {
			t.Errorf("%08X: identity %v", c.words, r.Identity())
		}
		if _, ok := r.Header(); ok != (!c.ctx.Headerless && len(c.words) > 0) {
			t.Errorf("%08X: header %v", c.words, ok)
		}
	}
}
