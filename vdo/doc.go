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
// The package needs the standard library only. It does no input or output, uses
// neither reflection nor fmt, and its accessors do not allocate.
package vdo
