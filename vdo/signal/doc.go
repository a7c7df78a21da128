// Package signal reads captures of a USB-C cable's CC line: a value change dump
// (IEEE 1364) or a table of time and level or voltage. From edges it recovers the
// clock, then BMC bits, the preamble, the ordered set, the 4b5b symbols and the
// frame with its CRC.
//
//	for p, err := range signal.Read(file, signal.Options{}) {
//		if err != nil {
//			fmt.Println(err) // reading goes on
//			continue
//		}
//		reply := vdo.Decode(p.Message.Objects, p.Message.Context(p.Plug()))
//	}
//
// Any sample rate from about 1.5 MS/s up will do. Packets of 270 to 330 kbps are read,
// and 10 % beyond with a remark. Of the preamble's 64 bits some 20 must be there.
//
// Sources are the project's fact sheet on the marker, §10.2 to §10.4, which names
// the published relay of each row.
package signal
