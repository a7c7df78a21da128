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
//		if reply, ok := p.Reply(); ok {
//			fmt.Println(p.Start, len(reply.Words()))
//		}
//	}
//
// # What it survives
//
// Measured on a passive cable's answer of 349 bits, 100 packets for each number,
// at 270, 300 and 330 kbps. The first line of each block gives the size of the
// fault, the others the share of packets that are read whole, in percent.
//
//	% of packets read
//	jitter, normal, σ, % of a bit             2      4      5      6      7      8
//	                              270 k:  100.0  100.0  100.0  100.0   97.0   73.0
//	                              300 k:  100.0  100.0  100.0  100.0   97.0   73.0
//	                              330 k:  100.0  100.0  100.0  100.0   97.0   73.0
//	jitter, even, peak, % of a bit           10     15     18     20     22     24
//	                              270 k:  100.0  100.0  100.0   87.0   14.0    0.0
//	                              300 k:  100.0  100.0  100.0   87.0   10.0    0.0
//	                              330 k:  100.0  100.0  100.0   87.0    8.0    0.0
//	edges skewed, % of a bit                  5     10     15     18     20     24
//	                              270 k:  100.0  100.0  100.0  100.0  100.0    0.0
//	                              300 k:  100.0  100.0  100.0  100.0  100.0    0.0
//	                              330 k:  100.0  100.0  100.0  100.0  100.0    0.0
//	bit rate drifts in a packet, %            1      2      4      8     12     16
//	                              270 k:  100.0  100.0  100.0  100.0  100.0  100.0
//	                              300 k:  100.0  100.0  100.0  100.0  100.0  100.0
//	                              330 k:  100.0  100.0  100.0  100.0  100.0  100.0
//	pulses up to 200 ns, % of bits            1      5     10     20     40     60
//	                              270 k:  100.0  100.0  100.0  100.0  100.0  100.0
//	                              300 k:  100.0  100.0  100.0  100.0  100.0   99.0
//	                              330 k:  100.0  100.0  100.0  100.0  100.0   97.0
//	edges lost from the start                 1     10     30     60     65     70
//	                              270 k:  100.0  100.0  100.0  100.0  100.0    0.0
//	                              300 k:  100.0  100.0  100.0  100.0  100.0    0.0
//	                              330 k:  100.0  100.0  100.0  100.0  100.0    0.0
//	noise, σ, % of the swing, 2.5 MS/s        2      5     10     12     15     20
//	                              270 k:  100.0  100.0  100.0  100.0  100.0   76.0
//	                              300 k:  100.0  100.0  100.0  100.0   97.0   69.0
//	                              330 k:  100.0  100.0  100.0  100.0   99.0   61.0
//	samples, kS/s                          2500   1500   1000    800    700    600
//	                              270 k:  100.0  100.0  100.0  100.0  100.0  100.0
//	                              300 k:  100.0  100.0  100.0  100.0  100.0   96.0
//	                              330 k:  100.0  100.0  100.0  100.0  100.0    0.0
//
// Of the preamble's 64 bits some 20 must be there: a packet whose preamble is
// missing, as where the capture begins within one, is taken for noise and not
// reported. A packet up to 10 % outside 270 to 330 kbps is read, with a remark.
//
// No packet passed for good that was not sent. Half a bit lies between two edges
// of a 1, so that no receiver that looks at one edge at a time survives an edge 25
// % of a bit off its place. Regenerate the table with
//
//	go test ./vdo/signal -run TestSurvival -update
//
// Sources are the project's fact sheet on the marker, §10.2 to §10.4, which names
// the published relay of each row.
package signal
