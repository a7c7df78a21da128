// Package publish gives decoded messages and reports the forms people and
// programs read: text for a terminal, JSON, and more.
//
// Text that comes from records or pasted words is data: every form escapes it
// for where it goes.
package publish
