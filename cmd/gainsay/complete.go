package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/shelf"
)

func completionCommand() command {
	return command{
		name:    "completion",
		summary: "print the completion script of a shell",
		usage:   "bash|zsh|fish",
		help: `
Prints a script that makes the shell complete commands, options, the values that an
option takes, and names of columns, rules and words. It is made from the options
themselves.

Example:
  gainsay completion bash > gainsay.bash
`,
		run: runCompletion,
	}
}

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

func runCompletion(e *env, fs *pflag.FlagSet) int {
	write := map[string]func(io.Writer, []completion){"bash": bashScript, "zsh": zshScript, "fish": fishScript}
	if fs.NArg() != 1 || write[fs.Arg(0)] == nil {
		e.fail("completion: name one shell: bash, zsh or fish")
		return exitUndone
	}
	write[fs.Arg(0)](e.out, completions())
	return exitDone
}

// completion is what can follow a command.
type completion struct {
	command
	options []option
	names   []string // that the arguments may be; none: files
}

type option struct {
	*pflag.Flag
	takes  bool     // a value
	values []string // that it may have; none: anything
	list   bool     // of values, with commas between
}

func completions() []completion {
	var out []completion
	for _, c := range commands() {
		one := completion{command: c}
		switch c.name {
		case "layout", "compose":
			one.names = layoutNames()
		case "rules":
			for _, r := range claims.Rules() {
				one.names = append(one.names, r.ID)
			}
		case "schema":
			one.names = schemaNames()
		case "completion":
			one.names = []string{"bash", "zsh", "fish"}
		}
		c.flagSet().VisitAll(func(f *pflag.Flag) {
			o := option{Flag: f, takes: f.Value.Type() != "bool"}
			switch {
			case f.Name == "form":
				o.values = forms
			case f.Name == "accept":
				o.values = []string{acceptGuard, acceptSimple}
			case c.name == "shelf" && (f.Name == "columns" || f.Name == "sort"):
				o.list = true
				fallthrough
			case c.name == "shelf" && f.Name == "where":
				for _, column := range shelf.Columns() {
					o.values = append(o.values, column.Name)
				}
			}
			one.options = append(one.options, o)
		})
		out = append(out, one)
	}
	return out
}

// flagSet gives the options of a command, help included.
func (c command) flagSet() *pflag.FlagSet {
	fs := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.SortFlags = false
	if c.flags != nil {
		c.flags(fs)
	}
	fs.BoolP("help", "h", false, "show this help")
	return fs
}

func words(cs []completion) string {
	names := make([]string, len(cs))
	for i, c := range cs {
		names[i] = c.name
	}
	return strings.Join(names, " ")
}

func bashScript(w io.Writer, cs []completion) {
	fmt.Fprintf(w, `# bash completion for gainsay, written by 'gainsay completion bash'.
_gainsay() {
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} names= options= values= list=
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        COMPREPLY=($(compgen -W "%s" -- "$cur"))
        return
    fi
    case ${COMP_WORDS[1]} in
`, words(cs))
	for _, c := range cs {
		var options []string
		for _, o := range c.options {
			options = append(options, "--"+o.Name)
		}
		fmt.Fprintf(w, "    %s)\n        options=%q names=%q\n        case $prev in\n", c.name, strings.Join(options, " "), strings.Join(c.names, " "))
		for _, o := range c.options {
			if len(o.values) == 0 {
				continue
			}
			fmt.Fprintf(w, "        --%s) values=%q", o.Name, strings.Join(o.values, " "))
			if o.list {
				fmt.Fprint(w, " list=1")
			}
			fmt.Fprint(w, " ;;\n")
		}
		fmt.Fprint(w, "        esac ;;\n")
	}
	fmt.Fprint(w, `    esac
    if [[ -n $list ]]; then
        # The last name of a list; the ones before it stay.
        local head=
        [[ $cur == *,* ]] && head=${cur%,*},
        COMPREPLY=($(compgen -P "$head" -W "$values" -- "${cur##*,}"))
        compopt -o nospace 2>/dev/null
    elif [[ -n $values ]]; then
        COMPREPLY=($(compgen -W "$values" -- "$cur"))
    elif [[ $cur == -* ]]; then
        COMPREPLY=($(compgen -W "$options" -- "$cur"))
    elif [[ -n $names ]]; then
        COMPREPLY=($(compgen -W "$names" -- "$cur"))
    else
        compopt -o filenames 2>/dev/null
        local IFS=$'\n'
        COMPREPLY=($(compgen -f -- "$cur"))
    fi
}
complete -F _gainsay gainsay
`)
}

// help is an option's help in one line without the marks of its value's name.
func (o option) help() string { return strings.ReplaceAll(o.Usage, "\n", " ") }

func zshScript(w io.Writer, cs []completion) {
	quote := strings.NewReplacer("'", `'\''`, "[", `\[`, "]", `\]`, ":", `\:`)
	fmt.Fprint(w, "#compdef gainsay\n# zsh completion for gainsay, written by 'gainsay completion zsh'.\n_gainsay() {\n    local -a commands\n    commands=(\n")
	for _, c := range cs {
		fmt.Fprintf(w, "        '%s:%s'\n", c.name, quote.Replace(c.summary))
	}
	fmt.Fprint(w, "    )\n    if ((CURRENT == 2)); then\n        _describe command commands\n        return\n    fi\n    local command=$words[2]\n    shift words\n    ((CURRENT--))\n    case $command in\n")
	for _, c := range cs {
		fmt.Fprintf(w, "    %s)\n        _arguments \\\n", c.name)
		for _, o := range c.options {
			value, equals := "", ""
			if o.takes {
				equals, value = "=", ":value:"
				switch {
				case o.list:
					value += "_sequence compadd - " + strings.Join(o.values, " ")
				case len(o.values) > 0:
					value += "(" + strings.Join(o.values, " ") + ")"
				case o.Name == "output":
					value += "_files"
				}
			}
			names := []string{"--" + o.Name + equals}
			if o.Shorthand != "" {
				short := "-" + o.Shorthand
				if o.takes {
					short += "+"
				}
				names = append(names, short)
			}
			for _, n := range names {
				fmt.Fprintf(w, "            '*%s[%s]%s' \\\n", n, quote.Replace(o.help()), value)
			}
		}
		if len(c.names) > 0 {
			fmt.Fprintf(w, "            '*:name:(%s)' ;;\n", strings.Join(c.names, " "))
		} else {
			fmt.Fprint(w, "            '*:file:_files' ;;\n")
		}
	}
	fmt.Fprint(w, "    esac\n}\n_gainsay \"$@\"\n")
}

func fishScript(w io.Writer, cs []completion) {
	quote := strings.NewReplacer(`\`, `\\`, "'", `\'`)
	fmt.Fprintf(w, "# fish completion for gainsay, written by 'gainsay completion fish'.\n")
	for _, c := range cs {
		fmt.Fprintf(w, "complete -c gainsay -n __fish_use_subcommand -f -a %s -d '%s'\n", c.name, quote.Replace(c.summary))
	}
	for _, c := range cs {
		of := fmt.Sprintf("complete -c gainsay -n '__fish_seen_subcommand_from %s'", c.name)
		for _, o := range c.options {
			fmt.Fprintf(w, "%s -l %s", of, o.Name)
			if o.Shorthand != "" {
				fmt.Fprintf(w, " -s %s", o.Shorthand)
			}
			switch {
			case len(o.values) > 0:
				fmt.Fprintf(w, " -x -a '%s'", strings.Join(o.values, " "))
			case o.takes:
				fmt.Fprint(w, " -r")
			}
			fmt.Fprintf(w, " -d '%s'\n", quote.Replace(o.help()))
		}
		if len(c.names) > 0 {
			fmt.Fprintf(w, "%s -f -a '%s'\n", of, strings.Join(c.names, " "))
		}
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
			if f.Value.Type() != "bool" {
				term += ` \fI` + roff(name) + `\fR`
			}
			line(".TP\n%s\n%s", term, roff(usage))
			if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" {
				line("(default %s)", roff(f.DefValue))
			}
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
