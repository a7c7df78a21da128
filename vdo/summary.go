package vdo

// Maybe is a value that the marker may not have declared. The zero Maybe is
// "not declared".
type Maybe[T any] struct {
	value T
	known bool
}

// Some is a declared value.
func Some[T any](v T) Maybe[T] { return Maybe[T]{v, true} }

// Get gives the value and whether it was declared.
func (m Maybe[T]) Get() (T, bool) { return m.value, m.known }

// Known reports whether the value was declared.
func (m Maybe[T]) Known() bool { return m.known }

// Or gives the value, or another where none was declared.
func (m Maybe[T]) Or(other T) T {
	if m.known {
		return m.value
	}
	return other
}

// Is reports whether the value was declared and meets the condition.
func (m Maybe[T]) Is(cond func(T) bool) bool { return m.known && cond(m.value) }

// Summary is what a marker declares, whatever the revision it answered in. What
// it does not declare is absent. Codes that are reserved or invalid declare
// nothing; the word still shows them.
type Summary struct {
	Product         Maybe[ProductType] // absent for a reserved type
	PD2             bool               // the cable word has the PD 2.0 layout
	VendorID        Maybe[uint16]      // USB vendor ID; 0xFFFF where the vendor has none
	CertificationID Maybe[uint32]      // XID; 0 is declared, and means none
	ProductID       Maybe[uint16]      // USB product ID
	Release         Maybe[uint16]      // bcdDevice, 0x0100 is 1.00
	Host, Device    Maybe[bool]        // can act as USB host, or as USB device
	Modal           Maybe[bool]        // says that it has alternate modes

	Amps  Maybe[int]  // VBUS current, A
	Volts Maybe[int]  // highest VBUS voltage, V; PD 2.0 has no such field
	EPR   Maybe[bool] // PD R3.1 and later
	End   Maybe[End]  // what the plug leads to

	Speed   Maybe[Speed] // highest USB signalling
	Lanes   Maybe[int]   // USB 3.2 lanes of an active cable
	Latency Maybe[Delay] // one way, ns

	VCONNRequired Maybe[bool] // after discovery
	Through       Maybe[bool] // VBUS through the cable
	FarPlug       Maybe[bool] // a SOP″ controller
	SBU           Maybe[bool] // the sideband wires

	USB2, USB32, USB4          Maybe[bool] // active cables
	Optical, Retimer, Isolated Maybe[bool] // medium, active element, ends apart
	Asymmetric                 Maybe[bool] // USB4 asymmetric mode
	MaxTemperature, Shutdown   Maybe[int]  // °C
	HubHops                    Maybe[int]  // USB 2.0 hub hops used up, 0 to 3

	ChargeThrough                Maybe[bool] // VPD
	VBUSMilliohm, GroundMilliohm Maybe[int]  // VPD with charge-through

	// From Discover SVIDs and Discover Modes, where those answers are given.
	SVIDs       Maybe[[]uint16]         // in the order answered, without the closing zero
	Thunderbolt Maybe[ThunderboltCable] // the mode word under SVID 0x8087
	DisplayPort Maybe[DisplayPortCable] // only where the word has the content of DP Alt Mode 2.1

	// displayPortMode: a mode was answered under the DisplayPort SVID, whatever
	// its form.
	displayPortMode bool
}

// Summarize joins the answers of one plug: its identity, its SVIDs and its
// modes. Of several identities the first counts; answers other than ACKs, and
// those of a port partner, say nothing.
func Summarize(replies ...Reply) Summary {
	var s Summary
	identified := false
	for _, r := range replies {
		if r.ctx.Plug == PlugPartner {
			continue
		}
		h, headed := r.Header()
		switch {
		case r.Identity():
			if !identified {
				s.identity(r)
				identified = true
			}
		case !headed:
		case h.Is(SVIDPowerDelivery, DiscoverSVIDs, ACK):
			s.svids(r.words[1:])
		case h.Is(SVIDThunderbolt, DiscoverModes, ACK):
			for _, w := range r.words[1:] {
				if m := ThunderboltCable(w); m.Mode() == 1 && !s.Thunderbolt.known {
					s.Thunderbolt = Some(m)
				}
			}
		case h.Is(SVIDDisplayPort, DiscoverModes, ACK) && len(r.words) > 1:
			s.displayPortMode = true
			if m := DisplayPortCable(r.words[1]); !s.DisplayPort.known && h.Version() == "2.1" && m.Version() != 0 {
				s.DisplayPort = Some(m)
			}
		}
	}
	return s
}

func (s *Summary) svids(words []uint32) {
	list := s.SVIDs.value
	for _, w := range words {
		for _, id := range [...]uint16{SVIDPair(w).First(), SVIDPair(w).Second()} {
			if id == 0 {
				s.SVIDs = Some(list)
				return
			}
			list = append(list, id)
		}
	}
	s.SVIDs = Some(list)
}

func (s *Summary) identity(r Reply) {
	id, ok := r.ID()
	if !ok {
		return
	}
	s.PD2 = r.PD2Layout()
	p := id.Product()
	if p == NotACable || p == PassiveType || p == ActiveType || p == VPDType {
		s.Product = Some(p)
	}
	s.VendorID = Some(id.VendorID())
	s.Host, s.Device, s.Modal = Some(id.Host()), Some(id.Device()), Some(id.Modal())
	if w, ok := r.CertStat(); ok {
		s.CertificationID = Some(w.XID())
	}
	if w, ok := r.Product(); ok {
		s.ProductID, s.Release = Some(w.ProductID()), Some(w.Release())
	}
	if w, ok := r.PD2(); ok {
		s.pd2(w, p)
	}
	if w, ok := r.Passive(); ok {
		s.passive(w)
	}
	if w, ok := r.Active1(); ok {
		s.active(w, r)
	}
	if w, ok := r.VPD(); ok {
		s.vpd(w)
	}
}

// maybe declares a value only where it is valid.
func maybe[T any](v T, valid bool) Maybe[T] {
	if !valid {
		return Maybe[T]{}
	}
	return Some(v)
}

func (s *Summary) pd2(w CablePD2, p ProductType) {
	s.Amps = maybe(w.Current().Amps())
	s.Speed = maybe(w.Speed(), w.Speed() <= USB32Gen2)
	s.Latency = maybe(w.Latency().Passive())
	s.End = Some(w.End())
	s.Through = Some(w.Through())
	if p == ActiveType {
		s.VCONNRequired = maybe(true, w.Termination() >= OneEndActive)
		s.FarPlug = Some(w.FarPlug())
	} else {
		s.VCONNRequired = maybe(w.Termination() == VCONNRequired, w.Termination() <= VCONNRequired)
	}
}

func (s *Summary) passive(w PassiveCable) {
	s.Amps = maybe(w.Current().Amps())
	s.Volts = Some(w.MaxVoltage().Volts())
	s.EPR = Some(w.EPR())
	s.Speed = maybe(w.Speed(), w.Speed().Valid())
	s.Latency = maybe(w.Latency().Passive())
	s.End = maybe(w.End(), w.End() >= EndTypeC)
	s.VCONNRequired = maybe(w.Termination() == VCONNRequired, w.Termination() <= VCONNRequired)
}

func (s *Summary) active(w ActiveCable1, r Reply) {
	form := r.ActiveForm()
	s.Volts = Some(w.MaxVoltage().Volts())
	s.Latency = maybe(w.Latency().Active())
	s.End = maybe(w.End(), w.End() >= EndTypeC)
	s.VCONNRequired = maybe(true, w.Termination() >= OneEndActive)
	s.Through = Some(w.Through())
	s.FarPlug = Some(w.FarPlug())
	amps, ok := w.Current().Amps()
	s.Amps = maybe(amps, ok && w.Through())
	if form != ActiveFormEarly {
		s.SBU = Some(w.SBU())
	}
	if form == ActiveFormCurrent {
		s.EPR = Some(w.EPR())
	}
	if form != ActiveFormV12 {
		s.Speed = maybe(w.Speed(), w.Speed().Valid())
	}
	two, ok := r.Active2()
	if !ok {
		return
	}
	s.MaxTemperature, s.Shutdown = Some(two.MaxTemperature()), Some(two.Shutdown())
	s.HubHops = Some(two.HubHops())
	s.USB2, s.USB32 = Some(two.USB2()), Some(two.USB32())
	s.Lanes = Some(two.Lanes())
	if form == ActiveFormV12 {
		s.Speed = maybe(two.SpeedV12())
		return
	}
	s.USB4 = Some(two.USB4())
	s.Optical, s.Retimer, s.Isolated = Some(two.Optical()), Some(two.Retimer()), Some(two.Isolated())
	s.Asymmetric = Some(two.Asymmetric())
}

func (s *Summary) vpd(w VPD) {
	if !s.PD2 { // the field came with PD 3.x
		s.Volts = Some(Max20V.Volts())
	}
	s.ChargeThrough = Some(w.ChargeThrough())
	if w.ChargeThrough() {
		s.Amps = Some(w.ChargeThroughAmps())
		s.VBUSMilliohm = maybe(w.VBUSMilliohm(), w.VBUSMilliohm() >= vpdLeast)
		s.GroundMilliohm = maybe(w.GroundMilliohm(), w.GroundMilliohm() >= vpdLeast)
	}
}

// HasSVID reports whether the plug answered that it supports an SVID: by listing
// it, or by answering with its mode. It is absent where neither was asked.
func (s Summary) HasSVID(svid uint16) Maybe[bool] {
	if svid == SVIDThunderbolt && s.Thunderbolt.known || svid == SVIDDisplayPort && (s.DisplayPort.known || s.displayPortMode) {
		return Some(true)
	}
	list, known := s.SVIDs.Get()
	if !known {
		return Maybe[bool]{}
	}
	for _, id := range list {
		if id == svid {
			return Some(true)
		}
	}
	return Some(false)
}

// LinearRedriver reports whether this is a cable with linear re-drivers, which
// calls itself passive in the ID header and active, without a re-timer, in its
// Thunderbolt mode word. That is how such cables are to answer, not a
// contradiction. Absent without a mode word.
func (s Summary) LinearRedriver() Maybe[bool] {
	m, known := s.Thunderbolt.Get()
	p, typed := s.Product.Get()
	if !known || !typed {
		return Maybe[bool]{}
	}
	if s.PD2 && !m.Active() {
		return Maybe[bool]{} // PD 2.0 does not define the bit, so only its 1 says something
	}
	return Some(p == PassiveType && m.Active() && !m.Retimer())
}

// LaneGbps is the highest rate of one USB4 or Thunderbolt lane that the cable
// word and the Thunderbolt mode word declare between them, in Gbps.
func (s Summary) LaneGbps() Maybe[float64] {
	var best Maybe[float64]
	if v, ok := s.Speed.Get(); ok {
		best = Some(v.LaneGbps())
	}
	if m, ok := s.Thunderbolt.Get(); ok {
		if rate := m.Speed().LaneGbps(); rate > best.Or(0) {
			best = Some(rate)
		}
	}
	return best
}

// displayPortGbps is the rate of a DisplayPort lane in Gbps that a host concludes from a
// Thunderbolt word without re-timer and with bit 25 clear (figure on cable mode selection,
// relayed by open firmware): UHBR20 for 20 Gbps a lane, UHBR10 for 10, else HBR3.
func (w ThunderboltCable) displayPortGbps() float64 {
	switch w.Speed() {
	case TBT20Gbps:
		return 20
	case TBTGen1, TBT10Gbps:
		return 10
	}
	return 8.1
}

// DisplayPortRate is what a host may conclude about DisplayPort over the cable.
type DisplayPortRate struct {
	LaneGbps float64 // 0: no DisplayPort
	Declared bool    // by a DisplayPort mode word, not concluded without one
}

// DisplayPortRate is what a host concludes from the mode word, or from the cable word
// and the Thunderbolt word where the cable does not answer to the DisplayPort SVID (DP
// Alt Mode 2.1, Figure 5-3). It is absent where the answers do not decide: the modes were
// not asked for, or a Thunderbolt word is missing or was answered under PD 2.0, so that a
// linear re-driver, which carries no DisplayPort, is not told from a passive cable.
func (s Summary) DisplayPortRate() Maybe[DisplayPortRate] {
	if m, ok := s.DisplayPort.Get(); ok {
		return Some(DisplayPortRate{m.LaneGbps(), true})
	}
	product, typed := s.Product.Get()
	dp := s.HasSVID(SVIDDisplayPort)
	if !typed || dp.Or(false) {
		return Maybe[DisplayPortRate]{}
	}
	if s.Modal.Or(false) && !dp.known {
		return Maybe[DisplayPortRate]{} // modes are open until asked: a linear re-driver looks passive too
	}
	speed, fast := s.Speed.Get()
	tbt, moded := s.Thunderbolt.Get()
	switch {
	case product == PassiveType && fast && speed == USB2:
		return Some(DisplayPortRate{}) // no pairs for it, whatever a Thunderbolt word says
	case moded && (tbt.Retimer() || tbt.Active()):
		return maybe(DisplayPortRate{}, dp.known)
	case !moded && s.HasSVID(SVIDThunderbolt).Or(false):
		return Maybe[DisplayPortRate]{} // its mode word tells a linear re-driver from a passive cable
	case moded && s.PD2:
		return Maybe[DisplayPortRate]{} // bit 25 came with PD 3.x, so its 0 says nothing here
	}
	switch product {
	case PassiveType:
		switch {
		case moded:
			return Some(DisplayPortRate{LaneGbps: tbt.displayPortGbps()})
		case !fast:
			return Maybe[DisplayPortRate]{}
		case speed <= USB32Gen2:
			return Some(DisplayPortRate{LaneGbps: 10})
		}
		return Some(DisplayPortRate{LaneGbps: 20})
	case ActiveType:
		if modal, ok := s.Modal.Get(); ok && !modal {
			return Some(DisplayPortRate{})
		}
		if svid := s.HasSVID(SVIDThunderbolt); svid.known && !svid.value { // so the list is known, and DisplayPort is not in it either
			return Some(DisplayPortRate{})
		}
	}
	return Maybe[DisplayPortRate]{}
}

// EPRWhole reports whether a marker declares EPR whole: the bit, 50 V and 5 A together.
func (s *Summary) EPRWhole() bool {
	return s.EPR.Or(false) && s.Volts.Or(0) == Max50V.Volts() && s.Amps.Or(0) == 5
}
