package paste

import (
	"strings"

	"example.com/gainsay/vdo/frame"
)

// readLog reads words, bytes and runs of digits that stand behind labels or in
// the lines of a log. Whatever is no value is a label; what looks like a value
// with a slip in it is an error.
func readLog(text string) (reading, bool) {
	var g logReader
	for at, line := range lines(text) {
		g.line(at, line)
	}
	g.flush()
	fit := false
	for _, f := range g.found {
		fit = fit || f.skipped != "" || fitWords(f.message.Words, f.message.Context()) > 0
	}
	for _, e := range g.chatter {
		g.found = append(g.found, found{extent: e, since: e.start, skipped: noValues})
	}
	return g.reading, g.labels && (fit || len(g.faults) > 0)
}

// noValues is why lines of a log are set aside that hold no word or byte.
const noValues = "text without values"

const logForm = "words behind labels"

type logReader struct {
	reading
	flow   []piece
	rows   [][]octet // lines of bytes that may go on
	group  int       // bytes in each group of theirs
	label  label     // of flow and rows
	sticky label     // of a line that has nothing else
	labels bool      // something is a label beyond doubt
	// Lines without values, those one below the other together.
	chatter []extent
	quiet   bool // the line before is one of them
}

func (g *logReader) flush() {
	if len(g.flow) > 0 {
		g.reading.flow(g.flow, g.label, logForm)
	}
	if len(g.rows) > 0 {
		g.reading.rows(g.rows, g.group, g.label, "bytes behind labels")
	}
	g.flow, g.rows = nil, nil
}

// bytesLine takes a line of bytes, which may go on in the next one.
func (g *logReader) bytesLine(octets []octet, group int, marked bool, now label) {
	if len(g.rows) == 0 || marked || group != g.group {
		g.flush()
		g.label = now
	}
	if marked {
		if c := candidates(octets, group, now); len(c) > 0 && c[0].whole(len(octets)) {
			g.reading.bytes(octets, group, now, "bytes behind labels")
			g.label = g.sticky
			return
		}
	}
	g.rows, g.group = append(g.rows, octets), group
}

func (g *logReader) line(at int, line string) {
	faults := g.wrong()
	l := g.scan(at, line)
	if strings.TrimFunc(line, blank) == "" {
		return
	}
	quiet := g.quiet
	g.quiet = false
	if len(l.pieces)+len(l.octets)+len(l.halves)+len(l.runs) == 0 {
		if len(l.maybe) == 1 && len(g.flow) > 0 {
			// One value on its line, in a list of words.
			g.flow = append(g.flow, l.maybe[0])
			return
		}
		if l.marked {
			g.flush()
			g.sticky = l.label
			g.label = l.label
		} else if g.wrong() == faults {
			start, text := trimmed(at, line)
			e := extent{start, start + len(text)}
			if g.quiet = true; quiet {
				g.chatter[len(g.chatter)-1].end = e.end
			} else {
				g.chatter = append(g.chatter, e)
			}
		}
		return
	}
	now := g.sticky
	if l.marked {
		now = l.label
	}
	switch {
	case len(l.pieces) > 0:
		if len(g.rows) > 0 {
			g.flush()
		}
		begins := l.pieces[0].head || header(l.pieces[0].value)
		if l.marked || begins || len(g.flow) == 0 {
			if now.plug != g.label.plug || now.set != g.label.set || l.marked {
				g.flush()
			}
			if len(g.flow) == 0 {
				g.label = now
			}
		}
		g.flow = append(g.flow, l.pieces...)
		// Without a message header before it, what follows may go on; a table of one
		// message on each line need not be kept.
		if len(g.flow) > 4*frame.MaxObjects && begins {
			keep := g.flow[len(g.flow)-len(l.pieces):]
			g.reading.flow(g.flow[:len(g.flow)-len(l.pieces)], g.label, logForm)
			g.flow = append([]piece(nil), keep...)
			g.label = now
		}
	case len(l.octets) > 0:
		g.bytesLine(l.octets, 1, l.marked, now)
	case len(l.halves) > 0:
		g.bytesLine(l.halves, 2, l.marked, now)
	default:
		g.flush()
		for _, t := range l.runs {
			g.run(t, now, "digits behind labels")
		}
	}
}
