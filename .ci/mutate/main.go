// Command mutate breaks limits, masks, codes and comparisons of the code one at a
// time and shows that some test fails for each. The tree is never touched: mutants
// are built with go's -overlay, most of them together, each behind a switch that
// the environment sets.
//
//	go run ./.ci/mutate                    all mutants
//	go run ./.ci/mutate -list              name them, run nothing
//	go run ./.ci/mutate -only REGEXP       those whose name matches
//	go run ./.ci/mutate -sample N/M        each M-th, from the N-th on
//	go run ./.ci/mutate -own               only the quick tests of the package itself
//
// A mutant that no test notices is printed as survivor, with its place, the
// change and the tests that passed; then the exit status is 1. Run it from the
// top of the repository.
package main

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"runtime"
	"strings"
	"time"
)

func main() {
	list := flag.Bool("list", false, "name the mutants, run nothing")
	only := flag.String("only", "", "only mutants whose name matches this `regexp`")
	sample := flag.String("sample", "", "`N/M`: each M-th mutant, from the N-th on, counted from 0")
	jobs := flag.Int("j", min(2, runtime.NumCPU()), "mutants at a time")
	own := flag.Bool("own", false, "run only the quick tests of the package itself")
	verbose := flag.Bool("v", false, "print each mutant with what found it")
	flag.Parse()
	survivors, err := run(*list, *only, *sample, *jobs, *own, *verbose)
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(2)
	}
	if survivors > 0 {
		os.Exit(1)
	}
}

func run(list bool, only, sample string, jobs int, own, verbose bool) (survivors int, err error) {
	start := time.Now()
	all, err := mutants()
	if err != nil {
		return 0, err
	}
	if err := holdExcuses(all); err != nil {
		return 0, err
	}
	chosen, err := choose(all, only, sample)
	if err != nil {
		return 0, err
	}
	if list {
		for _, m := range chosen {
			fmt.Printf("%s:%d: %s\n", m.file, m.line, m.name)
		}
		fmt.Printf("%d mutants\n", len(chosen))
		return 0, nil
	}
	r, err := newRunner(chosen, own)
	if err != nil {
		return 0, err
	}
	defer r.close()
	t, err := r.runAll(jobs, verbose)
	if err != nil {
		return 0, err
	}
	fmt.Printf("%d mutants in %s: %d found, %d survived, %d do not compile, %d excused\n", len(chosen),
		time.Since(start).Round(time.Second), t.found, t.survived, t.broken, t.excused)
	return t.survived, nil
}

// choose picks mutants by name and place in the list.
func choose(all []*mutant, only, sample string) ([]*mutant, error) {
	re, err := regexp.Compile(only)
	if err != nil {
		return nil, err
	}
	n, every := 0, 1
	if sample != "" {
		if c, err := fmt.Sscanf(sample, "%d/%d", &n, &every); c != 2 || err != nil || every < 1 || n < 0 || n >= every {
			return nil, fmt.Errorf("-sample %s: it should be N/M with 0 ≤ N < M", sample)
		}
	}
	var out []*mutant
	i := 0
	for _, m := range all {
		if !re.MatchString(m.name) {
			continue
		}
		if i%every == n {
			out = append(out, m)
		}
		i++
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no mutant is chosen of %d", len(all))
	}
	return out, nil
}

// holdExcuses refuses excuses without a reason, and those for mutants that are
// no longer there.
func holdExcuses(all []*mutant) error {
	names := map[string]bool{}
	for _, m := range all {
		names[m.name] = true
	}
	var bad []string
	for name, why := range excused {
		if why == "" || !names[name] {
			bad = append(bad, name)
		}
	}
	if len(bad) > 0 {
		return fmt.Errorf("excused, but without a reason or no mutant:\n  %s", strings.Join(bad, "\n  "))
	}
	return nil
}
