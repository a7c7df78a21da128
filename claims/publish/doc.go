// Package publish gives decoded messages and reports the forms people and
// programs read: text for a terminal, JSON, and more.
//
//	report, err := rules.Checker().Check(rec)
//	fmt.Print(publish.ReportText(report, publish.Style{}))
//
// The JSON forms are the structs of this package and [claims.Report], for
// encoding/json. They carry [FormatVersion] and only grow: what has a key keeps
// it, with its type and meaning; keys and values of enumerations are added. [Schema]
// gives the JSON Schema of each. Text, Markdown and HTML are for people; their
// wording and arrangement may change at any time. The columns of CSV keep their
// names; find them by name, since new ones are added.
//
// Text that comes from records or pasted words is data: every form escapes it
// for where it goes.
package publish
