package record

import (
	"regexp"
	"strconv"
	"strings"
	"sync"

	"example.com/gainsay/vdo"
)

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

// standard is a named USB data standard.
type standard struct {
	name string
	gbps float64 // as the name promises, all lanes together
}

// standards lists the names a record's data claim may use, and older names for
// the same.
var standards = []struct {
	standard
	older []string
}{
	{standard{"USB 2.0", 0.48}, []string{"usb2"}},
	{standard{"USB 3.2 Gen 1", 5}, []string{"usb3.0", "usb3.1gen1", "usb3.2gen1x1"}},
	{standard{"USB 3.2 Gen 1x2", 10}, nil},
	{standard{"USB 3.2 Gen 2", 10}, []string{"usb3.1", "usb3.1gen2", "usb3.2gen2x1"}},
	{standard{"USB 3.2 Gen 2x2", 20}, nil},
	{standard{"USB4 Gen 2", 20}, []string{"usb4gen2x2", "usb4v1gen2"}},
	{standard{"USB4 Gen 3", 40}, []string{"usb4gen3x2"}},
	{standard{"USB4 Gen 4", 80}, []string{"usb4v2", "usb4version2", "usb4gen4x2"}},
}

// DataClaim is a data rate or a standard's name.
type DataClaim struct {
	Gbps     float64 // 10⁹ bit/s, all lanes together
	Standard string  // empty where a bare rate was claimed
}

func squash(s string) string {
	return strings.ToLower(strings.Join(strings.Fields(s), ""))
}

// standardsBySpelling finds a standard by its squashed name, or an older name.
var standardsBySpelling = sync.OnceValue(func() map[string]standard {
	out := map[string]standard{}
	for _, s := range standards {
		out[squash(s.name)] = s.standard
		for _, o := range s.older {
			out[o] = s.standard
		}
	}
	return out
})

func findStandard(text string) (standard, bool) {
	s, ok := standardsBySpelling()[squash(text)]
	return s, ok
}

func standardNames() string {
	names := make([]string, len(standards))
	for i, s := range standards {
		names[i] = s.name
	}
	return strings.Join(names, ", ")
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

var (
	videoShort = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)^(\d+)\s*k\s*@?\s*(\d+)\s*(?:hz)?$`) })
	videoLong  = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)^(\d{3,5})\s*[x×]\s*(\d{3,5})\s*@\s*(\d+(?:\.\d+)?)\s*(?:hz)?$`)
	})
	videoLines = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)^(\d{3,4})p\s*@?\s*(\d+)\s*(?:hz)?$`) })
)

// Picture sizes behind the usual short forms (common practice: 16:9).
var videoSizes = map[string][2]int{
	"4": {3840, 2160}, "5": {5120, 2880}, "6": {6144, 3456}, "8": {7680, 4320}, "10": {10240, 5760}, "16": {15360, 8640},
	"720": {1280, 720}, "1080": {1920, 1080}, "1440": {2560, 1440}, "2160": {3840, 2160},
}

func parseVideo(text string) (VideoClaim, bool) {
	t := strings.TrimSpace(text)
	var size [2]int
	var rate string
	ok := true
	if m := videoLong().FindStringSubmatch(t); m != nil {
		size[0], _ = strconv.Atoi(m[1])
		size[1], _ = strconv.Atoi(m[2])
		rate = m[3]
	} else if m := videoShort().FindStringSubmatch(t); m != nil {
		size, ok = videoSizes[m[1]]
		rate = m[2]
	} else if m := videoLines().FindStringSubmatch(t); m != nil {
		size, ok = videoSizes[m[1]]
		rate = m[2]
	} else {
		return VideoClaim{}, false
	}
	hz, err := strconv.ParseFloat(rate, 64)
	if !ok || err != nil || hz < leastHz || hz > mostHz {
		return VideoClaim{}, false
	}
	return VideoClaim{size[0], size[1], hz}, true
}
