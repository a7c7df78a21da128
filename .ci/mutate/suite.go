package main

// A suite is some files of one package and the tests that are to notice what
// changes in them: the package's own first, then those of the packages that use it.
type suite struct {
	folder string
	files  []string // patterns in the folder
	tests  []tests
}

// tests are those of one package.
type tests struct {
	folder string
	flags  string // of the test binary
}

func (t tests) String() string {
	if t.flags != "" {
		return t.folder + " (quick)"
	}
	return t.folder
}

// Tests that take longer come last: in vdo those that compile C or ask go for a
// list, in claims those that judge thousands of made-up records.
const (
	quickVDO = "-test.skip=^(TestKernel.*|TestImports)$"
	quick    = "-test.skip=^(TestMoreEvidence.*|TestBetter.*|TestSimulation|TestFilesAndPlaces.*|TestOrderOf.*|TestSilence.*|TestFindingsSay.*|TestEveryRoot.*|TestLongFile)$"
)

var suites = []suite{
	{"vdo", []string{"*.go"}, []tests{
		{"vdo", quickVDO}, {"vdo", ""}, {"vdo/frame", ""}, {"vdo/paste", ""}, {"vdo/typec", ""},
		{"claims/rules", quick}, {"claims/publish", ""}, {"claims/shelf", ""}, {"cmd/gainsay", ""}, {"claims", ""},
	}},
	{"vdo/frame", []string{"*.go"}, []tests{
		{"vdo/frame", quickVDO}, {"vdo/frame", ""}, {"vdo/signal", ""}, {"vdo/paste", ""}, {"cmd/gainsay", ""},
	}},
	{"claims/quantity", []string{"awg.go"}, []tests{
		{"claims/quantity", ""}, {"claims/record", ""}, {"claims/bench", ""}, {"claims/rules", quick}, {"cmd/gainsay", ""},
	}},
	// Without student.go: its numbers choose between formulas that agree to the last
	// digits, and tables hold those.
	{"claims/bench", []string{"[a-r]*.go", "se*.go", "wire.go"}, []tests{
		{"claims/bench", ""}, {"claims/rules", quick}, {"claims/publish", ""}, {"claims/shelf", ""}, {"cmd/gainsay", ""}, {"claims/rules", ""},
	}},
	{"claims", []string{"ability.go", "case.go", "fit.go", "marker.go", "not_examined.go", "plugs.go", "rule.go", "sessions.go", "sources.go", "tier.go", "verdict.go", "witness.go"}, []tests{
		{"claims", ""}, {"claims/rules", quick}, {"claims/publish", ""}, {"claims/shelf", ""}, {"cmd/gainsay", ""}, {"claims/rules", ""},
	}},
	{"claims/internal/video", []string{"*.go"}, []tests{
		{"claims/rules", quick}, {"claims/rules", ""},
	}},
	{"claims/rules", []string{"*.go"}, []tests{
		{"claims/rules", quick}, {"claims/publish", ""}, {"claims/shelf", ""}, {"cmd/gainsay", ""}, {"claims/rules", ""},
	}},
}
