package vdo_test

import (
	"testing"

	. "example.com/gainsay/vdo"
)

// sink keeps results alive, so that the compiler cannot drop what made them.
var sink int

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Reading words allocates nothing: accessors, Decode and the choice of a layout.
func TestNoAllocations(t *testing.T) {
	words := []uint32{0xFF00A041, 0x2460FFFF, 0x00012345, 0x00000100, 0x006A3E5B, 0x46503209}
	w := words[4]
	for name, read := range map[string]func(){
		"VDMHeader": func() {
			h := VDMHeader(words[0])
			sink += flag(h.Structured()) + int(h.SVID()) + h.Major() + h.Minor() + h.Position() + int(h.Type()) + int(h.Command()) +
				flag(h.ReservedBit()) + len(h.Version()) + flag(h.Is(SVIDPowerDelivery, DiscoverIdentity, ACK)) + len(h.Layout().Name())
		},
		"identity words": func() {
			i, c, p := IDHeader(words[1]), CertStat(words[2]), Product(words[3])
			sink += flag(i.Host()) + flag(i.Device()) + int(i.Product()) + flag(i.Modal()) + i.DFP() + i.Connector() + int(i.VendorID()) +
				int(c.XID()) + int(p.ProductID()) + int(p.Release())
		},
		"CablePD2": func() {
			c := CablePD2(w)
			d, _ := c.Latency().Passive()
			sink += c.Hardware() + c.Firmware() + int(c.End()) + int(c.Latency()) + int(c.Termination()) + flag(c.SSTX1()) + flag(c.SSTX2()) +
				flag(c.SSRX1()) + flag(c.SSRX2()) + int(c.Current()) + flag(c.Through()) + flag(c.FarPlug()) + int(c.Speed()) + d.UpTo
		},
		"PassiveCable": func() {
			c := PassiveCable(w)
			a, _ := c.Current().Amps()
			sink += c.Hardware() + c.Firmware() + c.Version() + int(c.End()) + flag(c.EPR()) + int(c.Latency()) + int(c.Termination()) +
				c.MaxVoltage().Volts() + int(c.Current()) + int(c.Speed()) + a + int(c.Speed().Gbps())
		},
		"ActiveCable1": func() {
			c := ActiveCable1(w)
			d, _ := c.Latency().Active()
			sink += c.Hardware() + c.Firmware() + c.Version() + int(c.End()) + flag(c.EPR()) + int(c.Latency()) + int(c.Termination()) +
				int(c.MaxVoltage()) + flag(c.SBU()) + flag(c.SBUActive()) + int(c.Current()) + flag(c.Through()) + flag(c.FarPlug()) +
				int(c.Speed()) + d.UpTo
		},
		"ActiveCable2": func() {
			c := ActiveCable2(words[5])
			s, _ := c.SpeedV12()
			sink += c.MaxTemperature() + c.Shutdown() + c.U3Power() + flag(c.U3ToU0ViaU3S()) + flag(c.Optical()) + flag(c.Retimer()) +
				flag(c.USB4()) + c.HubHops() + flag(c.USB2()) + flag(c.USB32()) + c.Lanes() + flag(c.Isolated()) + flag(c.Asymmetric()) +
				flag(c.Gen2()) + int(s)
		},
		"VPD": func() {
			c := VPD(w)
			sink += c.Hardware() + c.Firmware() + c.Version() + int(c.MaxVoltage()) + flag(c.ChargeThrough()) + c.ChargeThroughAmps() +
				c.VBUSMilliohm() + c.GroundMilliohm()
		},
		"mode words": func() {
			p, b, d := SVIDPair(w), ThunderboltCable(w), DisplayPortCable(w)
			sink += int(p.First()) + int(p.Second()) + b.Mode() + int(b.Speed()) + b.Rounded() + flag(b.Optical()) + flag(b.Retimer()) +
				flag(b.UnidirectionalTraining()) + flag(b.Active()) + int(b.Speed().LaneGbps()) + d.Version() + d.Component() +
				flag(d.UHBR13()) + int(d.UFPPins()) + int(d.DFPPins()) + d.Signalling() + int(d.LaneGbps())
		},
		"Decode and its typed words": func() {
			r := Decode(words, Context{Plug: PlugNear})
			h, _ := r.Header()
			i, _ := r.ID()
			c, _ := r.CertStat()
			p, _ := r.Product()
			a, _ := r.Active1()
			b, _ := r.Active2()
			_, other := r.Otherwise()
			sink += int(h) + int(i) + int(c) + int(p) + int(a) + int(b) + int(r.ActiveForm()) + r.Objects() + r.Got() +
				flag(r.Blank()) + flag(r.Identity()) + flag(other)
		},
		"Layout": func() {
			r := Decode(words, Context{Plug: PlugNear})
			for i := range words {
				sink += len(r.Layout(i).Name())
			}
		},
		"Summarize an identity": func() {
			s := Summarize(Decode(words, Context{Plug: PlugNear}))
			sink += s.Amps.Or(0) + flag(s.LinearRedriver().Known()) + flag(s.DisplayPortRate().Known())
		},
		"ReservedMask": func() { sink += int(LayoutNamed("passive-cable").ReservedMask()) },
	} {
		if n := testing.AllocsPerRun(100, read); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}
