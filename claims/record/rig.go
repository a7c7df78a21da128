package record

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/gainsay/claims/quantity"
)

// RigVersion is the rig format this package reads.
const RigVersion = 1

// RigEnding is how the name of a rig's file ends.
const RigEnding = ".rig.yaml"

// Rig is what does not change from cable to cable: the meters, the fixture and its nulls.
type Rig struct {
	At         Place                     // where it begins
	Name       Stated[string]            // the user's own
	Voltmeter  Stated[quantity.Accuracy] // in V, as the data sheet states it
	Ammeter    Stated[quantity.Accuracy] // of the test current, in A
	Ohmmeter   Stated[quantity.Accuracy] // of resistances that the rig prints, in Ω
	Calibrated Calibrations              // of the three
	Nulls      []Reading                 // the fixture alone
	Fixture    Stated[string]            // in words
}

// Calibrations are those of the instruments.
type Calibrations struct {
	Voltmeter Calibration // expanded uncertainty in V
	Ammeter   Calibration // expanded uncertainty in A
	Ohmmeter  Calibration // expanded uncertainty in Ω
}

// Calibration is what a certificate says of an instrument.
type Calibration struct {
	Calibrated  Stated[time.Time] // the day
	Due         Stated[time.Time] // the day it is due again
	Certificate Stated[string]    // its number
	Expanded    Stated[float64]   // expanded uncertainty, in the instrument's unit
	K           Stated[float64]   // coverage factor of it; 2 where none is given
}

// Standard returns the standard uncertainty by the certificate, 0 where there is none.
func (c Calibration) Standard() float64 {
	if !c.Expanded.Known {
		return 0
	}
	if c.K.Known {
		return c.Expanded.Value / c.K.Value
	}
	return c.Expanded.Value / 2
}

// instrument is an accuracy with its calibration, as a mapping has them.
type instrument struct {
	accuracy *Stated[quantity.Accuracy]
	*Calibration
}

// instrumentKeys are the keys of an instrument of a dimension.
func instrumentKeys(dim quantity.Dimension) []key[instrument] {
	return []key[instrument]{
		accuracy("accuracy", "as the data sheet states it", dim, func(i *instrument) *Stated[quantity.Accuracy] { return i.accuracy }),
		{name: "calibrated", form: "2026-03-01", help: "the day of the calibration", shape: dateShape,
			set: func(d *decoder, n *node, i *instrument) { parseDate(d, n, &i.Calibrated) }},
		{name: "due", form: "2027-03-01", help: "the day it is due again", shape: dateShape,
			set: func(d *decoder, n *node, i *instrument) { parseDate(d, n, &i.Due) }},
		text("certificate", "free text", "the certificate's number", func(i *instrument) *Stated[string] { return &i.Certificate }),
		amount("expanded", "expanded uncertainty by the certificate", dim, positive, func(i *instrument) *Stated[float64] { return &i.Expanded }),
		{name: "k", form: "2", help: "coverage factor of expanded, 2 where none is given", shape: func() *shape { return exampleText("2") },
			set: func(d *decoder, n *node, i *instrument) {
				if t, ok := d.one(n, "a coverage factor"); ok {
					if v, err := strconv.ParseFloat(t, 64); err == nil && coverageFactor(v) {
						i.K = stated(v, n)
						return
					}
					d.fail(n.content, n.path(), ErrValue, strconv.Quote(t)+" is not a coverage factor", "write a number above 0 and up to 10, as in k: 2")
				}
			}, valid: func(v *checker, i *instrument) {
				if i.K.Known && !coverageFactor(i.K.Value) {
					v.fail("k", i.K.At, "this is not a coverage factor", "give a number above 0 and up to 10")
				}
			}},
	}
}

func coverageFactor(k float64) bool { return k > 0 && k <= 10 }

var (
	voltmeterKeys = instrumentKeys(quantity.Voltage)
	ammeterKeys   = instrumentKeys(quantity.Current)
	ohmmeterKeys  = instrumentKeys(quantity.Resistance)
)

// meter is a key whose value is an accuracy, or a mapping with the calibration too.
func meter[T any](name, help string, dim quantity.Dimension, table []key[instrument], field func(*T) instrument) key[T] {
	plain := accuracy(name, help, dim, func(i *instrument) *Stated[quantity.Accuracy] { return i.accuracy })
	return key[T]{name: name, form: plain.form, help: help, inner: keysOf(table),
		shape: func() *shape { return &shape{AnyOf: []*shape{accuracyShape(), object(table)}} },
		set: func(d *decoder, n *node, into *T) {
			i := field(into)
			if n.kind == mapping {
				walk(d, n, table, &i)
				if i.accuracy.Known || i.Expanded.Known {
					return
				}
				d.fail(n.at, n.path(), ErrMissingKey, "neither accuracy nor expanded is given", "write accuracy: 0.05 % + 20 µV, or what the certificate says")
				return
			}
			plain.set(d, n, &i)
		},
		valid: func(v *checker, of *T) {
			i := field(of)
			plain.valid(v, &i)
			checkKeys(v.in(name, nil), table[1:], &i)
		}}
}

var rigKeys = []key[Rig]{
	{name: "gainsay-rig", form: "1", help: "version of the rig format", required: true,
		shape: func() *shape { return &shape{Enum: []any{RigVersion, strconv.Itoa(RigVersion)}} },
		set: func(d *decoder, n *node, _ *Rig) {
			if t, ok := d.one(n, "the version"); ok && t != strconv.Itoa(RigVersion) {
				d.fail(n.at, n.path(), ErrVersion, fmt.Sprintf("rig format version %q is not known", t), fmt.Sprintf("this gainsay reads version %d", RigVersion))
			}
		}},
	text("name", "bench A", "your own name for the rig", func(r *Rig) *Stated[string] { return &r.Name }),
	meter("voltmeter", "its accuracy as the data sheet states it", quantity.Voltage, voltmeterKeys,
		func(r *Rig) instrument { return instrument{&r.Voltmeter, &r.Calibrated.Voltmeter} }),
	meter("ammeter", "its accuracy as the data sheet states it", quantity.Current, ammeterKeys,
		func(r *Rig) instrument { return instrument{&r.Ammeter, &r.Calibrated.Ammeter} }),
	meter("ohmmeter", "the accuracy of a rig that prints resistance", quantity.Resistance, ohmmeterKeys,
		func(r *Rig) instrument { return instrument{&r.Ohmmeter, &r.Calibrated.Ohmmeter} }),
	nullKey(func(r *Rig) *[]Reading { return &r.Nulls }),
	text("fixture", "free text", "where the sense leads touch", func(r *Rig) *Stated[string] { return &r.Fixture }),
}

// nullKey is one null or a list of them.
func nullKey[T any](field func(*T) *[]Reading) key[T] {
	return key[T]{name: "null", form: "{current: 1 A, vbus: 1.2 mV, ground: 0.9 mV}, or a list", help: "the fixture alone, same leads",
		set: func(d *decoder, n *node, into *T) {
			each(n, func(item *node) {
				r := Reading{At: item.at}
				before := len(d.errs)
				walk(d, item, readingKeys, &r)
				if len(d.errs) == before {
					d.checkDrop(&r, item)
				}
				*field(into) = append(*field(into), r)
			})
		}, inner: keysOf(readingKeys), shape: func() *shape { return orList(readingShape()) },
		valid: func(v *checker, of *T) {
			nulls := *field(of)
			for i := range nulls {
				name := "null"
				if len(nulls) > 1 {
					name = fmt.Sprintf("null[%d]", i)
				}
				in := v.in(name, &nulls[i].At)
				checkKeys(in, readingKeys, &nulls[i])
				in.drop(&nulls[i])
			}
		}}
}

// RigKeys lists every key a rig file may hold, in order.
func RigKeys() []Key { return keysOf(rigKeys)("") }

// ReadRig reads a rig file. The error is an Errors.
func ReadRig(r io.Reader, name string) (*Rig, error) {
	var rig *Rig
	for one, err := range splitYAML(bufio.NewReader(r), name) {
		if err != nil {
			return nil, err
		}
		tree, errs := one.yamlTree(new(nodes))
		switch {
		case errs != nil:
			return nil, errs
		case tree == nil:
			continue
		case rig != nil:
			return nil, Errors{{At: tree.at, Wrong: "a second document begins here", Want: "a rig file holds one rig", Err: ErrValue}}
		}
		d := &decoder{file: name}
		rig = &Rig{At: tree.at}
		if walk(d, tree, rigKeys, rig); len(d.errs) > 0 {
			return nil, d.errs
		}
	}
	if rig == nil {
		return nil, Errors{{At: Place{name, 1, 1}, Wrong: "the file is empty", Want: "a rig file begins with gainsay-rig: 1", Err: ErrMissingKey}}
	}
	return rig, nil
}

// UseRig gives every session what the rig says and the session does not. It is what the
// key rig of a record asks for.
func (r *Record) UseRig(rig *Rig) {
	r.Used = rig
	for i := range r.Bench {
		s := &r.Bench[i]
		if !s.Voltmeter.Known && !s.Calibrated.Voltmeter.Expanded.Known {
			s.Voltmeter, s.Calibrated.Voltmeter = rig.Voltmeter, rig.Calibrated.Voltmeter
		}
		if !s.Ammeter.Known && !s.Calibrated.Ammeter.Expanded.Known {
			s.Ammeter, s.Calibrated.Ammeter = rig.Ammeter, rig.Calibrated.Ammeter
		}
		if !s.Ohmmeter.Known && !s.Calibrated.Ohmmeter.Expanded.Known {
			s.Ohmmeter, s.Calibrated.Ohmmeter = rig.Ohmmeter, rig.Calibrated.Ohmmeter
		}
		if len(s.Nulls) == 0 {
			s.Nulls = slices.Clone(rig.Nulls)
		}
	}
}

// fileName is a key whose value is the name of a file without a folder.
func fileName[T any](name, form, help string, endings []string, field func(*T) *Stated[string]) key[T] {
	k := text(name, form, help, field)
	plain := k.set
	k.set = func(d *decoder, n *node, into *T) {
		if plain(d, n, into); field(into).Known {
			if wrong := badFile(n.text, endings); wrong != "" {
				d.fail(n.content, n.path(), ErrValue, wrong, "write a bare name, as in "+name+": "+form)
				*field(into) = Stated[string]{}
			}
		}
	}
	k.valid = func(v *checker, of *T) {
		if f := field(of); f.Known {
			if wrong := badFile(f.Value, endings); wrong != "" {
				v.fail(name, f.At, wrong, "give a bare name, as "+form)
			}
		}
	}
	return k
}

// badFile says what is wrong with the name of a file that should stand without a folder.
func badFile(name string, endings []string) string {
	if strings.ContainsAny(name, "/\\\x00") || strings.HasPrefix(name, ".") || strings.TrimSpace(name) != name {
		return strconv.Quote(name) + " is not the bare name of a file"
	}
	for _, e := range endings {
		if len(name) > len(e) && strings.HasSuffix(strings.ToLower(name), e) {
			return ""
		}
	}
	return strconv.Quote(name) + " does not end in " + strings.Join(endings, " or ")
}
