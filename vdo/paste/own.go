package paste

import (
	"strconv"
	"strings"

	"example.com/gainsay/vdo"
)

// readPrinted reads back what gainsay decode prints for people: a heading for
// each message, then a line for each word, with its fields below.
func readPrinted(text string) (reading, bool) {
	const (
		lead      = "word "
		otherwise = "The text can equally well be read like this:"
		aside     = "Set aside: "
	)
	var r reading
	var words []word
	var plug, next vdo.Plug
	headerless, other, nextOther, any := false, false, false, false
	flush := func() {
		if len(words) == 0 {
			return
		}
		p := newPacket(words, label{plug: plug})
		p.headerless = headerless
		f := p.found("printed by gainsay")
		if other && len(r.found) > 0 {
			// It was printed as another reading of the message before.
			last := &r.found[len(r.found)-1]
			last.others = append(last.others, f)
		} else {
			r.add(f)
		}
		words = nil
	}
	for at, line := range lines(text) {
		switch {
		case line == otherwise:
			nextOther = true
			continue
		case strings.HasPrefix(line, aside) && any:
			r.skip(extent{at, at + len(line)}, "set aside before: "+line[len(aside):])
			continue
		case line != "" && !blank(rune(line[0])) && !strings.HasPrefix(line, lead):
			next = headingPlug(line)
			continue
		}
		rest, ok := strings.CutPrefix(line, lead)
		if !ok {
			continue
		}
		index, rest, ok := strings.Cut(rest, ": ")
		if !ok || !isDecimal(index) {
			continue
		}
		digits, title, _ := strings.Cut(rest, "  ")
		start := at + len(lead) + len(index) + 2
		w, f := parseWord(token{digits, extent{start, start + len(digits)}})
		any = true
		if n, _ := strconv.Atoi(index); n == 0 {
			flush()
			plug, next, other, nextOther = next, 0, nextOther, false
			headerless = !strings.Contains(title, "VDM header")
		}
		if f != nil {
			r.fault(*f)
			continue
		}
		words = append(words, w)
	}
	flush()
	return r, any
}

func headingPlug(line string) vdo.Plug {
	switch {
	case strings.HasSuffix(line, ", near plug"):
		return vdo.PlugNear
	case strings.HasSuffix(line, ", far plug"):
		return vdo.PlugFar
	case strings.HasSuffix(line, ", port partner"):
		return vdo.PlugPartner
	}
	return vdo.PlugUnknown
}
