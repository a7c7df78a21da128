package record

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/gainsay/claims/quantity"
)

// Key describes one key of the record, for people, schemas and editors.
type Key struct {
	Path string // as "bench.voltmeter"
	Form string // what its value looks like
	Help string // what it means, in one line
	// Required keys must be there whenever their mapping is.
	Required bool
}

// key is one entry of a mapping: its name, what it looks like, and how it is
// read. Loader, schema and draft all go by the same tables.
type key[T any] struct {
	name, form, help string
	required         bool
	set              func(d *decoder, n *node, into *T)
	inner            func(path string) []Key            // of a mapping or a list of mappings
	shape            func() *shape                      // what its value may be, for the schema
	empty            func(d *decoder, n *node, into *T) // a key without a value, where that says something
	valid            func(v *checker, of *T)            // holds a value against what the loader takes
	stated           func(of *T) bool                   // of an amount: whether there is one
}

// like says what a line with the key looks like.
func (k *key[T]) like() string { return "write it like " + k.name + ": " + k.form }

// decoder gathers everything wrong in one document.
type decoder struct {
	file   string
	errs   Errors // at most MaxErrors and one more
	failed int    // how many there were
}

func (d *decoder) fail(at Place, path string, cause error, wrong, want string) {
	d.failed++
	switch {
	case len(d.errs) < MaxErrors:
		d.errs = append(d.errs, &Error{At: at, Key: path, Wrong: wrong, Want: want, Err: cause})
	case len(d.errs) == MaxErrors:
		d.errs = append(d.errs, tooMany(at))
	}
}

// path names where a node stands among the keys, as "bench.readings[2].vbus". It
// is put together only for an error.
func (n *node) path() string {
	switch {
	case n.up == nil:
		return n.name
	case n.item > 0:
		return n.up.path() + "[" + strconv.Itoa(n.item-1) + "]"
	}
	return join(n.up.path(), n.name)
}

// key names a key of a mapping.
func (n *node) key(name string) string { return join(n.path(), name) }

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// walk reads a mapping by its table.
func walk[T any](d *decoder, n *node, table []key[T], into *T) {
	if n.kind != mapping {
		d.fail(n.at, n.path(), ErrKind, n.kind.String()+" stands here", "a mapping of keys to values should")
		return
	}
	var lines [maxKeys]int // of the keys that stand here, by their place in the table
	for i, k := range n.keys {
		if k.kind != scalar || blank(k.text) {
			d.fail(k.at, n.path(), ErrKind, "a key is "+k.shown(), "a key is a plain word")
			continue
		}
		at := index(table, k.text)
		if at < 0 {
			d.fail(k.at, n.key(k.text), ErrUnknownKey, "no such key",
				cmp.Or(Nearest(k.text, names(table)), "the keys here are "+strings.Join(names(table), ", ")))
			continue
		}
		entry := &table[at]
		if first := lines[at]; first > 0 {
			d.repeated(k, n, first)
			continue
		}
		lines[at] = k.at.Line
		v := n.items[i]
		v.up, v.name = n, k.text
		switch {
		case v.kind != null:
			entry.set(d, v, into)
		case entry.empty != nil:
			entry.empty(d, v, into)
		case entry.required:
			d.fail(v.at, v.path(), ErrMissingKey, "this key has no value: "+entry.help, entry.like())
		}
	}
	for i := range table {
		if entry := &table[i]; entry.required && lines[i] == 0 {
			d.fail(n.at, n.key(entry.name), ErrMissingKey, "this key is missing: "+entry.help, entry.like())
		}
	}
}

// repeated is the fault of a key that stands in a mapping a second time.
func (d *decoder) repeated(k, in *node, first int) {
	d.fail(k.at, in.key(k.text), ErrRepeatedKey, "this key stands here a second time", fmt.Sprintf("the first is at line %d", first))
}

// maxKeys is the most keys a table of keys has.
const maxKeys = 32

// find gives a key of a table, nil if it has none of that name.
func find[T any](table []key[T], name string) *key[T] {
	if i := index(table, name); i >= 0 {
		return &table[i]
	}
	return nil
}

func index[T any](table []key[T], name string) int {
	for i := range table {
		if table[i].name == name {
			return i
		}
	}
	return -1
}

// names lists the keys of a table.
func names[T any](table []key[T]) []string {
	out := make([]string, len(table))
	for i := range table {
		out[i] = table[i].name
	}
	return out
}

// filled gives the text of a single value that says something.
func (d *decoder) filled(n *node, want, remedy string) (string, bool) {
	t, ok := d.one(n, want)
	if ok && strings.TrimSpace(t) == "" {
		at := n.content
		if t == "" {
			at = n.at // there is no content to point at
		}
		d.fail(at, n.path(), ErrValue, want+" is empty", remedy)
		return "", false
	}
	return t, ok
}

// one gives the text of a single value; want says, in one text or in parts, what
// it should be.
func (d *decoder) one(n *node, want ...string) (string, bool) {
	if n.kind != scalar {
		d.fail(n.at, n.path(), ErrKind, n.kind.String()+" stands here", strings.Join(want, "")+" should")
		return "", false
	}
	return n.text, true
}

func stated[T any](v T, n *node) Stated[T] {
	return Stated[T]{Value: v, Text: n.text, At: n.content, Known: true}
}

// text is a key whose value is free text.
func text[T any](name, form, help string, field func(*T) *Stated[string]) key[T] {
	return key[T]{name: name, form: form, help: help, shape: anyText, set: func(d *decoder, n *node, into *T) {
		if s, ok := d.one(n, "a text"); ok {
			*field(into) = stated(s, n)
		}
	}}
}

// truth is a key whose value is true or false.
func truth[T any](name, help string, field func(*T) *Stated[bool]) key[T] {
	return key[T]{name: name, form: "true or false", help: help, shape: truthShape, set: func(d *decoder, n *node, into *T) {
		s, ok := d.one(n, "true or false")
		switch {
		case !ok:
		case s == "true" || s == "false":
			*field(into) = stated(s == "true", n)
		default:
			d.fail(n.at, n.path(), ErrValue, strconv.Quote(s)+" is neither true nor false", "write true or false")
		}
	}}
}

// sign says which values of a quantity are possible.
type sign uint8

const (
	anySign sign = iota
	notNegative
	positive
)

// amount is a key whose value is a quantity.
func amount[T any](name, help string, dim quantity.Dimension, s sign, field func(*T) *Stated[float64]) key[T] {
	return key[T]{name: name, form: dim.Hint(), help: help, shape: func() *shape { return amountShape(s, dim.Hint()) }, set: func(d *decoder, n *node, into *T) {
		if v, ok := d.quantity(n, dim, s); ok {
			*field(into) = stated(v, n)
		}
	}, valid: func(v *checker, of *T) {
		if f := field(of); f.Known {
			v.quantity(name, f.At, f.Value, dim, s)
		}
	}, stated: func(of *T) bool { return field(of).Known }}
}

func (d *decoder) quantity(n *node, dim quantity.Dimension, s sign) (float64, bool) {
	t, ok := d.one(n, "a quantity, like ", dim.Hint(), ",")
	if !ok {
		return 0, false
	}
	v, err := quantity.Parse(t, dim)
	switch {
	case err != nil:
		d.failQuantity(n, err)
		return 0, false
	}
	if wrong, want := s.refuses(v, dim, t); wrong != "" {
		d.fail(n.content, n.path(), ErrValue, wrong, want)
		return 0, false
	}
	return v, true
}

// refuses says why a value does not have the sign, and what would be right; empty where
// it has.
func (s sign) refuses(v float64, dim quantity.Dimension, text string) (wrong, want string) {
	switch {
	case s == notNegative && v < 0:
		return fmt.Sprintf("a %s of %s is negative", dim, text), "it cannot be below zero"
	case s == positive && v <= 0:
		return fmt.Sprintf("a %s of %s is not above zero", dim, text), "it must be above zero"
	}
	return "", ""
}

func (d *decoder) failQuantity(n *node, err error) {
	at := n.content
	var q *quantity.Error
	if !errors.As(err, &q) {
		d.fail(at, n.path(), err, err.Error(), "")
		return
	}
	at.Column += q.Column - 1
	d.fail(at, n.path(), err, fmt.Sprintf("%q: %s", q.Text, q.Wrong), "write it like "+q.Want)
}

func accuracy[T any](name, help string, dim quantity.Dimension, field func(*T) *Stated[quantity.Accuracy]) key[T] {
	return key[T]{name: name, form: "like 0.05 % + 20 µV", help: help, shape: accuracyShape, set: func(d *decoder, n *node, into *T) {
		t, ok := d.one(n, "an accuracy")
		if !ok {
			return
		}
		a, err := quantity.ParseAccuracy(t, dim)
		if err != nil {
			d.failQuantity(n, err)
			return
		}
		*field(into) = stated(a, n)
	}, valid: func(v *checker, of *T) {
		if f := field(of); f.Known {
			v.accuracy(name, f.At, f.Value)
		}
	}}
}

// choice is a key whose value is one of a few names.
func choice[T any, N ~string](name, help string, names []N, field func(*T) *Stated[N]) key[T] {
	known := asStrings(names)
	return key[T]{name: name, form: "one of " + nameList(names), help: help, shape: func() *shape { return namesShape(known) }, set: func(d *decoder, n *node, into *T) {
		if v, ok := d.name(n, known); ok {
			*field(into) = stated(N(v), n)
		}
	}, valid: func(v *checker, of *T) {
		if f := field(of); f.Known && !slices.Contains(names, f.Value) {
			v.fail(name, f.At, strconv.Quote(string(f.Value))+" is not known here", "write one of "+nameList(names))
		}
	}}
}

func asStrings[N ~string](names []N) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = string(n)
	}
	return out
}

func nameList[N ~string](names []N) string { return strings.Join(asStrings(names), ", ") }

func (d *decoder) name(n *node, names []string) (string, bool) {
	if n.kind != scalar {
		d.one(n, "one of ", strings.Join(names, ", "))
		return "", false
	}
	t := n.text
	for _, name := range names {
		if strings.EqualFold(strings.TrimSpace(t), name) {
			return name, true
		}
	}
	d.fail(n.content, n.path(), ErrValue, strconv.Quote(t)+" is not known here", "write one of "+strings.Join(names, ", "))
	return "", false
}

func convert(n *node, file string) (*Record, Errors) {
	d := &decoder{file: file}
	rec := &Record{At: n.at}
	// What is no record, or one of another version, is not judged by this version's
	// keys.
	if n.kind == mapping {
		if !slices.ContainsFunc(n.keys, func(k *node) bool { return k.text == "gainsay" }) {
			d.fail(n.at, "gainsay", ErrMissingKey, "this key is missing, so this is no record", "a record begins with gainsay: 1")
			return nil, d.errs
		}
		for i, k := range n.keys {
			if v := n.items[i]; k.text == "gainsay" && v.kind == scalar && v.text != strconv.Itoa(Version) {
				d.fail(v.at, "gainsay", ErrVersion, fmt.Sprintf("format version %q is not known", v.text),
					fmt.Sprintf("this gainsay reads version %d", Version))
				return nil, d.errs
			}
		}
	}
	walk(d, n, recordKeys, rec)
	if len(d.errs) > 0 {
		for i := range rec.Claims {
			for _, u := range rec.Claims[i].Unread {
				d.fail(u.Err.At, u.Err.Key, u.Err.Err, u.Err.Wrong, u.Err.Want)
			}
		}
		slices.SortStableFunc(d.errs, func(a, b *Error) int {
			return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Column, b.At.Column))
		})
		return nil, d.errs
	}
	rec.Sum = n.sum()
	return rec, nil
}

func parseDate(d *decoder, n *node, into *Stated[time.Time]) {
	t, ok := d.one(n, "a date")
	if !ok {
		return
	}
	v, err := ParseDate(t)
	if err != nil {
		d.fail(n.content, n.path(), ErrValue, err.Error(), dateForm)
		return
	}
	*into = stated(v, n)
}
