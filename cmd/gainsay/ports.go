package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/typec"
)

var portsCommand = command{
	name:    "ports",
	summary: "read the cables in this machine's own ports (Linux)",
	usage:   "[options] [PORT ...]",
	help: `
Reads Linux's USB Type-C class directory: every port, its cable, and what the
cable's plugs answered. The kernel shows the words without their headers, so how
they are to be read follows from the PD revision it shows; the output says so.

With --record, prints a record for each cable, ready for claims and readings.

Example:
  gainsay ports --root testdata/typec port0
`,
	flags: func(fs *pflag.FlagSet) {
		fs.String("root", "/", "`FOLDER` that the tree is read from, for a copy of another machine's /sys")
		fs.Bool("words", false, "show every answer bit by bit")
		fs.Bool("record", false, "print a record for each cable")
		fs.Bool("json", false, "one JSON object a port, each on its own line")
	},
	run: runPorts,
}

func runPorts(e *env, fs *pflag.FlagSet) int {
	root, _ := fs.GetString("root")
	words, _ := fs.GetBool("words")
	asRecord, _ := fs.GetBool("record")
	asJSON, _ := fs.GetBool("json")
	dir := filepath.Join(root, "sys", "class", "typec")
	code := exitDone
	ports, err := typec.Read(os.DirFS(dir))
	if err != nil {
		text := publish.Plain(err.Error())
		if errors.Is(err, typec.ErrNoClass) {
			text = fmt.Sprintf("%s is not there: this kernel shows no USB Type-C ports; a copy of another machine's tree is read with --root", publish.Plain(dir))
		}
		e.fail("ports: %s", text)
		code = exitUndone
	}
	shown := 0
	names := make([]string, len(ports))
	for i, p := range ports {
		names[i] = publish.Plain(p.Name)
		if fs.NArg() > 0 && !slices.Contains(fs.Args(), p.Name) {
			continue
		}
		if p.Cable != nil && !p.Cable.Whole() {
			e.fail("ports: %s: a word of the cable is missing or could not be read; the output names it", names[i])
			code = exitUndone
		}
		switch {
		case asRecord:
			if p.Cable == nil {
				// Where it was not named, a port without a cable is as it should be.
				e.fail("ports: %s: no cable is shown", names[i])
				if fs.NArg() > 0 {
					code = exitUndone
				}
				continue
			}
			draft := record.DraftWith(p.Name, markerDraft(p.Cable))
			if err := stillChecked(nil, []byte(draft), p.Name+".yaml", "."); err != nil {
				// Nothing that check refuses is written.
				e.failLines(fmt.Sprintf("ports: %s: no record is written: %v", names[i], err))
				code = exitUndone
				continue
			}
			if shown > 0 {
				fmt.Fprintln(e.out, "---")
			}
			fmt.Fprint(e.out, draft)
		case asJSON:
			e.json(publish.NewPort(p))
		default:
			if shown > 0 {
				fmt.Fprintln(e.out)
			}
			fmt.Fprint(e.out, publish.PortText(p, words, e.style))
		}
		shown++
	}
	for _, name := range fs.Args() {
		if !slices.ContainsFunc(ports, func(p typec.Port) bool { return p.Name == name }) {
			e.fail("ports: no port is called %q; there are %s", publish.Plain(name), cmp.Or(strings.Join(names, ", "), "none"))
			code = exitUndone
		}
	}
	return code
}

// markerDraft gives what a cable's plugs answered as a record holds it: whole answers. Of
// what the kernel hides or could not be read, comments tell. That a marker was asked and
// stayed silent the kernel does not show.
func markerDraft(c *typec.Cable) record.MarkerDraft {
	var d record.MarkerDraft
	note := func(text string) { d.Notes = append(d.Notes, publish.Plain(text)) }
	if !c.Identity.Whole() {
		note("The kernel does not show the whole answer to Discover Identity; it is left out.")
	}
	for _, m := range c.Messages() {
		line := record.Words(m.Words...).Value.Line()
		switch {
		case m.Headerless && !c.Identity.Whole():
			note("Shown of it: " + line)
		case m.Plug == vdo.PlugFar:
			d.Far = append(d.Far, line)
		default:
			d.Near = append(d.Near, line)
		}
		if m.Headerless && c.Identity.Whole() {
			d.Revision = draftRevision(c.Revision)
		}
	}
	if !c.Whole() {
		for _, p := range c.Problems {
			note(p.Error())
		}
	}
	d.Asked = len(d.Near)+len(d.Far) > 0
	return d
}
