package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/shelf"
)

var shelfCommand = command{
	name:    "shelf",
	summary: "set many cables side by side",
	usage:   "[options] FILE|FOLDER|- ...",
	help: `
Reads records as 'check' does and prints a table, one row a record, and counts
by rating, claim, seller and price. --where keeps the records that meet a
condition (COLUMN, one of = != < <= > >= ~, and a value with its unit; ~ means
contains); given more than once, all must be met. --sort takes columns with
commas between, a minus before one to sort from the largest down. The columns:

{table}

Seller, model, batch and price are read from the record's about keys. With
--json, one object a record and a last one with the summary. Memory: at most 8
KB a record.

With --carry, the table says instead which cables are shown fit for a load,
which are not, and for which it is not settled and why; with the voltage left at
the far end, the loss in the cable, and whether a source asks for a marker. A
power lists the published levels that give it.

Example:
  gainsay shelf --sort -margin --where "shown>=60 W" examples/records
`,
	flags: func(fs *pflag.FlagSet) {
		fs.String("columns", "", "the `COLUMNS` to show, with commas between")
		fs.String("sort", "cable", "the `COLUMNS` to sort by, with commas between")
		fs.StringArray("where", nil, "a `CONDITION` on a column, as \"shown>=60 W\"; may be repeated")
		fs.String("bands", bandsText(), "upper ends of the price bands: `PRICES` with commas between")
		fs.String("carry", "", "a `LOAD`, as \"20 V 3.25 A\" or \"65 W\"")
		formFlags(fs, "one JSON object a record, each on its own line, then a summary")
		policyFlags(fs)
		riskFlags(fs)
	},
	table: columnHelp,
	run:   runShelf,
}

func columnHelp() string {
	var b strings.Builder
	for _, c := range shelf.Columns() {
		fmt.Fprintf(&b, "  %-13s %s\n", c.Name, c.Help)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func bandsText() string {
	var parts []string
	for _, v := range shelf.DefaultBands() {
		parts = append(parts, strconv.FormatFloat(v, 'f', -1, 64))
	}
	return strings.Join(parts, ",")
}

// shelfOptions are the options of shelf, read.
type shelfOptions struct {
	columns []*shelf.Column
	order   []shelf.Order
	filters []shelf.Filter
	bands   []float64
	checker *claims.Checker
	load    *shelf.Load
	risks   shelf.Risks
	form    string
}

func (e *env) shelfOptions(fs *pflag.FlagSet) (o shelfOptions, ok bool) {
	fail := func(err error) (shelfOptions, bool) {
		e.fail("shelf: %s", publish.Plain(err.Error()))
		return o, false
	}
	var err error
	if o.form, ok = e.form("shelf", fs); !ok {
		return o, false
	}
	o.columns = shelf.DefaultColumns()
	switch o.form {
	case formMarkdown, formHTML:
		o.columns = shelf.WideColumns()
	case formCSV:
		o.columns = shelf.Columns()
	}
	if list, _ := fs.GetString("columns"); list != "" {
		if o.columns, err = shelf.ColumnsNamed(list); err != nil {
			return fail(err)
		}
	}
	by, _ := fs.GetString("sort")
	if o.order, err = shelf.ParseOrder(by); err != nil {
		return fail(err)
	}
	conditions, _ := fs.GetStringArray("where")
	for _, text := range conditions {
		f, err := shelf.ParseFilter(text)
		if err != nil {
			return fail(err)
		}
		o.filters = append(o.filters, f)
	}
	bands, _ := fs.GetString("bands")
	if o.bands, err = shelf.ParseBands(bands); err != nil {
		return fail(err)
	}
	if carry, _ := fs.GetString("carry"); carry != "" {
		load, err := shelf.ParseLoad(carry)
		if err != nil {
			return fail(err)
		}
		o.load = &load
	}
	if o.risks, ok = e.risks(fs); !ok {
		return o, false
	}
	if _, err := o.risks.Plan(); errors.Is(err, shelf.ErrSample) {
		return fail(err)
	}
	o.checker, ok = e.checker(fs)
	return o, ok
}

func runShelf(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() == 0 {
		e.fail("shelf: name a file, a folder, or - for stdin; see 'gainsay shelf --help'")
		return exitUndone
	}
	o, ok := e.shelfOptions(fs)
	if !ok {
		return exitUndone
	}
	if o.load != nil && o.form != formText && o.form != formJSON {
		e.fail("shelf: --carry is shown as text or JSON, not as %s", o.form)
		return exitUndone
	}
	done, ok := e.toFile("shelf", fs)
	if !ok {
		return exitUndone
	}
	all := &shelf.Shelf{Risks: o.risks}
	count := e.progress("records", false)
	failed := false
	var known rigs
	for one, err := range eachRecord(e, fs.Args(), func(in input, rec *record.Record) (shelved, error) {
		if err := known.use(in, rec); err != nil {
			return shelved{}, err
		}
		c, err := o.checker.Case(rec, in.folder())
		if err != nil {
			return shelved{}, err
		}
		r := c.Report()
		return shelved{shelf.NewItem(c, r), len(r.Broken) > 0, unread(c)}, nil
	}) {
		if err != nil {
			failed = true
			e.failLines(err.Error())
			continue
		}
		e.saysUnread(one.unread)
		failed = failed || one.broken || len(one.unread) > 0
		all.Add(one.Item)
		count.step()
	}
	count.clear()
	found := len(all.Items()) > 0
	if !found && !failed {
		e.noRecord("shelf", fs.Args())
	}
	kept := all.Where(o.filters...)
	items := kept.Items()
	shelf.Sort(items, o.order)
	summary := kept.Summary(o.bands...)
	if err := e.publishShelf(o, kept, items, summary); err != nil {
		e.fail("shelf: cannot write the result: %v", err)
		failed = true
	}
	switch whole := done(found); {
	case failed || !found || !whole:
		return exitUndone
	case summary.Contradicted > 0:
		return exitContradicted
	}
	return exitDone
}

// shelved is a record on the shelf.
type shelved struct {
	shelf.Item
	broken bool     // a rule failed itself
	unread []string // what was not understood
}

// publishShelf writes the shelf in the form asked for.
func (e *env) publishShelf(o shelfOptions, kept *shelf.Shelf, items []*shelf.Item, summary shelf.Summary) error {
	var held []shelf.Held
	if o.load != nil {
		held = o.load.Hold(items)
	}
	end := publish.ShelfEnd{Version: publish.FormatVersion, Summary: publish.NewShelfSummary(summary)}
	switch {
	case o.form == formJSON && o.load != nil:
		for _, h := range held {
			it := publish.NewShelfItem(h.Item)
			it.Load = publish.NewShelfVerdicts(h)
			e.json(it)
		}
		end.Summary.Load = publish.NewShelfLoad(*o.load, held)
		e.json(end)
	case o.form == formJSON:
		for _, it := range items {
			e.json(publish.NewShelfItem(it))
		}
		e.json(end)
	case o.load != nil:
		fmt.Fprint(e.out, publish.LoadText(*o.load, held, e.style))
	case o.form == formCSV:
		return publish.ShelfCSV(e.out, items, o.columns)
	case o.form == formMarkdown:
		fmt.Fprint(e.out, publish.ShelfMarkdown(items, o.columns, summary))
	case o.form == formHTML:
		return publish.ShelfPage(e.out, items, o.columns, summary, kept.Histories())
	default:
		fmt.Fprint(e.out, publish.ShelfText(items, o.columns, summary, e.style))
	}
	return nil
}
