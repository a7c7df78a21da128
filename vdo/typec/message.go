package typec

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

// Messages gives the marker's answers as far as the kernel shows them: the
// identity, then the modes of the near and of the far plug, an answer for each
// SVID. It gives no message for an identity that is absent or all zero. The
// messages have no place in a text: From and To are zero.
//
// The identity has no VDM header, and its Revision is the cable's. An answer
// with modes needs an SVID, which stands in the header, so the header of a
// Discover Modes ACK is composed: structured version 1.0 for PD 2.0, else 2.0,
// or 2.1 where the word states a version of DisplayPort Alt Mode, since the bits
// for it were reserved before. The remarks say what was done.
//
// An answer ends before a word that is missing or could not be read, so that no word
// stands in the place of another; a remark names it and the words behind it.
func (c *Cable) Messages() []paste.Message {
	var ms []paste.Message
	if m, ok := c.identityMessage(); ok {
		ms = append(ms, m)
	}
	ms = append(ms, c.modeMessages(c.Near, vdo.PlugNear)...)
	return append(ms, c.modeMessages(c.Far, vdo.PlugFar)...)
}

const hidden = "the kernel does not show the VDM header: "

// revisionRemark says what the attribute gives.
func (c *Cable) revisionRemark() string {
	switch a := c.PDRevision; {
	case a.Known():
		return "usb_power_delivery_revision is " + a.Text
	case a.Absent():
		return "usb_power_delivery_revision is absent"
	}
	return "usb_power_delivery_revision could not be read"
}

// layoutRemark says which revision the layouts of the identity follow, and why.
func (c *Cable) layoutRemark() string {
	switch s := c.revisionRemark(); c.Revision {
	case vdo.RevisionUnknown:
		return hidden + s + ", so nothing gives the PD revision"
	case vdo.Revision3:
		// Fact sheet on the marker §1.1: a marker of PD 3.x may be asked, and answer, as one of 2.0.
		return hidden + s + ", and the layouts follow it; had the marker been asked as one of PD 2.0, it would have answered in other layouts, and that does not show"
	default:
		return hidden + s + ", and the layouts follow it"
	}
}

func (c *Cable) identityMessage() (paste.Message, bool) {
	m := paste.Message{
		ReadAs: "attributes of " + c.Name + "/identity, starting at the ID header",
		Plug:   vdo.PlugNear, Revision: c.Revision, Headerless: true,
		Remarks: []string{c.layoutRemark()},
	}
	if !c.Identity.IDHeader.Known() || c.Identity.blank() {
		return m, false
	}
	numbers := c.Identity.numbers()
	for i, n := range numbers {
		if !n.Known() {
			m.Remarks = append(m.Remarks, gap(numbers[i:]))
			break
		}
		m.Words = append(m.Words, n.Value)
	}
	// Zero is also how the kernel shows that a product type VDO did not come.
	fixed := len(numbers) - len(c.Identity.ProductType)
	var zeros []string
	for last := len(m.Words) - 1; last >= fixed && m.Words[last] == 0; last-- {
		zeros = append(zeros, numbers[last].Name())
		m.Words = m.Words[:last]
	}
	if len(zeros) > 0 {
		slices.Reverse(zeros)
		m.Remarks = append(m.Remarks, "zero, which is how the kernel shows a word that did not come, and left out: "+strings.Join(zeros, ", "))
	}
	return m, true
}

// gap says where an identity ends early, and which words after it were read all
// the same.
func gap(rest []Number) string {
	first := rest[0]
	why := "could not be read"
	if first.Absent() {
		why = "is absent"
	}
	s := first.Name() + " " + why + ", so the words end before it"
	var lost []string
	for _, n := range rest[1:] {
		if n.Known() && n.Value != 0 {
			lost = append(lost, fmt.Sprintf("%s %08X", n.Name(), n.Value))
		}
	}
	if len(lost) > 0 {
		s += "; without a place: " + strings.Join(lost, ", ")
	}
	return s
}

func (c *Cable) modeMessages(p *Plug, plug vdo.Plug) []paste.Message {
	if p == nil {
		return nil
	}
	groups := bySVID(p)
	var ms []paste.Message
	for _, modes := range groups {
		if m, ok := c.modeMessage(p, plug, uint16(modes[0].SVID.Value), modes); ok {
			ms = append(ms, m)
		}
	}
	return ms
}

// bySVID gives the modes of a plug in groups of one SVID, each in the order of the words.
func bySVID(p *Plug) (groups [][]Mode) {
	at := map[uint32]int{}
	for _, m := range p.Modes {
		if !m.SVID.Known() {
			continue
		}
		i, ok := at[m.SVID.Value]
		if !ok {
			i = len(groups)
			at[m.SVID.Value] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], m)
	}
	for _, modes := range groups {
		// A mode without an index keeps its place, at the front.
		slices.SortStableFunc(modes, func(a, b Mode) int { return cmp.Compare(a.Index.Value, b.Index.Value) })
	}
	return groups
}

func (c *Cable) modeMessage(p *Plug, plug vdo.Plug, svid uint16, modes []Mode) (paste.Message, bool) {
	m := paste.Message{
		ReadAs: fmt.Sprintf("mode attributes of %s under SVID %04X, header composed", p.Name, svid),
		Plug:   plug, Revision: c.Revision,
	}
	words, remarks := placed(modes)
	if len(words) == 0 {
		return m, false
	}
	h := header(svid, c.Revision, words[0])
	m.Words = append([]uint32{uint32(h)}, words...)
	composed := fmt.Sprintf("%s%08X is composed from the SVID, with structured version %s", hidden, uint32(h), h.Version())
	switch {
	case h.Minor() != 0:
		composed += ", because the word states a version of DisplayPort Alt Mode"
	case c.Revision == vdo.RevisionUnknown:
		composed += " assumed: " + c.revisionRemark()
	default:
		composed += ": " + c.revisionRemark()
	}
	m.Remarks = append([]string{composed}, remarks...)
	return m, true
}

// placed gives the words of an SVID's modes up to the first that is missing or could not
// be read, and a remark where that leaves words without a place.
func placed(modes []Mode) (words []uint32, remarks []string) {
	for i, mode := range modes {
		place := len(words) + 1
		why := ""
		switch {
		case mode.Index.Known() && int(mode.Index.Value) != place:
			why = fmt.Sprintf("the word with index %d is not shown", place)
			if int(mode.Index.Value) < place {
				why = fmt.Sprintf("the index %d is shown twice", mode.Index.Value)
			}
		case !mode.Word.Known():
			why = "the word of " + mode.Path + " could not be read"
		default:
			words = append(words, mode.Word.Value)
			continue
		}
		why += ", so the words end before it"
		var lost []string
		for _, rest := range modes[i:] {
			if rest.Word.Known() {
				lost = append(lost, fmt.Sprintf("%08X", rest.Word.Value))
			}
		}
		if len(lost) > 0 {
			why += "; without a place: " + strings.Join(lost, ", ")
		}
		return words, []string{why}
	}
	return words, nil
}

// Whole reports whether every word that the kernel shows of the cable was read and has
// its place in [Cable.Messages].
func (c *Cable) Whole() bool {
	gone := false // from where on the kernel shows no more words
	for _, n := range c.Identity.numbers() {
		if !n.Known() && !n.Absent() || n.Known() && gone {
			return false
		}
		gone = gone || n.Absent()
	}
	for _, p := range []*Plug{c.Near, c.Far} {
		if p == nil {
			continue
		}
		for _, m := range p.Modes {
			if !m.SVID.Known() || !m.Word.Known() {
				return false
			}
		}
		for _, modes := range bySVID(p) {
			if words, _ := placed(modes); len(words) < len(modes) {
				return false
			}
		}
	}
	return true
}

// header composes the header of a Discover Modes answer.
func header(svid uint16, rev vdo.Revision, first uint32) vdo.VDMHeader {
	major, minor := uint32(1), uint32(0)
	switch {
	case rev == vdo.Revision1 || rev == vdo.Revision2:
		major = 0
	case svid == vdo.SVIDDisplayPort && vdo.DisplayPortCable(first).Version() != 0:
		minor = 1
	}
	// There is no error: every value fits its field.
	w, _ := vdo.LayoutNamed("vdm-header").Compose(0,
		vdo.Value{Field: "svid", Raw: uint32(svid)},
		vdo.Value{Field: "structured", Raw: 1},
		vdo.Value{Field: "version-major", Raw: major},
		vdo.Value{Field: "version-minor", Raw: minor},
		vdo.Value{Field: "command-type", Raw: uint32(vdo.ACK)},
		vdo.Value{Field: "command", Raw: uint32(vdo.DiscoverModes)},
	)
	return vdo.VDMHeader(w)
}
