package main

import (
	"fmt"
	"io"
	"time"
)

// progress tells on a terminal how far long work is. It says nothing in the first
// second, nor where stderr is no terminal or results go to the terminal as well.
type progress struct {
	w     io.Writer // nil: silent
	what  string    // of what things are counted
	now   func() time.Time
	next  time.Time
	n     int
	shown bool
}

const (
	progressAfter = time.Second
	progressEvery = 200 * time.Millisecond
)

// progress begins to count things. It is quiet where results go to the terminal
// while they are counted.
func (e *env) progress(what string, quiet bool) *progress {
	p := &progress{what: what, now: time.Now}
	if !quiet && isTerminal(e.err) {
		p.w = e.err
	}
	p.next = p.now().Add(progressAfter)
	e.working = p
	return p
}

// step counts one thing.
func (p *progress) step() {
	p.n++
	if p.w == nil || p.n%16 != 0 {
		return
	}
	if t := p.now(); t.After(p.next) {
		p.next = t.Add(progressEvery)
		fmt.Fprintf(p.w, "\r%d %s", p.n, p.what)
		p.shown = true
	}
}

// clear takes the line away.
func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
		p.shown = false
	}
}
