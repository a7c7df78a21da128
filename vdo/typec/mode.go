package typec

import (
	"cmp"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
)

// Plug is one plug of a cable, with the alternate modes it answered.
type Plug struct {
	Name string // as "port0-plug0"
	// Count is number_of_alternate_modes, absent until the driver has counted.
	Count Number
	Modes []Mode // in the order of the kernel's directories
}

// Mode is one alternate mode of a plug.
type Mode struct {
	Path        string    // its directory
	SVID        Number    // 16 bits
	Index       Number    // 1 to 6, the word's place in the Discover Modes answer
	Word        Number    // vdo, the mode word itself
	Description Attribute // the kernel's own name for it, often empty
	Active      Attribute // "yes" where the mode is entered
}

// plug reads a plug's directory; nil for "".
func (r *reader) plug(name, dir string) *Plug {
	if dir == "" {
		return nil
	}
	p := &Plug{Name: name, Count: r.number(dir, "number_of_alternate_modes", countKind)}
	for _, mode := range r.modeDirectories(name, dir) {
		p.Modes = append(p.Modes, r.modes(mode)...)
	}
	if p.Count.Known() && int(p.Count.Value) != len(p.Modes) {
		r.report(&Problem{Path: p.Count.Path, Token: p.Count.Text, Err: ErrCount,
			Wrong: "is not the number of modes shown here, which is " + strconv.Itoa(len(p.Modes)),
			Want:  "read it again once the port has settled"})
	}
	return p
}

// modeDirectories finds the devices of a plug's modes. They lie inside the plug.
// Their names, as port0-plug0.0, are from memory, so that any directory with an
// SVID counts.
func (r *reader) modeDirectories(plug, dir string) []string {
	var dirs []string
	for _, e := range r.list(dir) {
		mode := path.Join(dir, e.Name())
		if strings.HasPrefix(e.Name(), plug+".") {
			if r.directory(mode) != "" {
				dirs = append(dirs, mode)
			}
		} else if _, err := fs.Stat(r.fsys, path.Join(mode, "svid")); err == nil {
			dirs = append(dirs, mode)
		}
	}
	slices.SortFunc(dirs, byNumber)
	return dirs
}

// byNumber puts port0-plug0.10 after port0-plug0.9.
func byNumber(a, b string) int {
	stem := func(s string) string { return strings.TrimRight(s, "0123456789") }
	return cmp.Or(strings.Compare(stem(a), stem(b)), len(a)-len(b), strings.Compare(a, b))
}

// modes reads the device of a mode. Older kernels have one device for an SVID
// with a directory mode1, mode2 … for each of its modes; newer ones have a
// device for each mode, and keep that directory beside the attributes.
func (r *reader) modes(dir string) []Mode {
	svid := r.parsed(r.required(dir, "svid"), svidKind)
	index := r.number(dir, "mode", indexKind)
	word := r.number(dir, "vdo", wordKind)
	if !word.Absent() {
		return []Mode{r.mode(dir, svid, index, word)}
	}
	var modes []Mode
	for _, e := range r.list(dir) {
		digits, ok := strings.CutPrefix(e.Name(), "mode")
		n, valid := indexKind.parse(digits)
		if !ok || !valid {
			continue
		}
		sub := path.Join(dir, e.Name())
		index := Number{Attribute: Attribute{Path: sub, Text: digits}, Value: n}
		modes = append(modes, r.mode(sub, svid, index, r.parsed(r.required(sub, "vdo"), wordKind)))
	}
	if len(modes) == 0 {
		r.report(word.Err.(*Problem))
		modes = []Mode{r.mode(dir, svid, index, word)}
	}
	return modes
}

// mode adds what the directory of a mode says of it in words.
func (r *reader) mode(dir string, svid, index, word Number) Mode {
	return Mode{Path: dir, SVID: svid, Index: index, Word: word,
		Description: r.attribute(dir, "description"), Active: r.attribute(dir, "active")}
}
