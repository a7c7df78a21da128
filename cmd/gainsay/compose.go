package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/vdo"
)

var composeCommand = command{
	name:    "compose",
	summary: "put a word together from its fields",
	usage:   "[options] LAYOUT [FIELD=NUMBER ...]",
	help: `
Prints the word of the given layout with the fields set; fields not named are 0,
or as in the word given with --from. Numbers are decimal, 0x hexadecimal or 0b
binary. 'gainsay layout NAME' lists a layout's fields and codes.

Example:
  gainsay compose passive-cable plug-type=2 latency=1 vbus-current=0b10 speed=3
`,
	flags: func(fs *pflag.FlagSet) {
		fs.Bool("json", false, "the word with its fields as a JSON object")
		fs.String("from", "0", "the `WORD` to start from")
	},
	run: runCompose,
}

func runCompose(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() == 0 {
		e.fail("compose: name a layout; 'gainsay layout' lists them")
		return exitUndone
	}
	l := e.layoutNamed("compose", fs.Arg(0))
	if l == nil {
		return exitUndone
	}
	from, _ := fs.GetString("from")
	start, err := parseNumber(from)
	if err != nil {
		e.fail("compose: --from %q is no number of 32 bits; write it like 0x000A2643", publish.Plain(from))
		return exitUndone
	}
	var set []vdo.Value
	for _, a := range fs.Args()[1:] {
		name, text, ok := strings.Cut(a, "=")
		n, err := parseNumber(text)
		if !ok || err != nil {
			e.fail("compose: %q is not a field and its number; write it like speed=3", publish.Plain(a))
			return exitUndone
		}
		set = append(set, vdo.Value{Field: name, Raw: n})
	}
	w, err := l.Compose(start, set...)
	if err != nil {
		e.fail("compose: %s; 'gainsay layout %s' lists the fields", publish.Plain(err.Error()), l.Name())
		return exitUndone
	}
	if asJSON, _ := fs.GetBool("json"); asJSON {
		e.json(publish.NewLoneWord(w, l))
	} else {
		fmt.Fprintln(e.out, publish.Hex32(w))
	}
	return exitDone
}

func parseNumber(s string) (uint32, error) {
	n, err := strconv.ParseUint(s, 0, 32)
	return uint32(n), err
}
