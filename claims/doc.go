// Package claims holds three witnesses against each other: what the seller of a
// cable claims, what its marker says, and what the bench measured. It turns a
// [record.Record] into a [Case], a [Checker] asks every [Rule] about it, and gives a
// [Report]: what the cable is shown to carry, how each claim ends, every
// finding with its numbers and its source, and what was not examined and why.
//
//	checker := rules.Checker() // or a claims.Checker with rules of your own
//	for rec, err := range record.Read(file, "nf-014.yaml") {
//		if err != nil {
//			fmt.Println(err) // one record cannot be read; the others come
//			continue
//		}
//		report, err := checker.Check(rec)
//		if err != nil {
//			fmt.Println(err) // words or readings that make no sense, with their places
//			continue
//		}
//		fmt.Println(report.Rating.PowerW, report.Contradicted())
//	}
//
// # What stays
//
// The ids of rules are permanent: one that is no longer asked is listed by
// rules.Retired and never given to another. The JSON form of a [Report] carries
// [FormatVersion] and only grows: what has a key keeps it, with its type and
// meaning; keys and values of enumerations are added. Its JSON Schema is what
// 'gainsay schema report' prints. Kinds, standings, properties, witnesses and the
// texts of [Evidence] stay as they are. Which findings a record gets does change
// when rules are added or mended; what sentences say (Says, Next, Because, Reason,
// Cautions) is wording and may change at any time.
//
// # Errors
//
// What a record says and cannot be is a [record.Errors], with a place in the file
// for each; errors.As reaches the *[bench.Error] or [paste.Errors] below it. A rule
// that fails itself is no error: it is named in Report.Broken.
//
// A report speaks for the evidence in the record, not for the cable's safety.
// It certifies nothing.
package claims
