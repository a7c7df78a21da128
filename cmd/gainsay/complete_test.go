package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// TestCompletionScripts: every command and option is in every script, and the
// scripts are well-formed to the shells that are there.
func TestCompletionScripts(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		code, script, errs := gainsay(t, "", "completion", shell)
		if code != exitDone || errs != "" {
			t.Fatalf("%s: exit %d, %s", shell, code, errs)
		}
		for _, c := range commands() {
			c.flagSet().VisitAll(func(f *pflag.Flag) {
				want := "--" + f.Name
				if shell == "fish" {
					want = "-l " + f.Name
				}
				if !strings.Contains(script, c.name) || !strings.Contains(script, want) {
					t.Errorf("%s: %s --%s is missing", shell, c.name, f.Name)
				}
			})
		}
		path, err := exec.LookPath(shell)
		if err != nil {
			t.Logf("no %s here", shell)
			continue
		}
		file := filepath.Join(t.TempDir(), "script")
		if err := os.WriteFile(file, []byte(script), 0o666); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command(path, "-n", file).CombinedOutput(); err != nil {
			t.Errorf("%s -n: %v\n%s", shell, err, out)
		}
	}
	for _, args := range [][]string{{"completion"}, {"completion", "csh"}, {"completion", "bash", "zsh"}} {
		if code, _, errs := gainsay(t, "", args...); code != exitUndone || !strings.Contains(errs, "bash, zsh or fish") {
			t.Errorf("%v: exit %d, %q", args, code, errs)
		}
	}
}

// TestBashCompletes asks bash itself.
func TestBashCompletes(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash here")
	}
	_, script, _ := gainsay(t, "", "completion", "bash")
	tests := []struct {
		typed []string
		want  string
	}{
		{[]string{"gainsay", "sh"}, "shelf"},
		{[]string{"gainsay", "check", "--fo"}, "--form"},
		{[]string{"gainsay", "check", "--form", "m"}, "markdown"},
		{[]string{"gainsay", "shelf", "--sort", "marg"}, "margin"},
		{[]string{"gainsay", "shelf", "--sort", "cable,vb"}, "cable,vbus"},
		{[]string{"gainsay", "ohms", "--accept", "s"}, "simple"},
		{[]string{"gainsay", "layout", "passive-cable-p"}, "passive-cable-pd2"},
		{[]string{"gainsay", "rules", "bench-over-limit-at-3"}, "bench-over-limit-at-3-a"},
		{[]string{"gainsay", "completion", "f"}, "fish"},
		{[]string{"gainsay", "decode", "--as", "kern"}, "kernel"},
		{[]string{"gainsay", "decode", "--layout", "vp"}, "vpd"},
		{[]string{"gainsay", "decode", "--plug", "f"}, "far"},
		{[]string{"gainsay", "schema", "rep"}, "report"},
		{[]string{"gainsay", "check", "golden_t"}, "golden_test.go"},
	}
	for _, tt := range tests {
		ask := script + "\nCOMP_WORDS=(\"$@\")\nCOMP_CWORD=$(($# - 1))\n_gainsay\nprintf '%s\\n' \"${COMPREPLY[@]}\"\n"
		out, err := exec.Command(bash, append([]string{"-c", ask, "bash"}, tt.typed...)...).Output()
		if got := strings.TrimSpace(string(out)); err != nil || got != tt.want {
			t.Errorf("%v completes to %q, %v; want %q", tt.typed, got, err, tt.want)
		}
	}
}

// TestManual: every command and option is there, no line of text is taken for a
// request, and a formatter that is there finds nothing to warn of.
func TestManual(t *testing.T) {
	code, page, errs := gainsay(t, "", "manual")
	if code != exitDone || errs != "" {
		t.Fatalf("exit %d, %s", code, errs)
	}
	for _, c := range commands() {
		if !strings.Contains(page, ".SS gainsay "+roff(c.name)+"\n") {
			t.Errorf("%s is missing", c.name)
		}
		c.flagSet().VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(page, `\fB\-\-`+roff(f.Name)+`\fR`) {
				t.Errorf("--%s of %s is missing", f.Name, c.name)
			}
		})
	}
	request := regexp.MustCompile(`^\.(TH|SH|SS|B|I|RI|PP|TP|nf|fi|RS|RE)( |$)`)
	for i, line := range strings.Split(page, "\n") {
		if strings.HasPrefix(line, ".") && !request.MatchString(line) || strings.HasPrefix(line, "'") {
			t.Errorf("line %d is a request: %s", i+1, line)
		}
	}
	if got := roff(".x 'y' -z \\n"); got != `\&.x \(aqy\(aq \-z \en` {
		t.Errorf("roff: %s", got)
	}
	mandoc, err := exec.LookPath("mandoc")
	if err != nil {
		t.Log("no mandoc here")
		return
	}
	cmd := exec.Command(mandoc, "-T", "lint", "-W", "warning")
	cmd.Stdin = strings.NewReader(page)
	out, err := cmd.CombinedOutput()
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		if line != "" && !strings.Contains(line, "missing date") {
			t.Errorf("mandoc: %s (%v)", line, err)
		}
	}
}
