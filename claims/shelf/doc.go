// Package shelf holds many cables side by side: the table of all records, sorted
// and filtered by any column; counts by seller, price band and claim; which cables
// are fit for a load; and what shows only across records, as a marker's identity
// on different products.
//
//	var all shelf.Shelf
//	all.Add(shelf.NewItem(c, c.Report())) // for each case, from claims.CaseBy
//	condition, err := shelf.ParseFilter("shown>=60 W")
//	kept := all.Where(condition)
//	fmt.Println(kept.Summary(shelf.DefaultBands()...).Contradicted)
//
// What cannot be read (a filter, columns, bands, a load) is an *[Error] with one of
// the causes of this package, and below it a *[quantity.Error] where a number with
// its unit is wrong.
//
// A [Shelf] keeps of each record what these need, an [Item], and neither the
// record nor its report. Memory stays below 8 KB a record, the collector's room
// included.
package shelf
