package vdo

import "iter"

// Standing says what the specification makes of a field's value.
type Standing uint8

const (
	Defined    Standing = iota // the value has a meaning
	Reserved                   // the value, or the whole field, is reserved or invalid
	Deprecated                 // the value once had a meaning; receivers shall read it otherwise
	Ignored                    // another field of the same word switches this one off
)

// String gives the word used in JSON.
func (s Standing) String() string {
	switch s {
	case Defined:
		return "defined"
	case Reserved:
		return "reserved"
	case Deprecated:
		return "deprecated"
	case Ignored:
		return "ignored"
	}
	return "standing " + decimal(uint32(s))
}

// Code is one value of a field and its meaning.
type Code struct {
	Raw      uint32   // the number in the field
	Meaning  string   // in words
	Standing Standing // what the specification makes of it
}

// values says how a field's number is to be understood: by listed codes, as a
// plain number, or both.
type values struct {
	codes  []Code
	number func(uint32) string // meaning of a number that is not listed; nil: reserved
}

func (v *values) meaning(raw uint32) (string, Standing) {
	for i := range v.codes {
		if v.codes[i].Raw == raw {
			return v.codes[i].Meaning, v.codes[i].Standing
		}
	}
	if v.number != nil {
		return v.number(raw), Defined
	}
	return "reserved (" + decimal(raw) + ")", Reserved
}

// name is the meaning alone.
func (v *values) name(raw uint32) string {
	s, _ := v.meaning(raw)
	return s
}

// Field describes one run of bits of a layout.
type Field struct {
	bits  span
	Name  string // kebab-case, unique within the layout
	Title string // for people
	vals  *values
	// off says when another field switches this one off, and Note why.
	off  func(word uint32) bool
	Note string // a condition or caveat, or empty
}

// High is the field's highest bit, 0 to 31.
func (f Field) High() int { return int(f.bits.high()) }

// Low is the field's lowest bit, 0 to 31.
func (f Field) Low() int { return int(f.bits.low()) }

// Most is the largest number the field holds.
func (f Field) Most() uint32 { return f.bits.most() }

// Reserved reports whether the whole run of bits is reserved.
func (f Field) Reserved() bool { return f.vals == nil }

// Codes lists the values that have a meaning of their own, in order. A field
// that holds a plain number may have none.
func (f Field) Codes() []Code {
	if f.vals == nil {
		return nil
	}
	return append([]Code(nil), f.vals.codes...)
}

// Numeric reports whether values that Codes does not list are plain numbers;
// otherwise they are reserved.
func (f Field) Numeric() bool { return f.vals != nil && f.vals.number != nil }

// FieldValue is one field of one word.
type FieldValue struct {
	Field
	Raw      uint32   // the number in the field
	Meaning  string   // in words
	Standing Standing // what the specification makes of it
}

// Layout is the bit table of one form of one word.
type Layout struct {
	name, title, since, source string
	fields                     []Field
}

// Name identifies the layout, as "passive-cable".
func (l *Layout) Name() string { return l.name }

// Title is the word's name in the specification.
func (l *Layout) Title() string { return l.title }

// Since says in which revisions this form is used.
func (l *Layout) Since() string { return l.since }

// Source cites the table.
func (l *Layout) Source() string { return l.source }

// Fields lists the layout from bit 31 to bit 0.
func (l *Layout) Fields() []Field { return append([]Field(nil), l.fields...) }

// Read lists all 32 bits of a word as fields, from bit 31 down, reserved runs
// included.
func (l *Layout) Read(word uint32) iter.Seq[FieldValue] {
	return func(yield func(FieldValue) bool) {
		for i := range l.fields {
			if !yield(l.fields[i].value(word)) {
				return
			}
		}
	}
}

// Value reads one field of a word by its name; false where the layout has none of
// that name.
func (l *Layout) Value(word uint32, name string) (FieldValue, bool) {
	f := l.field(name)
	if f == nil {
		return FieldValue{}, false
	}
	return f.value(word), true
}

func (f *Field) value(word uint32) FieldValue {
	v := FieldValue{Field: *f, Raw: f.bits.get(word)}
	if f.vals == nil {
		v.Standing = Reserved
		v.Meaning = "zero, as it should be"
		if v.Raw != 0 {
			v.Meaning = "not zero, though reserved"
		}
		return v
	}
	v.Meaning, v.Standing = f.vals.meaning(v.Raw)
	if f.off != nil && f.off(word) {
		v.Standing = Ignored
	}
	return v
}

// ReservedMask has a 1 for each bit the layout reserves.
func (l *Layout) ReservedMask() uint32 {
	var m uint32
	for i := range l.fields {
		if l.fields[i].vals == nil {
			m |= l.fields[i].bits.mask()
		}
	}
	return m
}

// Value names a field and the number to put there.
type Value struct {
	Field string // its name in the layout
	Raw   uint32 // no more than Field.Most
}

// Causes of a FieldError, for errors.Is.
var (
	ErrNoSuchField error = cause("no such field")                   // the layout has no field of this name
	ErrSetTwice    error = cause("this field is set a second time") // Compose was given the field before
	ErrTooLarge    error = cause("number too large for the field")  // the number needs more bits than the field has
)

// cause is what errors.New would make; package errors brings reflection along.
type cause string

func (c cause) Error() string { return string(c) }

// FieldError says which value Compose could not place.
type FieldError struct {
	Layout string // its name
	Value  Value  // as given
	Most   uint32 // the largest number the field holds, for ErrTooLarge
	Err    error  // ErrNoSuchField, ErrTooLarge or ErrSetTwice
}

// Error says layout, field, fault and the largest number in one line.
func (e *FieldError) Error() string {
	s := e.Layout + ": " + e.Value.Field + ": " + e.Err.Error()
	if e.Err == ErrTooLarge {
		s += ": " + decimal(e.Value.Raw) +
			", at most " + decimal(e.Most)
	}
	return s
}

// Unwrap gives the cause, ErrNoSuchField, ErrTooLarge or ErrSetTwice.
func (e *FieldError) Unwrap() error { return e.Err }

// Compose sets fields in a word and leaves the others as they are: start from 0
// or from a word you have. Reserved fields can be set too, so that any word can
// be composed again from its listing. The error is a *FieldError; the word then
// carries the values before it.
func (l *Layout) Compose(word uint32, set ...Value) (uint32, error) {
	for i, v := range set {
		f := l.field(v.Field)
		if f == nil {
			return word, &FieldError{Layout: l.name, Value: v, Err: ErrNoSuchField}
		}
		if v.Raw > f.bits.most() {
			return word, &FieldError{Layout: l.name, Value: v, Most: f.bits.most(), Err: ErrTooLarge}
		}
		for _, before := range set[:i] {
			if before.Field == v.Field {
				return word, &FieldError{Layout: l.name, Value: v, Err: ErrSetTwice}
			}
		}
		word = f.bits.put(word, v.Raw)
	}
	return word, nil
}

func (l *Layout) field(name string) *Field {
	for i := range l.fields {
		if l.fields[i].Name == name {
			return &l.fields[i]
		}
	}
	return nil
}
