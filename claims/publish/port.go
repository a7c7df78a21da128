package publish

import (
	"strings"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
	"example.com/gainsay/vdo/typec"
)

// Port is the published form of one USB Type-C port of a machine.
type Port struct {
	Version  int               `json:"gainsay"`           // version of the format, as FormatVersion
	Port     string            `json:"port"`              // its name in the class directory
	Facts    map[string]string `json:"facts"`             // the kernel's attributes by name, as they stand
	Partner  map[string]string `json:"partner,omitempty"` // those of what is plugged in behind the cable
	Cable    *PortCable        `json:"cable,omitempty"`   // absent where the kernel shows none
	Problems []string          `json:"problems"`          // what could not be read, or is missing
}

// PortCable is the cable in a port, as the kernel shows it.
type PortCable struct {
	Name       string    `json:"name"`                  // its name in the class directory
	Type       string    `json:"type,omitempty"`        // active or passive, as the kernel says
	PlugType   string    `json:"plug_type,omitempty"`   // as the kernel says
	PDRevision string    `json:"pd_revision,omitempty"` // as the kernel says
	Declares   *Cable    `json:"declares,omitempty"`    // what the near plug's answers declare together
	Messages   []Message `json:"messages"`              // each answer, decoded
}

// NewPort gives the published form of a port.
func NewPort(p typec.Port) Port {
	out := Port{Version: FormatVersion, Port: p.Name, Facts: facts(p.Facts), Problems: []string{}}
	if p.Partner != nil {
		out.Partner = facts(p.Partner.Facts)
	}
	for _, problem := range p.Problems {
		out.Problems = append(out.Problems, problem.Error())
	}
	if c := p.Cable; c != nil {
		out.Cable = &PortCable{Name: c.Name, Type: known(c.Type), PlugType: known(c.PlugType), PDRevision: known(c.PDRevision),
			Messages: []Message{}}
		messages := c.Messages()
		for _, m := range messages {
			out.Cable.Messages = append(out.Cable.Messages, NewMessage(m))
		}
		if len(messages) > 0 {
			out.Cable.Declares = NewCable(nearSummary(messages))
		}
		for _, problem := range c.Problems {
			out.Problems = append(out.Problems, problem.Error())
		}
	}
	return out
}

func nearSummary(messages []paste.Message) vdo.Summary {
	var replies []vdo.Reply
	for _, m := range messages {
		if m.Plug != vdo.PlugFar {
			replies = append(replies, vdo.Decode(m.Words, m.Context()))
		}
	}
	return vdo.Summarize(replies...)
}

func facts(as []typec.Attribute) map[string]string {
	out := map[string]string{}
	for _, a := range as {
		if a.Known() && a.Text != "" {
			out[a.Name()] = a.Text
		}
	}
	return out
}

func known(a typec.Attribute) string {
	if a.Known() {
		return a.Text
	}
	return ""
}

// PortText prints a port for people: what is plugged in, what its cable declares,
// and what could not be read. With words, each answer is shown bit by bit.
func PortText(p typec.Port, words bool, style Style) string {
	var b strings.Builder
	b.WriteString(style.paint(bold, Plain(p.Name)) + "\n")
	row := func(label, text string) {
		if text != "" {
			paragraph(&b, indent+pad(label, nameWidth), indent+pad("", nameWidth), Plain(text))
		}
	}
	for _, a := range p.Facts {
		if a.Known() {
			row(attributeName(a.Name()), a.Text)
		}
	}
	if p.Partner != nil {
		row("partner", p.Partner.Name)
	}
	if c := p.Cable; c != nil {
		row("cable", strings.Join(nonEmpty(known(c.Type), known(c.PlugType)), ", "))
		row("its revision", known(c.PDRevision))
		messages := c.Messages()
		if len(messages) > 0 {
			b.WriteString("\n")
			for _, d := range declarations(nearSummary(messages)) {
				row(d.Name, d.Text)
			}
		}
		for _, m := range messages {
			if words {
				b.WriteString("\n")
				writeMessage(&b, m, style)
				continue
			}
			hex := make([]string, len(m.Words))
			for i, w := range m.Words {
				hex[i] = Hex32(w)[2:]
			}
			row("words, "+m.Plug.String(), strings.Join(hex, " "))
			for _, r := range m.Remarks {
				row("", r+".")
			}
		}
	}
	for _, problem := range NewPort(p).Problems {
		paragraph(&b, indent+"Problem: ", indent+pad("", len("Problem: ")), Plain(problem)+".")
	}
	return b.String()
}

// attributeName words a kernel attribute's name.
func attributeName(name string) string {
	switch name {
	case "usb_power_delivery_revision":
		return "PD revision"
	case "usb_typec_revision":
		return "Type-C revision"
	case "power_operation_mode":
		return "power mode"
	}
	return strings.ReplaceAll(name, "_", " ")
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}
