package frame

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"

	"example.com/gainsay/vdo"
)

const (
	headerBytes = 2 // of the message header, and of the extended one
	objectBytes = 4
	crcBytes    = 4
)

// Message is one PD message.
type Message struct {
	Header  Header   // the first two bytes
	Objects []uint32 // the data objects; nil in an extended message
	// Body is what follows the header in an extended message: the extended header
	// and the data, as bytes.
	Body   []byte
	CRC    uint32 // as received, right or wrong
	HasCRC bool   // whether CRC came, or is to be written
}

// Decode reads a message from its bytes in the order of the wire: header and
// objects low byte first, then the CRC or nothing. Whether there is a CRC
// follows from the length.
//
// Each thing wrong is an *Error, several are joined. The message holds what could
// be decoded all the same:
//   - ErrCRC: everything.
//   - ErrCount: more bytes came than the header counts, or fewer under a CRC that
//     fits. Objects are all whole words that came.
//   - ErrTruncated: the message ends early, or within a word. Objects are the
//     whole words that came.
//   - ErrExtended: what follows the header is no list of objects; it is in Body.
func Decode(b []byte) (Message, error) { return decode(b, false) }

// DecodeWire is Decode for a message received as a packet: its last four bytes
// are the CRC, whatever the length. Its errors are those of Decode, each an *Error.
func DecodeWire(b []byte) (Message, error) { return decode(b, true) }

func decode(b []byte, wire bool) (Message, error) {
	least := headerBytes
	if wire {
		least += crcBytes
	}
	if len(b) < headerBytes {
		return Message{}, &Error{Unit: InBytes, At: len(b), Wrong: "the message is " + plural(len(b), "byte") + " long",
			Want: "a message header has " + itoa(headerBytes), Err: ErrTruncated}
	}
	m := Message{Header: Header(binary.LittleEndian.Uint16(b))}
	body := b[headerBytes:]
	if len(b) < least {
		m.fill(body)
		return m, &Error{Unit: InBytes, At: len(b), Wrong: "the message is " + plural(len(b), "byte") + " long",
			Want: "header and CRC have " + itoa(least), Err: ErrTruncated}
	}

	want := m.bodyBytes(body)
	fit := fits(b)
	m.HasCRC = wire || fit || len(body) == want+crcBytes
	if m.HasCRC {
		at := len(body) - crcBytes
		m.CRC = binary.LittleEndian.Uint32(body[at:])
		body = body[:at]
	}
	m.fill(body)

	var errs []error
	if m.Header.Extended() {
		errs = append(errs, &Error{Unit: InBytes, Token: m.Header.Type().String(),
			Wrong: "an extended message is not a list of data objects", Want: "its bytes are kept as they are", Err: ErrExtended})
	}
	if len(body) != want {
		errs = append(errs, m.lengthError(body, want, fit))
	}
	if m.HasCRC {
		if sum := Checksum(b[:headerBytes+len(body)]); sum != m.CRC {
			errs = append(errs, &Error{Unit: InBytes, At: headerBytes + len(body), Token: fmt.Sprintf("%08X", m.CRC),
				Wrong: "the CRC does not fit the message", Want: fmt.Sprintf("over these bytes it is %08X", sum), Err: ErrCRC})
		}
	}
	return m, join(errs)
}

// join is errors.Join that leaves a single error as it is.
func join(errs []error) error {
	if len(errs) == 1 {
		return errs[0]
	}
	return errors.Join(errs...)
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return itoa(n) + " " + what + "s"
}

// fits tells whether the last four bytes are the CRC of those before.
func fits(b []byte) bool {
	at := len(b) - crcBytes
	return at >= headerBytes && Checksum(b[:at]) == binary.LittleEndian.Uint32(b[at:])
}

// bodyBytes is the length the headers give for what stands between header and
// CRC. A chunked extended message counts objects like any other; one that is
// not chunked gives its length in its own header.
func (m Message) bodyBytes(body []byte) int {
	if m.Header.Extended() && len(body) >= headerBytes {
		ext := binary.LittleEndian.Uint16(body)
		if extChunked.get(ext) == 0 {
			return headerBytes + extSize.get(ext)
		}
	}
	return m.Header.Objects() * objectBytes
}

func (m *Message) fill(body []byte) {
	if m.Header.Extended() {
		m.Body = slices.Clone(body)
		return
	}
	for ; len(body) >= objectBytes; body = body[objectBytes:] {
		m.Objects = append(m.Objects, binary.LittleEndian.Uint32(body))
	}
}

func (m Message) lengthError(body []byte, want int, fit bool) *Error {
	e := &Error{Unit: InBytes, At: headerBytes + min(len(body), want), Err: ErrTruncated}
	came := plural(len(body), "byte")
	rest := 0
	if m.Header.Extended() {
		e.Want = "by its headers it has " + itoa(want)
	} else {
		e.Want = "the header counts " + plural(m.Header.Objects(), "object")
		came = plural(len(body)/objectBytes, "object")
		if rest = len(body) % objectBytes; rest > 0 {
			came += " and " + plural(rest, "byte")
		}
	}
	e.Wrong = came + " came after the header"
	switch {
	case rest > 0:
		e.Want += ", and a CRC has " + itoa(crcBytes) + " bytes"
	case len(body) > want, fit: // under a CRC that fits nothing was cut
		e.Err = ErrCount
	}
	return e
}

// Append adds the bytes of the message in the order of the wire. The CRC is
// added if HasCRC is set, as it stands in CRC. It is the inverse of Decode for
// messages that Decode reads without ErrTruncated.
func (m Message) Append(b []byte) []byte {
	b = binary.LittleEndian.AppendUint16(b, uint16(m.Header))
	for _, w := range m.Objects {
		b = binary.LittleEndian.AppendUint32(b, w)
	}
	b = append(b, m.Body...)
	if m.HasCRC {
		b = binary.LittleEndian.AppendUint32(b, m.CRC)
	}
	return b
}

// Sealed is the message with the CRC that fits it.
func (m Message) Sealed() Message {
	m.HasCRC = false
	m.CRC = Checksum(m.Append(nil))
	m.HasCRC = true
	return m
}

// Context is what vdo.Decode needs beside Objects. The plug is not in the
// message; the ordered set tells it (Set.Plug).
func (m Message) Context(p vdo.Plug) vdo.Context {
	return vdo.Context{Plug: p, Revision: m.Header.Revision()}
}
