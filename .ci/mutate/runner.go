package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

const (
	// testTimeout ends tests that a mutant keeps from ending.
	testTimeout = 90 * time.Second
	// memoryKiB is the address space of a test: a mutant may grow without end.
	memoryKiB = 8 << 20
)

type verdict uint8

const (
	found verdict = iota
	survived
	broken // does not compile
)

type tally struct{ found, survived, broken, excused int }

// A runner builds and runs tests with mutants. Those that can be switched on
// while the program runs are all in one build of each package's tests; the others
// are built one by one.
type runner struct {
	work, root string
	env        []string
	chosen     []*mutant
	own        bool              // only the package's own quick tests
	overlays   map[*suite]string // with the switched mutants
	binaries   sync.Map          // folder and suite → func() (string, error)
}

func newRunner(chosen []*mutant, own bool) (*runner, error) {
	root, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	work, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return nil, err
	}
	return &runner{work: work, root: root, env: os.Environ(), chosen: chosen, own: own, overlays: map[*suite]string{}}, nil
}

func (r *runner) close() { os.RemoveAll(r.work) }

// prepare settles which mutants can be switched and writes the overlays.
func (r *runner) prepare() (t tally, run []*mutant, err error) {
	builds := 0
	files := map[*suite]map[string][]*mutant{}
	for _, m := range r.chosen {
		switch {
		case excused[m.name] != "":
			t.excused++
			continue
		case !m.settle():
			t.broken++
			continue
		}
		run = append(run, m)
		if m.kind == "" {
			builds++
			continue
		}
		if files[m.suite] == nil {
			files[m.suite] = map[string][]*mutant{}
		}
		files[m.suite][m.file] = append(files[m.suite][m.file], m)
	}
	for i := range suites {
		s := &suites[i]
		replace := map[string]string{}
		for file, ms := range files[s] {
			p := ms[0].pkg
			replace[file], err = r.write(switched(p.text[file], ms))
			if err != nil {
				return t, nil, err
			}
			if replace[s.folder+"/mutant_switch.go"], err = r.write([]byte(switchFile(p.name))); err != nil {
				return t, nil, err
			}
		}
		if r.overlays[s], err = r.overlay(replace); err != nil {
			return t, nil, err
		}
	}
	fmt.Fprintf(os.Stderr, "%d mutants, %d of them built one by one\n", len(run), builds)
	return t, run, nil
}

func (r *runner) write(text []byte) (string, error) {
	f, err := os.CreateTemp(r.work, "*.go")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	return f.Name(), errors.Join(err, f.Close())
}

// overlay writes the file that tells go what stands in whose place.
func (r *runner) overlay(replace map[string]string) (string, error) {
	whole := map[string]string{}
	for name, by := range replace {
		whole[filepath.Join(r.root, name)] = by
	}
	text, err := json.Marshal(map[string]any{"Replace": whole})
	if err != nil {
		return "", err
	}
	return r.write(text)
}

func (r *runner) runAll(jobs int, verbose bool) (tally, error) {
	t, run, err := r.prepare()
	if err != nil {
		return t, err
	}
	var (
		mu   sync.Mutex
		wg   sync.WaitGroup
		errs []error
		done int
	)
	next := make(chan *mutant)
	for range jobs {
		wg.Go(func() {
			for m := range next {
				v, by, err := r.try(m)
				mu.Lock()
				done++
				switch {
				case err != nil:
					errs = append(errs, fmt.Errorf("%s: %w", m.name, err))
				case v == survived:
					t.survived++
					fmt.Printf("SURVIVED %s:%d: %s\n  passed: %s\n", m.file, m.line, m.name, by)
				case v == broken:
					t.broken++
					fmt.Printf("does not compile: %s:%d: %s\n", m.file, m.line, m.name)
				default:
					t.found++
					if verbose {
						fmt.Printf("found %s:%d: %s\n  by %s\n", m.file, m.line, m.name, by)
					}
				}
				if done%100 == 0 {
					fmt.Fprintf(os.Stderr, "%d of %d\n", done, len(run))
				}
				mu.Unlock()
			}
		})
	}
	for _, m := range run {
		mu.Lock()
		stop := len(errs) > 0
		mu.Unlock()
		if stop {
			break
		}
		next <- m
	}
	close(next)
	wg.Wait()
	return t, errors.Join(errs...)
}

// try runs the tests that are to notice a mutant until one fails, and tells
// which it was, or all that passed.
func (r *runner) try(m *mutant) (v verdict, by string, err error) {
	overlay := ""
	if m.kind == "" {
		changed, err := r.write(m.source())
		if err != nil {
			return 0, "", err
		}
		defer os.Remove(changed)
		if overlay, err = r.overlay(map[string]string{m.file: changed}); err != nil {
			return 0, "", err
		}
		defer os.Remove(overlay)
	}
	var passed []string
	all := m.suite.tests
	if r.own {
		all = all[:1]
	}
	for _, t := range all {
		binary, err := r.switchedBinary(m.suite, t)
		if err != nil {
			return 0, "", err
		}
		if overlay != "" {
			out, err := r.build(t.folder, overlay, &binary)
			if err != nil {
				return 0, "", err
			}
			defer os.Remove(binary)
			if out != "" {
				return broken, out, nil
			}
		}
		ok, out, err := r.test(binary, t, m.number)
		if err != nil {
			return 0, "", err
		}
		if !ok {
			return found, t.String() + ": " + firstFailure(out), nil
		}
		passed = append(passed, t.String())
	}
	return survived, strings.Join(passed, ", "), nil
}

// switchedBinary builds the tests of a package with all switched mutants of a suite,
// once, and makes sure that they pass while none is on: otherwise they would find
// everything.
func (r *runner) switchedBinary(s *suite, t tests) (string, error) {
	type key struct {
		folder string
		suite  *suite
	}
	build, _ := r.binaries.LoadOrStore(key{t.folder, s}, sync.OnceValues(func() (string, error) {
		var binary string
		out, err := r.build(t.folder, r.overlays[s], &binary)
		if err == nil && out != "" {
			err = fmt.Errorf("%s does not build: %s", t, out)
		}
		return binary, err
	}))
	binary, err := build.(func() (string, error))()
	if err != nil {
		return "", err
	}
	holds, _ := r.binaries.LoadOrStore(binary+t.flags, sync.OnceValue(func() error {
		ok, out, err := r.test(binary, t, 0)
		if err == nil && !ok {
			err = fmt.Errorf("%s fails without any mutant: %s", t, out)
		}
		return err
	}))
	return binary, holds.(func() error)()
}

// build builds the tests of a package into a new file; out says what kept it from
// compiling.
func (r *runner) build(folder, overlay string, binary *string) (out string, err error) {
	f, err := os.CreateTemp(r.work, "test*")
	if err != nil {
		return "", err
	}
	f.Close()
	*binary = f.Name()
	for range 3 {
		ok, out, err := r.command(4*testTimeout, r.root, r.env, "go", "test", "-c", "-o", *binary,
			"-vet=off", "-ldflags=-s -w", "-overlay="+overlay, "./"+folder)
		switch {
		case ok, err != nil:
			return "", err
		case out != "":
			return out, nil
		}
		time.Sleep(10 * time.Second) // ended by a signal, without a word
	}
	return "", fmt.Errorf("go test -c ./%s was ended thrice", folder)
}

// test runs the tests of one package with a mutant on, or with none for 0.
func (r *runner) test(binary string, t tests, number int) (ok bool, out string, err error) {
	args := []string{"-test.short", "-test.failfast", "-test.timeout=" + testTimeout.String()}
	if t.flags != "" {
		args = append(args, t.flags)
	}
	env := append(slices.Clip(r.env), fmt.Sprintf("%s=%d", switchName, number))
	bounded := fmt.Sprintf(`ulimit -v %d; exec "$0" "$@"`, memoryKiB)
	return r.command(testTimeout+10*time.Second, filepath.Join(r.root, t.folder), env, "sh", append([]string{"-c", bounded, binary}, args...)...)
}

// command runs a program with bounded time. A program that fails or
// does not end is not ok; err is for what keeps it from running at all.
func (r *runner) command(limit time.Duration, dir string, env []string, name string, args ...string) (ok bool, out string, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	c := exec.CommandContext(ctx, name, args...)
	c.Dir, c.Env, c.WaitDelay = dir, env, 5*time.Second
	var text bytes.Buffer
	c.Stdout, c.Stderr = &text, &text
	err = c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) || ctx.Err() != nil {
		return false, text.String(), nil
	}
	return err == nil, text.String(), err
}

// firstFailure is the name of the first test that failed, else the first line.
func firstFailure(out string) string {
	for _, mark := range []string{"--- FAIL: ", "panic: "} {
		if _, after, ok := strings.Cut(out, mark); ok {
			line, _, _ := strings.Cut(after, "\n")
			return strings.TrimSpace(line)
		}
	}
	line, _, _ := strings.Cut(out, "\n")
	return line
}
