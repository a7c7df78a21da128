package paste

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"iter"
	"slices"
	"strings"
)

// Item is one thing found in a stream: a message, or something set aside.
type Item struct {
	Message *Message // nil where the part was set aside
	Skipped *Skipped // nil where it is a message
}

// streamBlock is how much ReadStream looks at together, unless one message needs
// more.
const streamBlock = 128 << 10

// streamMargin is the end of a block that is read again with the next one, since
// what stands there may go on.
const streamMargin = 16 << 10

// ReadStream reads a text of any length block by block and yields what is in it
// in the order of the text, keeping no more than MaxBlock of it. What is not
// understood comes as an *Error among the rest; so does an error of the reader,
// as it is, after which nothing follows.
//
// Blocks are cut at line ends, where nothing found goes on. Each is read like a
// text of its own: a label in front counts as far as the block goes, and a block
// whose form changes on the way is read by several readers, where Read would count
// it against one. A part that belongs together and is longer than MaxBlock is cut
// there, with an error; so is a line, whose rest is passed over.
func ReadStream(in io.Reader) iter.Seq2[Item, error] {
	return func(yield func(Item, error) bool) {
		s := stream{in: in, at: Place{1, 1}, yield: yield}
		for s.fill() && s.block() {
		}
	}
}

type stream struct {
	in    io.Reader
	yield func(Item, error) bool
	buf   []byte // what is not yet done with
	at    Place  // of its first character
	head  string // the head of a table, which later blocks need
	by    *Reader
	want  int
	end   bool
	any   bool // something was yielded
}

// fill reads on until there is a block.
func (s *stream) fill() bool {
	s.want = max(s.want, streamBlock)
	for !s.end && len(s.buf) < s.want {
		n := len(s.buf)
		s.buf = slices.Grow(s.buf, s.want-n)
		m, err := s.in.Read(s.buf[n:s.want])
		s.buf = s.buf[:n+m]
		if errors.Is(err, io.EOF) {
			s.end = true
		} else if err != nil {
			s.yield(Item{}, err)
			return false
		}
	}
	return !s.end || len(s.buf) > 0 || !s.any
}

// block reads one block and tells whether to go on.
func (s *stream) block() bool {
	text := plainText(string(s.buf))
	if s.any && strings.TrimFunc(text, blank) == "" {
		s.drop(text, len(text))
		return !s.end
	}
	if !s.end {
		// A line that is still going on is left for later.
		i := strings.LastIndexByte(text, '\n')
		if i < 0 {
			if s.want >= MaxBlock {
				s.any = true
				return s.yield(Item{}, tooLong("a line", MaxBlock, s.at)) && s.passLine()
			}
			s.grow()
			return true
		}
		text = text[:i+1]
	}
	whole, head := s.head+text, len(s.head)
	var open *openText
	if !s.end {
		open = &openText{head, s.by}
	}
	by, r := choose(whole, open)
	switch {
	case open == nil:
		r.done = len(whole)
	case r.done <= head && s.want < MaxBlock:
		s.grow()
		return true
	case r.done <= head:
		// One thing is longer than the limit: what is cut off in it is an error.
		by, r = choose(whole, nil)
		r.done = len(whole)
		if len(text) < MaxBlock/2 {
			break // it is the line behind it that is long
		}
		long := tooLong("a part that belongs together", MaxBlock, Place{})
		r.fault(fault{extent{r.done - 1, r.done}, "", long.Wrong + " and cut off here", long.Want, long.Err})
	}
	if by != nil {
		s.by = by
	}
	switch {
	case s.head == "" && r.preamble.end > 0 && r.preamble.end <= r.done:
		s.head = whole[:r.preamble.end]
	case s.head != "" && by != nil && r.preamble.end == 0:
		s.head = "" // what follows is another form
	}
	used := r.done - head
	r.shift(-head)
	if !s.emit(&r, text) {
		return false
	}
	s.drop(text, used)
	return !s.end || len(s.buf) > 0
}

// drop leaves behind what is done with.
func (s *stream) drop(text string, n int) {
	resolve(text, s.at, []mark{{n, &s.at}})
	s.buf = s.buf[:copy(s.buf, s.buf[n:])]
	s.want = 0
}

// passLine leaves out the rest of a line that is too long.
func (s *stream) passLine() bool {
	for {
		if i := bytes.IndexByte(s.buf, '\n'); i >= 0 {
			s.buf = s.buf[:copy(s.buf, s.buf[i+1:])]
			s.at, s.want = Place{s.at.Line + 1, 1}, 0
			return true
		}
		s.buf = s.buf[:0]
		if s.end {
			return false
		}
		if !s.fill() {
			return false
		}
	}
}

// grow takes the longest block at once: to read a text in which nothing ends at
// every length in between would cost as much again.
func (s *stream) grow() { s.want = MaxBlock }

// settle keeps of the reading of a text that goes on what more text cannot change:
// what ends well before the end of the text.
func (r *reading) settle(text string, head int) {
	r.sort()
	r.done = r.settled(text, head)
	r.until(r.done)
}

// settled finds the last line start, away from the end of the text by a margin,
// that cuts nothing in two. An empty line before it is better than none.
func (r *reading) settled(text string, head int) int {
	limit := len(text) - min(streamMargin, len(text)/2)
	if limit <= head {
		return head
	}
	parts := append([]extent(nil), r.units...)
	for _, f := range r.found {
		from := f.start
		if f.since >= head {
			from = min(from, f.since)
		}
		parts = append(parts, extent{from, f.end})
	}
	for _, f := range r.faults {
		parts = append(parts, f.extent)
	}
	slices.SortFunc(parts, func(a, b extent) int { return cmp.Compare(a.start, b.start) })
	// Each part takes the line it begins on; those that overlap are one.
	whole := parts[:0]
	line, at := 0, 0
	for _, p := range parts {
		if i := strings.LastIndexByte(text[at:max(at, p.start)], '\n'); i >= 0 {
			line = at + i + 1
		}
		at = max(at, p.start)
		if n := len(whole); n > 0 && line < whole[n-1].end {
			whole[n-1].end = max(whole[n-1].end, p.end)
			continue
		}
		whole = append(whole, extent{line, p.end})
	}
	// clean gives the last line start up to one that cuts nothing.
	clean := func(cut int) int {
		for i := len(whole) - 1; i >= 0; i-- {
			if whole[i].start < cut {
				if cut < whole[i].end {
					return whole[i].start
				}
				break
			}
		}
		return cut
	}
	best := clean(lineStart(text, limit))
	for cut := best; cut > max(head, best-streamMargin); {
		if endsEmpty(text[:cut]) && clean(cut) == cut {
			return cut
		}
		cut = lineStart(text, cut-1)
	}
	return best
}

// endsEmpty tells whether whole lines end with an empty one.
func endsEmpty(text string) bool {
	return strings.HasSuffix(text, "\n\n") || strings.HasSuffix(text, "\n\r\n")
}

// until drops what begins at an offset or later.
func (r *reading) until(at int) {
	r.found = slices.DeleteFunc(r.found, func(f found) bool { return f.start >= at })
	r.faults = slices.DeleteFunc(r.faults, func(f fault) bool { return f.start >= at })
}

// emit yields what was found and what was not understood, in order.
func (s *stream) emit(r *reading, text string) bool {
	res, errs := r.result(text, s.at)
	before := func(a, b Place) bool { return a.Line < b.Line || a.Line == b.Line && a.Column <= b.Column }
	send := func(i Item, err error) bool {
		s.any = true
		return s.yield(i, err)
	}
	ms, sk := res.Messages, res.Skipped
	for len(ms)+len(sk)+len(errs) > 0 {
		switch {
		case len(ms) > 0 && (len(sk) == 0 || before(ms[0].From, sk[0].From)) && (len(errs) == 0 || before(ms[0].From, errs[0].At)):
			if !send(Item{Message: &ms[0]}, nil) {
				return false
			}
			ms = ms[1:]
		case len(sk) > 0 && (len(errs) == 0 || before(sk[0].From, errs[0].At)):
			if !send(Item{Skipped: &sk[0]}, nil) {
				return false
			}
			sk = sk[1:]
		default:
			if !send(Item{}, errs[0]) {
				return false
			}
			errs = errs[1:]
		}
	}
	return true
}
