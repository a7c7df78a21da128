// Package frame holds the USB Power Delivery message as it travels: the 16-bit
// header, the data objects and the CRC-32, and below them the 4b5b symbols and
// the ordered sets that open and close a packet.
//
// [Decode] reads a message from bytes, with or without its CRC. [ReadPacket]
// reads one from symbols. Both hand over what could be decoded beside the
// error. The data objects of a cable's answer go to vdo.Decode:
//
//	m, err := frame.Decode(b)
//	reply := vdo.Decode(m.Objects, m.Context(vdo.PlugNear))
//
// Sources are the project's fact sheet on the marker, §10, which names the
// published relay of each row; where a comment names none, it is that section.
// Names are those of the PD specification.
package frame
