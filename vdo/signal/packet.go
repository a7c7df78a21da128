package signal

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// Packet is one packet found on the line. Its Set, Bytes and Message are those of
// the frame.Packet; the places in its Bad count symbols.
type Packet struct {
	frame.Packet
	// Start is the first edge of the preamble that was recognised, End the last
	// edge of the packet, in the capture's own time.
	Start, End time.Duration
	Wire       string  // the name of the wire or column
	BitRate    float64 // measured over the packet, bits per second
	// Remarks say what was tolerated: a short preamble, a wrong K-code, a bit rate
	// out of range.
	Remarks []string
}

// Plug is who the packet was exchanged with, as its ordered set says.
func (p Packet) Plug() vdo.Plug { return p.Set.Plug() }

// Reply gives the words of a vendor-defined message, with plug and revision. It
// reports false for every other message: its data objects are no VDM.
func (p Packet) Reply() (vdo.Reply, bool) {
	if p.Message.Header.Type() != frame.VendorDefined || len(p.Message.Objects) == 0 {
		return vdo.Reply{}, false
	}
	return vdo.Decode(p.Message.Objects, p.Message.Context(p.Plug())), true
}

// Causes of an Error or a BrokenError, beside those of package frame.
var (
	ErrVCD       = errors.New("not a value change dump")       // the text breaks the rules of IEEE 1364
	ErrCSV       = errors.New("not a table of time and level") // a row without a time and levels
	ErrTimescale = errors.New("no unit of time")               // $timescale is missing or wrong
	ErrTime      = errors.New("time runs backwards")           // a row or change is earlier than the one before
	ErrWire      = errors.New("no such wire")                  // no wire of the name, or several, or too many to try
	ErrTooLong   = errors.New("too long")                      // a line, token or list of variables beyond its limit
	ErrTooMany   = errors.New("too many errors")               // reading ends after so many errors
	ErrNoPacket  = errors.New("no packet")                     // the capture was read, and nothing in it is a packet
	ErrTiming    = errors.New("timing lost")                   // an edge came where no bit has one
)

// Error is a place in the text of the capture that could not be read, or a
// capture with nothing in it.
type Error struct {
	Line, Column int    // from 1; 0 where it is about the whole capture
	Token        string // what stands there
	Wrong        string // what is wrong with it
	Want         string // what would be right
	Err          error  // one of the causes above, or the reader's own error
}

// Error says place, token, fault and remedy in one line.
func (e *Error) Error() string {
	s := ""
	if e.Line > 0 {
		s = fmt.Sprintf("line %d, column %d: ", e.Line, e.Column)
	}
	if e.Token != "" {
		s += fmt.Sprintf("%.60q: ", e.Token)
	}
	s += e.Wrong
	if e.Want != "" {
		s += "; " + e.Want
	}
	return s
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// BrokenError is a packet that did not arrive whole. It comes with the Packet,
// which holds what could be decoded.
type BrokenError struct {
	Start, End time.Duration // as of its Packet
	Wire       string        // as of its Packet
	Cause      error         // ErrTiming, or what package frame found wrong
}

// Error says wire, time and cause in one line.
func (e *BrokenError) Error() string {
	cause := strings.ReplaceAll(e.Cause.Error(), "\n", "; and ") // several are joined
	return fmt.Sprintf("packet at %v on %s: %s", e.Start, e.Wire, cause)
}

// Unwrap gives the cause.
func (e *BrokenError) Unwrap() error { return e.Cause }
