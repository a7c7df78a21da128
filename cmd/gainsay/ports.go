package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
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
		fs.String("root", "/", "`FOLDER` that the tree is read from, for a copy of another machine's /sys; no link leads out of it")
		fs.Bool("words", false, "show every answer bit by bit")
		fs.Bool("record", false, "print a record for each cable")
		fs.Bool("json", false, "one JSON object a port, each on its own line")
	},
	run: runPorts,
}

func runPorts(e *env, flags *pflag.FlagSet) int {
	root, _ := flags.GetString("root")
	words, _ := flags.GetBool("words")
	asRecord, _ := flags.GetBool("record")
	asJSON, _ := flags.GetBool("json")
	dir := filepath.Join(root, "sys", "class", "typec")
	code := exitDone
	ports, err := readPorts(root)
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
		if flags.NArg() > 0 && !slices.Contains(flags.Args(), p.Name) {
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
				if flags.NArg() > 0 {
					code = exitUndone
				}
				continue
			}
			draft := record.DraftWith(p.Name, markerDraft(p.Cable), "")
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
	for _, name := range flags.Args() {
		if !slices.ContainsFunc(ports, func(p typec.Port) bool { return p.Name == name }) {
			e.fail("ports: no port is called %q; there are %s", publish.Plain(name), cmp.Or(strings.Join(names, ", "), "none"))
			code = exitUndone
		}
	}
	return code
}

// readPorts reads the class directory of a tree. No link is followed out of the tree.
func readPorts(root string) ([]typec.Port, error) {
	tree, err := os.OpenRoot(root)
	if err != nil {
		return nil, plainError(err)
	}
	defer tree.Close()
	return typec.Read(classTree{tree.FS().(confined)})
}

// confined is what the file system of an os.Root can do.
type confined interface {
	fs.StatFS
	fs.ReadDirFS
}

// classTree is the class directory in a tree. Unlike what fs.Sub makes, it asks for the
// kind of a file without opening it: to open a pipe would wait for its writer.
type classTree struct{ root confined }

const classFolder = "sys/class/typec"

func (t classTree) Open(name string) (fs.File, error) {
	return t.root.Open(path.Join(classFolder, name))
}
func (t classTree) Stat(name string) (fs.FileInfo, error) {
	return t.root.Stat(path.Join(classFolder, name))
}
func (t classTree) ReadDir(name string) ([]fs.DirEntry, error) {
	return t.root.ReadDir(path.Join(classFolder, name))
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
