package publish

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

// MessageText prints a message for people: what kind it is, what the cable
// declares, then each word bit by bit.
func MessageText(m paste.Message, style Style) string {
	var b strings.Builder
	writeMessage(&b, m, style)
	return b.String()
}

func writeMessage(b *strings.Builder, m paste.Message, style Style) {
	msg := NewMessage(m)
	r := vdo.Decode(m.Words, m.Context())
	b.WriteString(style.paint(bold, heading(r)) + "\n")
	paragraph(b, "  ", "  ", "Read as "+msg.ReadAs+placed(msg.At)+".")
	for _, line := range msg.Remarks {
		paragraph(b, "  Note: ", "        ", Plain(line)+".")
	}
	if declared := declarations(vdo.Summarize(r)); msg.Cable != nil && len(declared) > 0 {
		b.WriteString("\n")
		for _, d := range declared {
			paragraph(b, "  "+pad(d.Name, nameWidth), strings.Repeat(" ", 2+nameWidth), d.Text)
		}
	}
	for _, w := range msg.Words {
		b.WriteString("\n")
		writeWord(b, w, style)
	}
	for _, o := range m.Others {
		b.WriteString("\nThe text can equally well be read like this:\n\n")
		writeMessage(b, o, style)
	}
}

const nameWidth = 16

func placed(p *Place) string {
	if p == nil {
		return ""
	}
	return fmt.Sprintf(", line %d, column %d", p.Line, p.Column)
}

// heading says in one line what a message is.
func heading(r vdo.Reply) string {
	who := ""
	switch r.Context().Plug {
	case vdo.PlugNear:
		who = ", near plug"
	case vdo.PlugFar:
		who = ", far plug"
	case vdo.PlugPartner:
		who = ", port partner"
	}
	h, headed := r.Header()
	switch {
	case !headed && len(r.Words()) == 0:
		return "Empty message" + who
	case !headed:
		return "Identity" + who
	case !h.Structured():
		return "Vendor's own message of " + say.ID(h.SVID()) + who
	}
	what := h.Command().String()
	if h.SVID() != vdo.SVIDPowerDelivery {
		what += " of SVID " + say.ID(h.SVID())
	}
	return what + ", " + h.Type().String() + who
}

// declaration is one line of what a marker declares.
type declaration struct{ Name, Text string }

// declarations lists in words what a marker declares, for people. What it does not
// declare is left out.
func declarations(s vdo.Summary) []declaration {
	var out []declaration
	line := func(name string, parts ...string) {
		var kept []string
		for _, p := range parts {
			if p != "" {
				kept = append(kept, p)
			}
		}
		if len(kept) > 0 {
			out = append(out, declaration{name, strings.Join(kept, ", ")})
		}
	}
	if s.Product.Known() {
		line("Cable", product(s), when(s.End, func(e vdo.End) string { return e.String() + " end" }),
			when(s.LinearRedriver(), func(v bool) string { return ifTrue(v, "with linear re-drivers") }))
	}
	line("Power",
		when(s.Amps, func(a int) string { return fmt.Sprintf("%d A", a) }),
		when(s.Volts, func(v int) string { return fmt.Sprintf("up to %d V", v) }),
		when(s.EPR, func(v bool) string { return pick(v, "EPR", "no EPR") }),
		when(s.Through, func(v bool) string { return ifTrue(!v, "VBUS does not run through") }),
		when(s.ChargeThrough, func(v bool) string { return pick(v, "charge-through", "no charge-through") }),
		when(s.VBUSMilliohm, func(v int) string { return fmt.Sprintf("VBUS %d mΩ", v) }),
		when(s.GroundMilliohm, func(v int) string { return fmt.Sprintf("ground %d mΩ", v) }))
	line("Data",
		when(s.Speed, vdo.Speed.String), when(s.Speed, func(v vdo.Speed) string { return quantity.Format(v.Gbps()*1e9, quantity.Rate, 4) }),
		when(s.Lanes, func(n int) string { return fmt.Sprintf("%d lane%s", n, pick(n == 1, "", "s")) }),
		when(s.USB2, func(v bool) string { return ifTrue(!v, "no USB 2.0") }),
		when(s.USB32, func(v bool) string { return ifTrue(!v, "no USB 3.2") }),
		when(s.USB4, func(v bool) string { return ifTrue(!v, "no USB4") }),
		when(s.Asymmetric, func(v bool) string { return ifTrue(v, "asymmetric mode") }))
	if s.Latency.Known() {
		line("Latency", delay(s))
	}
	line("Electronics",
		when(s.VCONNRequired, func(v bool) string { return pick(v, "VCONN required", "VCONN not required after discovery") }),
		when(s.FarPlug, func(v bool) string { return ifTrue(v, "SOP″ controller") }),
		when(s.Retimer, func(v bool) string { return pick(v, "re-timer", "re-driver") }),
		when(s.Optical, func(v bool) string { return pick(v, "optical", "copper") }),
		when(s.Isolated, func(v bool) string { return ifTrue(v, "optically isolated") }),
		when(s.SBU, func(v bool) string { return ifTrue(!v, "no SBU") }),
		when(s.MaxTemperature, func(v int) string { return fmt.Sprintf("up to %d °C", v) }),
		when(s.Shutdown, func(v int) string { return fmt.Sprintf("shuts down at %d °C", v) }))
	line("Alternate modes",
		when(s.Modal, func(v bool) string { return pick(v, "supported", "none") }),
		when(s.SVIDs, func(list []uint16) string {
			ids := make([]string, len(list))
			for i, id := range list {
				ids[i] = say.ID(id)
			}
			return pick(len(ids) == 0, "SVID list empty", "SVIDs "+strings.Join(ids, " "))
		}))
	if m, ok := s.Thunderbolt.Get(); ok {
		line("Thunderbolt", m.Speed().String(), pick(m.Active(), "active", "passive"), ifTrue(m.Retimer(), "re-timer"))
	}
	if d, ok := s.DisplayPortRate().Get(); ok && (s.Product.Known() || d.Declared) {
		line("DisplayPort", pick(d.LaneGbps == 0, "none", fmt.Sprintf("%g Gbps a lane", d.LaneGbps)),
			ifTrue(!d.Declared, "concluded, there is no mode word"))
	}
	line("Identity",
		when(s.VendorID, func(v uint16) string { return "vendor " + say.ID(v) }),
		when(s.ProductID, func(v uint16) string { return "product " + say.ID(v) }),
		when(s.Release, func(v uint16) string { return "release " + say.ID(v) }),
		when(s.CertificationID, func(v uint32) string { return pick(v == 0, "no XID", "XID "+Hex32(v)) }))
	return out
}

func when[T any](m vdo.Maybe[T], say func(T) string) string {
	if v, ok := m.Get(); ok {
		return say(v)
	}
	return ""
}

func pick(cond bool, yes, no string) string {
	if cond {
		return yes
	}
	return no
}

func ifTrue(cond bool, text string) string { return pick(cond, text, "") }

// WordText prints one word in a given layout.
func WordText(w uint32, l *vdo.Layout, style Style) string {
	var b strings.Builder
	writeWord(&b, newWord(0, w, l), style)
	return b.String()
}

func writeWord(b *strings.Builder, w Word, style Style) {
	fmt.Fprintf(b, "%s\n", style.paint(bold, fmt.Sprintf("word %d: %s  %s", w.Index, w.Word, w.title)))
	for _, f := range w.Fields {
		line := fmt.Sprintf("  %-6s  %-*s", bits(f.Bits), titleWidth, f.title)
		text := f.Meaning
		switch f.Standing {
		case "reserved":
			if f.title != "Reserved" && !strings.Contains(text, "reserved") && !strings.Contains(text, "invalid") {
				text += " (reserved)"
			}
		case "ignored":
			text += " (" + f.note + ")"
		}
		code := faint
		switch {
		case f.Standing == "defined":
			code = ""
		case f.Standing == "deprecated", f.Standing == "reserved" && f.Raw != 0:
			code = yellow
		}
		head := line + "  "
		indent := strings.Repeat(" ", columns(head))
		for i, part := range wrap(text, Width-columns(head)) {
			if i > 0 {
				head = indent
			}
			out := strings.TrimRight(head+part, " ")
			if code != "" {
				out = style.paint(code, out)
			}
			b.WriteString(out + "\n")
		}
	}
}

const titleWidth = 30

func bits(b [2]int) string {
	if b[0] == b[1] {
		return fmt.Sprint(b[0])
	}
	return fmt.Sprintf("%d..%d", b[0], b[1])
}
