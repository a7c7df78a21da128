package record

import "example.com/gainsay/vdo"

// Plugs names the two ends of a cable.
type Plugs string

// The assemblies gainsay knows.
const (
	CToC          Plugs = "c-to-c"                  // Type-C at both ends
	CToA          Plugs = "c-to-a"                  // Type-A plug
	CToB          Plugs = "c-to-b"                  // Type-B plug
	CToMicroB     Plugs = "c-to-micro-b"            // Micro-B plug
	CToMiniB      Plugs = "c-to-mini-b"             // Mini-B plug
	CToAJack      Plugs = "c-to-a-receptacle"       // Type-A receptacle, an adapter
	CToMicroBJack Plugs = "c-to-micro-b-receptacle" // Micro-B receptacle, an adapter
	CCaptive      Plugs = "c-captive"               // the other end is fixed to a device
)

var plugNames = []Plugs{CToC, CToA, CToB, CToMicroB, CToMiniB, CToAJack, CToMicroBJack, CCaptive}

// Legacy tells whether one end is an older connector than Type-C. Such a cable
// has no CC wire from end to end: it carries neither Power Delivery nor a
// marker's answer.
func (p Plugs) Legacy() bool { return p != "" && p != CToC && p != CCaptive }

// Mode is an alternate mode a seller claims.
type Mode string

// The modes gainsay knows.
const (
	DisplayPort  Mode = "displayport"   // DisplayPort Alt Mode
	Thunderbolt3 Mode = "thunderbolt-3" // 20 or 40 Gbps
	Thunderbolt4 Mode = "thunderbolt-4" // 40 Gbps
	Thunderbolt5 Mode = "thunderbolt-5" // 80 Gbps, 120 one way
)

var modeNames = []Mode{DisplayPort, Thunderbolt3, Thunderbolt4, Thunderbolt5}

// DataClaim is a data rate or a standard's name.
type DataClaim struct {
	Gbps     float64 // 10⁹ bit/s, all lanes together
	Standard string  // empty where a bare rate was claimed
	None     bool    // sold for charging only
}

// ParseRevision reads the revision of USB PD that somebody states, "2.0", "3.0" or
// later, and reports false for any other text.
func ParseRevision(text string) (vdo.Revision, bool) {
	switch text {
	case "2", "2.0":
		return vdo.Revision2, true
	case "3", "3.0", "3.1", "3.2", "3.x":
		return vdo.Revision3, true
	}
	return vdo.RevisionUnknown, false
}

// VideoClaim is a picture size and refresh rate.
type VideoClaim struct {
	Width, Height int     // picture elements
	Hz            float64 // pictures a second, 1 to 1000
}
