// Command growth holds that the cost of every reader and writer grows with its input and
// no faster: it doubles the input of each and compares the time of CPU. It exits 1 where
// twice the input costs more than 2.6 times as much.
//
//	go run ./.ci/growth            every entry point, under a minute or two
//	go run ./.ci/growth paste      those whose name has this text
package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"syscall"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
	"example.com/gainsay/claims/shelf"
	"example.com/gainsay/vdo/paste"
	"example.com/gainsay/vdo/signal"
)

const (
	most   = 2.6                   // times the cost for twice the input
	enough = 20 * time.Millisecond // of CPU, for the smaller input: less is noise
	turns  = 5                     // of which the least counts; each is a run of both
	rounds = 4                     // of larger inputs: where a cache is full, one ratio is high, and the next is not
)

// entry is one thing to do with an input of n parts.
type entry struct {
	name string
	from int // the least n
	to   int // n may not grow beyond: a limit of the reader
	make func(n int) func()
}

func main() {
	failed, done := false, 0
	fmt.Println("| entry | parts | CPU | CPU of twice as many | ratio |\n|---|---|---|---|---|")
	for _, e := range entries() {
		if len(os.Args) > 1 && !strings.Contains(e.name, os.Args[1]) {
			continue
		}
		done++
		n := e.from
		for n*4 <= e.to && cost(e.make(n)) < enough {
			n *= 2
		}
		var one, two time.Duration
		ratio := 0.0
		for round := range rounds {
			a, b := e.make(n), e.make(2*n)
			for range turns {
				one, two = least(one, cost(a)), least(two, cost(b))
			}
			if ratio = float64(two) / float64(max(one, 1)); ratio <= most || n*4 > e.to || round == rounds-1 {
				break
			}
			n, one, two = n*2, 0, 0
		}
		verdict := ""
		if ratio > most {
			failed, verdict = true, " FAILED"
		}
		fmt.Printf("| %s | %d | %v | %v | %.2f%s |\n", e.name, n, one.Round(10*time.Microsecond), two.Round(10*time.Microsecond), ratio, verdict)
	}
	if failed || done == 0 {
		fmt.Printf("growth: more than %.1f times the cost for twice the input, or nothing done\n", most)
		os.Exit(1)
	}
}

func least(a, b time.Duration) time.Duration {
	if a == 0 || b < a {
		return b
	}
	return a
}

// cost is the time of CPU that a run takes, collecting its garbage included.
func cost(do func()) time.Duration {
	runtime.GC()
	before := cpu()
	do()
	return cpu() - before
}

func cpu() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

const (
	words   = "FF00A041 18602FA1 00000000 01020100 000A2643\n"
	reading = "    - {current: 1.0002 A, vbus: 122.1 mV, ground: 58.9 mV}\n"
	session = "  - {date: 2026-10-05, ohmmeter: 0.5 % + 0.1 mohm, vbus: 80 mohm, ground: 30 mohm}\n"
	lines   = "  - date: 2026-10-05\n    vbus: 80 mohm\n"
	head    = "gainsay: 1\ncable: a\n"
)

// entries lists them. A reader is given what it reads and what it refuses.
func entries() []entry {
	// text is an entry that reads a text made of a part many times over.
	text := func(name string, before, part, after string, to int, read func(string)) entry {
		return entry{name, 16, to, func(n int) func() {
			s := before + strings.Repeat(part, n) + after
			return func() { read(s) }
		}}
	}
	within := func(limit int, part string) int { return limit / len(part) }
	records := func(name string) func(string) {
		return func(s string) {
			for rec, err := range record.Read(strings.NewReader(s), name) {
				_, _ = rec, err
			}
		}
	}
	check := func(s string) *claims.Report {
		for rec, err := range record.Read(strings.NewReader(s), "a.yaml") {
			if err != nil {
				panic(err)
			}
			c, err := rules.Checker().Case(rec, nil)
			if err != nil {
				panic(err)
			}
			return c.Report()
		}
		panic("no record")
	}
	pasted := func(s string) { _, _ = paste.Read(s) }
	stream := func(s string) {
		for item, err := range paste.ReadStream(strings.NewReader(s)) {
			_, _ = item, err
		}
	}
	table := func(s string) { _, _, _ = record.ReadTable(strings.NewReader(s), "t.csv") }
	capture := func(o signal.Options) func(string) {
		return func(s string) {
			for p, err := range signal.Read(strings.NewReader(s), o) {
				_, _ = p, err
			}
		}
	}
	const big = 1 << 30
	document := record.MaxDocument
	list := []entry{
		text("record: YAML documents", "", head+"---\n", "", big, records("a.yaml")),
		text("record: JSON Lines", "", `{"gainsay": 1, "cable": "a"}`+"\n", "", big, records("a.jsonl")),
		text("record: readings", head+"bench:\n  readings:\n", reading, "", within(document, reading), records("a.yaml")),
		text("record: keys of about", head+"about:\n", "  key: value\n", "", within(document, "  key: value\n"), records("a.yaml")),
		text("record: unknown keys", head, "what: 1\n", "", within(document, "what: 1\n"), records("a.yaml")),
		text("record: flow nesting", head+"about: ", "[", "", document, records("a.yaml")),
		text("record: JSON nesting", `{"gainsay": 1, "about": `, "[", "", document, records("a.json")),
		text("record: block nesting", head, "- ", "", document/2, records("a.yaml")),
		text("record: anchors and aliases", head+"about:\n", "  k: &a [*a, *a]\n", "", within(document, "  k: &a [*a, *a]\n"), records("a.yaml")),
		text("record: merges", head+"about:\n  a: &a {x: y}\n", "  b: {<<: *a}\n", "", within(document, "  b: {<<: *a}\n"), records("a.yaml")),
		text("record: comments", head, "# comment\n", "", within(document, "# comment\n"), records("a.yaml")),
		text("record: one long line", head+"label: ", "word ", "\n", document/5, records("a.yaml")),
		text("record: a quoted text", head+"label: \"", `\u00e4`, "\"\n", document/6, records("a.yaml")),
		text("record: a block text", head+"label: |\n", "  line\n", "", document/7, records("a.yaml")),
		text("record: open quotes", head, "\"\n", "", document/2, records("a.yaml")),
		text("record: open braces, as JSON", "", "{\n", "", document/2, records("a.json")),
		text("record: table", "current/A,vbus/mV\n", "1.0002,122.1\n", "", within(record.MaxTable, "1.0002,122.1\n"), table),
		text("record: table of quotes", "current/A,vbus/mV\n", "\"\n", "", record.MaxTable/2, table),
		text("record: table of many columns", "current/A", ",x", "\n1\n", record.MaxTable/2, table),
		text("record: table of empty rows", "current/A,vbus/mV\n", ",\n", "", record.MaxTable/2, table),
		text("record: parts of a reading", "1 A", ", vbus 9 mV", "", 1<<16, func(s string) { _, _ = record.ParseReading(s, record.Place{Line: 1, Column: 1}) }),
		text("record: nulls of a rig", "gainsay-rig: 1\nname: a\nnull:\n", "  - {current: 1 A, vbus: 1 mV, ground: 1 mV}\n", "", within(1<<20, reading), func(s string) { _, _ = record.ReadRig(strings.NewReader(s), "a.rig.yaml") }),
		text("record: add", head+"bench:\n", lines, "", within(document, lines), func(s string) {
			_, err := record.AddReadings([]byte(s), "a.yaml", record.Addition{Date: time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC), Readings: []string{"1 A, vbus 9 mV"}})
			if err != nil {
				panic(err)
			}
		}),
		text("quantity: digits", "", "1", " m", 1<<22, func(s string) { _, _ = quantity.Parse(s, quantity.Length) }),
		text("quantity: parts", "", "1 m ", "", 1<<20, func(s string) { _, _ = quantity.Parse(s, quantity.Length) }),
		text("quantity: accuracy", "1 %", " + 1 mV", "", 1<<20, func(s string) { _, _ = quantity.ParseAccuracy(s, quantity.Voltage) }),
		text("label: power", head+"claims: {power: \"", "20V/5A ", "\"}\n", document/7, records("a.yaml")),
		text("label: data", head+"claims: {data: \"", "USB4 40Gbps ", "\"}\n", document/12, records("a.yaml")),
		text("label: plugs", head+"claims: {plugs: \"", "USB-C to ", "\"}\n", document/9, records("a.yaml")),
		text("label: modes", head+"claims: {modes: \"", "TB4, DP ", "\"}\n", document/8, records("a.yaml")),
		text("label: video", head+"claims: {video: \"", "8K 60Hz ", "\"}\n", document/8, records("a.yaml")),
		text("check: sessions", head+"bench:\n", session, "", within(document, session), func(s string) { check(s) }),
		text("check: readings", head+"bench:\n  readings:\n", reading, "", within(document, reading), func(s string) { check(s) }),
		text("check: words", head+"marker:\n  near: |\n", "    "+words, "", within(document, words)/2, func(s string) { check(s) }),
		text("paste: words", "", words, "", 1<<14, pasted), text("paste: bytes", "", "41 A0 00 FF\n", "", 1<<16, pasted),
		text("paste: dump", "", "0000  41 a0 00 ff a1 2f 60 18  00 00 00 00 00 01 02 01  |A..../`.........|\n", "", 1<<14, pasted),
		text("paste: prose", "", "the cable was new and ", "", 1<<16, pasted), text("paste: nesting", "", "[", "", 1<<20, pasted),
		text("paste: JSON", "[", "\"0xFF00A041\", ", "0]", 1<<16, pasted), text("paste: base64", "", "QaAA/6EvYBg", "\n", 1<<16, pasted),
		text("paste: escapes", "", `\x41`, "", 1<<18, pasted), text("paste: open strings", "", "\"a", "", 1<<18, pasted),
		text("paste: blanks", "", " ", "", 1<<22, pasted), text("paste: line ends", "", "\n", "", 1<<22, pasted),
		text("paste: log", "", "12:00:01.002 SOP' RX VDM FF00A041 18602FA1 00000000 01020100 000A2643\n", "", 1<<14, pasted),
		text("paste: stream of words", "", words, "", 1<<20, stream), text("paste: stream of prose", "", "no words here at all\n", "", 1<<20, stream),
		text("signal: table", "time,cc\n", "0.0000001,1\n", "", big, capture(signal.Options{})),
		text("signal: table without numbers", "", "a,b\n", "", big, capture(signal.Options{Format: signal.CSV})),
		text("signal: dump of errors", "$timescale 1ns $end\n$var wire 1 ! CC $end\n$enddefinitions $end\n", "what\n", "", big, capture(signal.Options{})),
		text("signal: variables", "$timescale 1ns $end\n", "$var wire 1 ! CC $end\n", "$enddefinitions $end\n", big, capture(signal.Options{})),
		text("signal: scopes", "$timescale 1ns $end\n", "$scope module a $end\n", "$enddefinitions $end\n", 1<<15, capture(signal.Options{})),
	}
	list = append(list, entry{"signal: packets", 1, big, func(n int) func() {
		s := conversation(n)
		return func() { capture(signal.Options{})(s) }
	}})
	published := func(name string, do func(*claims.Report)) entry {
		return entry{name, 16, within(document, session), func(n int) func() {
			r := check(head + "bench:\n" + strings.Repeat(session, n))
			return func() { do(r) }
		}}
	}
	list = append(list,
		published("publish: text", func(r *claims.Report) { publish.ReportText(r, publish.Style{Full: true}) }),
		published("publish: JSON", func(r *claims.Report) {
			if _, err := publish.ReportJSON(r); err != nil {
				panic(err)
			}
		}),
	)
	put := func(n int) *shelf.Shelf {
		all := new(shelf.Shelf)
		for i := range n {
			s := fmt.Sprintf("gainsay: 1\ncable: a%d\nabout: {seller: s%d, batch: b%d, model: m%d}\nclaims: {power: 100 W}\nmarker: {near: \"%s\"}\nbench: {date: 2026-10-05, ohmmeter: 0.5 %% + 0.1 mohm, vbus: %d mohm, ground: 30 mohm}\n",
				i/2, i%7, i%5, i%11, strings.TrimSpace(words), 60+i%50)
			for rec, err := range record.Read(strings.NewReader(s), "a.yaml") {
				if err != nil {
					panic(err)
				}
				c, err := rules.Checker().Case(rec, nil)
				if err != nil {
					panic(err)
				}
				all.Add(shelf.NewItem(c, c.Report()))
			}
		}
		return all
	}
	shelved := func(name string, do func(*shelf.Shelf, shelf.Summary)) entry {
		return entry{name, 16, 1 << 13, func(n int) func() {
			all := put(n)
			return func() { do(all, all.Summary(shelf.DefaultBands()...)) }
		}}
	}
	return append(list,
		shelved("shelf: summary", func(*shelf.Shelf, shelf.Summary) {}),
		shelved("shelf: text", func(all *shelf.Shelf, s shelf.Summary) {
			publish.ShelfText(all.Items(), shelf.DefaultColumns(), s, publish.Style{})
		}),
		shelved("shelf: page", func(all *shelf.Shelf, s shelf.Summary) {
			if err := publish.ShelfPage(io.Discard, all.Items(), shelf.WideColumns(), s, all.Histories()); err != nil {
				panic(err)
			}
		}),
		shelved("shelf: sort", func(all *shelf.Shelf, _ shelf.Summary) {
			order, err := shelf.ParseOrder("-margin,cable")
			if err != nil {
				panic(err)
			}
			shelf.Sort(all.Items(), order)
		}),
	)
}

// conversation is a capture that holds the one of the tests n times.
func conversation(n int) string {
	text, err := os.ReadFile("vdo/signal/testdata/conversation.vcd")
	if err != nil {
		panic(err)
	}
	definitions, values, ok := bytes.Cut(text, []byte("$enddefinitions $end\n"))
	if !ok {
		panic("the capture has no definitions")
	}
	var b strings.Builder
	b.Write(definitions)
	b.WriteString("$enddefinitions $end\n")
	last := 0
	for i := range n {
		base := last
		for line := range strings.Lines(string(values)) {
			var t int
			if _, err := fmt.Sscanf(line, "#%d", &t); err == nil {
				last = base + t
				fmt.Fprintf(&b, "#%d\n", last+i)
			} else {
				b.WriteString(line)
			}
		}
		last += 1000
	}
	return b.String()
}
