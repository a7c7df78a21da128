package paste

import (
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// FromFrame says what a message is that was received as a frame, say from a
// capture of the line: an answer of the cable, or something else, by name, in
// Skipped.Why. It has no place in a text; how says how it was read.
func FromFrame(m frame.Message, plug vdo.Plug, how string) Item {
	p := packet{
		label:    label{plug: plug, set: plug != vdo.PlugUnknown},
		revision: m.Header.Revision(), head: m.Header, headed: true,
	}
	for _, w := range m.Objects {
		p.words = append(p.words, word{value: w})
	}
	f := p.found(how)
	if f.skipped != "" {
		return Item{Skipped: &Skipped{Why: f.skipped}}
	}
	return Item{Message: &f.message}
}
