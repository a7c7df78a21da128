package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/shelf"
)

var sampleCommand = command{
	name:    "sample",
	summary: "say how many cables of a lot to test, and how many may fail",
	usage:   "[options]",
	help: `
Gives the smallest sampling plan that keeps two risks: that a good lot, with at
most the share of failures after --good, is rejected, and that a bad one, with
at least the share after --bad, is accepted. With --lot it is exact for a lot of
that size (hypergeometric); without, for a production without an end (binomial).
The table shows how often lots of different quality are accepted.

The plan holds for cables taken at random. 'shelf' judges each batch whose
records state about.batch and about.lot by the plan for the same options.

Example:
  gainsay sample --lot 200 --good 1% --bad 10% --risk 5%,10%
`,
	flags: func(fs *pflag.FlagSet) {
		fs.Int("lot", 0, "`CABLES` in the lot; left out, a production without an end")
		riskFlags(fs)
		fs.Bool("json", false, "one JSON object")
		outputFlag(fs)
	},
	run: runSample,
}

// riskFlags are the options of a sampling plan, the same for sample and shelf.
func riskFlags(fs *pflag.FlagSet) {
	usual := shelf.UsualRisks()
	share := func(v float64) string { return strconv.FormatFloat(100*v, 'g', 6, 64) + "%" }
	fs.String("good", share(usual.Good), "`SHARE` of failures that a good lot has at most")
	fs.String("bad", share(usual.Bad), "`SHARE` of failures that a bad lot has at least")
	fs.String("risk", share(usual.Producer)+","+share(usual.Consumer), "`RISKS` of rejecting a good lot and of accepting a bad one, a comma between")
}

// risks reads the options of a sampling plan.
func (e *env) risks(fs *pflag.FlagSet) (r shelf.Risks, ok bool) {
	text := func(name string) string { s, _ := fs.GetString(name); return s }
	fail := func(name, wrong string) (shelf.Risks, bool) {
		e.fail("%s: --%s %q: %s", fs.Name(), name, publish.Plain(text(name)), wrong)
		return r, false
	}
	for _, share := range []struct {
		name string
		into *float64
	}{{"good", &r.Good}, {"bad", &r.Bad}} {
		if *share.into, ok = parseShare(text(share.name)); !ok {
			return fail(share.name, `not a share; write it like "1%" or "0.01"`)
		}
	}
	producer, consumer, two := strings.Cut(text("risk"), ",")
	var okProducer, okConsumer bool
	r.Producer, okProducer = parseShare(producer)
	r.Consumer, okConsumer = parseShare(consumer)
	if !two || !okProducer || !okConsumer {
		return fail("risk", `not two risks; write them like "5%,10%"`)
	}
	return r, true
}

// parseShare reads a share as "5%", "5 %" or "0.05".
func parseShare(text string) (float64, bool) {
	number, percent := strings.CutSuffix(strings.TrimSpace(text), "%")
	number = strings.TrimSpace(number)
	if number == "" || strings.Trim(number, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(number, 64)
	if percent {
		v /= 100
	}
	return v, err == nil && v <= 1 && !math.IsNaN(v)
}

func runSample(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() > 0 {
		e.fail("sample: %q is not an option; see 'gainsay sample --help'", publish.Plain(fs.Arg(0)))
		return exitUndone
	}
	r, ok := e.risks(fs)
	if !ok {
		return exitUndone
	}
	r.Lot, _ = fs.GetInt("lot")
	if fs.Changed("lot") && r.Lot < 1 {
		e.fail("sample: --lot %d: a lot has 1 to %d cables; leave the option out for a production without an end", r.Lot, shelf.MaxLot)
		return exitUndone
	}
	p, err := r.Plan()
	if err != nil {
		e.fail("sample: %v", err)
		return exitUndone
	}
	done, ok := e.toFile("sample", fs)
	if !ok {
		return exitUndone
	}
	if asJSON, _ := fs.GetBool("json"); asJSON {
		e.json(publish.NewSample(r, p))
	} else {
		fmt.Fprint(e.out, publish.SampleText(r, p, e.style))
	}
	if !done(true) {
		return exitUndone
	}
	return exitDone
}
