package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
)

// What every command keeps to:
//
//   - Results go to stdout, all else to stderr, as "gainsay: " and a sentence in
//     lower case.
//   - "-" is stdin.
//   - Exit 0: done, and nothing to gainsay. 1: at least one contradiction or
//     breach. 2: the work, or part of it, could not be done.
//   - Text from records and pasted words is escaped before it is shown.

// Exit codes, the same for every command and form of output.
const (
	exitDone     = 0
	exitGainsaid = 1
	exitUndone   = 2
)

// env is what a command may touch.
type env struct {
	in         io.Reader
	out        *bufio.Writer
	err        io.Writer
	style      publish.Style
	stdinTaken bool
	toTerminal bool      // results go to a terminal
	working    *progress // on the terminal, or nil
}

// command is one word of the command line.
type command struct {
	name    string
	summary string        // one line, lower case
	usage   string        // what follows the name
	help    string        // paragraphs, closing with a worked example
	table   func() string // what stands for "{table}" in the help, where it has one
	run     func(*env, *pflag.FlagSet) int
	flags   func(*pflag.FlagSet)
}

func commands() []command {
	return []command{
		checkCommand, decodeCommand, ohmsCommand, rulesCommand, layoutCommand, composeCommand, draftCommand,
		portsCommand, shelfCommand, addCommand, schemaCommand, completionCommand(), manualCommand(),
	}
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	e := &env{in: stdin, out: bufio.NewWriterSize(stdout, 1<<16), err: stderr, style: styleFor(stdout)}
	if f, ok := stdout.(*os.File); ok {
		e.toTerminal = isTerminal(f)
	}
	code := dispatch(e, args)
	if err := e.out.Flush(); err != nil {
		e.fail("cannot write the result: %v", err)
		return exitUndone
	}
	return code
}

// styleFor allows colour only on a terminal, and only where NO_COLOR is unset.
func styleFor(w io.Writer) publish.Style {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return publish.Style{}
	}
	info, err := f.Stat()
	return publish.Style{Colour: err == nil && info.Mode()&os.ModeCharDevice != 0}
}

func dispatch(e *env, args []string) int {
	if len(args) == 0 {
		fmt.Fprint(e.err, overview())
		return exitUndone
	}
	switch args[0] {
	case "-h", "--help", "help":
		if args[0] == "help" && len(args) > 1 {
			return dispatch(e, []string{args[1], "--help"})
		}
		fmt.Fprint(e.out, overview())
		return exitDone
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.start(e, args[1:])
		}
	}
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	e.fail("no command %q; the commands are %s", publish.Plain(args[0]), strings.Join(names, ", "))
	return exitUndone
}

func (c command) start(e *env, args []string) int {
	fs := c.flagSet()
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(e.out, c.text(fs))
			return exitDone
		}
		e.fail("%s: %s; see 'gainsay %s --help'", c.name, publish.Plain(err.Error()), c.name)
		return exitUndone
	}
	if help, _ := fs.GetBool("help"); help {
		fmt.Fprint(e.out, c.text(fs))
		return exitDone
	}
	return c.run(e, fs)
}

// about is the help with its table, which no command waits for at its start.
func (c command) about() string {
	if c.table == nil {
		return c.help
	}
	return strings.Replace(c.help, "{table}", c.table(), 1)
}

func (c command) text(fs *pflag.FlagSet) string {
	var b strings.Builder
	fmt.Fprintf(&b, "gainsay %s: %s\n\nUsage:\n  gainsay %s %s\n", c.name, c.summary, c.name, c.usage)
	head, example, _ := strings.Cut(c.about(), "\nExample:\n")
	fmt.Fprintf(&b, "\n%s\n", strings.Trim(head, "\n"))
	fmt.Fprintf(&b, "\nOptions:\n%s", fs.FlagUsagesWrapped(publish.Width))
	if example != "" {
		fmt.Fprintf(&b, "\nExample:\n%s\n", strings.Trim(example, "\n"))
	}
	return b.String()
}

func overview() string {
	var b strings.Builder
	b.WriteString("gainsay holds three witnesses of a USB-C cable against each other: what the seller\n" +
		"claims, what the marker says, and what the bench measured.\n\nUsage:\n  gainsay COMMAND [options] [arguments]\n\nCommands:\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-10s  %s\n", c.name, c.summary)
	}
	b.WriteString("\n'gainsay COMMAND --help' tells more. Exit status: 0 done and nothing to gainsay,\n" +
		"1 a contradiction or a breach was found, 2 something could not be done.\n\n" +
		"Example:\n  gainsay check examples/records\n")
	return b.String()
}

// failLines says on stderr what could not be done, a line for each line of the
// text, which may hold text from records.
func (e *env) failLines(text string) {
	for _, line := range strings.Split(text, "\n") {
		e.fail("%s", publish.Plain(line))
	}
}

// fail says on stderr what could not be done.
func (e *env) fail(format string, args ...any) {
	e.out.Flush()
	if e.working != nil {
		e.working.clear()
	}
	fmt.Fprintf(e.err, "gainsay: "+format+"\n", args...)
}

// isFile tells whether an argument names something in the file system.
func isFile(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}
