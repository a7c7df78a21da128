package main

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
)

// reportForm writes reports one after the other in a form.
type reportForm struct {
	add   func(*claims.Case, *claims.Report) error
	close func() error
}

// reports gives the writer of a form.
func (e *env) reports(form string) (reportForm, error) {
	n := 0
	plain := func(f func(*claims.Report)) reportForm {
		return reportForm{func(_ *claims.Case, r *claims.Report) error { n++; f(r); return nil }, func() error { return nil }}
	}
	switch form {
	case formJSON:
		return plain(func(r *claims.Report) { e.json(r) }), nil
	case formMarkdown:
		return plain(func(r *claims.Report) {
			if n > 1 {
				fmt.Fprint(e.out, "---\n\n")
			}
			fmt.Fprint(e.out, publish.ReportMarkdown(r))
		}), nil
	case formHTML:
		page := publish.NewCablePage(e.out)
		return reportForm{page.Add, page.Close}, nil
	case formCSV:
		table, err := publish.NewReportCSV(e.out)
		if err != nil {
			return reportForm{}, err
		}
		return reportForm{func(_ *claims.Case, r *claims.Report) error { return table.Add(r) }, table.Close}, nil
	}
	return plain(func(r *claims.Report) {
		if n > 1 {
			fmt.Fprintf(e.out, "\n%s\n\n", strings.Repeat("_", publish.Width))
		}
		fmt.Fprint(e.out, publish.ReportText(r, e.style))
	}), nil
}
