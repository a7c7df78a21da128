package label

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Ends of a cable by the words that sellers use, in lower case, as they stand once the
// words that say nothing are gone. "r" is a receptacle.
var ends = map[string]string{
	"c": "c", "a": "a", "b": "b", "microb": "micro-b", "micro": "micro-b", "minib": "mini-b", "mini": "mini-b", "captive": "captive", "fixed": "captive",
}

// assemblies are the pairs of ends that have a name here; "-r" behind an end is a
// receptacle.
var assemblies = map[string]string{
	"c c": "c-to-c", "c a": "c-to-a", "c b": "c-to-b", "c micro-b": "c-to-micro-b", "c mini-b": "c-to-mini-b",
	"c a-r": "c-to-a-receptacle", "c micro-b-r": "c-to-micro-b-receptacle", "c captive": "c-captive",
}

// Assemblies lists the names of plugs in the order they are offered.
func Assemblies() []string {
	return []string{"c-to-c", "c-to-a", "c-to-b", "c-to-micro-b", "c-to-mini-b", "c-to-a-receptacle", "c-to-micro-b-receptacle", "c-captive"}
}

// known are the names themselves.
var known = func() map[string]bool {
	out := map[string]bool{}
	for _, n := range Assemblies() {
		out[n] = true
	}
	return out
}()

var (
	typePrefix = pattern(`\b(usb[ -]?)?(standard[ -]?)?type[ -]?`)
	microB     = pattern(`\bmicro[ -]?(usb)?[ -]?(2\.0)?[ -]?(type)?[ -]?b?\b`)
	miniB      = pattern(`\bmini[ -]?(usb)?[ -]?(type)?[ -]?b?\b`)
	usbWord    = pattern(`\busb[ -]?|\bstandard[ -]`)
	female     = pattern(`\b(female|receptacle|socket|jack|f)\b`)
	idleEnd    = pattern(`\b(male|plugs?|connectors?|cable|cord|lead|charging|charge|data|adapter|m|on both ends|at both ends)\b`)
	between    = pattern(`\b(to|and|on)\b|[-/<>&,;()+|=:]+`)
)

// Plugs reads the two ends of a cable: "USB-C to USB-C", "Type-A male to Type-C male".
func Plugs(text string) (name string, err *Error) {
	if known[text] {
		return text, nil
	}
	const want = `write both ends, as in "USB-C to USB-A"; for other ends leave plugs out and put the words in label`
	if err := tooLong(text, want); err != nil {
		return "", err
	}
	s := strings.ToLower(plain(text))
	both := strings.Contains(s, "both ends")
	for _, re := range []struct {
		re func() *regexp.Regexp
		by string
	}{{microB, " microb "}, {miniB, " minib "}, {typePrefix, " "}, {usbWord, " "}, {female, " r "}, {idleEnd, " "}, {between, " "}} {
		s = re.re().ReplaceAllString(s, re.by)
	}
	var got []string
	for _, w := range strings.Fields(s) {
		switch end := ends[w]; {
		case end != "":
			got = append(got, end)
		case w == "r" && len(got) > 0:
			got[len(got)-1] += "-r"
		default:
			return "", refuse(text, fmt.Sprintf("%q is not an end known here", w), want)
		}
	}
	if len(got) == 1 && both {
		got = append(got, got[0])
	}
	if len(got) != 2 {
		return "", refuse(text, fmt.Sprintf("%d ends stand here", len(got)), want)
	}
	for _, pair := range [][2]string{{got[0], got[1]}, {got[1], got[0]}} {
		if name := assemblies[pair[0]+" "+pair[1]]; name != "" {
			return name, nil
		}
	}
	return "", refuse(text, "a cable with these ends has no name here", want)
}

// modes are the alternate modes by their squashed names, without version and mark.
var modes = map[string]string{
	"displayport": "displayport", "dp": "displayport", "dpalt": "displayport", "displayportalt": "displayport",
	"thunderbolt3": "thunderbolt-3", "tb3": "thunderbolt-3", "tbt3": "thunderbolt-3",
	"thunderbolt4": "thunderbolt-4", "tb4": "thunderbolt-4", "tbt4": "thunderbolt-4",
	"thunderbolt5": "thunderbolt-5", "tb5": "thunderbolt-5", "tbt5": "thunderbolt-5",
}

// ModeNames lists the modes known here.
func ModeNames() []string {
	return []string{"displayport", "thunderbolt-3", "thunderbolt-4", "thunderbolt-5"}
}

var (
	modeSplit   = pattern(`\s*(?:,|/|\+|&|;|\band\b)\s*`)
	dpVersion   = pattern(`^(displayport|dp)(alt)?(1\.2|1\.4|1\.4a|2\.0|2\.1)(alt)?$`)
	modeIdle    = longest("compatible", "supports", "supported", "support", "mode", "modes", "alternate mode", "alternative", "certified", "ready", "output", "video", "intel", "over usb-c", "usb-c", "via usb-c")
	onlyVersion = pattern(`^[345]$`)
)

// Modes reads one mode, or several with commas, slashes or plus signs between.
func Modes(text string) (names []string, err *Error) {
	if slices.Contains(ModeNames(), text) {
		return []string{text}, nil
	}
	const want = "write displayport, thunderbolt-3, thunderbolt-4 or thunderbolt-5"
	if err := tooLong(text, want); err != nil {
		return nil, err
	}
	parts := modeSplit().Split(strings.ToLower(plain(text)), -1)
	for i, part := range parts {
		part = without(strings.ReplaceAll(part, "alternate", "alt"), modeIdle)
		s := squash(part)
		if onlyVersion().MatchString(s) && i > 0 && len(names) > 0 && strings.HasPrefix(names[len(names)-1], "thunderbolt") {
			s = "thunderbolt" + s // Thunderbolt 3/4
		}
		if m := dpVersion().FindStringSubmatch(s); m != nil {
			s = "displayport"
		}
		switch name := modes[s]; {
		case name != "":
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		case s == "thunderbolt" || s == "tbt" || s == "tb":
			return nil, refuse(text, "the generation of Thunderbolt is missing", "write thunderbolt-3, thunderbolt-4 or thunderbolt-5")
		case s == "":
			return nil, refuse(text, "a mode is missing", want)
		default:
			return nil, refuse(text, fmt.Sprintf("%q is not a mode known here", part), want+"; leave other modes out and put them in label")
		}
	}
	return names, nil
}

// Video is a picture size and rate.
type Video struct {
	Width, Height int
	Hz            float64
}

// sizes are the names of 16:9 pictures (common practice).
var sizes = map[string][2]int{
	"4k": {3840, 2160}, "uhd": {3840, 2160}, "4kuhd": {3840, 2160}, "uhd4k": {3840, 2160}, "ultrahd": {3840, 2160}, "4kultrahd": {3840, 2160}, "ultrahd4k": {3840, 2160}, "2160p": {3840, 2160},
	"5k": {5120, 2880}, "6k": {6144, 3456}, "8k": {7680, 4320}, "8kuhd": {7680, 4320}, "4320p": {7680, 4320}, "10k": {10240, 5760}, "16k": {15360, 8640},
	"fhd": {1920, 1080}, "fullhd": {1920, 1080}, "1080p": {1920, 1080}, "1080pfullhd": {1920, 1080}, "hd": {1280, 720}, "720p": {1280, 720},
	"qhd": {2560, 1440}, "wqhd": {2560, 1440}, "2k": {2560, 1440}, "1440p": {2560, 1440}, "quadhd": {2560, 1440},
}

var (
	wideHigh = pattern(`(\d{3,5}) ?[x*] ?(\d{3,5})`)
	hertz    = pattern(`(\d+(?:\.\d+)?) ?(?:hz|fps)`)
	lines    = pattern(`\b(720|1080|1440|2160|4320)p(\d{2,3})?\b`)
	short    = pattern(`\b(\d{1,2})k ?(?:@|/|,|at)? ?(\d{2,3})?\b`)
	atRate   = pattern(`@ ?(\d+(?:\.\d+)?)`)
)

const (
	leastHz, mostHz = 1, 1000
	mostPixels      = 20000 // in a line or column
)

var videoIdle = longest(append(slices.Clone(idleWords), "display", "monitor", "screen", "picture", "refresh")...)

// VideoOf reads a picture and its rate: "4K@60Hz", "8K (7680x4320) 60Hz".
func VideoOf(text string) (v Video, normal string, err *Error) {
	const want = `write size and rate, as in "8K60" or "3840x2160@60"`
	if err := tooLong(text, want); err != nil {
		return v, "", err
	}
	s := strings.ToLower(plain(text))
	if err := refuseBound(text, strings.ReplaceAll(s, "ultra", ""), want); err != nil {
		return v, "", err
	}
	for _, extra := range []string{"hdr", "dsc", "4:4:4", "4:2:2", "4:2:0", "bit"} {
		if strings.Contains(s, extra) {
			return v, "", refuse(text, fmt.Sprintf("%q is more than size and rate", extra), want+"; put the rest in label")
		}
	}
	s = without(s, videoIdle)
	var found [][2]int
	var rates []float64
	rate := func(t string) {
		if f, perr := strconv.ParseFloat(t, 64); perr == nil && t != "" {
			rates = append(rates, f)
		}
	}
	take := func(pattern func() *regexp.Regexp, f func(m []string)) {
		re := pattern()
		s = re.ReplaceAllStringFunc(s, func(t string) string { f(re.FindStringSubmatch(t)); return " " })
	}
	take(wideHigh, func(m []string) {
		w, _ := strconv.Atoi(m[1])
		h, _ := strconv.Atoi(m[2])
		found = append(found, [2]int{w, h})
	})
	take(hertz, func(m []string) { rate(m[1]) })
	take(lines, func(m []string) { found = append(found, sizes[m[1]+"p"]); rate(m[2]) })
	unknown := ""
	take(short, func(m []string) {
		size, ok := sizes[m[1]+"k"]
		if !ok {
			unknown = m[1] + "K"
			return
		}
		found = append(found, size)
		rate(m[2])
	})
	take(atRate, func(m []string) { rate(m[1]) })
	for _, w := range strings.Fields(strings.NewReplacer("(", " ", ")", " ", "@", " ", "/", " ", ",", " ", "-", " ", " at ", " ", "ultra hd", "ultrahd", "full hd", "fullhd", "quad hd", "quadhd").Replace(s)) {
		size, ok := sizes[w]
		switch f, perr := strconv.ParseFloat(w, 64); {
		case ok:
			found = append(found, size)
		case perr == nil && len(rates) == 0:
			rates = append(rates, f)
		default:
			return v, "", refuse(text, fmt.Sprintf("%q is not understood here", w), want)
		}
	}
	switch {
	case unknown != "":
		return v, "", refuse(text, unknown+" is not a picture size known here", want)
	case len(found) == 0:
		return v, "", refuse(text, "no picture size stands here", want)
	case len(rates) == 0:
		return v, "", refuse(text, "the rate is missing", want)
	}
	for _, f := range found {
		if f != found[0] {
			return v, "", refuse(text, "two picture sizes stand here", want+"; "+highest)
		}
	}
	hz, same := one(rates)
	if !same {
		return v, "", refuse(text, "two rates stand here", want+"; "+highest)
	}
	if hz < leastHz || hz > mostHz || found[0][0] > mostPixels || found[0][1] > mostPixels {
		return v, "", refuse(text, "no such picture is made", want)
	}
	v = Video{found[0][0], found[0][1], hz}
	return v, fmt.Sprintf("%dx%d@%s", v.Width, v.Height, decimal(hz)), nil
}

// Yes/no claims by their words, squashed.
var (
	yes = []string{"yes", "true", "y"}
	no  = []string{"no", "false", "n", "none"}

	activeWords  = map[string]bool{"active": true, "activecable": true, "passive": false, "passivecable": false, "notactive": false}
	markedWords  = map[string]bool{"emarker": true, "emark": true, "emarked": true, "emarkerchip": true, "emarkchip": true, "withemarker": true, "withemarkerchip": true, "builtinemarker": true, "builtinemarkerchip": true, "emarkerchipbuiltin": true, "marked": true, "marker": true, "electronicallymarked": true, "emarkeric": true, "withemark": true, "hasemarker": true, "yes,emarker": true, "smartemarkerchip": true, "smartemarker": true, "builtinemark": true, "noemarker": false, "withoutemarker": false, "unmarked": false, "notmarked": false, "nomarker": false}
	certifyWords = map[string]bool{"usbifcertified": true, "usbif": true, "certifiedbyusbif": true, "usbifcertification": true, "certified": true, "usbcertified": true, "yes(usbif": true, "officiallyusbifcertified": true, "notcertified": false, "uncertified": false, "notusbifcertified": false}
)

func truth(text string, words map[string]bool, want string) (bool, string, *Error) {
	switch text {
	case "true", "yes":
		return true, "yes", nil
	case "false", "no":
		return false, "no", nil
	}
	if err := tooLong(text, want); err != nil {
		return false, "", err
	}
	s := strings.Trim(squash(plain(text)), "().:!")
	v, ok := words[s]
	switch {
	case slices.Contains(yes, s):
		v = true
	case slices.Contains(no, s):
		v = false
	case !ok:
		return false, "", refuse(text, "this is neither yes nor no", want)
	}
	if v {
		return true, "yes", nil
	}
	return false, "no", nil
}

// Active reads whether a cable is sold as active: yes, no, active or passive.
func Active(text string) (bool, string, *Error) {
	return truth(text, activeWords, "write yes or no, or active or passive")
}

// Marked reads whether a cable is sold with a marker.
func Marked(text string) (bool, string, *Error) {
	return truth(text, markedWords, `write yes or no, or "e-marker"`)
}

// Certified reads whether a cable is sold as certified by USB-IF. Other certificates are
// not meant.
func Certified(text string) (bool, string, *Error) {
	return truth(text, certifyWords, `write yes or no, or "USB-IF certified"; put other certificates in label`)
}

var certificate = pattern(`(?i)^(?:(?:usb-if|certification|certificate|cert\.?|test id|number|xid|tid|no\.?|id|nr\.?|#)[ :#.-]*)*(\d{1,10})$`)

// Certificate reads a certification number: "TID 12345".
func Certificate(text string) (normal string, err *Error) {
	const want = `write the number, as in "12345", or leave it out`
	if err := tooLong(text, want); err != nil {
		return "", err
	}
	m := certificate().FindStringSubmatch(plain(text))
	if m == nil {
		return "", refuse(text, "this is not a certification number", want)
	}
	return m[1], nil
}
