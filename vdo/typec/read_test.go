package typec_test

import (
	"errors"
	"io/fs"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/typec"
)

const passiveWords = "port0-cable near 3.x headerless 18602FA1 00000000 01020100 000A2643"

func TestRead(t *testing.T) {
	activeWords := []string{
		"port0-cable near 3.x headerless 24602FA1 00000000 01020100 0068585B 465A0209",
		"port0-cable near 3.x 8087A043 024B0001",
		"port0-cable near 3.x FF01A843 501C1C1C",
		"port0-cable far 3.x 8087A043 024B0001",
	}
	tests := []struct {
		name string
		tree fs.FS
		want outcome
	}{
		{"passive", passive.fs(), outcome{Messages: []string{passiveWords}}},
		{"active, two words, modes at both plugs", active.fs(), outcome{Messages: activeWords}},
		{"active, nested directories only", active.nested().fs(), outcome{Messages: activeWords}},
		{"active, class links and nested directories", active.with(active.nested()).fs(), outcome{Messages: activeWords}},
		{"PD 2.0", pd2.fs(), outcome{Messages: []string{
			"port0-cable near 2.0 headerless 18002FA1 00000000 01020100 00082031",
		}}},
		{"VPD", vpd.fs(), outcome{Messages: []string{
			"port0-cable near 3.x headerless 70602FA1 00000000 01020100 00004A29",
		}}},
		{"active, one word", active.with(files{
			"port0-cable/identity/product_type_vdo1": "0x0008585b",
			"port0-cable/identity/product_type_vdo2": "0x00000000",
		}).fs(), outcome{Messages: append([]string{
			"port0-cable near 3.x headerless 24602FA1 00000000 01020100 0008585B",
		}, activeWords[1:]...)}},
		{"passive without its word", passive.with(files{
			"port0-cable/identity/product_type_vdo1": "0x00000000",
		}).fs(), outcome{Messages: []string{"port0-cable near 3.x headerless 18602FA1 00000000 01020100"}}},
		{"passive with a word more than it has", passive.with(files{
			"port0-cable/identity/product_type_vdo2": "0x00000001",
		}).fs(), outcome{Messages: []string{passiveWords + " 00000001"}}},
		{"modes of PD 2.0", pd2.with(files{
			"port0-plug0/number_of_alternate_modes": "1",
			"port0-plug0/port0-plug0.0/svid":        "8087",
			"port0-plug0/port0-plug0.0/mode":        "1",
			"port0-plug0/port0-plug0.0/vdo":         "0x00030001",
		}).fs(), outcome{Messages: []string{
			"port0-cable near 2.0 headerless 18002FA1 00000000 01020100 00082031",
			"port0-cable near 2.0 80878043 00030001",
		}}},
		{"two modes of one SVID, the second found first", passive.with(files{
			"port0-plug0/number_of_alternate_modes": "2",
			"port0-plug0/port0-plug0.0/svid":        "2fa1",
			"port0-plug0/port0-plug0.0/mode":        "2",
			"port0-plug0/port0-plug0.0/vdo":         "0x00000022",
			"port0-plug0/port0-plug0.1/svid":        "2fa1",
			"port0-plug0/port0-plug0.1/mode":        "1",
			"port0-plug0/port0-plug0.1/vdo":         "0xc0000011",
		}).fs(), outcome{Messages: []string{passiveWords, "port0-cable near 3.x 2FA1A043 C0000011 00000022"}}},
		{"order of discovery is by number", passive.with(files{
			"port0-plug0/number_of_alternate_modes": "2",
			"port0-plug0/port0-plug0.10/svid":       "2fa1",
			"port0-plug0/port0-plug0.10/vdo":        "0x00000010",
			"port0-plug0/port0-plug0.9/svid":        "2fa1",
			"port0-plug0/port0-plug0.9/vdo":         "0x00000009",
		}).fs(), outcome{Messages: []string{passiveWords, "port0-cable near 3.x 2FA1A043 00000009 00000010"}}},
		{"modes in the obsolete form", passive.with(files{
			"port0-plug0/number_of_alternate_modes":      "-",
			"port0-plug0/svid-8087/svid":                 "8087",
			"port0-plug0/svid-8087/mode1/vdo":            "0x00030001",
			"port0-plug0/svid-8087/mode1/active":         "no",
			"port0-plug0/svid-8087/mode2/vdo":            "0x00000002",
			"port0-plug0/svid-8087/mode9/vdo":            "0x00000009",
			"port0-plug0/power/runtime_active_time":      "0",
			"port0-plug0/power/mode1/runtime_active_kid": "0",
		}).fs(), outcome{Messages: []string{passiveWords, "port0-cable near 3.x 8087A043 00030001 00000002"}}},
		{"kernel before October 2020: no product type words", passive.with(files{
			"port0-cable/identity/product_type_vdo1": "-",
			"port0-cable/identity/product_type_vdo2": "-",
			"port0-cable/identity/product_type_vdo3": "-",
		}).fs(), outcome{Messages: []string{"port0-cable near 3.x headerless 18602FA1 00000000 01020100"}}},
		{"revision absent", passive.with(files{"port0-cable/usb_power_delivery_revision": "-"}).fs(),
			outcome{Messages: []string{strings.Replace(passiveWords, "3.x", "unknown", 1)}}},
		{"revision 0.0", passive.with(files{"port0-cable/usb_power_delivery_revision": "0.0"}).fs(),
			outcome{Messages: []string{strings.Replace(passiveWords, "3.x", "unknown", 1)}}},
		{"revision wrong", passive.with(files{"port0-cable/usb_power_delivery_revision": "three"}).fs(),
			outcome{
				Messages: []string{strings.Replace(passiveWords, "3.x", "unknown", 1)},
				Problems: []string{"port0-cable | port0-cable/usb_power_delivery_revision: malformed"},
			}},

		{"nothing plugged in", files{"port0/data_role": "[host] device"}.fs(),
			outcome{Problems: []string{"port0 | port0: no cable shown"}}},
		{"partner without cable", port.fs(), outcome{Problems: []string{"port0 | port0: no cable shown"}}},
		{"no ports", fstest.MapFS{}, outcome{}},
		{"cable without identity", port.with(files{"port0-cable/type": "passive"}).fs(),
			outcome{Problems: []string{"port0-cable | port0-cable/identity: no identity shown"}}},
		{"identity not there yet", passive.with(files{
			"port0-cable/identity/id_header":         "0x0",
			"port0-cable/identity/product":           "0x0",
			"port0-cable/identity/product_type_vdo1": "0x0",
		}).fs(), outcome{Problems: []string{"port0-cable | port0-cable/identity: identity all zero"}}},
		{"no ID header", passive.with(files{"port0-cable/identity/id_header": "-"}).fs(),
			outcome{Problems: []string{"port0-cable | port0-cable/identity/id_header: file does not exist"}}},
		{"an attribute empty", passive.with(files{"port0-cable/identity/cert_stat": "", "port0/orientation": ""}).fs(),
			outcome{
				Messages: []string{"port0-cable near 3.x headerless 18602FA1"},
				Problems: []string{
					"port0 | port0/orientation: empty",
					"port0-cable | port0-cable/identity/cert_stat: empty",
				},
			}},
		{"words malformed", passive.with(files{
			"port0-cable/identity/product_type_vdo1": "0x000a2643f",
			"port0-cable/identity/product_type_vdo2": "0x",
			"port0-cable/identity/product_type_vdo3": "zero",
		}).fs(), outcome{
			Messages: []string{"port0-cable near 3.x headerless 18602FA1 00000000 01020100"},
			Problems: []string{
				"port0-cable | port0-cable/identity/product_type_vdo1: malformed",
				"port0-cable | port0-cable/identity/product_type_vdo2: malformed",
				"port0-cable | port0-cable/identity/product_type_vdo3: malformed",
			},
		}},
		{"not printable", passive.with(files{"port0-cable/plug_type": "type\x1b[2J", "port0/data_role": "\xff"}).fs(),
			outcome{
				Messages: []string{passiveWords},
				Problems: []string{
					"port0 | port0/data_role: malformed",
					"port0-cable | port0-cable/plug_type: malformed",
				},
			}},
		{"too long", passive.with(files{"port0-cable/plug_type": strings.Repeat("x", 1<<16)}).fs(),
			outcome{
				Messages: []string{passiveWords},
				Problems: []string{"port0-cable | port0-cable/plug_type: too long"},
			}},
		{"padded with zero bytes by an archiver", passive.with(files{
			"port0-cable/identity/id_header": "0x18602fa1\n" + strings.Repeat("\x00", 4085),
		}).padded(), outcome{Messages: []string{passiveWords}}},
		{"unreadable attributes", failing{
			MapFS: passive.fs(),
			stat:  map[string]error{"port0-cable/type": syscall.EACCES},
			open:  map[string]error{"port0-cable/plug_type": syscall.EACCES},
			read:  map[string]error{"port0-cable/identity/product": syscall.EIO},
		}, outcome{
			Messages: []string{"port0-cable near 3.x headerless 18602FA1 00000000"},
			Problems: []string{
				"port0-cable | port0-cable/type: unreadable",
				"port0-cable | port0-cable/plug_type: unreadable",
				"port0-cable | port0-cable/identity/product: unreadable",
			},
		}},
		{"unreadable directories", failing{
			MapFS: active.fs(),
			stat:  map[string]error{"port0-partner": syscall.EACCES},
			open:  map[string]error{"port0-plug0": syscall.EACCES},
		}, outcome{
			Messages: []string{activeWords[0], activeWords[3]},
			Problems: []string{
				"port0 | port0-partner: unreadable",
				"port0-cable | port0-plug0: unreadable",
				"port0-cable | port0-plug0/number_of_alternate_modes: modes missing or too many",
			},
		}},
		{"mode without word, mode without SVID, wrong count", active.with(files{
			"port0-plug0/port0-plug0.0/vdo":       "-",
			"port0-plug0/port0-plug0.0/mode1/vdo": "-",
			"port0-plug0/port0-plug0.1/svid":      "-",
			"port0-plug1/port0-plug1.0/mode":      "7",
			"port0-plug1/port0-plug1.1/svid":      "18087",
			"port0-plug1/port0-plug1.1/vdo":       "0x00000001",
		}).fs(), outcome{
			Messages: []string{activeWords[0], activeWords[3]},
			Problems: []string{
				"port0-cable | port0-plug0/port0-plug0.0/vdo: file does not exist",
				"port0-cable | port0-plug0/port0-plug0.1/svid: file does not exist",
				"port0-cable | port0-plug1/port0-plug1.0/mode: malformed",
				"port0-cable | port0-plug1/port0-plug1.1/svid: malformed",
				"port0-cable | port0-plug1/number_of_alternate_modes: modes missing or too many",
			},
		}},
		{"unreadable cable", failing{
			MapFS: passive.fs(),
			stat:  map[string]error{"port0-cable": syscall.EACCES},
		}, outcome{Problems: []string{"port0 | port0-cable: unreadable"}}},
		{"a mode that is a file", passive.with(files{"port0-plug0/port0-plug0.0": "odd"}).fs(), outcome{
			Messages: []string{passiveWords},
			Problems: []string{"port0-cable | port0-plug0/port0-plug0.0: not a directory"},
		}},
		{"an attribute that is a directory", passive.with(files{
			"port0-cable/type": "-", "port0-cable/type/x": "",
		}).fs(), outcome{
			Messages: []string{passiveWords},
			Problems: []string{"port0-cable | port0-cable/type: unreadable"},
		}},
		{"a port that is a file hides nothing", passive.with(files{"port1": "odd"}).fs(), outcome{
			Messages: []string{passiveWords},
			Problems: []string{"port1 | port1: not a directory"},
		}},
		{"cable copied without its port", files{
			"port0-cable/identity/id_header": "0x18602fa1",
		}.fs(), outcome{
			Messages: []string{"port0-cable near unknown headerless 18602FA1"},
			Problems: []string{"port0 | port0: file does not exist"},
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ports, err := typec.Read(tt.tree)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, outcomes(ports)); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// padded leaves out the line feed, as the content brings its own.
func (f files) padded() fstest.MapFS {
	m := f.fs()
	for name, text := range f {
		if strings.HasSuffix(text, "\x00") {
			m[name].Data = []byte(text)
		}
	}
	return m
}

func TestOrderAndOddNames(t *testing.T) {
	tree := files{}
	for _, name := range []string{"port10", "port9", "port0", "port2-cable", "port99999999999999999999", "portX", "port", "port1-foreign", "port3-", "usbc0", "port0-partner"} {
		tree[name+"/uevent"] = ""
	}
	tree["README"] = "a foreign file"
	ports, err := typec.Read(tree.fs())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range ports {
		got = append(got, p.Name)
	}
	want := []string{"port0", "port2", "port9", "port10", "port99999999999999999999"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Two ports of which one is in a bad way: the other is read as if alone.
func TestNoPortHidesAnother(t *testing.T) {
	tree := passive.with(files{"port1/data_role": "", "port1-cable/identity/id_header": "nonsense"})
	ports, err := typec.Read(tree.fs())
	if err != nil {
		t.Fatal(err)
	}
	want := outcome{
		Messages: []string{passiveWords},
		Problems: []string{
			"port1 | port1/data_role: empty",
			"port1-cable | port1-cable/identity/id_header: malformed",
		},
	}
	if diff := cmp.Diff(want, outcomes(ports)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestFacts(t *testing.T) {
	ports, err := typec.Read(active.with(files{
		"port0-partner/identity/id_header": "0x6c602fa1",
	}).fs())
	if err != nil {
		t.Fatal(err)
	}
	p := ports[0]
	facts := func(list []typec.Attribute) (out []string) {
		for _, a := range list {
			out = append(out, a.Name()+"="+a.Current())
		}
		return out
	}
	want := []string{
		"data_role=host", "power_role=sink", "port_type=dual", "vconn_source=no",
		"power_operation_mode=usb_power_delivery", "usb_power_delivery_revision=3.0",
		"usb_typec_revision=1.2", "orientation=normal",
	}
	if diff := cmp.Diff(want, facts(p.Facts)); diff != "" {
		t.Errorf("port (-want +got)\n%s", diff)
	}
	want = []string{"usb_power_delivery_revision=3.0", "supports_usb_power_delivery=yes"}
	if diff := cmp.Diff(want, facts(p.Partner.Facts)); diff != "" {
		t.Errorf("partner (-want +got)\n%s", diff)
	}
	if got := p.Partner.Identity.IDHeader.Value; got != 0x6c602fa1 {
		t.Errorf("partner's ID header %08X", got)
	}
	if !p.Partner.Identity.CertStat.Absent() || p.Partner.Identity.CertStat.Known() {
		t.Errorf("partner's Cert Stat: %v, want absent", p.Partner.Identity.CertStat.Err)
	}
	c := p.Cable
	want = []string{"type=active", "plug_type=type-c", "usb_power_delivery_revision=3.1", "description=Thunderbolt3", "active=yes"}
	got := facts([]typec.Attribute{c.Type, c.PlugType, c.PDRevision, c.Near.Modes[0].Description, c.Near.Modes[0].Active})
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("cable (-want +got)\n%s", diff)
	}
	if got := c.Near.Modes[1]; got.SVID.Value != vdo.SVIDDisplayPort || got.Index.Value != 1 || got.Word.Value != 0x501c1c1c {
		t.Errorf("second mode: %04X %d %08X", got.SVID.Value, got.Index.Value, got.Word.Value)
	}
}

// The messages decode to what the words were composed to say.
func TestSummaries(t *testing.T) {
	type said struct {
		Product                 vdo.ProductType
		PD2                     bool
		Amps, Volts             int
		Speed                   vdo.Speed
		EPR, FarPlug, Retimer   bool
		MaxTemperature          int
		VBUSMilliohm            int
		ThunderboltLane, DPLane float64
	}
	tests := []struct {
		name string
		tree files
		plug vdo.Plug
		want said
	}{
		{"passive", passive, vdo.PlugNear, said{Product: vdo.PassiveType, Amps: 5, Volts: 50, Speed: vdo.USB4Gen3, EPR: true}},
		{"active", active, vdo.PlugNear, said{Product: vdo.ActiveType, Amps: 5, Volts: 20, Speed: vdo.USB4Gen3, FarPlug: true,
			Retimer: true, MaxTemperature: 70, ThunderboltLane: 20, DPLane: 20}},
		{"active, far plug", active, vdo.PlugFar, said{ThunderboltLane: 20}},
		{"PD 2.0", pd2, vdo.PlugNear, said{Product: vdo.PassiveType, PD2: true, Amps: 3, Speed: vdo.USB32Gen1}},
		{"VPD", vpd, vdo.PlugNear, said{Product: vdo.VPDType, Amps: 5, Volts: 20, VBUSMilliohm: 40}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ports, err := typec.Read(tt.tree.fs())
			if err != nil {
				t.Fatal(err)
			}
			s := summary(ports[0].Cable, tt.plug)
			got := said{
				Product: s.Product.Or(0), PD2: s.PD2, Amps: s.Amps.Or(0), Volts: s.Volts.Or(0), Speed: s.Speed.Or(0),
				EPR: s.EPR.Or(false), FarPlug: s.FarPlug.Or(false), Retimer: s.Retimer.Or(false),
				MaxTemperature: s.MaxTemperature.Or(0), VBUSMilliohm: s.VBUSMilliohm.Or(0),
				ThunderboltLane: s.Thunderbolt.Or(0).Speed().LaneGbps(), DPLane: s.DisplayPort.Or(0).LaneGbps(),
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

func TestRemarks(t *testing.T) {
	const hidden = "the kernel does not show the VDM header: "
	const left = "zero, which is how the kernel shows a word that did not come, and left out: "
	tests := []struct {
		name string
		tree files
		want [][]string // for each message
	}{
		{"PD 2.0", pd2, [][]string{{
			hidden + "usb_power_delivery_revision is 2.0, and the layouts follow it",
			left + "product_type_vdo2, product_type_vdo3",
		}}},
		{"revision 0.0 and modes", active.with(files{
			"port0-cable/usb_power_delivery_revision": "0.0",
			"port0-plug0/port0-plug0.1/mode":          "2",
			"port0-plug1/port0-plug1.0/vdo":           "-",
			"port0-plug1/port0-plug1.0/mode1/vdo":     "what",
			"port0-plug1/port0-plug1.0/mode2/vdo":     "0x00000002",
		}), [][]string{
			{hidden + "usb_power_delivery_revision is 0.0, so nothing gives the PD revision", left + "product_type_vdo3"},
			{hidden + "8087A043 is composed from the SVID, with structured version 2.0 assumed: usb_power_delivery_revision is 0.0"},
		}},
		{"a gap", passive.with(files{
			"port0-cable/usb_power_delivery_revision": "",
			"port0-cable/identity/product":            "what",
		}), [][]string{{
			hidden + "usb_power_delivery_revision could not be read, so nothing gives the PD revision",
			"product could not be read, so the words end before it; without a place: product_type_vdo1 000A2643",
		}}},
		{"an old kernel", files{
			"port0-cable/identity/id_header": "0x18602fa1",
			"port0-cable/identity/cert_stat": "0x0",
			"port0-cable/identity/product":   "0x0",
		}, [][]string{{
			hidden + "usb_power_delivery_revision is absent, so nothing gives the PD revision",
			"product_type_vdo1 is absent, so the words end before it",
		}}},
		{"PD 3.1", passive, [][]string{{
			hidden + "usb_power_delivery_revision is 3.1, and the layouts follow it; had the marker been asked as one of PD 2.0, it would have answered in other layouts, and that does not show",
			left + "product_type_vdo2, product_type_vdo3",
		}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ports, err := typec.Read(tt.tree.fs())
			if err != nil {
				t.Fatal(err)
			}
			var got [][]string
			for _, m := range ports[0].Cable.Messages() {
				got = append(got, m.Remarks)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

func TestProblemText(t *testing.T) {
	tree := failing{
		MapFS: passive.with(files{"port0-cable/identity/product": "0xzz"}).fs(),
		read:  map[string]error{"port0-cable/plug_type": syscall.EIO},
		open:  map[string]error{"port0-cable/type": syscall.EACCES},
	}
	ports, err := typec.Read(tree)
	if err != nil {
		t.Fatal(err)
	}
	ps := ports[0].Cable.Problems
	var got []string
	for _, p := range ps {
		got = append(got, p.Error())
	}
	want := []string{
		"port0-cable/type: cannot be read: permission denied; read it as a user who may, or look at its mode",
		"port0-cable/plug_type: cannot be read: input/output error; read it again: the driver of the port, or the disk, refused",
		`port0-cable/identity/product: "0xzz": is not such a number; a word is at most 8 hex digits, like 0x18002fa1`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if !errors.Is(ps[0], fs.ErrPermission) || !errors.Is(ps[0], typec.ErrUnreadable) || !errors.Is(ps[1], syscall.EIO) {
		t.Errorf("causes are lost: %v, %v", ps[0].Unwrap(), ps[1].Unwrap())
	}
}

func TestNoCable(t *testing.T) {
	const (
		nothing   = "port0: no cable is shown, and nothing is plugged in; plug in a cable with a device or charger at its other end"
		something = "port0: something is plugged in, but no cable is shown; the cable has no marker, or the port's driver does not show it: a sniffer tells"
	)
	alone := files{"port0/data_role": "[host] device"}.fs()
	hidden := failing{MapFS: port.fs(), stat: map[string]error{
		"port0-partner": syscall.EACCES, "port0/port0-partner": syscall.EACCES,
	}}
	for _, tt := range []struct {
		name string
		tree fs.FS
		want string
	}{{"alone", alone, nothing}, {"with partner", port.fs(), something}, {"with a partner that cannot be read", hidden, something}} {
		ports, err := typec.Read(tt.tree)
		if err != nil {
			t.Fatal(err)
		}
		ps := ports[0].Problems
		if got := ps[len(ps)-1].Error(); got != tt.want {
			t.Errorf("%s: %s", tt.name, got)
		}
	}
}

func TestClassItself(t *testing.T) {
	tree := failing{MapFS: passive.fs(), open: map[string]error{".": fs.ErrNotExist}}
	if ports, err := typec.Read(tree); !errors.Is(err, typec.ErrNoClass) || len(ports) != 0 {
		t.Errorf("no directory: %v, %v", ports, err)
	}
	tree.open["."] = syscall.EACCES
	if ports, err := typec.Read(tree); !errors.Is(err, typec.ErrUnreadable) || !errors.Is(err, fs.ErrPermission) || len(ports) != 0 {
		t.Errorf("not allowed: %v, %v", ports, err)
	}
	var p *typec.Problem
	if _, err := typec.Read(tree); !errors.As(err, &p) {
		t.Errorf("%T is no *Problem", err)
	}
}
