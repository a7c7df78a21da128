package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/rules"
	"example.com/gainsay/claims/shelf"
	"example.com/gainsay/vdo"
)

func completionCommand() command {
	return command{
		name:    "completion",
		summary: "print the completion script of a shell",
		usage:   "bash|zsh|fish",
		help: `
Prints a script that makes the shell complete commands, options, the values that
an option takes, and names of columns, rules and words. It is made from the
options themselves.

Example:
  gainsay completion bash > gainsay.bash
`,
		run: runCompletion,
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
			for _, r := range rules.All() {
				one.names = append(one.names, r.ID)
			}
		case "schema":
			one.names = schemaNames()
		case "completion":
			one.names = []string{"bash", "zsh", "fish"}
		}
		c.flagSet().VisitAll(func(f *pflag.Flag) {
			o := option{Flag: f, takes: f.Value.Type() != "bool"}
			switch f.Name {
			case "form":
				o.values = forms
			case "accept":
				o.values = []string{acceptGuard, acceptSimple}
			case "as":
				o.values = readerNames()
			case "layout":
				o.values = layoutNames()
			case "plug":
				o.values = []string{vdo.PlugNear.String(), vdo.PlugFar.String()}
			case "revision":
				o.values = []string{"2.0", "3.0"}
			case "columns", "sort", "where":
				o.list = f.Name != "where"
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

// commandNames lists the commands with blanks between.
func commandNames(cs []completion) string {
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
`, commandNames(cs))
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

// help is an option's help without the marks of its value's name.
func (o option) help() string {
	_, usage := pflag.UnquoteUsage(o.Flag)
	return usage
}

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
