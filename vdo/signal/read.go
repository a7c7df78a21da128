package signal

import (
	"bufio"
	"bytes"
	"io"
	"iter"
)

// Format is the form of a capture.
type Format uint8

const (
	FormatAuto Format = iota // a value change dump begins with $, all else is CSV
	VCD                      // IEEE 1364 value change dump
	CSV                      // a table of time and level
)

// Options say what the capture does not. The zero value reads most captures.
type Options struct {
	Format Format // what the text is
	// Wire names the wire: in a value change dump its name or its full name
	// with scopes ("top.port.CC1"), in a table the heading of its column with or
	// without a unit in brackets, of one bit of a vector like "port[3]" (the
	// vector's own name, or none, takes its number as a level). Empty listens to all,
	// up to 64, so that a plug turned over during the capture loses nothing.
	// Packet.Wire says on which one a packet came.
	Wire string
	// Threshold parts low from high, in the unit of the capture. Nil puts it midway
	// between the lowest and the highest level, stretch by stretch. It has no effect
	// on wires that are only 0 and 1.
	Threshold *float64
	// TimeUnit is the unit of the capture's times, in seconds. 0 takes what the
	// capture says; a table that says nothing is in seconds.
	TimeUnit float64
}

// Read finds the packets in a capture of a CC line. It reads as it goes; what it
// keeps in memory does not grow with the capture.
//
// The packets of one wire come in order; of a curve they may come after later ones
// of another wire. What two wires carry alike comes once. Broken packets of a
// wire come once a whole one shows that it is a CC line, else at the end.
//
// Each packet comes with a nil error, or, if it did not arrive whole, with a
// *BrokenError that says when and why and whatever could be decoded. A place in
// the text that cannot be read comes as an *Error with a zero Packet, and
// reading goes on behind it; so does a capture in which no packet is found, at
// its end. An error of r itself ends it.
func Read(r io.Reader, o Options) iter.Seq2[Packet, error] {
	return func(yield func(Packet, error) bool) {
		s := &sink{yield: yield, options: o}
		in := bufio.NewReaderSize(r, lineBytes)
		if start, _ := in.Peek(len(byteOrderMark)); bytes.Equal(start, byteOrderMark) {
			in.Discard(len(byteOrderMark))
		}
		if o.Format == FormatAuto {
			o.Format = sniff(in)
		}
		if o.Format == VCD {
			readVCD(in, s)
		} else {
			readCSV(in, s)
		}
		s.end()
	}
}

var byteOrderMark = []byte{0xEF, 0xBB, 0xBF}

func sniff(in *bufio.Reader) Format {
	start, _ := in.Peek(512)
	if bytes.HasPrefix(bytes.TrimLeft(start, " \t\r\n"), []byte("$")) {
		return VCD
	}
	return CSV
}
