package typec

import (
	"path"
	"slices"
	"strings"

	"example.com/gainsay/vdo"
)

// Cable is a cable as the kernel shows it.
type Cable struct {
	Name     string    // as "port0-cable"
	Type     Attribute // "passive", "active"
	PlugType Attribute // "type-c", "captive", "type-a", "type-b"
	// PDRevision is usb_power_delivery_revision, as "3.0". Many drivers write "3.0"
	// for every PD 3.x (from memory).
	PDRevision Attribute
	// Revision is the same as vdo has it: RevisionUnknown where the attribute is
	// absent, wrong, or "0.0".
	Revision  vdo.Revision
	Identity  Identity   // the answer to Discover Identity, as far as it is shown
	Near, Far *Plug      // SOP′ and SOP″; nil where the kernel shows none
	Problems  []*Problem // of the cable and its plugs
}

// Identity holds the words of a Discover Identity answer, without VDM header.
type Identity struct {
	IDHeader, CertStat, Product Number    // id_header, cert_stat and product
	ProductType                 [3]Number // product_type_vdo1 to 3
}

// numbers lists the words in the order of the answer.
func (id Identity) numbers() []Number {
	return append([]Number{id.IDHeader, id.CertStat, id.Product}, id.ProductType[:]...)
}

// absent tells whether the kernel shows none of the words.
func (id Identity) absent() bool {
	return !slices.ContainsFunc(id.numbers(), func(n Number) bool { return !n.Absent() })
}

// whole reports whether all the words were read.
func (id Identity) whole() bool {
	return !slices.ContainsFunc(id.numbers(), func(n Number) bool { return !n.Known() })
}

// Whole reports whether the kernel shows every word of the answer, which it does not
// before the answer has come (it shows zeros then).
func (id Identity) Whole() bool { return id.whole() && !id.blank() }

// blank tells whether all the words were read and are zero.
func (id Identity) blank() bool {
	known := false
	for _, n := range id.numbers() {
		if n.Value != 0 || !n.Known() && !n.Absent() {
			return false
		}
		known = known || n.Known()
	}
	return known
}

func (r *reader) identity(dir string) Identity {
	dir = path.Join(dir, "identity")
	word := func(name string) Number { return r.number(dir, name, wordKind) }
	return Identity{
		IDHeader: word("id_header"), CertStat: word("cert_stat"), Product: word("product"),
		ProductType: [3]Number{word("product_type_vdo1"), word("product_type_vdo2"), word("product_type_vdo3")},
	}
}

func (r *reader) cable(name, port, dir string) *Cable {
	c := &Cable{
		Name:       name,
		Type:       r.attribute(dir, "type"),
		PlugType:   r.attribute(dir, "plug_type"),
		PDRevision: r.attribute(dir, "usb_power_delivery_revision"),
	}
	c.Revision = r.revision(&c.PDRevision)
	c.Identity = r.identity(dir)
	switch {
	case c.Identity.absent():
		r.report(&Problem{Path: path.Join(dir, "identity"), Wrong: "the cable has no identity here", Err: ErrNoIdentity,
			Want: "the port's driver does not show the marker's answer: read the cable with a sniffer"})
	case c.Identity.IDHeader.Absent():
		r.report(c.Identity.IDHeader.Err.(*Problem))
	case c.Identity.blank():
		r.report(&Problem{Path: path.Join(dir, "identity"), Wrong: "every word is zero", Err: ErrNoAnswer,
			Want: "the kernel shows zeros until the answer has come: read it again; if it stays, the marker may be blank"})
	}
	plug := func(plug string) *Plug {
		plug = port + plug
		return r.plug(plug, r.directory(plug, path.Join(dir, plug), path.Join(port, plug)))
	}
	c.Near, c.Far = plug("-plug0"), plug("-plug1")
	c.Problems = r.take()
	return c
}

// revision reads "3.0" and the like. What is none becomes the attribute's
// problem.
func (r *reader) revision(a *Attribute) vdo.Revision {
	if a.Err != nil {
		return vdo.RevisionUnknown
	}
	major, minor, ok := strings.Cut(a.Text, ".")
	if ok && len(minor) == 1 && minor[0] >= '0' && minor[0] <= '9' {
		switch major {
		case "0":
			if minor == "0" {
				return vdo.RevisionUnknown
			}
		case "1":
			return vdo.Revision1
		case "2":
			return vdo.Revision2
		case "3":
			return vdo.Revision3
		}
	}
	p := &Problem{Path: a.Path, Token: a.Text, Wrong: "is no revision of USB PD", Want: "2.0, 3.0 or 3.1, or 0.0 for none", Err: ErrMalformed}
	a.Err = p
	r.report(p)
	return vdo.RevisionUnknown
}
