package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const (
	oneIdentity     = "FF00A041 18602FA1 00000000 01020100 000A2643"
	anotherIdentity = "FF00A041 18602FA1 00000000 99990100 000A4644"
)

// What is said twice on the command line is refused, never overwritten.
func TestSaidTwice(t *testing.T) {
	for name, args := range map[string][]string{
		"field of compose":       {"compose", "passive-cable", "speed=3", "speed=2"},
		"field, the same number": {"compose", "passive-cable", "speed=3", "speed=3"},
		"plug":                   {"decode", "--plug", "near", "--plug", "far", oneIdentity},
		"revision":               {"decode", "--revision", "2.0", "--revision=3.0", oneIdentity},
		"voltmeter":              {"ohms", "--voltmeter", "1 %", "--voltmeter", "2 %", "--reading", "1 A, vbus 9 mV"},
		"near":                   {"draft", "--near", oneIdentity, "--near", anotherIdentity},
		"output":                 {"check", "-o", "a", "--output", "b", records},
		"form":                   {"shelf", "--form", "text", "--form", "json", records},
		"part of a reading":      {"ohms", "--reading", "1 A, vbus 9 mV, vbus 10 mV"},
	} {
		code, out, errs := gainsay(t, "", args...)
		if code != exitUndone || out != "" || !strings.Contains(errs, "twice") && !strings.Contains(errs, "second time") {
			t.Errorf("%s: exit %d, stdout %q, stderr %q", name, code, out, errs)
		}
	}
	// Lists may be given in parts, and a switch is on however often it is given.
	if code, _, errs := gainsay(t, "", "ohms", "--json", "--json", "--reading", "1 A, vbus 9 mV", "--reading", "1 A, vbus 9.1 mV"); code != exitDone || errs != "" {
		t.Errorf("exit %d, %s", code, errs)
	}
}

// What decode names in a plug's text, check, shelf and draft name too, also where a record
// names the file that holds it.
func TestAllEvidenceIsNamed(t *testing.T) {
	capture, err := os.ReadFile("../../vdo/signal/testdata/conversation.vcd")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(capture), "\n")
	lines[60] = "what\n"
	far := "SOP' " + oneIdentity + "\nSOP'' " + oneIdentity + "\n"
	for name, c := range map[string]struct {
		file, text, key string
		also            string // of the marker's keys
		says            string // "" for nothing
		fatal           bool   // to the record
	}{
		"unlike identities":        {"w.txt", oneIdentity + "\n" + anotherIdentity + "\n", "near", "", "a second, unlike answer", true},
		"like identities":          {"w.txt", oneIdentity + "\n" + oneIdentity + "\n", "near", "", "", false},
		"the other plug's":         {"w.txt", far, "near", "", "an answer of the far plug", false},
		"the other's, far":         {"w.txt", far, "far", "", "an answer of the near plug", false},
		"the other's, named":       {"w.txt", far, "near", ", far: w.txt", "", false},
		"a capture":                {"c.vcd", string(capture), "near", "", "", false},
		"a capture with a fault":   {"c.vcd", strings.Join(lines, ""), "near", "", "line 61, column 1", false},
		"a capture of faults only": {"c.vcd", strings.Join(lines[:61], ""), "near", "", "line 61, column 1", true},
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			write := func(name, text string) string {
				name = filepath.Join(folder, name)
				if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
				return name
			}
			file := write(c.file, c.text)
			named := write("named.yaml", "gainsay: 1\ncable: a\nmarker: {"+c.key+": "+c.file+c.also+"}\n")
			runs := [][]string{{"check", "--json", named}, {"shelf", "--json", named}}
			if !strings.HasSuffix(c.file, ".vcd") && c.also == "" {
				inline := write("inline.yaml", "gainsay: 1\ncable: a\nmarker:\n  "+c.key+": |\n    "+strings.ReplaceAll(strings.TrimSpace(c.text), "\n", "\n    ")+"\n")
				runs = append(runs, []string{"check", "--json", inline}, []string{"draft", "--" + c.key, file})
			}
			for _, args := range runs {
				code, out, errs := gainsay(t, "", args...)
				says := c.says
				if args[0] == "draft" && strings.HasPrefix(says, "an answer of the") {
					says = "an answer of the other plug"
				}
				if says == "" && (code == exitUndone || errs != "") || says != "" && (code != exitUndone || !strings.Contains(errs, says)) {
					t.Errorf("%q: exit %d, %q, want %q", args, code, errs, says)
				}
				if strings.Count(errs, "\n") != strings.Count(errs, "gainsay: ") {
					t.Errorf("%q: a message is not one line: %q", args, errs)
				}
				if counted := strings.Contains(out, `"cable":"a"`); args[0] != "draft" && counted == c.fatal {
					t.Errorf("%q: the record counts: %v; want %v", args, counted, !c.fatal)
				}
			}
		})
	}
}

// Days at the ends of their range are right or refused, by the reader and the writer.
func TestEdgesOfTime(t *testing.T) {
	for day, right := range map[string]bool{
		"1900-01-01": true, "9999-12-31": true, "2024-02-29": true, "2000-02-29": true,
		"0000-01-01": false, "0001-01-01": false, "1899-12-31": false, "10000-01-01": false, "1900-02-29": false, "2023-02-29": false,
		"2026-00-10": false, "2026-13-01": false, "2026-11-31": false, "2026-1-1": false, "-2026-10-05": false, "+2026-10-05": false,
		"2026-10-05T24:00": false, "2026-10-05T10:00:00Z": false, "2026-10-05T23:59:60Z": false, "2026-10-05 10:00:00.5 +02:00": false,
		"２０２６-10-05": false, "2026-10-05 ": true, // YAML takes the blank off
	} {
		text := "gainsay: 1\ncable: a\nbench: {date: " + day + ", ohmmeter: 1 %, vbus: 80 mohm, ground: 30 mohm}\n"
		code, out, errs := gainsay(t, text, "shelf", "--json", "-")
		if day := strings.TrimSpace(day); right != (code != exitUndone) || right && !strings.Contains(out, `"date":"`+day+`"`) || !right && !strings.Contains(errs, "stdin:3:15: bench.date: ") {
			t.Errorf("%s: exit %d, %s%s", day, code, errs, out)
		}
		if strings.HasSuffix(day, " ") {
			continue // on the command line nobody takes it off
		}
		file := filepath.Join(t.TempDir(), "a.yaml")
		if err := os.WriteFile(file, []byte("gainsay: 1\ncable: a\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		code, _, errs = gainsay(t, "", "add", "--yes", "--date="+day, "--reading", "1 A, vbus 9 mV", file)
		if b, _ := os.ReadFile(file); right != (code == exitDone) || right != strings.Contains(string(b), day) {
			t.Errorf("add %s: exit %d, %s\n%s", day, code, errs, b)
		}
	}
}

// A command that takes a folder says what it passed over, and reads neither a rig nor the
// schema as a record.
func TestFolderSaysWhatItPassedOver(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{"a.yaml": goodRecord, "B.YML": goodRecord, "gainsay.schema.json": "{}", "a.rig.yaml": "gainsay-rig: 1\nname: a\n",
		"one.txt": "x", "two": "x", "three\n\u202e.yaml~": "x", "four.vcd": "x"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
			t.Skip(err) // no such names here
		}
	}
	for _, command := range [][]string{{"check", "--brief"}, {"shelf"}, {"check", "--json"}} {
		code, _, errs := gainsay(t, "", append(command, folder)...)
		if code != exitDone || !passedOverOnly(errs) || !strings.Contains(errs, "and 1 more") || strings.Contains(errs, "schema") || strings.Contains(errs, "rig") {
			t.Errorf("%q: exit %d, %q", command, code, errs)
		}
		harmless(t, "stderr", errs)
	}
	if code, _, errs := gainsay(t, "", "check", "--brief", records); code != exitContradicted || errs != "" {
		t.Errorf("exit %d, %q", code, errs)
	}
}
