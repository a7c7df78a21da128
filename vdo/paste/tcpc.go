package paste

import (
	"strconv"
	"strings"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/frame"
)

// A port controller's receive buffer, as the USB Type-C Port Controller Interface
// lays it out (TCPCI, receive buffer registers; from memory): the number of
// bytes that follow, the frame type, the message header low byte first, the
// objects. There is no CRC: the controller has checked it.
const (
	bufferAt   = 0x30 // the address of the buffer's first register, the count
	bufferLead = 2    // count and frame type
)

// bufferPlug is the plug of a frame type: 0 SOP, 1 SOP′, 2 SOP″, then the debug
// sets. The types behind them are resets, which have no message.
var bufferPlug = []vdo.Plug{vdo.PlugPartner, vdo.PlugNear, vdo.PlugFar, vdo.PlugUnknown, vdo.PlugUnknown}

func receiveBuffer(v view) candidate {
	c := candidate{how: "a port controller's receive buffer"}
	b := v.octets
	if len(b) < bufferLead+headBytes {
		return c
	}
	kind := int(b[1].value)
	if int(b[0].value) < 1+headBytes || kind >= len(bufferPlug) {
		return c
	}
	n := int(b[0].value) + 1
	if n > len(b) {
		return c
	}
	p, used, cutOff := frameAt(b[bufferLead:n], label{plug: bufferPlug[kind], set: true, since: b[0].start})
	if used != n-bufferLead || cutOff != "" {
		return c
	}
	p.points += fitCounted
	p.extent = extentOf(b[:n])
	c.packets, c.taken = []packet{p}, n
	// The registers behind the message belong to no message.
	if zero(b[n:]) {
		c.pad = len(b) - n
	}
	return c
}

// readRegisters reads the registers of a port controller's receive buffer, a
// register on each line by name, or by address where 16-bit and 8-bit ones are
// mixed. Names and addresses are those of the same interface.
func readRegisters(text string) (reading, bool) {
	var r reading
	var octets []octet
	stage := 0
	flush := func() {
		if len(octets) == 0 {
			return
		}
		if c := receiveBuffer(view{octets: octets}); len(c.packets) > 0 && c.taken == len(octets) {
			r.add(c.packets[0].found("registers, " + c.how))
		} else {
			r.fault(fault{extentOf(octets), "", "these registers hold no message", "there should be byte count, frame type, header and data, as many as the count says", ErrStructure})
		}
		octets = nil
	}
	for at, line := range lines(text) {
		at, line := trimmed(at, line)
		i := strings.LastIndexAny(line, ":=")
		if line == "" || comment(line) {
			continue
		}
		if i < 0 {
			return r, false
		}
		kind := registerOf(line[:i])
		vAt, v := trimmed(at+i+1, line[i+1:])
		if kind == notRegister {
			if stage == 0 {
				return r, false
			}
			r.fault(fault{extent{at, at + i}, strings.TrimSpace(line[:i]), "not a register of the receive buffer", "they are at 0x30 and above: READABLE_BYTE_COUNT, RX_BUF_FRAME_TYPE, RX_BUF_HEADER, RX_BUF_OBJ", ErrSyntax})
			continue
		}
		if kind == countRegister {
			flush()
			stage = 1
		} else if stage == 0 {
			return r, false
		}
		for t := range cut(v, vAt, separator) {
			digits, _ := unprefixed(t.text)
			if !isHex(digits) || len(digits)%2 != 0 || len(digits) > wordDigits {
				r.fault(fault{t.extent, t.text, "not the value of a register", "it has 2, 4 or 8 hex digits", ErrWidth})
				continue
			}
			// A register of several bytes holds the low one first.
			o, _ := appendOctets(nil, token{digits, extent{t.end - len(digits), t.end}})
			for j := len(o) - 1; j >= 0; j-- {
				octets = append(octets, o[j])
			}
		}
	}
	flush()
	return r, stage > 0
}

type register uint8

const (
	notRegister register = iota
	countRegister
	bufferRegister
)

func registerOf(name string) register {
	k := plainKey(name)
	switch {
	case strings.Contains(k, "readablebytecount"), strings.Contains(k, "receivebytecount"), strings.Contains(k, "rxbytecount"), strings.Contains(k, "rxbytecnt"):
		return countRegister
	case strings.Contains(k, "rxbuf"), strings.Contains(k, "framet"), strings.Contains(k, "rxhdr"), strings.Contains(k, "rxheader"), strings.Contains(k, "rxdata"):
		return bufferRegister
	}
	digits, prefixed := unprefixed(strings.Trim(strings.TrimPrefix(strings.ToLower(strings.TrimSpace(name)), "reg"), "[]() "))
	v, err := strconv.ParseUint(digits, 16, 16)
	switch {
	case err != nil || !prefixed && len(digits) != 2:
		return notRegister
	case v == bufferAt:
		return countRegister
	case v > bufferAt && v <= bufferAt+bufferLead+headBytes+wordBytes*uint64(frame.MaxObjects):
		return bufferRegister
	}
	return notRegister
}
