package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/rules"
)

// The policies of acceptance by name.
const (
	acceptGuard  = "guard"
	acceptSimple = "simple"
	acceptRisk   = "risk="
)

// policyFlags add how limits are decided: what to accept, a lab's own limits, and what is
// taken of a meter of unknown accuracy.
func policyFlags(fs *pflag.FlagSet) {
	fs.String("accept", acceptGuard, "`POLICY` to decide by: with a guard band of the expanded uncertainty (guard), by the value alone (simple), or with a stated risk of being wrong (risk=5%)")
	fs.StringArray("limit", nil, "a `LIMIT` of your own beside the published ones, as \"vbus 80 mΩ\"; may be repeated")
	fs.StringArray("assume", nil, "`ACCURACY` of a meter of which nothing is on record, as \"voltmeter 0.5 % + 2 mV\"; may be repeated")
}

// checker is the usual one, as the options set it.
func (e *env) checker(fs *pflag.FlagSet) (*claims.Checker, bool) {
	checker := rules.Checker()
	var errs []error
	name, _ := fs.GetString("accept")
	var err error
	if checker.Acceptance, err = parseAcceptance(name); err != nil {
		errs = append(errs, err)
	}
	for _, p := range []struct {
		flag string
		put  func(word, rest string) error
	}{
		{"limit", func(word, rest string) error { return setLimit(&checker.Acceptance.Limits, word, rest) }},
		{"assume", func(word, rest string) error { return setAssumed(&checker.Assume, word, rest) }},
	} {
		texts, _ := fs.GetStringArray(p.flag)
		said := map[string]bool{}
		for _, text := range texts {
			word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
			word = strings.ToLower(word)
			err := p.put(word, rest)
			if err == nil && said[word] {
				err = errors.New(word + " is said twice")
			}
			said[word] = true
			if err != nil {
				errs = append(errs, fmt.Errorf("--%s %q: %w", p.flag, text, err))
			}
		}
	}
	for _, err := range errs {
		e.fail("%s: %s", fs.Name(), publish.Plain(err.Error()))
	}
	return checker, len(errs) == 0
}

func parseAcceptance(name string) (bench.Acceptance, error) {
	unknown := fmt.Errorf("--accept %q is not known; write guard, simple, or a risk as risk=5%%", name)
	share, isRisk := strings.CutPrefix(name, acceptRisk)
	switch {
	case name == acceptGuard:
		return bench.Acceptance{}, nil
	case name == acceptSimple:
		return bench.Acceptance{Simple: true}, nil
	case !isRisk:
		return bench.Acceptance{}, unknown
	}
	percent, ok := strings.CutSuffix(strings.TrimSpace(share), "%")
	risk, err := strconv.ParseFloat(strings.TrimSpace(percent), 64)
	if err != nil || !ok {
		return bench.Acceptance{}, unknown
	}
	risk /= 100
	if !(risk >= 1e-4 && risk < 0.5) {
		return bench.Acceptance{}, fmt.Errorf("--accept %q: the risk is from 0.01 %% to below 50 %%", name)
	}
	return bench.Acceptance{Risk: risk}, nil
}

func setLimit(into *bench.Limits, word, text string) error {
	to := map[string]*float64{"vbus": &into.VBUSOhm, "ground": &into.GroundOhm}[word]
	if to == nil {
		return errors.New("name the conductor first, vbus or ground, then the limit, as \"vbus 80 mΩ\"")
	}
	ohm, err := quantity.Parse(text, quantity.Resistance)
	if err == nil && !(ohm > 0) {
		err = errors.New("a limit is above 0 Ω")
	}
	if err == nil {
		*to = ohm
	}
	return err
}

func setAssumed(into *bench.Assumption, word, text string) error {
	var to **quantity.Accuracy
	var unit quantity.Dimension
	switch word {
	case "voltmeter":
		to, unit = &into.Voltmeter, quantity.Voltage
	case "ammeter":
		to, unit = &into.Ammeter, quantity.Current
	case "ohmmeter":
		to, unit = &into.Ohmmeter, quantity.Resistance
	default:
		return errors.New("name the meter first, voltmeter, ammeter or ohmmeter, then its accuracy, as \"voltmeter 0.5 % + 2 mV\"")
	}
	a, err := quantity.ParseAccuracy(text, unit)
	if err == nil {
		*to = &a
	}
	return err
}
