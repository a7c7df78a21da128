package typec

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Port is one USB Type-C port of the machine.
type Port struct {
	Name string // as "port0"
	// Facts are the attributes of the port itself, those that are there, in the
	// order of the ABI document.
	Facts    []Attribute
	Partner  *Partner   // what is plugged in behind the cable, or nil
	Cable    *Cable     // nil where the kernel shows none
	Problems []*Problem // of the port itself; the cable has its own
}

// Partner is the device or charger at the other end. It is not the cable.
type Partner struct {
	Name     string      // as "port0-partner"
	Facts    []Attribute // like those of Port
	Identity Identity    // its attributes are absent where the kernel shows none
}

// Attributes read as facts, in the order of the ABI document.
var (
	portFacts = []string{
		"data_role", "power_role", "port_type", "vconn_source", "power_operation_mode",
		"preferred_role", "supported_accessory_modes", "usb_power_delivery_revision",
		"usb_typec_revision", "orientation",
	}
	partnerFacts = []string{
		"usb_power_delivery_revision", "accessory_mode", "supports_usb_power_delivery",
		"number_of_alternate_modes", "type",
	}
)

// Read reads a Type-C class directory, as os.DirFS("/sys/class/typec"). Ports
// come in the order of their numbers. Entries that are not named like a port,
// its partner, cable or plug are passed over.
//
// The error is a *Problem: ErrNoClass where there is no such directory, or
// ErrUnreadable where it cannot be listed, with the ports that could be read.
// What is wrong with a port is in its Problems. A machine without ports gives
// neither.
func Read(fsys fs.FS) (ports []Port, err error) {
	entries, err := fs.ReadDir(fsys, ".")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &Problem{Path: ".", Wrong: "there is no USB Type-C class directory", Err: ErrNoClass, Cause: err,
			Want: "Linux has /sys/class/typec where the kernel has a driver for the machine's ports; of a copied tree, name the directory that holds port0"}
	}
	r := &reader{fsys: fsys, listed: map[string]bool{}}
	for _, e := range entries {
		r.listed[e.Name()] = true
	}
	for _, name := range portNames(entries) {
		ports = append(ports, r.port(name))
	}
	if err != nil {
		return ports, unreadable(".", err)
	}
	return ports, nil
}

// portNames lists the ports that the entries speak of, in numerical order.
func portNames(entries []fs.DirEntry) []string {
	var names []string
	for _, e := range entries {
		name, part, divided := strings.Cut(e.Name(), "-")
		digits, ok := strings.CutPrefix(name, "port")
		switch {
		case !ok || digits == "" || strings.Trim(digits, "0123456789") != "":
		case divided && part != "partner" && part != "cable" && part != "plug0" && part != "plug1":
		case !slices.Contains(names, name):
			names = append(names, name)
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return strings.Compare(a, b)
	})
	return names
}

func (r *reader) port(name string) Port {
	p := Port{Name: name}
	here := r.directory(name) != ""
	if here {
		p.Facts = r.facts(name, portFacts)
	} else if !r.listed[name] {
		r.report(&Problem{Path: name, Wrong: "the port has no directory", Err: fs.ErrNotExist,
			Want: "of a copied tree, copy the port as well as what hangs on it"})
	}
	partner := name + "-partner"
	if dir := r.directory(partner, path.Join(name, partner)); dir != "" {
		p.Partner = &Partner{Name: partner, Facts: r.facts(dir, partnerFacts), Identity: r.identity(dir)}
	}
	plugged := p.Partner != nil || r.listed[partner]
	p.Problems = r.take()
	cable := name + "-cable"
	dir := r.directory(cable, path.Join(name, cable))
	if dir != "" {
		p.Cable = r.cable(cable, name, dir)
		return p
	}
	if len(r.problems) == 0 && here {
		r.report(noCable(name, plugged))
	}
	p.Problems = append(p.Problems, r.take()...)
	return p
}

func noCable(port string, plugged bool) *Problem {
	if plugged {
		return &Problem{Path: port, Wrong: "something is plugged in, but no cable is shown", Err: ErrNoCable,
			Want: "the cable has no marker, or the port's driver does not show it: a sniffer tells"}
	}
	return &Problem{Path: port, Wrong: "no cable is shown, and nothing is plugged in", Err: ErrNoCable,
		Want: "plug in a cable with a device or charger at its other end"}
}

// facts reads those of the named attributes that are there.
func (r *reader) facts(dir string, names []string) []Attribute {
	var facts []Attribute
	for _, name := range names {
		if a := r.attribute(dir, name); !a.Absent() {
			facts = append(facts, a)
		}
	}
	return facts
}
