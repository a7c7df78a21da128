// Package record holds the record of one cable, the user's file of what the
// seller claims, what the marker answered and what the bench measured, and
// reads it from YAML or JSON.
//
//	for rec, err := range record.Read(file, "nf-014.yaml") {
//		if err != nil {
//			fmt.Println(err) // everything wrong in one document, a line each
//			continue
//		}
//		for _, sold := range rec.Claims {
//			if watts, ok := sold.Power.Get(); ok {
//				fmt.Println(rec.Cable.Value, watts)
//			}
//		}
//	}
//
// What nobody stated is silence: a [Stated] whose Known is false. Quantities are
// in SI units, beside the text they were written as and its place in the file.
//
// The format carries a [Version] and only grows: a record that is read today is
// read by every later version. [Schema] is its JSON Schema.
package record

import (
	"cmp"
	"fmt"
	"time"

	"example.com/gainsay/claims/quantity"
)

// Version is the record format this package reads.
const Version = 1

// Place is where something stands in a file. Line and Column start at 1; Column
// counts characters.
type Place struct {
	File         string // the name given to Read; "stdin" or an option where there is no file
	Line, Column int    // from 1, the column in characters
}

// String is the place as "file:line:column"; without a line the file alone, and where
// there is none either, "record".
func (p Place) String() string {
	if p.Line == 0 {
		return cmp.Or(p.File, "record")
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Stated is a value somebody stated, with their own words and where they stand.
// The zero Stated is silence.
type Stated[T any] struct {
	Value T      // counts only where Known
	Text  string // as written
	At    Place  // where Text begins
	Known bool   // whether anything was stated
	// Normal is a claim as it was understood, as "240 W" for "240W EPR". It loads again
	// and means the same. Empty for what is no claim.
	Normal string
}

// Get gives the value and whether it was stated.
func (s Stated[T]) Get() (T, bool) { return s.Value, s.Known }

// Record is one cable.
type Record struct {
	At    Place          // where it begins
	Cable Stated[string] // the user's own id
	// Sum is a hash of what the record says, whatever its form and the order of its keys;
	// empty for a record that was not read.
	Sum    string
	Label  Stated[string] // the user's own words for it
	About  []Note         // in the file's order
	Claims []Claims       // what the seller says, by the place it was read in

	Published Stated[Published] // what became of it
	Photos    []Stated[string]  // names of pictures beside the record
	Rig       Stated[string]    // name of the rig's file
	Used      *Rig              // the rig that UseRig has taken over; nil without one

	Marker MarkerWords // what the marker answered
	Bench  []Session   // oldest first
	Waive  []Waiver    // findings that the user sets aside
}

// Note is a free entry the user keeps.
type Note struct {
	Key, Text string // as written under about
}

// Claims is the seller's testimony. Quantities are in SI units.
type Claims struct {
	Power       Stated[float64]    // watt
	Current     Stated[float64]    // ampere
	Voltage     Stated[float64]    // volt
	Data        Stated[DataClaim]  // rate or standard
	Length      Stated[float64]    // metre
	Plugs       Stated[Plugs]      // both ends
	Active      Stated[bool]       // electronics in the path of the data
	Marked      Stated[bool]       // says that it has a marker
	Certified   Stated[bool]       // says that USB-IF certified it
	Certificate Stated[string]     // the number printed, as written
	Modes       Stated[[]Mode]     // alternate modes, in the order claimed
	Video       Stated[VideoClaim] // picture size and rate
	Conductors  Stated[float64]    // m² of copper
	Source      Stated[string]     // where the claims were read
	// Unread are the claims whose words were not understood. They cost nothing else: the
	// record is loaded without them.
	Unread []Unread
}

// Unread is a claim whose words were not understood.
type Unread struct {
	Key  string // as "power"
	Text string // as written, empty where there is no single text
	Err  *Error // what is wrong, where, and what to write
}

// MarkerWords is what the marker answered, as pasted.
type MarkerWords struct {
	Near, Far Stated[Pasted] // of the plug on SOP′, and the one on SOP″
	Turned    Stated[Pasted] // of the plug on SOP′ with the cable turned round
	Asked     Stated[bool]   // with no words: it was asked, and nothing answered
	Revision  Stated[string] // "2.0" or "3.0" and later, where the words have no header
}

// Session is one sitting at the bench. Quantities are in SI units, temperatures
// in °C.
type Session struct {
	At        Place                     // where it begins
	Date      Stated[time.Time]         // the day, at midnight UTC
	By        Stated[string]            // who measured
	Length    Stated[float64]           // m, by tape
	Plugs     Stated[Plugs]             // as seen
	Ambient   Stated[float64]           // °C
	Voltmeter Stated[quantity.Accuracy] // in V, as the data sheet states it
	Ammeter   Stated[quantity.Accuracy] // in A, as the data sheet states it
	Nulls     []Reading                 // the fixture alone, same leads
	Readings  []Reading                 // in the file's order
	// VBUS, Ground and Loop are resistances the rig printed, in Ω.
	VBUS, Ground, Loop Stated[float64]
	Ohmmeter           Stated[quantity.Accuracy] // of a rig that prints resistance
	Calibrated         Calibrations              // of the instruments
	Table              Stated[string]            // name of a table of readings beside the record
	Copper             Stated[float64]           // °C of the conductors while they were read
	Steady             Stated[bool]              // constant at the test current
	Wires              Stated[Wires]             // continuity
	Heat               Stated[Heat]              // the shell under load
	Reference          Stated[Reference]         // a known resistor in the same fixture
	Note               Stated[string]            // the user's own
}

// Reading is a test current and the drops seen at it. Signs follow the current.
type Reading struct {
	At                 Place           // where it begins
	Current            Stated[float64] // ampere
	VBUS, Ground, Loop Stated[float64] // drops in volt
	Flip               Stated[string]  // "up" or "down", the plug's orientation
	Mating             Stated[int]     // which plugging-in, from 1
}

// Waiver sets a finding of one rule aside, with the user's reason.
type Waiver struct {
	At     Place          // where it begins
	Rule   Stated[string] // the id of a rule
	Reason Stated[string] // in the user's words
}
