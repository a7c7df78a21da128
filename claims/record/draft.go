package record

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Draft is a commented record with every key, for a person to fill in. As it is,
// it says only that there is a cable of this id.
func Draft(cable string) string { return DraftWith(cable, MarkerDraft{}, "") }

// MarkerDraft is what is known of the marker when a record is drafted: the lines
// of words each plug answered.
type MarkerDraft struct {
	Near, Far []string // lines of words, of the SOP′ and of the SOP″ plug
	Asked     bool     // whether or not anything answered
	Revision  string   // "2.0" or "3.0", where the words come without a header
	Notes     []string // comments above the marker's keys, a line each
}

// values gives the marker's keys that are known, as YAML.
func (m MarkerDraft) values() map[string]string {
	out := map[string]string{}
	block := func(key string, lines []string) {
		if len(lines) > 0 {
			out[key] = "|\n    " + strings.Join(lines, "\n    ")
		}
	}
	block("marker.near", m.Near)
	block("marker.far", m.Far)
	if m.Asked {
		out["marker.asked"] = "true"
	}
	if m.Revision != "" {
		out["marker.revision"] = strconv.Quote(m.Revision)
	}
	if len(out) > 0 {
		out["marker"] = ""
	}
	return out
}

// DraftWith is Draft with the marker's words in place, and with the file name of a rig
// where that is not empty.
func DraftWith(cable string, m MarkerDraft, rig string) string {
	known := m.values()
	if rig != "" {
		known["rig"] = yamlText(rig)
	}
	var b strings.Builder
	b.WriteString("# yaml-language-server: $schema=" + SchemaName + "\n" +
		"## The line above is for editors; 'gainsay schema -o " + SchemaName + "'\n## writes the file that it names.\n")
	b.WriteString("# A record of one cable. Take the # off what you know, and leave out what you do\n## not know.\n")
	b.WriteString("gainsay: " + strconv.Itoa(Version) + "\n")
	b.WriteString("cable: " + strconv.Quote(cable) + "\n")
	for _, k := range Keys() {
		depth := strings.Count(k.Path, ".")
		name := k.Path[strings.LastIndex(k.Path, ".")+1:]
		switch {
		case k.Path == "gainsay", k.Path == "cable":
			continue
		case example[k.Path] == "" && depth > 0:
			continue // shown by the example of the key it stands under
		case depth == 0:
			b.WriteString("\n")
		}
		indent := strings.Repeat("  ", depth)
		if k.Path == "marker" {
			for _, note := range m.Notes {
				b.WriteString("## " + lineEnds.Replace(note) + "\n")
			}
		}
		if value, ok := known[k.Path]; ok {
			b.WriteString(strings.TrimRight(indent+name+": "+value, " ") + "\n")
			continue
		}
		line := strings.TrimRight("# "+indent+name+": "+example[k.Path], " ")
		help := "# " + k.Help
		if gap := helpColumn - utf8.RuneCountInString(line); gap > 0 && helpColumn+utf8.RuneCountInString(help) <= 80 {
			b.WriteString(line + strings.Repeat(" ", gap) + help + "\n")
			continue
		}
		b.WriteString("# " + indent + help + "\n" + line + "\n")
	}
	return b.String()
}

// helpColumn is where the help stands behind a key, if it fits into 80 columns.
const helpColumn = 36

// example holds a value for each key that has one of its own.
var example = map[string]string{
	"label": `"2 m braided, blue sleeve"`, "about": `{seller: ..., bought: 2026-09-30}`,
	"waive":        `[{rule: bench-over-limit-at-3-a, reason: "known, scrapped"}]`,
	"claims.power": "100 W", "claims.current": "5 A", "claims.voltage": "20 V", "claims.data": "40 Gbps",
	"claims.length": "2 m", "claims.plugs": "c-to-c", "claims.active": "false", "claims.marked": "true",
	"claims.certified": "false", "claims.certificate": "12345", "claims.modes": "[displayport]",
	"claims.video": "8K60", "claims.conductors": "20 AWG", "claims.source": `"product page, 2026-10-02"`,
	"marker.near": `"FF00A041 18602FA1 ..."`, "marker.far": `"..."`, "marker.turned": `"..."`, "marker.asked": "true", "marker.revision": `"3.0"`,
	"photos": "[nf-014-label.jpg]", "rig": "bench-a.rig.yaml", "published": `{date: 2026-11-02, reply: "..."}`,
	"bench.date": "2026-10-05", "bench.by": "M. Tarn", "bench.copper": "41 °C", "bench.steady": "true",
	"bench.wires":     "{usb2: yes, superspeed: 2 lanes, sbu: yes, cc: yes, vconn: no, shield: yes}",
	"bench.heat":      "{current: 5 A, shell: 44 °C, after: 60 min}",
	"bench.reference": "{resistor: 100.0 mohm, tolerance: 0.1 %, current: 1 A, drop: 100.4 mV}",
	"bench.length":    "1.98 m", "bench.plugs": "c-to-c", "bench.ambient": "23 °C",
	"bench.voltmeter": "0.05 % + 20 µV", "bench.ammeter": "0.1 % + 1 mA", "bench.ohmmeter": "0.5 % + 0.1 mΩ",
	"bench.null":     "{current: 1 A, vbus: 1.2 mV, ground: 0.9 mV}",
	"bench.readings": "[{current: 1 A, vbus: 93.1 mV, ground: 44.9 mV, flip: up}]",
	"bench.vbus":     "92 mohm", "bench.ground": "45 mohm", "bench.loop": "140 mohm", "bench.note": `"..."`,
}
