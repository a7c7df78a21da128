package label

import (
	"fmt"
	"slices"
	"strings"
)

// Data is a claim of data: a bare rate, a standard, or none.
type Data struct {
	Gbps     float64 // 10⁹ bit/s, all lanes together
	Standard string  // one of Standards; empty where a bare rate is claimed
	None     bool    // sold for charging only
}

// standard is a data standard with the names that sellers use for it.
type standard struct {
	name  string
	gbps  float64
	names []string // squashed: lower case, without blanks and hyphens
}

// The standards. The wording of the certified marks ("USB 40Gbps") names the cable that
// carries it: USB-IF's marks since autumn 2022.
var standards = []standard{
	{"USB 2.0", 0.48, []string{"usb2.0", "usb2", "hispeed", "hispeedusb", "usbhispeed", "highspeedusb", "usbhighspeed", "usb2.0hispeed", "usb2.0highspeed", "hispeedusb2.0", "highspeedusb2.0", "usb480mbps"}},
	{"USB 3.2 Gen 1", 5, []string{"usb3.2gen1", "usb3.2gen1x1", "usb3.0", "usb3.1gen1", "superspeed", "superspeedusb", "usbsuperspeed", "usb3.0superspeed", "superspeedusb3.0", "usb5gbps", "superspeedusb5gbps", "ss5gbps", "usb3gen1"}},
	{"USB 3.2 Gen 1x2", 10, []string{"usb3.2gen1x2"}},
	{"USB 3.2 Gen 2", 10, []string{"usb3.2gen2", "usb3.2gen2x1", "usb3.1gen2", "superspeed+", "superspeedplus", "superspeedusb+", "superspeed+usb", "usbsuperspeed+", "usb10gbps", "superspeedusb10gbps", "usb3gen2"}},
	{"USB 3.2 Gen 2x2", 20, []string{"usb3.2gen2x2", "superspeedusb20gbps"}},
	{"USB4 Gen 2", 20, []string{"usb4gen2", "usb4gen2x2", "usb20gbps", "usb420gbps", "usb4v1gen2"}},
	{"USB4 Gen 3", 40, []string{"usb4gen3", "usb4gen3x2", "usb40gbps", "usb440gbps", "usb4v1gen3", "usb4version1gen3"}},
	{"USB4 Gen 4", 80, []string{"usb4gen4", "usb4gen4x2", "usb4v2", "usb4v2.0", "usb4version2.0", "usb4version2", "usb80gbps", "usb480gbps", "usb42.0"}},
}

// openNames are names that leave the generation open, with what to choose from; a rate
// beside them settles it.
var openNames = map[string][]string{
	"usb3.1": {"USB 3.2 Gen 1", "USB 3.2 Gen 2"},
	"usb3.2": {"USB 3.2 Gen 1", "USB 3.2 Gen 2", "USB 3.2 Gen 2x2"},
	"usb3":   {"USB 3.2 Gen 1", "USB 3.2 Gen 2", "USB 3.2 Gen 2x2"},
	"usb4":   {"USB4 Gen 2", "USB4 Gen 3", "USB4 Gen 4"},
}

// Standards lists the names of the standards in the order of their rates.
func Standards() []string {
	out := make([]string, len(standards))
	for i, s := range standards {
		out[i] = s.name
	}
	return out
}

func named(name string) *standard { return byName[squash(name)] }

// byName finds a standard by its squashed name or another of its names.
var byName = func() map[string]*standard {
	out := map[string]*standard{}
	for i := range standards {
		s := &standards[i]
		out[squash(s.name)] = s
		for _, n := range s.names {
			out[n] = s
		}
	}
	return out
}()

func squash(s string) string { return squasher.Replace(strings.ToLower(s)) }

var squasher = strings.NewReplacer(" ", "", "-", "", "_", "", "*", "x")

var noData = []string{"none", "chargeonly", "chargingonly", "poweronly", "nodata", "chargeonlycable", "chargeonly,nodata", "chargeonly(nodata", "chargingonly(nodata", "chargingcableonly", "nodatasync", "nodatatransfer", "chargingonly,nodata", "no", "withoutdata"}

// bits are the units of a rate by their spellings, in Gbps; bytes those whose letter B
// means eight bits.
var (
	bits  = map[string]float64{}
	bytes = map[string]float64{}
)

func init() {
	for name, f := range map[string]float64{"kilo": 1e-6, "mega": 1e-3, "giga": 1, "tera": 1e3} {
		for _, n := range []string{name, strings.ToUpper(name[:1]) + name[1:]} {
			bits[n+"bit"], bits[n+"bits"], bits[n+"bit/s"], bits[n+"bits/s"] = f, f, f, f
		}
	}
	for prefix, f := range map[string]float64{"k": 1e-6, "m": 1e-3, "g": 1, "t": 1e3} {
		upper := strings.ToUpper(prefix)
		for _, p := range []string{prefix, upper} {
			for _, u := range []string{"bps", "b/s", "bit/s", "bits/s", "bit", "bits", "b", "bitps", "b/sec", "bit/sec", "bits/sec", "bps/s"} {
				bits[p+u] = f
			}
			for _, u := range []string{"Bps", "B/s", "B/sec", "Byte/s", "Bytes/s", "byte/s", "bytes/s", "B"} {
				bytes[p+u] = f
			}
			for _, u := range []string{"Bit/s", "Bits/s", "Bit", "Bits"} {
				bits[p+u] = f
			}
		}
		bits[upper+"BPS"] = f // all capitals, as headlines are set
		bits[upper+"BIT/S"] = f
		bits[upper] = f
	}
}

var dataIdle = longest(append(slices.Clone(idleWords), "usb-c", "usb type-c", "type-c", "with", "at", "sync", "syncing", "and", "standard", "the", "only", "usb-if", "of", ",", "(", ")", "/")...)

// DataOf reads a rate, a standard's name, both where they agree, or "charge only".
func DataOf(text string) (d Data, normal string, err *Error) {
	if st := byName[strings.ToLower(strings.ReplaceAll(text, " ", ""))]; st != nil {
		return Data{Gbps: st.gbps, Standard: st.name}, st.name, nil
	}
	if n, ok := strings.CutSuffix(text, " Gbps"); ok && len(n) < 6 && n != "" && digit(n[0]) {
		if v, nerr := number(n); nerr == nil && v > 0 && v <= mostGbps {
			return Data{Gbps: v}, rateText(v), nil
		}
	}
	want := `write a rate, as in "40 Gbps", or a standard: ` + strings.Join(Standards(), ", ")
	if err := tooLong(text, want); err != nil {
		return d, "", err
	}
	s := strings.NewReplacer("bits per second", "bits/s", "bit per second", "bit/s", "USB C ", "USB-C ", "usb c ", "usb-c ").Replace(plain(text))
	lower := strings.ToLower(s)
	if slices.Contains(noData, squash(strings.Trim(s, "()."))) {
		return Data{None: true}, "none", nil
	}
	if st := named(s); st != nil { // SuperSpeed+ has a plus of its own
		return Data{Gbps: st.gbps, Standard: st.name}, st.name, nil
	}
	if strings.HasPrefix(s, "-") {
		return d, "", refuse(text, "the rate is not above zero", want)
	}
	if err := refuseBound(text, strings.ReplaceAll(lower, "superspeed+", ""), want); err != nil {
		return d, "", err
	}
	for _, other := range []string{"thunderbolt", "tbt", "tb3", "tb4", "tb5", "displayport", "hdmi"} {
		if strings.Contains(squash(s), other) {
			return d, "", refuse(text, fmt.Sprintf("%q is a mode, not a data rate", other), `write it under modes, and the rate here, as in "40 Gbps"`)
		}
	}
	rates, rest, err := rateParts(text, s, want)
	if err != nil {
		return d, "", err
	}
	var gbps float64
	if len(rates) > 0 {
		v, same := one(rates)
		if !same {
			return d, "", refuse(text, "two different rates stand here", highest+`, as in "`+rateText(slices.Max(rates))+`"`)
		}
		gbps = v
	}
	name := squash(without(strings.ToLower(rest), dataIdle))
	if rest := strings.ToLower(rest); strings.Contains(rest, "usb-c") || strings.Contains(rest, "type-c") {
		name = "usb" + strings.TrimPrefix(name, "usb")
		if name == "usb" {
			name = ""
		}
	}
	switch {
	case name == "" && gbps == 0:
		return d, "", refuse(text, "no rate and no standard stands here", want)
	case name == "":
		return Data{Gbps: gbps}, rateText(gbps), nil
	}
	if st := named(name); st != nil {
		if gbps != 0 && gbps != st.gbps {
			return d, "", refuse(text, fmt.Sprintf("%s is %s, not %s", st.name, rateText(st.gbps), rateText(gbps)), fmt.Sprintf("write the one that is meant: %q or %q", st.name, rateText(gbps)))
		}
		return Data{Gbps: st.gbps, Standard: st.name}, st.name, nil
	}
	if mark := named("usb" + rateText(gbps)); gbps != 0 && name == "usb" && mark != nil {
		return Data{Gbps: mark.gbps, Standard: mark.name}, mark.name, nil
	}
	if options, ok := openNames[name]; ok {
		for _, o := range options {
			if st := named(o); gbps == st.gbps {
				return Data{Gbps: gbps, Standard: st.name}, st.name, nil
			}
		}
		if gbps != 0 {
			return d, "", refuse(text, fmt.Sprintf("no %s runs at %s", strings.ToUpper(name), rateText(gbps)), fmt.Sprintf("write the rate alone, %q, or one of %s", rateText(gbps), strings.Join(options, ", ")))
		}
		return d, "", refuse(text, "the generation is missing", "write one of "+strings.Join(options, ", "))
	}
	return d, "", refuse(text, fmt.Sprintf("%q is neither a rate nor a standard known here", strings.TrimSpace(rest)), want)
}

// rateParts takes the rates out of a text, in Gbps, and gives the rest.
func rateParts(text, s, want string) (rates []float64, rest string, err *Error) {
	var b strings.Builder
	for i := 0; i < len(s); {
		if !digit(s[i]) || i > 0 && (wordy(s[i-1]) || s[i-1] == '.') {
			b.WriteByte(s[i])
			i++
			continue
		}
		j := i
		for j < len(s) && (digit(s[j]) || (s[j] == '.' || s[j] == ',') && j+1 < len(s) && digit(s[j+1])) {
			j++
		}
		k := j
		if k < len(s) && (s[k] == ' ' || s[k] == '-') {
			k++
		}
		end := k
		for end < len(s) && (letter(s[end:]) || s[end] == '/' && end > k && end+1 < len(s) && s[end+1]|0x20 == 's') {
			end++
		}
		unit := s[k:end]
		by, isBits := bits[unit]
		if byBytes, isBytes := bytes[unit]; isBytes && !isBits {
			v, nerr := number(s[i:j])
			if nerr != nil {
				return nil, "", refuse(text, nerr.Error(), want)
			}
			if byBytes >= 1 {
				return nil, "", refuse(text, fmt.Sprintf("%s gigabytes a second are %s", decimal(v), rateText(round(8*v*byBytes))), fmt.Sprintf("%s as written; write %s if bits are meant", rateText(round(8*v*byBytes)), rateText(v*byBytes)))
			}
			if v <= 0 || 8*v*byBytes > mostGbps {
				return nil, "", refuse(text, "the rate is not above zero, or beyond any cable", want)
			}
			rates = append(rates, round(8*v*byBytes))
			b.WriteByte(' ')
			i = end
			continue
		}
		if isBits && unit != "" {
			v, nerr := number(s[i:j])
			if nerr != nil {
				return nil, "", refuse(text, nerr.Error(), want)
			}
			if v <= 0 || v*by > mostGbps {
				return nil, "", refuse(text, "the rate is not above zero, or beyond any cable", want)
			}
			rates = append(rates, round(v*by))
			b.WriteByte(' ')
			i = end
			continue
		}
		b.WriteString(s[i:j])
		i = j
	}
	return rates, b.String(), nil
}

// rateText prints a rate in Gbps.
func rateText(gbps float64) string {
	if gbps < 1 {
		return decimal(round(gbps*1000)) + " Mbps"
	}
	return decimal(gbps) + " Gbps"
}
