package paste

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"
)

func tooLong(what string, limit int, at Place) *Error {
	size := fmt.Sprintf("%d KiB", limit>>10)
	if limit >= 1<<20 {
		size = fmt.Sprintf("%d MiB", limit>>20)
	}
	return &Error{At: at, Wrong: what + " is longer than " + size, Want: "cut it into shorter ones", Err: ErrLong}
}

// Item is one thing found in a stream: a message, or something set aside.
type Item struct {
	Message *Message // nil where the part was set aside
	Skipped *Skipped // nil where it is a message
}

// streamBlock is how much ReadStream looks at together, unless one message needs
// more.
const streamBlock = 128 << 10

// ReadStream reads a text of any length block by block and yields what is in it
// in the order of the text, keeping no more than MaxBlock of it. What is not
// understood comes as an *Error among the rest; so does an error of the reader,
// as it is, after which nothing follows.
//
// Each block is read like a text of its own: one whose form changes on the way is
// read by several readers, where Read would count it against one. What stands
// between two messages belongs to the later one.
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
	text := string(s.buf)
	if s.any && strings.TrimFunc(text, blank) == "" {
		s.drop(text, len(text))
		return !s.end
	}
	if !s.end {
		// A line that is still going on is left for later.
		i := strings.LastIndexByte(text, '\n')
		if i < 0 {
			if s.want >= MaxBlock {
				s.yield(Item{}, tooLong("a line", MaxBlock, s.at))
				return false
			}
			return s.grow()
		}
		text = text[:i+1]
	}
	whole, head := s.head+text, len(s.head)
	var open *openText
	if !s.end && s.want < MaxBlock {
		open = &openText{head, s.by}
	}
	by, r := choose(whole, open)
	if open == nil {
		r.done = len(whole)
	}
	if open != nil && r.done <= head {
		return s.grow()
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

// grow takes a longer block, up to the limit.
func (s *stream) grow() bool {
	s.want = min(2*s.want, MaxBlock)
	return true
}

// settle keeps of the reading of a text that goes on what more text cannot change:
// what was found last may go on.
func (r *reading) settle(text string, head int) {
	r.sort()
	r.done = r.settled(text, head)
	r.until(r.done)
}

func (r *reading) settled(text string, head int) int {
	if len(r.found) == 0 {
		// Nothing but errors: all whole lines are done, but the last.
		return lineStart(text, len(text)-1)
	}
	last := r.found[len(r.found)-1]
	at := last.start
	if last.since > head {
		at = min(at, last.since)
	}
	line := lineStart(text, at)
	for i := len(r.found) - 2; i >= 0 && i >= len(r.found)-4; i-- {
		if r.found[i].end > line {
			return at
		}
	}
	return line
}

func lineStart(text string, at int) int {
	return strings.LastIndexByte(text[:max(0, min(at, len(text)))], '\n') + 1
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
