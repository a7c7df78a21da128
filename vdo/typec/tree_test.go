package typec_test

import (
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"strings"
	"testing/fstest"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/typec"
)

// The trees below follow the kernel's ABI documents sysfs-class-typec and
// sysfs-bus-typec (Linux 6.12): names, places and values are theirs. The words
// are composed by hand from the bit tables named beside them.

// files is a tree: path to content, without the line feed the kernel ends with.
type files map[string]string

// with gives a copy with other files added or put in place of those here. The
// content "-" takes a file away.
func (f files) with(other files) files {
	out := maps.Clone(f)
	for name, text := range other {
		if text == "-" {
			delete(out, name)
			continue
		}
		out[name] = text
	}
	return out
}

func (f files) fs() fstest.MapFS {
	m := fstest.MapFS{}
	for name, text := range f {
		m[name] = &fstest.MapFile{Data: []byte(text + "\n"), Mode: 0o444}
	}
	return m
}

// nested puts the cable inside the port and the plugs inside the cable, as the
// devices lie in /sys/devices, without the class's own links.
func (f files) nested() files {
	out := files{}
	for name, text := range f {
		top, rest, _ := strings.Cut(name, "/")
		switch port, part, ok := strings.Cut(top, "-"); {
		case ok && strings.HasPrefix(part, "plug"):
			top = path.Join(port, port+"-cable", top)
		case ok:
			top = path.Join(port, top)
		}
		out[path.Join(top, rest)] = text
	}
	return out
}

var (
	// A port with a charger behind the cable.
	port = files{
		"port0/data_role":                           "[host] device",
		"port0/power_role":                          "source [sink]",
		"port0/port_type":                           "[dual] source sink",
		"port0/vconn_source":                        "no",
		"port0/power_operation_mode":                "usb_power_delivery",
		"port0/usb_power_delivery_revision":         "3.0",
		"port0/usb_typec_revision":                  "1.2",
		"port0/orientation":                         "normal",
		"port0/uevent":                              "TYPEC_PORT=port0",
		"port0-partner/supports_usb_power_delivery": "yes",
		"port0-partner/usb_power_delivery_revision": "3.0",
	}

	// ID header: product type 011b in 29:27, connector 11b in 22:21, vendor 2FA1.
	// Cable word (PD R3.x, Passive Cable VDO table): Type-C 10b in 19:18, EPR in
	// 17, latency 0001b in 16:13, 50 V 11b in 10:9, 5 A 10b in 6:5, Gen 3 011b.
	passive = port.with(files{
		"port0-cable/type":                        "passive",
		"port0-cable/plug_type":                   "type-c",
		"port0-cable/usb_power_delivery_revision": "3.1",
		"port0-cable/identity/id_header":          "0x18602fa1",
		"port0-cable/identity/cert_stat":          "0x00000000",
		"port0-cable/identity/product":            "0x01020100",
		"port0-cable/identity/product_type_vdo1":  "0x000a2643",
		"port0-cable/identity/product_type_vdo2":  "0x00000000",
		"port0-cable/identity/product_type_vdo3":  "0x00000000",
		"port0-plug0/number_of_alternate_modes":   "0",
	})

	// ID header: product type 100b, modal in 26. Cable words (PD R3.2 V1.0, T 6-43
	// and 6-44): VDO version 1.3 011b in 23:21, Type-C, latency 0010b, both ends
	// active 11b in 12:11, 5 A, VBUS through in 4, SOP″ in 3, Gen 3; then 70 °C and
	// 90 °C, re-timer in 9, two lanes in 3, Gen 2 or higher in 0.
	// Thunderbolt word (Type-C R2.0, T F-11): active in 25, re-timer in 22, rounded
	// 01b in 20:19, speed 011b in 18:16, mode 1. DisplayPort word (DP Alt Mode 2.1,
	// T 4-4): version 01b in 31:30, re-timer 01b in 29:28, pins C, D, E both ways,
	// HBR3, UHBR10 and UHBR20 in 5:2.
	active = passive.with(files{
		"port0-cable/type":                       "active",
		"port0-cable/identity/id_header":         "0x24602fa1",
		"port0-cable/identity/product_type_vdo1": "0x0068585b",
		"port0-cable/identity/product_type_vdo2": "0x465a0209",
		"port0-plug0/number_of_alternate_modes":  "2",
		"port0-plug0/port0-plug0.0/svid":         "8087",
		"port0-plug0/port0-plug0.0/mode":         "1",
		"port0-plug0/port0-plug0.0/vdo":          "0x024b0001",
		"port0-plug0/port0-plug0.0/active":       "yes",
		"port0-plug0/port0-plug0.0/description":  "Thunderbolt3",
		"port0-plug0/port0-plug0.0/mode1/vdo":    "0x024b0001",
		"port0-plug0/port0-plug0.1/svid":         "ff01",
		"port0-plug0/port0-plug0.1/mode":         "1",
		"port0-plug0/port0-plug0.1/vdo":          "0x501c1c1c",
		"port0-plug0/port0-plug0.1/active":       "no",
		"port0-plug1/number_of_alternate_modes":  "1",
		"port0-plug1/port0-plug1.0/svid":         "8087",
		"port0-plug1/port0-plug1.0/mode":         "1",
		"port0-plug1/port0-plug1.0/vdo":          "0x024b0001",
		"port0-plug1/port0-plug1.0/active":       "no",
	})

	// Cable word (PD R2.0 V1.3, T 6-28): Type-C 10b in 19:18, latency 0001b, 3 A
	// 01b in 6:5, VBUS through in 4, Gen 1 001b.
	pd2 = passive.with(files{
		"port0-cable/usb_power_delivery_revision": "2.0",
		"port0-cable/identity/id_header":          "0x18002fa1",
		"port0-cable/identity/product_type_vdo1":  "0x00082031",
	})

	// ID header: device in 30, product type 110b. Word (PD R3.2 V1.0, T 6-45): 5 A
	// in 14, 20 × 2 mΩ in 12:7, 20 × 1 mΩ in 6:1, charge-through in 0.
	vpd = passive.with(files{
		"port0-cable/type":                       "-",
		"port0-cable/identity/id_header":         "0x70602fa1",
		"port0-cable/identity/product_type_vdo1": "0x00004a29",
	})
)

// outcome is what a tree gave, short enough to compare.
type outcome struct {
	Messages []string
	Problems []string
}

func outcomes(ports []typec.Port) outcome {
	var o outcome
	for _, p := range ports {
		for _, problem := range p.Problems {
			o.Problems = append(o.Problems, p.Name+" | "+describe(problem))
		}
		if p.Cable == nil {
			continue
		}
		for _, problem := range p.Cable.Problems {
			o.Problems = append(o.Problems, p.Cable.Name+" | "+describe(problem))
		}
		for _, m := range p.Cable.Messages() {
			s := p.Cable.Name + " " + m.Plug.String() + " " + m.Revision.String()
			if m.Headerless {
				s += " headerless"
			}
			for _, w := range m.Words {
				s += fmt.Sprintf(" %08X", w)
			}
			o.Messages = append(o.Messages, s)
		}
	}
	return o
}

func describe(p *typec.Problem) string { return p.Path + ": " + p.Err.Error() }

func summary(c *typec.Cable, plug vdo.Plug) vdo.Summary {
	var replies []vdo.Reply
	for _, m := range c.Messages() {
		if m.Plug == plug {
			replies = append(replies, vdo.Decode(m.Words, m.Context()))
		}
	}
	return vdo.Summarize(replies...)
}

// failing is a file system that refuses some paths: to look at them, to open
// them, or to read on once they are open.
type failing struct {
	fstest.MapFS
	stat, open, read map[string]error
}

func (f failing) Stat(name string) (fs.FileInfo, error) {
	if err := f.stat[name]; err != nil {
		return nil, &fs.PathError{Op: "stat", Path: name, Err: err}
	}
	return f.MapFS.Stat(name)
}

func (f failing) Open(name string) (fs.File, error) {
	if err := f.open[name]; err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	file, err := f.MapFS.Open(name)
	if err == nil && f.read[name] != nil {
		return broken{file, &fs.PathError{Op: "read", Path: name, Err: f.read[name]}}, nil
	}
	return file, err
}

// ReadDir keeps MapFS's own from going around Open.
func (f failing) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := f.open[name]; err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return f.MapFS.ReadDir(name)
}

type broken struct {
	fs.File
	err error
}

func (b broken) Read([]byte) (int, error) { return 0, b.err }

var _ io.Reader = broken{}
