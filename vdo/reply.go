package vdo

// Context is what a message says about itself outside its words.
type Context struct {
	Plug Plug // whose answer it is
	// Revision comes from the PD message header, or from the caller where the
	// words come without one. It decides only where there is no VDM header: the
	// structured version in a VDM header counts more, since a PD 3.x marker may
	// answer in the PD 2.0 layout.
	Revision Revision
	// Headerless says that the words begin at the ID header. First finds out.
	Headerless bool
}

// Reply is one answer of a marker, or one message to or from a port: its words
// and the layout each has. A word keeps its value whatever its layout.
type Reply struct {
	words []uint32
	ctx   Context
	kind  kind
	cable uint32 // the cable word, where the kind has one
}

// kind is what the words say they are, found once so that every reading of a
// reply is a comparison.
type kind uint8

const (
	otherKind    kind = iota // no identity
	identityKind             // an identity without a known cable word
	pd2Kind                  // with a cable word of PD 2.0
	passiveKind              // with the words of PD 3.x
	activeKind
	vpdKind
)

// Decode reads the words of one message. It never fails: words that nothing
// explains get the layout "data". The reply refers to the words, it does not
// copy them; they must not change while it is used.
func Decode(words []uint32, ctx Context) Reply {
	k, cable := kindOf(words, ctx)
	return Reply{words, ctx, k, cable}
}

// kindOf gives the kind and the cable word.
func kindOf(words []uint32, ctx Context) (kind, uint32) {
	if ctx.Headerless {
		of := &kindsPD3
		if ctx.Revision.pd2() {
			of = &kindsPD2
		}
		switch {
		case len(words) == 0:
			return otherKind, 0
		case len(words) < 4 || ctx.Plug == PlugPartner:
			return identityKind, 0
		}
		return of[IDHeader(words[0]).Product()], words[3]
	}
	if len(words) == 0 {
		return otherKind, 0
	}
	h := VDMHeader(words[0])
	switch {
	case !h.Is(SVIDPowerDelivery, DiscoverIdentity, ACK):
		return otherKind, 0
	case len(words) < 5 || ctx.Plug == PlugPartner:
		return identityKind, 0
	}
	return kinds[h.Major()][IDHeader(words[1]).Product()], words[4]
}

// kinds gives the kind of an identity with a cable word by the code of the
// structured version, of which the reserved ones are read as 2.x, and by the
// product type.
var kinds = [4][8]kind{kindsPD2, kindsPD3, kindsPD3, kindsPD3}

var (
	kindsPD2 = [8]kind{identityKind, identityKind, identityKind, PassiveType: pd2Kind,
		ActiveType: pd2Kind, identityKind, VPDType: vpdKind, identityKind}
	kindsPD3 = [8]kind{identityKind, identityKind, identityKind, PassiveType: passiveKind,
		ActiveType: activeKind, identityKind, VPDType: vpdKind, identityKind}
)

// Words are the 32-bit data objects in order.
func (r Reply) Words() []uint32 { return r.words }

// Context is the context the reply was decoded with.
func (r Reply) Context() Context { return r.ctx }

// Header is the VDM header, if the words begin with one.
func (r Reply) Header() (VDMHeader, bool) {
	if r.ctx.Headerless || len(r.words) == 0 {
		return 0, false
	}
	return VDMHeader(r.words[0]), true
}

// Identity reports whether this is an ACK to Discover Identity, or is taken for
// one because it has no header.
func (r Reply) Identity() bool { return r.kind != otherKind }

// first is the index of the first word after the header.
func (r Reply) first() int {
	if r.ctx.Headerless {
		return 0
	}
	return 1
}

// object gives the word at place i after the header, of an identity.
func (r Reply) object(i int) (uint32, bool) {
	i += r.first()
	if r.kind == otherKind || i >= len(r.words) {
		return 0, false
	}
	return r.words[i], true
}

// PD2Layout reports whether the cable word is to be read in the layout of PD 2.0.
func (r Reply) PD2Layout() bool {
	if h, ok := r.Header(); ok {
		return h.Structured() && h.Major() == 0
	}
	return r.ctx.Revision.pd2()
}

// ID is the ID header.
func (r Reply) ID() (IDHeader, bool) {
	w, ok := r.object(0)
	return IDHeader(w), ok
}

// CertStat is the certification word.
func (r Reply) CertStat() (CertStat, bool) {
	w, ok := r.object(1)
	return CertStat(w), ok
}

// Product is the product word.
func (r Reply) Product() (Product, bool) {
	w, ok := r.object(2)
	return Product(w), ok
}

// product is the product type, where this is a cable's identity.
func (r Reply) product() (ProductType, bool) {
	id, ok := r.ID()
	if !ok || r.ctx.Plug == PlugPartner {
		return NotACable, false
	}
	return id.Product(), true
}

// PD2 is the cable word in the layout of PD 2.0, passive or active.
func (r Reply) PD2() (CablePD2, bool) { return CablePD2(r.cable), r.kind == pd2Kind }

// Passive is the PD 3.x word of a passive cable.
func (r Reply) Passive() (PassiveCable, bool) { return PassiveCable(r.cable), r.kind == passiveKind }

// Active1 is the first PD 3.x word of an active cable, in any of its forms.
func (r Reply) Active1() (ActiveCable1, bool) { return ActiveCable1(r.cable), r.kind == activeKind }

// Active2 is the second PD 3.x word of an active cable.
func (r Reply) Active2() (ActiveCable2, bool) {
	if r.kind != activeKind {
		return 0, false
	}
	w, ok := r.object(4)
	return ActiveCable2(w), ok
}

// VPD is the word of a VCONN-powered USB device. PD 2.0 does not define it; a VPD that
// answers with structured version 1.0 is read in the layout of PD 3.x.
func (r Reply) VPD() (VPD, bool) { return VPD(r.cable), r.kind == vpdKind }

// ActiveForm says which form the words of a PD 3.x active cable have.
type ActiveForm uint8

const (
	ActiveFormNone    ActiveForm = iota // not a PD 3.x active cable
	ActiveFormEarly                     // one word, standing alone
	ActiveFormV12                       // two words, PD R3.0 V1.2
	ActiveFormCurrent                   // two words, PD R3.0 V2.0 and later
)

// ActiveForm picks the form by the number of objects first, then by the VDO
// version: one word is the early form unless it says version 1.3 (then the
// second word is missing); of two words, versions below 1.3 are the V1.2 form.
func (r Reply) ActiveForm() ActiveForm {
	w, ok := r.Active1()
	if !ok {
		return ActiveFormNone
	}
	_, two := r.Active2()
	switch {
	case w.Version() >= VDOVersion13:
		return ActiveFormCurrent
	case two:
		return ActiveFormV12
	}
	return ActiveFormEarly
}

// Layout gives the bit table of the word at index i, counted from 0 with the
// VDM header if there is one.
func (r Reply) Layout(i int) *Layout {
	h, headed := r.Header()
	if headed {
		if i == 0 {
			return h.Layout()
		}
		switch {
		case h.Is(SVIDPowerDelivery, DiscoverIdentity, ACK):
			i--
		case h.Is(SVIDPowerDelivery, DiscoverSVIDs, ACK):
			return &svidPairLayout
		case r.ctx.Plug != PlugPartner && h.Is(SVIDThunderbolt, DiscoverModes, ACK):
			return &thunderboltCableLayout
		case r.ctx.Plug != PlugPartner && h.Is(SVIDDisplayPort, DiscoverModes, ACK):
			return &displayPortCableLayout
		default:
			return &opaqueLayout
		}
	}
	return r.identityLayout(i)
}

// identityLayout is the layout of object i of an identity, 0 for the ID header.
func (r Reply) identityLayout(i int) *Layout {
	switch i {
	case 0:
		switch {
		case r.ctx.Plug == PlugPartner:
			return &idHeaderPartnerLayout
		case r.PD2Layout():
			return &idHeaderPD2Layout
		}
		return &idHeaderLayout
	case 1:
		return &certStatLayout
	case 2:
		return &productLayout
	case 3:
		switch r.kind {
		case pd2Kind:
			if id, _ := r.ID(); id.Product() == PassiveType {
				return &passivePD2Layout
			}
			return &activePD2Layout
		case passiveKind:
			return &passiveCableLayout
		case vpdKind:
			return &vpdLayout
		}
	}
	switch form := r.ActiveForm(); {
	case form == ActiveFormEarly && i == 3:
		return &activeEarlyLayout
	case form == ActiveFormV12 && i == 3:
		return &active1V12Layout
	case form == ActiveFormV12 && i == 4:
		return &active2V12Layout
	case form == ActiveFormCurrent && i == 3:
		return &active1Layout
	case form == ActiveFormCurrent && i == 4:
		return &active2Layout
	}
	return &opaqueLayout
}

// Objects is the number of data objects an identity of this product type and
// form carries, VDM header included, whether or not this reply has one. It is 0
// where the reply is no identity of a cable or its product type is reserved.
//
// Source: the Discover Identity clause, as relayed in the fact sheet §8.
func (r Reply) Objects() int {
	p, ok := r.product()
	if !ok {
		return 0
	}
	switch p {
	case NotACable:
		return 4
	case PassiveType:
		return 5
	case ActiveType:
		if f := r.ActiveForm(); f == ActiveFormV12 || f == ActiveFormCurrent {
			return 6
		}
		return 5
	case VPDType:
		return 5
	}
	return 0
}

// Got is the number of data objects received, counted like Objects.
func (r Reply) Got() int { return len(r.words) + 1 - r.first() }

// Blank reports whether every word after the header is zero, as in a marker that
// was never programmed.
func (r Reply) Blank() bool {
	for _, w := range r.words[min(r.first(), len(r.words)):] {
		if w != 0 {
			return false
		}
	}
	return len(r.words) > r.first()
}

// Assumption is something Decode took for granted.
type Assumption uint8

const (
	// AssumedIdentity: without a VDM header the words are taken for an ACK to
	// Discover Identity, beginning at the ID header.
	AssumedIdentity Assumption = iota
	// AssumedPD3: neither header nor caller gave a revision, so the layouts of PD
	// 3.x were used. Reply.Otherwise gives the other reading.
	AssumedPD3
	// RevisionFromCaller: without a VDM header the revision given decided.
	RevisionFromCaller
	// AssumedVersion2: the structured version is reserved and was read as 2.x.
	AssumedVersion2
	// AssumedEarlyForm: one cable word of an active cable stands alone, so it is read in
	// the early form of PD R3.0, VDO version 1.0.
	AssumedEarlyForm
	// AssumedVPD: PD 2.0 defines no VPD, so its word is read in the layout of PD 3.x.
	AssumedVPD
	// ForeignIdentity: an answer to Discover Identity came under another SVID than
	// 0xFF00, so its words are data.
	ForeignIdentity
	// AssumedForm: the VDO version of an active cable fits no published form with
	// this number of objects; the nearest was used.
	AssumedForm
	// SurplusObjects: more words came than the product type has.
	SurplusObjects
	// MissingObjects: fewer words came than the product type has.
	MissingObjects
)

// String says the assumption in one sentence without a full stop.
func (a Assumption) String() string {
	switch a {
	case AssumedIdentity:
		return "no VDM header: the words are taken to be a Discover Identity answer, beginning at the ID header"
	case AssumedPD3:
		return "nothing gives the revision: the layouts of PD 3.x are assumed"
	case RevisionFromCaller:
		return "no VDM header: the layouts follow the PD revision given beside the words"
	case AssumedVersion2:
		return "the structured version is a reserved code: the layouts of version 2.x are assumed"
	case AssumedEarlyForm:
		return "one cable word of an active cable: the early form of PD R3.0 is assumed, which has no second word"
	case AssumedVPD:
		return "PD 2.0 defines no VPD: its word is read in the layout of PD 3.x; the maximum voltage, a later field, is left out"
	case ForeignIdentity:
		return "an identity is answered under SVID 0xFF00; this one came under another, so its words are shown as data"
	case AssumedForm:
		return "the VDO version does not go with this number of words: the nearest published form is used"
	case SurplusObjects:
		return "more words than this product type has: the rest is shown as data"
	case MissingObjects:
		return "fewer words than this product type has: the missing ones declare nothing"
	}
	return "assumption " + decimal(uint32(a))
}

// Assumptions lists what was taken for granted in reading the reply.
func (r Reply) Assumptions() []Assumption {
	var as []Assumption
	h, headed := r.Header()
	if !r.Identity() {
		if h.Structured() && h.Major() > 1 {
			as = append(as, AssumedVersion2)
		}
		if h.Structured() && h.SVID() != SVIDPowerDelivery && h.Command() == DiscoverIdentity && h.Type() == ACK {
			as = append(as, ForeignIdentity)
		}
		return as
	}
	if !headed {
		as = append(as, AssumedIdentity)
		if r.ctx.Revision == RevisionUnknown {
			as = append(as, AssumedPD3)
		} else {
			as = append(as, RevisionFromCaller)
		}
	} else if h.Major() > 1 {
		as = append(as, AssumedVersion2)
	}
	if w, ok := r.Active1(); ok {
		_, two := r.Active2()
		v := w.Version()
		switch {
		case two && (v < VDOVersion12 || v > VDOVersion13), !two && v != VDOVersion10:
			as = append(as, AssumedForm)
		case !two:
			as = append(as, AssumedEarlyForm)
		}
	}
	if _, ok := r.VPD(); ok && r.PD2Layout() {
		as = append(as, AssumedVPD)
	}
	if want := r.Objects(); want != 0 {
		switch got := r.Got(); {
		case got > want:
			as = append(as, SurplusObjects)
		case got < want:
			as = append(as, MissingObjects)
		}
	}
	return as
}

// Otherwise gives the reading under PD 2.0 where PD 3.x was only assumed and the
// two can differ.
func (r Reply) Otherwise() (Reply, bool) {
	if !r.ctx.Headerless || r.ctx.Revision != RevisionUnknown || len(r.words) == 0 {
		return Reply{}, false
	}
	r.ctx.Revision = Revision2
	return Decode(r.words, r.ctx), true
}
