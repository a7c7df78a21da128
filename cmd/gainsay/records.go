package main

import (
	"fmt"
	"iter"
	"runtime"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/record"
)

// What goes to a core at a time. Records are small, and handing over each by itself
// would cost as much as a good part of the work.
const (
	batchRecords = 32
	batchBytes   = 128 << 10
)

// batch is some documents in order and what came of them.
type batch[T any] struct {
	tasks   []task
	results []outcome[T]
	done    chan struct{} // closed when results are there
}

// task is one document of an input, or what went wrong instead of it.
type task struct {
	in  input
	doc record.Document
	err error
}

type outcome[T any] struct {
	of  T
	err error
}

// noRecord says that nothing of what was named holds a record.
func (e *env) noRecord(command string, names []string) {
	where := fmt.Sprintf("any of the %d named", len(names))
	if len(names) == 1 {
		where = publish.Plain(names[0])
	}
	if where == "-" {
		where = "stdin"
	}
	e.fail("%s: no record was found in %s; a record begins with gainsay: %d", command, where, record.Version)
}

// eachRecord works out every record of what the arguments name, and gives the
// results in the order of the records. What cannot be read is an error in its
// place. The work is done on all cores, so it must not touch what it shares; a few
// batches are held at a time, however long the input.
func eachRecord[T any](e *env, names []string, work func(input, *record.Record) (T, error)) iter.Seq2[T, error] {
	return func(yield func(T, error) bool) {
		workers := runtime.GOMAXPROCS(0)
		todo := make(chan *batch[T], 2*workers)
		order := make(chan *batch[T], 2*workers)
		stop := make(chan struct{})
		defer close(stop)
		go func() {
			defer close(todo)
			defer close(order)
			for b := range batches[T](e, names) {
				select {
				case order <- b:
					todo <- b // has as much room as order
				case <-stop:
					return
				}
			}
		}()
		for range workers {
			go func() {
				for b := range todo {
					b.work(work)
				}
			}()
		}
		for b := range order {
			<-b.done
			for _, r := range b.results {
				if !yield(r.of, r.err) {
					return
				}
			}
		}
	}
}

// work makes the results.
func (b *batch[T]) work(work func(input, *record.Record) (T, error)) {
	defer close(b.done)
	b.results = make([]outcome[T], 0, len(b.tasks))
	for _, t := range b.tasks {
		var rec *record.Record
		err := t.err
		if err == nil {
			rec, err = t.doc.Record()
		}
		var of T
		switch {
		case err == nil && rec == nil:
			continue // an empty document
		case err == nil:
			of, err = work(t.in, rec)
		}
		b.results = append(b.results, outcome[T]{of, err})
	}
}

// batches cuts the inputs into documents.
func batches[T any](e *env, names []string) iter.Seq[*batch[T]] {
	return func(yield func(*batch[T]) bool) {
		b, bytes := new(batch[T]), 0
		flush := func() bool {
			full := b
			full.done = make(chan struct{})
			b, bytes = new(batch[T]), 0
			return len(full.tasks) == 0 || yield(full)
		}
		add := func(t task) bool {
			b.tasks = append(b.tasks, t)
			bytes += t.doc.Len()
			return len(b.tasks) < batchRecords && bytes < batchBytes || flush()
		}
		cut := func(in input) bool {
			defer in.Close()
			for doc, err := range record.Documents(in, in.name) {
				if !add(task{in, doc, err}) {
					return false
				}
			}
			return true
		}
		for _, name := range names {
			for in, err := range e.inputs(name) {
				switch {
				case err != nil:
					if !add(task{err: err}) {
						return
					}
				case !cut(in):
					return
				}
			}
		}
		flush()
	}
}
