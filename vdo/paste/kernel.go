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

// kernelReader gathers attributes until their identities are whole.
type kernelReader struct {
	reading
	text      string
	groups    []*identityGroup
	byDir     map[string]*identityGroup
	revisions map[string]vdo.Revision // by directory
	title     string                  // the file named on the line before
	titleAt   int
}

// readKernel reads the kernel's identity attributes as tools list files: path and
// value on a line with a colon between, or the value below its file's name. The
// attributes may come in any order.
func readKernel(text string) (reading, bool) {
	k := kernelReader{text: text, byDir: map[string]*identityGroup{}, revisions: map[string]vdo.Revision{}}
	for at, line := range lines(text) {
		at, line := trimmed(at, line)
		if line == "" || comment(line) {
			continue
		}
		if !k.line(at, line) {
			return k.reading, false
		}
	}
	for _, g := range k.groups {
		if rev, ok := k.revisions[path.Dir(g.dir)]; ok && g.dir != "" {
			g.revision = rev
		} else if rev, ok := k.revisions[g.dir]; ok {
			g.revision = rev
		}
		k.identity(g, "kernel attributes")
	}
	return k.reading, len(k.groups) > 0
}

// line takes one line; false where the text is of another form.
func (k *kernelReader) line(at int, line string) bool {
	if name, ok := strings.CutPrefix(line, "==>"); ok {
		k.title, k.titleAt = strings.TrimSpace(strings.TrimSuffix(name, "<==")), at
		return true
	}
	if k.title != "" {
		k.attribute(k.title, token{line, extent{at, at + len(line)}})
		k.units = append(k.units, extent{k.titleAt, at + len(line)})
		k.title = ""
		return true
	}
	if _, ok := attributeIndex(path.Base(line)); ok {
		k.title, k.titleAt = line, at
		return true
	}
	begun := len(k.groups) > 0
	i := strings.LastIndexAny(line, ":=")
	if i < 0 {
		k.fault(fault{extent{at, at + len(line)}, line, "no attribute and its value", "write path:value, as id_header:0x18602FA1", ErrSyntax})
		return begun
	}
	name := strings.TrimSpace(line[:i])
	if strings.ContainsAny(name, " \t") || !begun && !strings.Contains(name, "/") && !known(name) {
		return false
	}
	vAt, v := trimmed(at+i+1, line[i+1:])
	k.attribute(name, token{v, extent{vAt, vAt + len(v)}})
	return true
}

// attribute takes the value of a file.
func (k *kernelReader) attribute(name string, value token) {
	dir, file := path.Split(name)
	dir = strings.TrimSuffix(dir, "/")
	i, ok := attributeIndex(file)
	switch {
	case ok:
	case file == "usb_power_delivery_revision":
		k.revisions[dir] = revision(value.text)
		return
	case file == "vdo" && dir != "":
		k.skip(value.extent, "the word of an alternate mode, which the kernel shows without its header: "+name)
		return
	case dir != "" || otherAttribute(file):
		return
	default:
		k.fault(fault{value.extent, name, "not an attribute of an identity", "there are " + strings.Join(attributeNames, ", "), ErrSyntax})
		return
	}
	g := k.byDir[dir]
	if g == nil || g.have[i] {
		g = &identityGroup{dir: dir, plug: dirPlug(dir)}
		k.groups = append(k.groups, g)
		k.byDir[dir] = g
	}
	digits, prefixed := unprefixed(value.text)
	if !prefixed && len(digits) < wordDigits && isHex(digits) {
		value.text = "0x" + digits // as the kernel would write it
	}
	w, f := parseWord(value)
	if f != nil {
		f.extent = value.extent
		f.token = k.text[value.start:value.end]
		k.fault(*f)
		return
	}
	w.padded = false
	g.set(i, w)
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
