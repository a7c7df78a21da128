package main

// excuses are mutants that change nothing anybody can see, by the reason. A mutant's
// name is file: declaration: what was → what is, and #n where a declaration has
// several of the same.
var excuses = []struct {
	why   string
	names []string
}{
	{"The numbers are worked out with rounding; that they are equal to the last bit decides nothing.", []string{
		`claims/bench/caution.go: Cautions: k.Value > RiseKelvin → k.Value >= RiseKelvin`,
		`claims/bench/curvature.go: curvature: norm < 1e-6*float64(n) → norm <= 1e-6*float64(n)`,
		`claims/bench/settle.go: settleOne: fraction < practicalFraction → fraction <= practicalFraction`,
		`claims/bench/settle.go: leastWithin: at(mid) <= gap → at(mid) < gap`,
		`claims/bench/wire.go: CheckWire: cold.Ohm+cold.Expanded < w.ExpectedOhm.Low → cold.Ohm+cold.Expanded <= w.ExpectedOhm.Low`,
		`claims/bench/wire.go: CheckWire: cold.Ohm-cold.Expanded > w.ExpectedOhm.High → cold.Ohm-cold.Expanded >= w.ExpectedOhm.High`,
		`claims/bench/wire.go: CheckWire: w.Ratio.High-w.Ratio.Low < tellable*(w.Ratio.High+w.Ratio... → w.Ratio.High-w.Ratio.Low <= tellable*(w.Ratio.High+w.Rati...`,
		`claims/bench/wire.go: WireOf: ohm.High < w.leastOhm → ohm.High <= w.leastOhm`,
		`claims/bench/wire.go: maxOhmPerMetre: math.Abs(areaSquareMetre*1e6-row.squareMM) <= 1e-6*row.sq... → math.Abs(areaSquareMetre*1e6-row.squareMM) < 1e-6*row.squ...`,
		`claims/rules/seller.go: conductorsTooThinForClaim: ohm > c.Acceptance.LimitOhm(bench.VBUS, amps) → ohm >= c.Acceptance.LimitOhm(bench.VBUS, amps)`,
		`claims/rules/video.go: claimedVideoAboveMarker: least <= best.shown.gbps → least < best.shown.gbps`,
		`claims/rules/video.go: claimedVideoOnlyCompressed: video.Gbps(p, video.LeastPixelBits) > best.shown.gbps → video.Gbps(p, video.LeastPixelBits) >= best.shown.gbps`,
		`claims/rules/video.go: claimedVideoOnlyCompressed: video.Gbps(p, video.PixelBits) <= best.shown.gbps → video.Gbps(p, video.PixelBits) < best.shown.gbps`,
	}},
	{"A part of zero adds nothing to an uncertainty, with or without a row of its own.", []string{
		`claims/bench/copper.go: Estimate.scaled: e.U > 0 → e.U >= 0`,
	}},
	{"Only the direction of a column counts.", []string{
		`claims/bench/curvature.go: curvature: append(columns[0], 1) → append(columns[0], 2)`,
	}},
	{"Two currents leave no curvature, which is seen below.", []string{
		`claims/bench/curvature.go: curvature: n < 3 → n < 2`,
	}},
	{"Asked is only whether the signs differ.", []string{
		`claims/bench/readings.go: evaluation.check: v*amp → v / amp`,
	}},
	{"One point has no spread, which is refused below.", []string{
		`claims/bench/fit.go: fitLine: len(x) < 2 → len(x) < 1`,
	}},
	{"Currents with a spread are not all zero.", []string{
		`claims/bench/fit.go: fitLine: x2 > 0 → x2 >= 0`,
	}},
	{"The deviations of the currents add up to zero.", []string{
		`claims/bench/fit.go: fitLine: y[i] - my → y[i] + my`,
	}},
	{"A halving more or less is beyond the figures printed; the search ends at the same place from a little lower.", []string{
		`claims/bench/settle.go: leastWithin: 60 → 59`,
		`claims/bench/settle.go: leastWithin: 60 → 61`,
	}},
	{"A limit over zero is infinite either way.", []string{
		`claims/bench/cable.go: over: ohm <= 0 → ohm < 0`,
	}},
	{"Reading gives an error where it gives neither messages nor what was set aside.", []string{
		`claims/marker.go: markerReader.answer: len(res.Skipped) > 0 → len(res.Skipped) >= 0`,
	}},
	{"The record is refused for the error either way.", []string{
		`claims/marker.go: markerReader.read: false → true`,
		`claims/marker.go: markerReader.read: false → true #2`,
	}},
	{"One byte beyond the limit is enough to see that there is more.", []string{
		`claims/marker.go: markerReader.readFile: paste.MaxText+1 → paste.MaxText+2`,
	}},
	{"Nobody reads what was not found.", []string{
		`claims/quantity/awg.go: parser.gaugeFirst: return 0, false, nil → return 1, false, nil`,
	}},
	{"It is known wherever the rule gets so far: every ID header states modes, every VPD charge-through.", []string{
		`claims/rules/active.go: usb4BelowGen2: s.Modal.Or(false) → s.Modal.Or(true)`,
		`claims/rules/marker.go: passiveNeedsVCONN: s.Modal.Or(false) → s.Modal.Or(true)`,
		`claims/tier.go: Case.NearSupport: s.ChargeThrough.Or(false) → s.ChargeThrough.Or(true)`,
	}},
	{"It is 3 A or 5 A.", []string{
		`claims/rules/identity.go: vpdFieldsWithoutChargeThrough: w.ChargeThroughAmps() > 3 → w.ChargeThroughAmps() > 4`,
	}},
	{"It comes in steps of 2 mΩ.", []string{
		`claims/rules/identity.go: vpdFieldsWithoutChargeThrough: w.VBUSMilliohm() > 0 → w.VBUSMilliohm() > 1`,
	}},
	{"The part for rounding is not looked at where the length is taped.", []string{
		`claims/rules/metrology.go: conductorsLikeCladAluminium: wireChecks(c, 0) → wireChecks(c, 1)`,
	}},
	{"The same mode twice is the same mode.", []string{
		`claims/rules/modes.go: thunderboltClaimed: m > highest → m >= highest`,
	}},
	{"The next rate is 10 Gbps.", []string{
		`claims/rules/video_ways.go: coding8b10b: hbr3Gbps = 8.1 → hbr3Gbps = 8.2`,
	}},
	{"Zero would take 2174 pictures a second; a claim has at most 1000.", []string{
		`claims/internal/video/video.go: PixelClock: linePeriod <= 0 → linePeriod < 0`,
	}},
	{"Places are below 128, and 12 is even.", []string{
		`vdo/frame/header.go: MaxObjects: hdrObjects&0xff → hdrObjects&0x7f`,
		`vdo/frame/header.go: MaxObjects: hdrObjects&0xff → hdrObjects&0xfe`,
		`vdo/frame/header.go: span.get: s & 0xff → s & 0x7f`,
		`vdo/frame/header.go: span.most: s&0xff → s&0x7f`,
		`vdo/frame/header.go: span.put: s & 0xff → s & 0x7f`,
		`vdo/span.go: span.low: s & 0xff → s & 0x7f`,
	}},
	{"Asked only where the length is wrong.", []string{
		`vdo/frame/message.go: Message.lengthError: len(body) > want → len(body) >= want`,
	}},
	{"Behind an EOP at the end stands the end.", []string{
		`vdo/frame/packet.go: unopened: i < len(s) → i <= len(s)`,
	}},
	{"It is set again before it is read, or stands for none.", []string{
		`vdo/frame/set.go: MatchSet: 1 → 0 #2`,
		`vdo/frame/set.go: MatchSet: 1 → 2 #2`,
		`vdo/frame/set.go: MatchSet: false → true`,
	}},
	{"Any number below zero says the same.", []string{
		`vdo/frame/symbol.go: plainName: 1 → 2`,
		`vdo/frame/symbol.go: symbolNames: 1 → 2`,
	}},
	{"Control is zero, wherever it stands.", []string{
		`vdo/frame/type.go: GoodCRC: Type(Control)<<typeKind → Type(Control) >> typeKind`,
		`vdo/frame/type.go: GoodCRC: Type(Control)<<typeKind → Type(Control) >> typeKind #2`,
		`vdo/frame/type.go: GoodCRC: Type(Control)<<typeKind → Type(Control) >> typeKind #3`,
		`vdo/frame/type.go: GoodCRC: Type(Control)<<typeKind → Type(Control) >> typeKind #4`,
		`vdo/frame/type.go: GoodCRC: Type(Control)<<typeKind → Type(Control) >> typeKind #5`,
	}},
	{"Where the kind stands in a Type nobody sees.", []string{
		`vdo/frame/type.go: typeKind: hdrType>>8 + 1 → hdrType>>8 + 2`,
	}},
	{"The command begins at bit 0.", []string{
		`vdo/header.go: VDMHeader.Is: uint32(c)<<hdrCommand.low() → uint32(c) >> hdrCommand.low()`,
	}},
	{"The loop ends at bit 32 instead of behind the last bit that is set.", []string{
		`vdo/modes.go: maskNames: n>>i → n << i`,
	}},
	{"A word that no kind reads.", []string{
		`vdo/reply.go: kindOf: return identityKind, 0 → return identityKind, 1`,
		`vdo/reply.go: kindOf: return identityKind, 0 → return identityKind, 1 #2`,
		`vdo/reply.go: kindOf: return otherKind, 0 → return otherKind, 1`,
		`vdo/reply.go: kindOf: return otherKind, 0 → return otherKind, 1 #2`,
		`vdo/reply.go: kindOf: return otherKind, 0 → return otherKind, 1 #3`,
	}},
	{"Only factors of 300 and more, and their inverses, come so far, so any number between tells them apart.", []string{
		`claims/rules/session.go: slipped: f < 1 → f < 2`,
	}},
}

// excused gives the reason by the name.
var excused = func() map[string]string {
	out := map[string]string{}
	for _, e := range excuses {
		for _, name := range e.names {
			out[name] = e.why
		}
	}
	return out
}()
