package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/rules"
)

var rulesCommand = command{
	name:    "rules",
	summary: "list the rules, or explain one",
	usage:   "[options] [RULE ...]",
	help: `
Without a name, lists every rule with what it finds. With names, explains each:
what it needs, the source it rests on, why it matters and what to do next.

Example:
  gainsay rules claimed-power-above-marker
`,
	flags: func(fs *pflag.FlagSet) {
		fs.Bool("json", false, "one JSON object a rule, each on its own line")
	},
	run: runRules,
}

func runRules(e *env, fs *pflag.FlagSet) int {
	asJSON, _ := fs.GetBool("json")
	picked, code := rules.All(), exitDone
	if fs.NArg() > 0 {
		picked = nil
	}
	for _, id := range fs.Args() {
		r := rules.Checker().Rule(id)
		if r == nil {
			wrong, want := rules.Checker().Unknown(id)
			e.fail("rules: %s; %s", publish.Plain(wrong), want)
			code = exitUndone
			continue
		}
		picked = append(picked, r)
	}
	if asJSON {
		for _, r := range picked {
			e.json(publish.NewRule(r))
		}
		return code
	}
	if fs.NArg() == 0 {
		for _, k := range claims.Kinds() {
			fmt.Fprintf(e.out, "%s: %s\n", k, k.What())
			for _, r := range picked {
				if r.Kind == k {
					fmt.Fprintf(e.out, "  %s\n      %s\n", r.ID, r.Title)
				}
			}
		}
		return code
	}
	for i, r := range picked {
		if i > 0 {
			fmt.Fprintln(e.out)
		}
		fmt.Fprint(e.out, publish.RuleText(r, e.style))
	}
	return code
}
