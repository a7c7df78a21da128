package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
)

func manualCommand() command {
	return command{
		name:    "manual",
		summary: "print the manual page",
		usage:   "[options]",
		help: `
Prints the manual page in man's own form, made from the help of every command.

Example:
  gainsay manual > gainsay.1
`,
		flags: func(fs *pflag.FlagSet) { outputFlag(fs) },
		run:   runManual,
	}
}

func runManual(e *env, fs *pflag.FlagSet) int {
	if fs.NArg() > 0 {
		e.fail("manual: takes no argument")
		return exitUndone
	}
	done, ok := e.toFile("manual", fs)
	if !ok {
		return exitUndone
	}
	fmt.Fprint(e.out, manual())
	if !done(true) {
		return exitUndone
	}
	return exitDone
}

// roff escapes text for man: no character of it is a request or an escape.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "^", `\(ha`, "~", `\(ti`, "`", `\(ga`).Replace(publish.Plain(s))
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	return s
}

func manual() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line(`.TH GAINSAY 1 "" gainsay "User Commands"`)
	line(".SH NAME\ngainsay \\- hold what is claimed of a USB\\-C cable against its marker and the bench")
	line(".SH SYNOPSIS\n.B gainsay\n.I command\n.RI [ options ]\n.RI [ arguments ]")
	line(".SH DESCRIPTION")
	for _, l := range strings.Split(strings.Split(overview(), "\n\n")[0], "\n") {
		line("%s", roff(l))
	}
	line(".SH COMMANDS")
	for _, c := range commands() {
		line(".SS gainsay %s", roff(c.name))
		line(".B gainsay %s\n%s", roff(c.name), roff(c.usage))
		line(".PP\n%s.", roff(capitalized(c.summary)))
		text, example, _ := strings.Cut(c.about(), "\nExample:\n")
		roffText(&b, text)
		line(".PP\nOptions:")
		c.flagSet().VisitAll(func(f *pflag.Flag) {
			name, usage := pflag.UnquoteUsage(f)
			term := `\fB\-\-` + roff(f.Name) + `\fR`
			if f.Shorthand != "" {
				term = `\fB\-` + roff(f.Shorthand) + `\fR, ` + term
			}
			if name != "" {
				term += ` \fI` + roff(name) + `\fR`
			}
			line(".TP\n%s\n%s", term, roff(usage+defaultText(f)))
		})
		if example = strings.Trim(example, "\n"); example != "" {
			line(".PP\nExample:\n.PP\n.nf\n.RS")
			for _, l := range strings.Split(example, "\n") {
				line("%s", roff(strings.TrimSpace(l)))
			}
			line(".RE\n.fi")
		}
	}
	line(".SH EXIT STATUS\n.TP\n0\nDone, and nothing to gainsay.\n.TP\n1\nA contradiction or a breach was found.\n.TP\n2\nSomething could not be done.")
	return b.String()
}

// roffText writes paragraphs; indented lines stay as they are.
func roffText(b *strings.Builder, text string) {
	for _, paragraph := range strings.Split(strings.Trim(text, "\n"), "\n\n") {
		if strings.HasPrefix(paragraph, "  ") {
			b.WriteString(".PP\n.nf\n")
			for _, l := range strings.Split(paragraph, "\n") {
				b.WriteString(roff(l) + "\n")
			}
			b.WriteString(".fi\n")
			continue
		}
		b.WriteString(".PP\n")
		for _, l := range strings.Split(paragraph, "\n") {
			b.WriteString(roff(l) + "\n")
		}
	}
}

func capitalized(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
