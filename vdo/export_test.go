package vdo

// What the tests outside the package need of the inside: the very functions that
// Read and Compose use, one field and one word at a time.

// Span is the place of a field.
type Span = span

func (s span) Get(w uint32) uint32 { return s.get(w) }

func (s span) Put(w, v uint32) uint32 { return s.put(w, v) }

func (f *Field) Span() Span { return f.bits }

func (f *Field) Value(word uint32) FieldValue { return f.value(word) }

// Off is the rule that switches the field off, nil where there is none.
func (f *Field) Off() func(word uint32) bool { return f.off }
