// Command measure holds the speed of gainsay against programs that do the least of
// the same work, and prints a table of ratios. .ci/speed builds and starts it; see
// there.
package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"log"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"example.com/gainsay/vdo/paste"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("measure: ")
	if len(os.Args) > 2 && os.Args[1] == "-run" {
		part(os.Args[2], os.Args[3:])
		return
	}
	var m measurement
	flag.StringVar(&m.folder, "in", "", "the folder with the program; data is written there")
	flag.BoolVar(&m.short, "short", false, "less of everything")
	flag.BoolVar(&m.whole, "whole", false, "with a million records")
	flag.Parse()
	fmt.Printf("%s, %s, %d cores, %s\n\n", time.Now().UTC().Format("2006-01-02 15:04"), processor(), runtime.NumCPU(), runtime.Version())
	m.decoding()
	m.checking()
	m.memory()
	m.start()
	m.pastes()
	m.table()
	if m.failed {
		os.Exit(1)
	}
}

// processor names the machine's processor, as Linux tells it.
func processor() string {
	text, _ := os.ReadFile("/proc/cpuinfo")
	for line := range strings.Lines(string(text)) {
		if name, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(name) == "model name" {
			return strings.TrimSpace(value)
		}
	}
	return runtime.GOARCH
}

// part is what this program does as one of the programs measured.
func part(name string, args []string) {
	switch name {
	case "generate": // N FORM: records
		n, err := strconv.Atoi(args[0])
		if err != nil {
			log.Fatal(err)
		}
		out := bufio.NewWriterSize(os.Stdout, 1<<16)
		if err := generate(out, n, args[1]); err != nil {
			log.Fatal(err)
		}
		if err := out.Flush(); err != nil {
			log.Fatal(err)
		}
	case "yaml": // FILE: yaml.v3 merely decoding
		in := open(args[0])
		dec := yaml.NewDecoder(bufio.NewReaderSize(in, 1<<16))
		for n := 0; ; n++ {
			var s sample
			err := dec.Decode(&s)
			if n > 0 && errors.Is(err, io.EOF) {
				return
			}
			if err != nil {
				log.Fatal(err)
			}
		}
	case "paste": // FILE: the reader of pasted text alone
		found := 0
		for item, err := range paste.ReadStream(open(args[0])) {
			if err != nil {
				log.Fatal(err)
			}
			if item.Message != nil {
				found++
			}
		}
		if found == 0 {
			log.Fatal("no message was found")
		}
	case "lines": // FILE: bufio alone
		sc := bufio.NewScanner(open(args[0]))
		found := 0
		for sc.Scan() {
			found++
		}
		if sc.Err() != nil || found == 0 {
			log.Fatalf("%d lines, %v", found, sc.Err())
		}
	default:
		log.Fatalf("no part %q", name)
	}
}

func open(name string) *os.File {
	f, err := os.Open(name)
	if err != nil {
		log.Fatal(err)
	}
	return f
}

// measurement is one run of everything, and what came of it.
type measurement struct {
	folder       string
	short, whole bool
	rows         []row
	failed       bool
}

// row is a ratio of times, or of other amounts, with what it should be.
type row struct {
	what, ours, theirs string
	ratio              float64 // of wall times, where it is of times; the goal is about this
	cpu                float64 // of CPU times, 0 if there is none
	note               string
	goal, bound        limit
}

// steady is the ratio that the bound is about: of CPU times, which a busy machine
// hardly changes, where there is one.
func (r row) steady() float64 {
	if r.cpu > 0 {
		return r.cpu
	}
	return r.ratio
}

// limit is the most a ratio may be, or the least; the zero limit is none.
type limit struct {
	value float64
	least bool
}

func most(v float64) limit  { return limit{v, false} }
func least(v float64) limit { return limit{v, true} }

func (l limit) holds(v float64) bool {
	return l.value == 0 || !l.least && v <= l.value || l.least && v >= l.value
}

func (l limit) String() string {
	switch {
	case l.value == 0:
		return ""
	case l.least:
		return fmt.Sprintf("≥ %.3g", l.value)
	}
	return fmt.Sprintf("≤ %.3g", l.value)
}

func (m *measurement) add(r row) { m.rows = append(m.rows, r) }

// table prints the rows as Markdown, so that they can stand in DEVELOPERS.md.
func (m *measurement) table() {
	fmt.Println("| what | ours | reference | ratio | goal | CPU ratio | bound | |\n|---|---|---|---|---|---|---|---|")
	for _, r := range m.rows {
		verdict := ""
		switch {
		case !r.bound.holds(r.steady()):
			verdict = "OUTSIDE THE BOUND"
			m.failed = true
		case !r.goal.holds(r.ratio):
			verdict = "short of the goal"
		}
		cpu := ""
		if r.cpu > 0 {
			cpu = fmt.Sprintf("%.2f", r.cpu)
		}
		fmt.Printf("| %s | %s | %s | %.2f | %s | %s | %s | %s |\n", r.what, r.ours, r.theirs, r.ratio, r.goal, cpu, r.bound,
			strings.Trim(verdict+"; "+r.note, "; "))
	}
}

func (m *measurement) program(name string) string { return filepath.Join(m.folder, name) }

// pick gives the size for a short run or for any other.
func (m *measurement) pick(short, other int) int {
	if m.short {
		return short
	}
	return other
}
