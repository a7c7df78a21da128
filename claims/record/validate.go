package record

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/gainsay/claims/internal/label"
	"example.com/gainsay/claims/quantity"
)

// ErrNoRecord says that there is no record to validate.
var ErrNoRecord = errors.New("there is no record")

// Validate holds a record that was built in Go against what the loader takes, so that an
// impossible value is an error and never a report. A loaded record passes. The error is
// an Errors with the key of each thing that is wrong, or [ErrNoRecord] for nil.
func Validate(r *Record) error {
	if r == nil {
		return ErrNoRecord
	}
	v := &checker{errs: new(Errors), at: &r.At}
	checkKeys(v, recordKeys, r)
	if len(*v.errs) > 0 {
		return *v.errs
	}
	return nil
}

// checker gathers what is wrong with the values of a record.
type checker struct {
	errs *Errors
	path string
	at   *Place
}

// in is the checker of a part; at is where it begins, nil where the whole does.
func (v *checker) in(key string, at *Place) *checker {
	if at == nil {
		at = v.at
	}
	return &checker{errs: v.errs, path: join(v.path, key), at: at}
}

// fail notes what is wrong with a key's value; at is where it stands, if anywhere.
func (v *checker) fail(key string, at Place, wrong, want string) {
	v.failFor(ErrValue, key, at, wrong, want)
}

func (v *checker) failFor(cause error, key string, at Place, wrong, want string) {
	if at == (Place{}) {
		at = *v.at
	}
	switch n := len(*v.errs); {
	case n < MaxErrors:
		path := v.path
		if key != "" {
			path = join(path, key)
		}
		*v.errs = append(*v.errs, &Error{At: at, Key: path, Wrong: wrong, Want: want, Err: cause})
	case n == MaxErrors:
		*v.errs = append(*v.errs, tooMany(at))
	}
}

// checkKeys holds every value of a mapping against its key.
func checkKeys[T any](v *checker, table []key[T], of *T) {
	for i := range table {
		if table[i].valid != nil {
			table[i].valid(v, of)
		}
	}
}

// checkEach does so for every item of a list.
func checkEach[T any](v *checker, name string, table []key[T], items []T) {
	for i := range items {
		path := name
		if len(items) > 1 {
			path = fmt.Sprintf("%s[%d]", name, i)
		}
		checkKeys(v.in(path, nil), table, &items[i])
	}
}

func (v *checker) quantity(key string, at Place, value float64, dim quantity.Dimension, s sign) {
	if wrong := dim.OutOfRange(value); wrong != "" {
		v.failFor(quantity.ErrRange, key, at, wrong, "give a "+dim.String()+" in the range of cables")
		return
	}
	if wrong, want := s.refuses(value, dim, quantity.Format(value, dim, 4)); wrong != "" {
		v.fail(key, at, wrong, want)
	}
}

func (v *checker) accuracy(key string, at Place, a quantity.Accuracy) {
	for _, part := range []float64{a.Reading, a.Fixed} {
		if math.IsNaN(part) || math.IsInf(part, 0) || part < 0 {
			v.fail(key, at, "a part of an accuracy is negative or not a finite number", "each part must be zero or above")
			return
		}
	}
}

func (v *checker) filled(key string, s Stated[string], what, remedy string) {
	switch {
	case !s.Known:
		v.failFor(ErrMissingKey, key, s.At, what+" is missing", remedy)
	case strings.TrimSpace(s.Value) == "":
		v.fail(key, s.At, what+" is empty", remedy)
	}
}

// sources holds that claims of several places can be told apart.
func (v *checker) sources(all []Claims) {
	if len(all) < 2 {
		return
	}
	var seen []string
	for i := range all {
		in := v.in(fmt.Sprintf("claims[%d]", i), nil)
		switch source := strings.TrimSpace(all[i].Source.Value); {
		case source == "":
			in.failFor(ErrMissingKey, "source", all[i].Source.At, "these claims have no source", "with several places of claims each needs its source")
		case slices.Contains(seen, source):
			in.fail("source", all[i].Source.At, fmt.Sprintf("the source %q stands twice", source), "each place of claims needs a source of its own")
		default:
			seen = append(seen, source)
		}
	}
}

func (v *checker) data(d Stated[DataClaim]) {
	if !d.Known {
		return
	}
	if d.Value.None && d.Value.Gbps == 0 && d.Value.Standard == "" {
		return
	}
	gbps := d.Value.Gbps
	if wrong := quantity.Rate.OutOfRange(gbps * 1e9); wrong != "" || gbps <= 0 {
		v.fail("data", d.At, "a data rate of "+strconv.FormatFloat(gbps, 'g', -1, 64)+" Gbps is not possible", "it must be above zero")
		return
	}
	if d.Value.Standard == "" {
		return
	}
	if known, _, err := label.DataOf(d.Value.Standard); err != nil || known.Standard != d.Value.Standard {
		v.fail("data", d.At, strconv.Quote(d.Value.Standard)+" is not a standard known here", "write one of "+strings.Join(label.Standards(), ", "))
	} else if known.Gbps != gbps {
		v.fail("data", d.At, fmt.Sprintf("%s does not run at %g Gbps", known.Standard, gbps), fmt.Sprintf("its rate is %g Gbps", known.Gbps))
	}
}

func (v *checker) modes(m Stated[[]Mode]) {
	if !m.Known {
		return
	}
	for _, one := range m.Value {
		if !slices.Contains(modeNames, one) {
			v.fail("modes", m.At, strconv.Quote(string(one))+" is not known here", "write one of "+nameList(modeNames))
		}
	}
}

// The pictures that are taken: what a record can write.
const (
	mostPixels = 99999
	leastHz    = 1
	mostHz     = 1000
)

func (v *checker) video(c Stated[VideoClaim]) {
	if !c.Known {
		return
	}
	p := c.Value
	if p.Width < 1 || p.Height < 1 || p.Width > mostPixels || p.Height > mostPixels || !(p.Hz >= leastHz && p.Hz <= mostHz) {
		v.fail("video", c.At, fmt.Sprintf("%d × %d at %g Hz is not a picture", p.Width, p.Height, p.Hz), `write it like "8K60" or "3840x2160@60"`)
	}
}

func (v *checker) revision(s Stated[string]) {
	if !s.Known {
		return
	}
	if _, ok := ParseRevision(s.Value); !ok {
		v.fail("revision", s.At, strconv.Quote(s.Value)+" is not a revision of USB PD", `write "2.0" or "3.0"`)
	}
}

func (v *checker) reading(r *Reading) {
	for _, f := range r.faults() {
		v.failFor(f.cause, f.key, f.at, f.wrong, f.want)
	}
}

func (v *checker) drop(r *Reading) {
	if f := r.noDrop(); f != nil {
		v.failFor(f.cause, "", f.at, f.wrong, f.want)
	}
}
