// Package record holds the record of one cable, the user's file of what the
// seller claims, what the marker answered and what the bench measured, and
// reads it from YAML or JSON.
package record

import (
	"fmt"
	"time"

	"example.com/gainsay/claims/quantity"
)

// Version is the record format this package reads.
const Version = 1

// Place is where something stands in a file. Line and Column start at 1; Column
// counts characters.
type Place struct {
	File         string
	Line, Column int
}

func (p Place) String() string {
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Stated is a value somebody stated, with their own words and where they stand.
// The zero Stated is silence.
type Stated[T any] struct {
	Value T
	Text  string // as written
	At    Place
	Known bool
}

// Get gives the value and whether it was stated.
func (s Stated[T]) Get() (T, bool) { return s.Value, s.Known }

// Record is one cable.
type Record struct {
	At     Place
	Cable  Stated[string] // the user's own id
	Label  Stated[string]
	About  []Note
	Claims Claims
	Marker MarkerWords
	Bench  []Session // oldest first
	Waive  []Waiver
}

// Note is a free entry the user keeps.
type Note struct{ Key, Text string }

// Claims is the seller's testimony. Quantities are in SI units.
type Claims struct {
	Power       Stated[float64] // W
	Current     Stated[float64] // A
	Voltage     Stated[float64] // V
	Data        Stated[DataClaim]
	Length      Stated[float64] // m
	Plugs       Stated[Plugs]
	Active      Stated[bool]
	Marked      Stated[bool]
	Certified   Stated[bool]
	Certificate Stated[string]
	Modes       Stated[[]Mode]
	Video       Stated[VideoClaim]
	Conductors  Stated[float64] // m² of copper
	Source      Stated[string]  // where the claims were read
}

// MarkerWords is what the marker answered, as pasted.
type MarkerWords struct {
	Near, Far Stated[Pasted]
	Asked     Stated[bool]
	Revision  Stated[string] // "2.0" or "3.0" and later, where the words have no header
}

// Session is one sitting at the bench. Quantities are in SI units, temperatures
// in °C.
type Session struct {
	At        Place
	Date      Stated[time.Time]
	Length    Stated[float64] // m, by tape
	Plugs     Stated[Plugs]   // as seen
	Ambient   Stated[float64] // °C
	Voltmeter Stated[quantity.Accuracy]
	Ammeter   Stated[quantity.Accuracy]
	Null      Stated[Reading] // the fixture alone, same leads
	Readings  []Reading
	// VBUS, Ground and Loop are resistances the rig printed, in Ω.
	VBUS, Ground, Loop Stated[float64]
	Ohmmeter           Stated[quantity.Accuracy] // of a rig that prints resistance
	Note               Stated[string]
}

// Reading is a test current and the drops seen at it. Signs follow the current.
type Reading struct {
	At                 Place
	Current            Stated[float64] // A
	VBUS, Ground, Loop Stated[float64] // V
	Flip               Stated[string]  // "up" or "down", the plug's orientation
}

// Waiver sets a finding of one rule aside, with the user's reason.
type Waiver struct {
	At     Place
	Rule   Stated[string]
	Reason Stated[string]
}
