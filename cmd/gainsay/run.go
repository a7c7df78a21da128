package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
)

// What every command keeps to:
//
//   - Results go to stdout, all else to stderr, as "gainsay: " and a sentence in
//     lower case.
//   - "-" is stdin.
//   - Exit 0: done, and no contradiction. 1: at least one contradiction or
//     breach. 2: the work, or part of it, could not be done.
//   - Text from records and pasted words is escaped before it is shown.

// Exit codes, the same for every command and form of output.
const (
	exitDone         = 0
	exitContradicted = 1
	exitUndone       = 2
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
	notes      struct {  // said at the end of the run; they make no difference to its status
		sync.Mutex
		lines []string
	}
	output     fs.FileInfo // of the file that --output replaces, or nil
	outputRead atomic.Bool // whether it is one of the inputs
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
		portsCommand, shelfCommand, sampleCommand, addCommand, schemaCommand, completionCommand(), manualCommand(),
	}
}

func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	e := &env{in: stdin, out: bufio.NewWriterSize(stdout, 1<<16), err: stderr, toTerminal: isTerminal(stdout)}
	e.style.Colour = e.toTerminal && os.Getenv("NO_COLOR") == ""
	code := dispatch(e, args)
	e.notes.Lock()
	for _, line := range e.notes.lines {
		e.failLines(line)
	}
	e.notes.Unlock()
	if err := e.out.Flush(); err != nil {
		e.fail("cannot write the result: %v", err)
		return exitUndone
	}
	return code
}

// isTerminal tells whether what is written goes to a terminal that can do more than
// print lines.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
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
	case "--version", "version":
		fmt.Fprintf(e.out, "gainsay %s, rules %s\n", claims.Version(), rules.Checker().Catalogue())
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
	e.fail("no command is called %q; %s", publish.Plain(args[0]), suggest(args[0], names, "'gainsay help' lists them"))
	return exitUndone
}

func (c command) start(e *env, args []string) int {
	fs := c.flagSet()
	given := map[string]bool{}
	once := func(f *pflag.Flag, value string) error {
		if _, list := f.Value.(pflag.SliceValue); !list && given[f.Name] && f.Value.Type() != "bool" {
			return fmt.Errorf("--%s is given twice; give it once", f.Name)
		}
		given[f.Name] = true
		return fs.Set(f.Name, value)
	}
	if err := fs.ParseAll(args, once); err != nil {
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
	fmt.Fprintf(&b, "\nOptions:\n%s", optionsText(fs))
	if example != "" {
		fmt.Fprintf(&b, "\nExample:\n%s\n", strings.Trim(example, "\n"))
	}
	return b.String()
}

// optionsText lists options, each with what it does beside it. pflag's own listing
// shows of each option without a value that it may have one.
func optionsText(fs *pflag.FlagSet) string {
	var heads, texts []string
	width := 0
	fs.VisitAll(func(f *pflag.Flag) {
		value, text := pflag.UnquoteUsage(f)
		head := "      --" + f.Name
		if f.Shorthand != "" {
			head = "  -" + f.Shorthand + ", --" + f.Name
		}
		if value != "" {
			head += " " + value
		}
		heads, texts = append(heads, head), append(texts, text+defaultText(f))
		width = max(width, len(head))
	})
	var b strings.Builder
	for i, head := range heads {
		line := fmt.Sprintf("%-*s  ", width, head)
		for _, word := range strings.Fields(texts[i]) {
			if utf8.RuneCountInString(line)+utf8.RuneCountInString(word) > publish.Width {
				b.WriteString(strings.TrimRight(line, " ") + "\n")
				line = strings.Repeat(" ", width+2)
			}
			line += word + " "
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}

// defaultText says what an option is where it is not given; empty where that is
// nothing.
func defaultText(f *pflag.Flag) string {
	switch f.DefValue {
	case "", "false", "[]":
		return ""
	}
	text := f.DefValue
	if list, ok := strings.CutPrefix(text, "["); ok {
		text = strings.ReplaceAll(strings.TrimSuffix(list, "]"), ",", " and ")
	}
	return " (default " + text + ")"
}

func overview() string {
	var b strings.Builder
	b.WriteString("gainsay holds three witnesses of a USB-C cable against each other: what the\n" +
		"seller claims, what the marker says, and what the bench measured.\n\nUsage:\n  gainsay COMMAND [options] [arguments]\n\nCommands:\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-10s  %s\n", c.name, c.summary)
	}
	b.WriteString("\n'gainsay COMMAND --help' tells more. Exit status: 0 done and no contradiction,\n" +
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

// note keeps what is to be said on stderr at the end. Any goroutine may call it.
func (e *env) note(line string) {
	e.notes.Lock()
	defer e.notes.Unlock()
	e.notes.lines = append(e.notes.lines, line)
}

// fail says on stderr what could not be done.
func (e *env) fail(format string, args ...any) {
	e.out.Flush()
	if e.working != nil {
		e.working.clear()
	}
	fmt.Fprintf(e.err, "gainsay: "+format+"\n", args...)
}

// suggest says which name may have been meant by a misspelt one, and what lists them.
func suggest(text string, names []string, lists string) string {
	if near := record.Nearest(text, names); near != "" {
		return near + "; " + lists
	}
	return lists
}

// isFile tells whether an argument names something in the file system.
func isFile(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}
