// Command decode shows the vdo package by itself: the words of one answer, what
// they declare, and one word bit by bit.
package main

import (
	"fmt"

	"example.com/gainsay/vdo"
)

func main() {
	words := []uint32{0xFF00A041, 0x18602FA1, 0x00000000, 0x01020100, 0x000A2643}
	reply := vdo.Decode(words, vdo.Context{Plug: vdo.PlugNear})

	s := vdo.Summarize(reply)
	if amps, ok := s.Amps.Get(); ok {
		fmt.Printf("declares %d A\n", amps)
	}
	if speed, ok := s.Speed.Get(); ok {
		fmt.Printf("declares %s\n", speed)
	}

	cable, _ := reply.Passive()
	fmt.Printf("EPR: %t, latency code %d\n", cable.EPR(), cable.Latency())
	for f := range reply.Layout(4).Read(words[4]) {
		fmt.Printf("%2d..%-2d  %-16s  %s\n", f.High(), f.Low(), f.Name, f.Meaning)
	}
}
