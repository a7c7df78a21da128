package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/record"
)

var draftCommand = command{
	name:    "draft",
	summary: "print a commented record to fill in",
	usage:   "[options] [CABLE]",
	help: `
Prints a record with every key, commented. It can be checked as it is, and shows
nothing: take the comment sign off what you know. CABLE is your own id for it.

Example:
  gainsay draft NF-021 > NF-021.yaml
`,
	flags: func(fs *pflag.FlagSet) {
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
	if asJSON, _ := fs.GetBool("json"); asJSON {
		e.json(struct {
			Version int    `json:"gainsay"`
			Cable   string `json:"cable"`
		}{record.Version, cable})
		return exitDone
	}
	fmt.Fprint(e.out, record.Draft(cable))
	return exitDone
}
