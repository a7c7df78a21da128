package main

import (
	"errors"
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
)

// reportForm writes reports one after the other in a form.
type reportForm struct {
	// text gives a report in a form in which each stands by itself; else it is nil.
	// Reports may be given on several goroutines at once.
	text  func(*claims.Report) ([]byte, error)
	add   func(checked) error
	close func() error
}

// reports gives the writer of a form.
func (e *env) reports(form string, brief bool) (reportForm, error) {
	switch form {
	case formJSON:
		return e.texts("", publish.ReportJSON), nil
	case formMarkdown:
		return e.texts("---\n\n", func(r *claims.Report) ([]byte, error) { return []byte(publish.ReportMarkdown(r)), nil }), nil
	case formHTML:
		page := publish.NewCablePage(e.out)
		return reportForm{nil, func(c checked) error { return page.Add(c.of, c.report) }, page.Close}, nil
	case formSVG:
		n := 0
		return reportForm{nil, func(c checked) error {
			if n++; n == 2 {
				return errOneStrip
			} else if n < 2 {
				e.out.WriteString(publish.StripSVG(c.of, c.report))
			}
			return nil
		}, func() error { return nil }}, nil
	case formCSV:
		table, err := publish.NewReportCSV(e.out)
		if err != nil {
			return reportForm{}, err
		}
		return reportForm{nil, func(c checked) error { return table.Add(c.report) }, table.Close}, nil
	}
	if brief {
		return e.texts("", func(r *claims.Report) ([]byte, error) { return []byte(publish.ReportBrief(r, e.style)), nil }), nil
	}
	between := fmt.Sprintf("\n%s\n\n", strings.Repeat("_", publish.Width))
	return e.texts(between, func(r *claims.Report) ([]byte, error) { return []byte(publish.ReportText(r, e.style)), nil }), nil
}

// texts is a form of texts with something between them.
func (e *env) texts(between string, text func(*claims.Report) ([]byte, error)) reportForm {
	first := true
	return reportForm{
		text: text,
		add: func(c checked) error {
			if !first {
				e.out.WriteString(between)
			}
			first = false
			e.out.Write(c.text) // a failure is kept by the writer, and told at the end
			return nil
		},
		close: func() error { return nil },
	}
}

// errOneStrip is the error of a second cable where the form holds one.
var errOneStrip = errors.New("--form svg shows one cable; give it one record at a time")
