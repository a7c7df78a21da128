// Package claims holds three witnesses against each other: what the seller of a
// cable claims, what its marker says, and what the bench measured. It turns a
// [record.Record] into a [Case], asks every [Rule] about it, and gives a
// [Report]: what the cable is shown to carry, how each claim ends, every
// finding with its numbers and its source, and what was not examined and why.
//
// A report speaks for the evidence in the record, not for the cable's safety.
// It certifies nothing.
package claims
