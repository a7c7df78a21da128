package record

import (
	"fmt"
	"strings"
)

// Pasted is text from a sniffer as a record holds it: one scalar, or a list of
// words.
type Pasted struct {
	// Text is the whole text; the words of a list stand on lines of their own.
	Text string
	// starts has the place of each line of Text.
	starts []Place
}

// Place finds a position of Text in the record's file. Line and column start at 1.
func (p Pasted) Place(line, column int) Place {
	if len(p.starts) == 0 {
		return Place{}
	}
	at := p.starts[min(max(line, 1), len(p.starts))-1]
	at.Column += max(column, 1) - 1
	return at
}

// Line is the text in one line.
func (p Pasted) Line() string { return strings.Join(strings.Fields(p.Text), " ") }

func pastedScalar(n *node, file string) Pasted {
	p := Pasted{Text: n.text}
	lines := strings.Count(n.text, "\n") + 1
	for i := range lines {
		at := Place{file, n.content.Line + i, n.content.Column}
		if !n.block && i > 0 {
			at = Place{file, n.content.Line, n.content.Column}
		}
		p.starts = append(p.starts, at)
	}
	return p
}

// Words makes the marker's words from numbers, for records built in Go rather
// than read from a file.
func Words(words ...uint32) Stated[Pasted] {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%08X", w)
	}
	return Stated[Pasted]{Value: Pasted{Text: b.String()}, Text: b.String(), Known: true}
}
