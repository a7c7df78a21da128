// Package vdo holds the 32-bit words a USB-C cable's marker answers over USB
// Power Delivery: the structured VDM header, the identity words, the cable
// words of PD 2.0 and PD 3.x, the words of Discover SVIDs and Discover Modes.
//
// A word is its own value: PassiveCable, for one, is a uint32 with methods.
// Nothing is lost and nothing is repaired. A code the specification reserves
// stays visible as reserved; it is never an error and never mapped to a valid
// one.
//
// Each word has one [Layout], or one per form where the specification changed
// it. The position of a field is written once, as a constant beside the layout;
// accessor, listing, composer, reserved mask and printed table read it there.
//
// [Decode] picks the layout of each word of a reply from the structured
// version, the product type, the number of objects and the VDO version, and
// says what it had to assume. [Summarize] turns replies into a revision-
// independent [Summary] of what the marker declares.
//
// Sources are cited as in the project's fact sheet: "PD R3.x, Passive Cable VDO
// table", because clause numbers move between revisions. The USB-IF documents
// themselves were not at hand; each layout agrees with at least two published
// relays that name the clause, unless its comment says otherwise.
//
// A whole answer of a passive cable, from words to what they declare:
//
//	reply := vdo.Decode(words, vdo.Context{Plug: vdo.PlugNear})
//	if cable, ok := reply.Passive(); ok {
//		amps, _ := cable.Current().Amps()
//		volts := cable.MaxVoltage().Volts()
//	}
//	for i, w := range reply.Words() {
//		for f := range reply.Layout(i).Read(w) { // all 32 bits
//			print(f.Name, f.Raw, f.Meaning)
//		}
//	}
//
// # What it needs
//
// The package is made to sit in a firmware test jig as well. It imports iter, for
// the type of [Layout.Read], and nothing else: no reflection, no fmt, no unsafe,
// no input or output, no goroutine, channel, lock or map. It builds for 32 bits
// and for js/wasm. Tests hold all of this.
//
// On start it builds its tables, once: some 25 allocations, 17 KB on 64 bits. No package-level
// variable changes after that, so everything may be called from several goroutines
// at once. Accessors, [Decode] and the choice of a layout allocate nothing;
// [Summarize] does so only for a list of SVIDs. What makes text (String, Error, the
// Meaning of a plain number or reserved code) and what hands out lists
// ([Layout.Fields], [Layouts], [Field.Codes], [Reply.Assumptions]) does allocate.
//
// # What stays
//
// The names, types and meanings of this package, the names of layouts and of their
// fields, and the texts of the ID methods and of [Standing] only grow: what is
// there keeps its meaning. Titles, meanings and notes, what String and Error say,
// are wording for people and may change.
package vdo
