package claims

import (
	"fmt"
	"strings"

	"example.com/gainsay/vdo"
)

func near(words ...uint32) string {
	parts := make([]string, len(words))
	for i, w := range words {
		parts[i] = fmt.Sprintf("%08X", w)
	}
	return "marker: {near: \"" + strings.Join(parts, " ") + "\"}\n"
}

const (
	ack2      = 0xFF00A041 // ACK to Discover Identity, structured version 2.0
	ack1      = 0xFF008041 // the same in 1.0
	svidsAck2 = 0xFF00A042
	passiveID = 0x18602FA1
	activeID  = 0x20602FA1
	modalID   = 0x1C602FA1 // passive, supports modes
	vpdID     = 0x74602FA1
	modesTBT  = 0x8087A043

	passiveWord = 0x00082020 // Type-C, 10 ns, 20 V, 3 A, USB 2.0
	activeOne   = 0x00683832 // VDO version 1.3, Type-C, 3 A through, Gen 2
	activeTwo   = 0x46500009 // 70 °C, 80 °C, copper, everything carried, two lanes, Gen 2
)

func passive(field string, raw uint32) string {
	return near(ack2, passiveID, 0, 0, compose("passive-cable", passiveWord, field, raw))
}
func compose(layout string, w uint32, field string, raw uint32) uint32 {
	w, err := vdo.LayoutNamed(layout).Compose(w, vdo.Value{Field: field, Raw: raw})
	if err != nil {
		panic(err)
	}
	return w
}
