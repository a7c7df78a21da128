package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
)

var draftCommand = command{
	name:    "draft",
	summary: "print a commented record to fill in",
	usage:   "[options] [CABLE]",
	help: `
Prints a record with every key, commented. It can be checked as it is, and shows
nothing: take the comment sign off what you know. CABLE is your own id for it.

With --near and --far, what the plugs answered is in its place: any text that
decode reads, the name of a file that holds it, or "-" for stdin.

The nearest rig file (*.rig.yaml) in this folder or the eight above is named in
the record.

Example:
  gainsay draft NF-021 > NF-021.yaml
`,
	flags: func(fs *pflag.FlagSet) {
		fs.String("near", "", "what the near plug (SOP′) answered: `TEXT`, or a file of it")
		fs.String("far", "", "what the far plug (SOP″) answered: `TEXT`, or a file of it")
		fs.Bool("json", false, "the bare record as a JSON object, without comments")
	},
	run: runDraft,
}

func runDraft(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() > 1 {
		e.fail("draft: one cable at a time")
		return exitUndone
	}
	cable := "CABLE-1"
	if fs.NArg() == 1 {
		cable = fs.Arg(0)
	}
	var m record.MarkerDraft
	near, okNear := e.pastedLines(fs, "near", vdo.PlugNear, &m)
	far, okFar := e.pastedLines(fs, "far", vdo.PlugFar, &m)
	if !okNear || !okFar {
		return exitUndone
	}
	m.Near, m.Far = near, far
	m.Asked = len(near)+len(far) > 0
	rig, err := nearestRig(".")
	if err != nil {
		e.fail("draft: %s", publish.Plain(err.Error()))
	}
	draft := record.DraftWith(cable, m, rig)
	if err := stillChecked(nil, []byte(draft), "draft", "."); err != nil {
		e.failLines("draft: " + strings.ReplaceAll(err.Error(), "\n", "\ndraft: "))
		return exitUndone
	}
	if asJSON, _ := fs.GetBool("json"); asJSON {
		type marker struct {
			Near     []string `json:"near,omitempty"`
			Far      []string `json:"far,omitempty"`
			Asked    bool     `json:"asked"`
			Revision string   `json:"revision,omitempty"`
		}
		out := struct {
			Version int     `json:"gainsay"`
			Cable   string  `json:"cable"`
			Rig     string  `json:"rig,omitempty"`
			Marker  *marker `json:"marker,omitempty"`
		}{Version: record.Version, Cable: cable, Rig: rig}
		if m.Asked {
			out.Marker = &marker{m.Near, m.Far, true, m.Revision}
		}
		e.json(out)
		return exitDone
	}
	fmt.Fprint(e.out, draft)
	return exitDone
}

// pastedLines reads what an option says one plug answered, and gives its words,
// a line a message. A revision that only the message header told is kept.
func (e *env) pastedLines(fs *pflag.FlagSet, option string, plug vdo.Plug, m *record.MarkerDraft) ([]string, bool) {
	text, _ := fs.GetString(option)
	if text == "" {
		return nil, true
	}
	if text == "-" || isFile(text) {
		var all []byte
		for in, err := range e.inputs(text) {
			if err == nil {
				all, err = io.ReadAll(io.LimitReader(in, paste.MaxText+1)) // one byte over is refused below
				in.Close()
			}
			if err != nil {
				return e.draftFails(option, err)
			}
		}
		text = string(all)
	}
	res, err := paste.Read(text)
	if err != nil {
		return e.draftFails(option, err)
	}
	var lines []string
	for _, msg := range res.Messages {
		switch {
		case msg.Plug != vdo.PlugUnknown && msg.Plug != plug:
			if other := map[string]string{"near": "far", "far": "near"}[option]; !fs.Changed(other) {
				return e.draftFails(option, fmt.Errorf("%d:%d: this is an answer of the other plug; give the text with --%s too, or take the answer out", msg.From.Line, msg.From.Column, other))
			}
			continue
		case len(msg.Others) > 0:
			return e.draftFails(option, errors.New("this can be read in two ways; 'gainsay decode' shows both"))
		case msg.Headerless && msg.Revision != vdo.RevisionUnknown:
			m.Revision = draftRevision(msg.Revision)
		}
		lines = append(lines, record.Words(msg.Words...).Value.Line())
	}
	if len(lines) == 0 {
		return e.draftFails(option, errors.New("there is no answer of this plug in the text"))
	}
	return lines, true
}

// draftFails says what is wrong with what an option gives, a line for each fault.
func (e *env) draftFails(option string, err error) ([]string, bool) {
	for _, line := range strings.Split(err.Error(), "\n") {
		e.fail("draft: --%s: %s", option, publish.Plain(line))
	}
	return nil, false
}

// draftRevision writes a revision as a record has it; empty where it has none.
func draftRevision(r vdo.Revision) string {
	switch r {
	case vdo.Revision2:
		return "2.0"
	case vdo.Revision3:
		return "3.0"
	}
	return ""
}
