package claims

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"runtime/debug"
	"sync"
)

// MadeBy says what made a report, so that a published one can be traced.
type MadeBy struct {
	Program string `json:"program"` // gainsay
	Version string `json:"version"` // of the program, from its build; "devel" for none
	// Rules is a hash of the rules asked: of their ids, kinds, sources and texts.
	Rules string `json:"rules"`
	// Record is a hash of what the record says, whatever its form and order; absent for a
	// record that was not read from a text.
	Record string `json:"record,omitempty"`
}

// Version is the version of this module as the program was built, "devel" where the build
// does not tell.
func Version() string { return version() }

var version = sync.OnceValue(func() string {
	const path = "example.com/gainsay"
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "devel"
	}
	found := ""
	if info.Main.Path == path {
		found = info.Main.Version
	}
	for _, dep := range info.Deps {
		if dep.Path == path {
			found = dep.Version
		}
	}
	if found == "" || found == "(devel)" {
		return "devel"
	}
	return found
})

// Catalogue is a hash of the rules: of their ids, kinds, sources and texts.
func (ch *Checker) Catalogue() string {
	if known := ch.hash.Load(); known != nil {
		return *known
	}
	sum := sha256.New()
	for _, r := range ch.Rules {
		fmt.Fprintf(sum, "%q %q %q %q %q %q %q %q %q\n", r.ID, r.Kind, r.Property, r.Needs, r.Source(), r.Title, r.Says, r.Why, r.Next)
	}
	hash := hex.EncodeToString(sum.Sum(nil)[:8])
	ch.hash.Store(&hash)
	return hash
}
