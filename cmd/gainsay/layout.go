package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/vdo"
)

var layoutCommand = command{
	name:    "layout",
	summary: "print the bit table of a word",
	usage:   "[options] [NAME ...]",
	help: `
Prints the bit table of each word named: its fields from bit 31 down, the codes
that have a meaning, and the source. Without a name, lists the names.

Example:
  gainsay layout passive-cable
`,
	flags: func(fs *pflag.FlagSet) {
		fs.Bool("json", false, "one JSON object a layout")
	},
	run: runLayout,
}

func runLayout(e *env, fs *pflag.FlagSet) int {
	asJSON, _ := fs.GetBool("json")
	picked := vdo.Layouts()
	if fs.NArg() > 0 {
		picked = nil
	}
	code := exitDone
	for _, name := range fs.Args() {
		l := vdo.LayoutNamed(name)
		if l == nil {
			e.fail("layout: no word is called %q; %s", publish.Plain(name), nearest(name, layoutNames()))
			code = exitUndone
			continue
		}
		picked = append(picked, l)
	}
	for i, l := range picked {
		switch {
		case asJSON:
			e.json(publish.NewLayout(l))
		case fs.NArg() == 0:
			fmt.Fprintf(e.out, "%-20s  %s\n", l.Name(), l.Title())
		default:
			if i > 0 {
				fmt.Fprintln(e.out)
			}
			fmt.Fprint(e.out, publish.LayoutText(l, e.style))
		}
	}
	return code
}

func layoutNames() []string {
	var names []string
	for _, l := range vdo.Layouts() {
		names = append(names, l.Name())
	}
	return names
}

// json writes one object on a line of its own.
func (e *env) json(v any) {
	enc := json.NewEncoder(plainJSON{e.out})
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		e.fail("cannot write JSON: %v", err)
	}
}

// plainJSON is where an encoder writes whole values to.
type plainJSON struct{ io.Writer }

func (w plainJSON) Write(value []byte) (int, error) {
	if _, err := w.Writer.Write(publish.PlainJSON(value)); err != nil {
		return 0, err
	}
	return len(value), nil
}

// nearest suggests the names closest to a misspelt one.
func nearest(name string, names []string) string {
	best, at := 4, []string(nil)
	for _, n := range names {
		switch d := distance(strings.ToLower(name), n); {
		case strings.Contains(n, strings.ToLower(name)) && len(name) > 2:
			at = append(at, n)
		case d < best:
			best, at = d, []string{n}
		case d == best && best < 4:
			at = append(at, n)
		}
	}
	if len(at) == 0 {
		return "the names are " + strings.Join(names, ", ")
	}
	return "perhaps " + strings.Join(at, " or ")
}

// distance counts the single-character edits between two names.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		last := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := last
			if a[i] != b[j] {
				cost++
			}
			last = row[j+1]
			row[j+1] = min(cost, row[j]+1, last+1)
		}
	}
	return row[len(b)]
}
