package paste

import (
	"fmt"
	"path"
	"strings"

	"example.com/gainsay/vdo"
)

// attributeNames are the identity attributes, in the order of the words (Linux,
// ABI document sysfs-class-typec: identity/id_header, cert_stat, product,
// product_type_vdo1 to 3).
var attributeNames = []string{"id_header", "cert_stat", "product", "product_type_vdo1", "product_type_vdo2", "product_type_vdo3"}

const fixedAttributes = 3 // those that every identity has

func attributeIndex(name string) (int, bool) {
	for i, n := range attributeNames {
		if name == n {
			return i, true
		}
	}
	return 0, false
}

// identityGroup is the attributes of one identity directory.
type identityGroup struct {
	words    [6]word
	have     [6]bool
	plug     vdo.Plug
	revision vdo.Revision
	dir      string
}

func (g *identityGroup) set(i int, w word) {
	g.words[i], g.have[i] = w, true
}

// readKernel reads the kernel's identity attributes as tools list files: path and
// value on a line with a colon between, or the value below its file's name. The
// attributes may come in any order.
func readKernel(text string) (reading, bool) {
	var r reading
	var groups []*identityGroup
	byDir := map[string]*identityGroup{}
	revisions := map[string]vdo.Revision{}
	any := false

	put := func(name string, value token) {
		dir, file := path.Split(name)
		dir = strings.TrimSuffix(dir, "/")
		i, ok := attributeIndex(file)
		switch {
		case ok:
		case file == "usb_power_delivery_revision":
			revisions[dir] = revision(value.text)
			return
		case file == "vdo" && dir != "":
			r.skip(value.extent, "the word of an alternate mode, which the kernel shows without its header: "+name)
			return
		case dir != "" || otherAttribute(file):
			return
		default:
			r.fault(fault{value.extent, name, "not an attribute of an identity", "there are " + strings.Join(attributeNames, ", "), ErrSyntax})
			return
		}
		any = true
		g := byDir[dir]
		if g == nil || g.have[i] {
			g = &identityGroup{dir: dir, plug: dirPlug(dir)}
			groups = append(groups, g)
			byDir[dir] = g
		}
		digits, prefixed := unprefixed(value.text)
		if !prefixed && len(digits) < wordDigits && isHex(digits) {
			value.text = "0x" + digits // as the kernel would write it
		}
		w, f := parseWord(value)
		if f != nil {
			f.extent = value.extent
			f.token = text[value.start:value.end]
			r.fault(*f)
			return
		}
		w.padded = false
		g.set(i, w)
	}

	title, titleAt := "", 0
	for at, line := range lines(text) {
		at, line := trimmed(at, line)
		if line == "" || comment(line) {
			continue
		}
		if name, ok := strings.CutPrefix(line, "==>"); ok {
			title = strings.TrimSpace(strings.TrimSuffix(name, "<=="))
			titleAt = at
			continue
		}
		if title != "" {
			put(title, token{line, extent{at, at + len(line)}})
			r.units = append(r.units, extent{titleAt, at + len(line)})
			title = ""
			continue
		}
		if _, ok := attributeIndex(path.Base(line)); ok {
			title, titleAt = line, at
			continue
		}
		i := strings.LastIndexAny(line, ":=")
		if i < 0 {
			if !any && len(groups) == 0 {
				return r, false
			}
			r.fault(fault{extent{at, at + len(line)}, line, "no attribute and its value", "write path:value, as id_header:0x18602FA1", ErrSyntax})
			continue
		}
		name := strings.TrimSpace(line[:i])
		vAt, v := trimmed(at+i+1, line[i+1:])
		if strings.ContainsAny(name, " \t") || !any && !strings.Contains(name, "/") && !known(name) {
			return r, false
		}
		put(name, token{v, extent{vAt, vAt + len(v)}})
	}
	if !any {
		return r, false
	}
	for _, g := range groups {
		if rev, ok := revisions[path.Dir(g.dir)]; ok && g.dir != "" {
			g.revision = rev
		} else if rev, ok := revisions[g.dir]; ok {
			g.revision = rev
		}
		r.identity(g, "kernel attributes")
	}
	return r, true
}

func known(name string) bool {
	_, ok := attributeIndex(name)
	return ok || otherAttribute(name)
}

// otherAttribute tells attributes that stand beside an identity in the ABI
// document and hold no word of it.
func otherAttribute(name string) bool {
	switch name {
	case "type", "plug_type", "usb_power_delivery_revision", "number_of_alternate_modes", "supports_usb_power_delivery", "accessory_mode", "uevent":
		return true
	}
	return false
}

// dirPlug is whose identity a directory holds: the cable's comes from the near
// plug.
func dirPlug(dir string) vdo.Plug {
	for dir != "" && dir != "." && dir != "/" {
		switch base := path.Base(dir); {
		case strings.HasSuffix(base, "-partner"):
			return vdo.PlugPartner
		case strings.HasSuffix(base, "-cable"):
			return vdo.PlugNear
		}
		dir = path.Dir(dir)
	}
	return vdo.PlugUnknown
}

// identity adds what the attributes of one identity say.
func (r *reading) identity(g *identityGroup, how string) {
	var words []word
	whole := extent{-1, 0}
	zero := true
	for i, have := range g.have {
		if !have {
			continue
		}
		w := g.words[i]
		if whole.start < 0 {
			whole = w.extent
		}
		whole.start, whole.end = min(whole.start, w.start), max(whole.end, w.end)
		zero = zero && w.value == 0
	}
	if whole.start < 0 {
		return
	}
	if zero {
		r.skip(whole, "an identity that is all zero: the kernel shows zeros where nothing answered")
		return
	}
	gap := -1
	for i, have := range g.have {
		if !have {
			gap = i
			break
		}
		words = append(words, g.words[i])
	}
	if gap >= 0 && gap < fixedAttributes {
		r.fault(fault{whole, "", attributeNames[gap] + " is missing, and the words behind it have no place without it",
			"copy all attributes of the identity", ErrTruncated})
	}
	if len(words) == 0 {
		return
	}
	dropped := 0
	for len(words) > fixedAttributes && words[len(words)-1].value == 0 {
		words = words[:len(words)-1]
		dropped++
	}
	p := newPacket(words, label{plug: g.plug})
	p.headerless, p.revision, p.extent = true, g.revision, whole
	if gap >= 0 {
		for i := gap + 1; i < len(g.have); i++ {
			if g.have[i] && g.words[i].value != 0 {
				p.remarks = append(p.remarks, fmt.Sprintf("%s %08X has no place, since %s is missing", attributeNames[i], g.words[i].value, attributeNames[gap]))
			}
		}
	}
	if dropped > 0 {
		p.remarks = append(p.remarks, "product type words of zero at the end are left out: so the kernel shows a word that did not come")
	}
	r.add(p.found(how))
}
