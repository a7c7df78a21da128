package main

import (
	"fmt"

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
		l := e.layoutNamed("layout", name)
		if l == nil {
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

// layoutNamed finds a layout for a command; nil, which is said, where there is none.
func (e *env) layoutNamed(command, name string) *vdo.Layout {
	l := vdo.LayoutNamed(name)
	if l == nil {
		e.fail("%s: no layout is called %q; %s", command, publish.Plain(name), suggest(name, layoutNames(), "'gainsay layout' lists them"))
	}
	return l
}

func layoutNames() []string {
	var names []string
	for _, l := range vdo.Layouts() {
		names = append(names, l.Name())
	}
	return names
}
