package main

import (
	"fmt"
	"log"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// decoding holds the words' decoding against the kernel's macros, by the benchmark
// that does both in turns.
func (m *measurement) decoding() {
	out, err := exec.Command("go", "test", "./vdo", "-run", "^$", "-bench", "^BenchmarkDecodeAgainstKernel$",
		"-benchtime", fmt.Sprintf("%dx", m.pick(20, 100))).CombinedOutput()
	if err != nil {
		log.Fatalf("%v\n%s", err, out)
	}
	metrics := map[string]string{}
	for line := range strings.Lines(string(out)) {
		if f := strings.Fields(line); len(f) > 2 && strings.HasPrefix(f[0], "Benchmark") {
			for i := 2; i+1 < len(f); i += 2 {
				metrics[f[i+1]] = f[i]
			}
		}
	}
	ratio, err := strconv.ParseFloat(metrics["ratio"], 64)
	if err != nil {
		log.Fatalf("the benchmark gave no ratio:\n%s", out)
	}
	m.add(row{what: "decoding replies, by the kernel's macros with gcc -O2", ours: metrics["ns/reply"] + " ns a reply",
		theirs: metrics["kernel-ns/reply"] + " ns a reply", ratio: ratio, note: metrics["allocs/op"] + " allocations",
		goal: most(1.2), bound: most(2)})
	if metrics["allocs/op"] != "0" {
		log.Printf("decoding allocates: %s a pass", metrics["allocs/op"])
		m.failed = true
	}
}

// checking holds check against programs that merely parse the same file, and one
// core against all.
func (m *measurement) checking() {
	const contradicted = 1 // the shelf has contradictions, as shelves do
	turns := m.pick(3, 7)
	lines := m.records(m.pick(2000, 20000), "jsonl")
	check := run{args: []string{m.program("gainsay"), "check", "--json", lines}, exit: contradicted}
	text := run{args: []string{m.program("gainsay"), "check", lines}, exit: contradicted}
	alone := check
	alone.env = []string{"GOMAXPROCS=1"}
	c := alternate(turns, check, text, alone, run{args: []string{"jq", "-c", ".", lines}})
	m.add(compared("check --json of JSON Lines, by jq -c", c[0], c[3], most(1), most(16)))
	m.add(compared("check of JSON Lines, as text, by jq -c", c[1], c[3], most(1), most(16)))
	if cores := runtime.NumCPU(); cores > 1 {
		m.add(row{what: fmt.Sprintf("check --json of JSON Lines, one core by %d", cores), ours: c[2].String(), theirs: c[0].String(),
			ratio: ratio(c[2].wall, c[0].wall), goal: least(1.8), bound: least(0.8)})
	}

	if err := verify(100); err != nil {
		log.Fatal(err)
	}
	documents := m.records(m.pick(1000, 10000), "yaml")
	check.args = []string{m.program("gainsay"), "check", "--json", documents}
	c = alternate(turns, check, run{args: []string{m.program("measure"), "-run", "yaml", documents}})
	m.add(compared("check --json of YAML, by yaml.v3 into a struct", c[0], c[1], most(1.3), most(8)))
}

// records writes a file of records and gives its name.
func (m *measurement) records(n int, form string) string {
	name := m.program("records." + form)
	f, err := os.Create(name)
	if err == nil {
		err = generate(f, n, form)
	}
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		log.Fatal(err)
	}
	return name
}

// memory shows that a stream of records takes no more the longer it is. The
// collector lets the heap grow to several times of what is kept, which a thousand
// records do not fill: they are shown, and the rest is held against ten thousand.
func (m *measurement) memory() {
	peak := func(n int) cost {
		source := exec.Command(m.program("measure"), "-run", "generate", fmt.Sprint(n), "jsonl")
		pipe, err := source.StdoutPipe()
		if err == nil {
			err = source.Start()
		}
		if err != nil {
			log.Fatal(err)
		}
		// The end of the pipe is handed on as it is, so that nothing stands between.
		c := run{args: []string{m.program("gainsay"), "check", "--json", "-"}, exit: 1, input: pipe}.once()
		if err := source.Wait(); err != nil {
			log.Fatal(err)
		}
		return c
	}
	const base = 10_000
	few, enough := peak(base/10), peak(base)
	row := func(n int, c cost) row {
		return row{what: fmt.Sprintf("memory of check at %d records, by %d", n, base), ours: megabytes(c.memory),
			theirs: megabytes(enough.memory), ratio: float64(c.memory) / float64(enough.memory),
			note: fmt.Sprintf("%.0f records/s", float64(n)/c.wall.Seconds()), goal: most(1.2), bound: most(1.5)}
	}
	m.add(row(base/10, few))
	sizes := []int{m.pick(2*base, 10*base)}
	if m.whole {
		sizes = append(sizes, 100*base)
	}
	for _, n := range sizes {
		m.add(row(n, peak(n)))
	}
}

func megabytes(n int64) string { return fmt.Sprintf("%.1f MB", float64(n)/1e6) }

// start holds the start of decode against a Go program that does nothing.
func (m *measurement) start() {
	empty := m.program("empty.go")
	if err := os.WriteFile(empty, []byte("package main\n\nfunc main() {}\n"), 0o666); err != nil {
		log.Fatal(err)
	}
	build := exec.Command("go", "build", "-o", m.program("empty"), empty)
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		log.Fatalf("%v\n%s", err, out)
	}
	words := []string{"decode", "FF00A041", "18602FA1", "00000000", "01020100", "000A2643"}
	c := alternate(m.pick(100, 500),
		run{args: append([]string{m.program("gainsay")}, words...)},
		run{args: append([]string{m.program("gainsay-cgo")}, words...)},
		run{args: []string{m.program("empty")}})
	m.add(compared("start of decode, by an empty Go program", c[0], c[2], most(1.5), most(3.5)))
	m.add(compared("the same, built with cgo", c[1], c[2], limit{}, limit{}))
}

// pasted are texts that are repeated to any length, by the form they have.
var pasted = []struct{ form, each string }{
	{"words", "FF00A041 18602FA1 00000000\n01020100 000A2643\n"},
	{"dump", "0000: 8f 51 41 a0 00 ff a1 2f 60 18 00 00 00 00 00 01\n0010: 02 01 43 26 0a 00 37 91 5e 2d\n"},
	{"JSON", `{"sop":"SOP'","vdo":[4278231105,408956833,0,16908544,665155]}` + "\n"},
	{"log", "12:00:01 SOP' 518F FF00A041 18602FA1 00000000 01020100 000A2643\n12:00:02 SOP' 0081\n"},
}

// pastes shows what reading pasted text costs at growing sizes, and holds the
// largest against wc and against reading lines.
func (m *measurement) pastes() {
	sizes := []int{1, 2, 4, 8, 16}
	if m.short {
		sizes = []int{1, 4}
	}
	fmt.Print("Reading pasted text, MB in a second of CPU time, by the size of the text in MB:\n\n| form |")
	for _, size := range sizes {
		fmt.Printf(" %d |", size)
	}
	fmt.Print("\n|---|" + strings.Repeat("---|", len(sizes)) + "\n")
	for _, p := range pasted {
		fmt.Printf("| %s |", p.form)
		var costs []cost
		var name string
		for _, size := range sizes {
			name = m.program("pasted.txt")
			if err := os.WriteFile(name, []byte(strings.Repeat(p.each, size*1_000_000/len(p.each))), 0o666); err != nil {
				log.Fatal(err)
			}
			c := m.read("paste", name)
			costs = append(costs, c)
			fmt.Printf(" %.1f |", float64(size)/c.cpu.Seconds())
		}
		fmt.Println()
		small, large := costs[0], costs[len(costs)-1]
		grown := sizes[len(sizes)-1] / sizes[0]
		// wc and bufio take so little time that the start of a program would count.
		c := alternate(m.pick(3, 7), run{args: []string{"wc", name}}, run{args: []string{m.program("measure"), "-run", "lines", name}})
		size := float64(sizes[len(sizes)-1])
		speed := func(d time.Duration) string { return fmt.Sprintf("%.1f MB/s", size/d.Seconds()) }
		m.add(row{what: "reading pasted " + p.form + ", by wc", ours: speed(large.wall), theirs: speed(c[0].wall),
			ratio: ratio(large.wall, c[0].wall), cpu: ratio(large.cpu, c[0].cpu)})
		m.add(row{what: "reading pasted " + p.form + ", by bufio's lines", ours: speed(large.wall), theirs: speed(c[1].wall),
			ratio: ratio(large.wall, c[1].wall), cpu: ratio(large.cpu, c[1].cpu)})
		m.add(row{what: fmt.Sprintf("a byte of %s at %d MB, by one at %d MB", p.form, sizes[len(sizes)-1], sizes[0]), ours: short(large.cpu),
			theirs: short(small.cpu), ratio: ratio(large.cpu, small.cpu) / float64(grown), note: "CPU times", goal: most(1.1), bound: most(1.5)})
	}
	fmt.Println()
}

func (m *measurement) read(part, name string) cost {
	return alternate(m.pick(2, 3), run{args: []string{m.program("measure"), "-run", part, name}})[0]
}
