package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"example.com/gainsay/claims/record"
)

// A rig's file is looked for in the record's folder and in so many above it.
const foldersAbove = 8

// maxRig is how long a rig's file may be, in bytes.
const maxRig = 1 << 20

// rigs finds the rigs that records name, each file once. Several goroutines may use it.
type rigs struct{ found sync.Map } // path to *record.Rig or error

// use gives a record the rig it names.
func (r *rigs) use(in input, rec *record.Record) error {
	name, named := rec.Rig.Get()
	if !named {
		return nil
	}
	if in.name == stdinName {
		return fmt.Errorf("%s: rig: a rig's file is looked for beside the record's; stdin has no folder", rec.Rig.At)
	}
	path, err := findAbove(filepath.Dir(in.name), name)
	if err != nil {
		return fmt.Errorf("%s: rig: %w", rec.Rig.At, err)
	}
	known, ok := r.found.Load(path)
	if !ok {
		known = readRig(path)
		r.found.Store(path, known)
	}
	if err, bad := known.(error); bad {
		return err
	}
	rec.UseRig(known.(*record.Rig))
	return nil
}

// findAbove returns the path of a file in a folder, or in the nearest of the folders above.
func findAbove(dir, name string) (string, error) {
	for dir, err := range foldersUp(dir) {
		if err != nil {
			return "", err
		}
		path := filepath.Join(dir, name)
		switch info, err := os.Stat(path); {
		case err == nil && info.Mode().IsRegular():
			return path, nil
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return "", plainError(err)
		}
	}
	return "", fmt.Errorf("%q is neither beside the record nor in the %d folders above", name, foldersAbove)
}

// nearestRig returns the file name of the rig in a folder, or in the nearest of the folders
// above that has one; empty where none has. Where that folder has several it is an error.
func nearestRig(dir string) (string, error) {
	for dir, err := range foldersUp(dir) {
		if err != nil {
			return "", err
		}
		entries, err := os.ReadDir(dir)
		if err != nil {
			continue // what cannot be listed has no rig for us
		}
		var names []string
		for _, entry := range entries {
			if name := entry.Name(); strings.HasSuffix(strings.ToLower(name), record.RigEnding) && !strings.HasPrefix(name, ".") && len(name) > len(record.RigEnding) {
				if info, err := os.Stat(filepath.Join(dir, name)); err == nil && info.Mode().IsRegular() {
					names = append(names, name)
				}
			}
		}
		switch len(names) {
		case 0:
			continue
		case 1:
			return names[0], nil
		}
		return "", fmt.Errorf("%d rigs in %s (%s); no rig was chosen, write the key rig yourself", len(names), dir, strings.Join(names, ", "))
	}
	return "", nil
}

// foldersUp goes through a folder and those above it in which a rig is looked for.
func foldersUp(dir string) iter.Seq2[string, error] {
	return func(yield func(string, error) bool) {
		abs, err := filepath.Abs(dir)
		if err != nil {
			yield("", err)
			return
		}
		for range foldersAbove + 1 {
			parent := filepath.Dir(abs)
			if !yield(abs, nil) || parent == abs {
				return
			}
			abs = parent
		}
	}
}

// readRig returns a *record.Rig or an error.
func readRig(path string) any {
	f, err := os.Open(path)
	if err != nil {
		return plainError(err)
	}
	defer f.Close()
	text := io.LimitedReader{R: f, N: maxRig + 1}
	rig, err := record.ReadRig(&text, path)
	switch {
	case text.N <= 0:
		return fmt.Errorf("%s: a rig's file longer than %d MiB", path, maxRig>>20)
	case err != nil:
		return err
	}
	return rig
}
