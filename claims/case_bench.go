package claims

import (
	"errors"
	"io/fs"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
)

func number(s record.Stated[float64]) bench.Number {
	return bench.Number{Value: s.Value, Known: s.Known}
}

func benchReadings(rs []record.Reading) []bench.Reading {
	out := make([]bench.Reading, len(rs))
	for i := range rs {
		out[i] = benchReading(&rs[i])
	}
	return out
}

func benchReading(r *record.Reading) bench.Reading {
	out := bench.Reading{CurrentAmp: r.Current.Value, VBUSVolt: number(r.VBUS), GroundVolt: number(r.Ground), LoopVolt: number(r.Loop),
		Mating: r.Mating.Value, VBUSDigit: digit(r.VBUS, quantity.Voltage), GroundDigit: digit(r.Ground, quantity.Voltage), LoopDigit: digit(r.Loop, quantity.Voltage)}
	// A current written as a whole number, as "1 A", is nominal.
	if number, _, _ := strings.Cut(strings.TrimSpace(r.Current.Text), " "); strings.ContainsAny(number, ".,") {
		out.CurrentDigit = digit(r.Current, quantity.Current)
	}
	switch r.Flip.Value {
	case "up":
		out.Flip = bench.FlipUp
	case "down":
		out.Flip = bench.FlipDown
	}
	return out
}

// digit is one step of the last digit written; 0 where nothing was.
func digit(s record.Stated[float64], d quantity.Dimension) float64 {
	if !s.Known || s.Text == "" {
		return 0
	}
	return quantity.LastDigit(s.Text, d)
}

// finest is the finest last digit of resistances, 0 without any.
func finest(all ...record.Stated[float64]) float64 {
	least := math.Inf(1)
	for _, s := range all {
		if d := digit(s, quantity.Resistance); d > 0 {
			least = math.Min(least, d)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// endsOf are the plugs of both ends: as seen in the session, else as sold, else Type-C at
// both ends, an assumption.
func endsOf(s *record.Session, sold *record.Claims) [2]bench.Plug {
	plugs := s.Plugs
	if !plugs.Known && sold != nil {
		plugs = sold.Plugs
	}
	p, ok := plugs.Get()
	switch {
	case !ok || p == record.CToC:
		return [2]bench.Plug{bench.PlugTypeC, bench.PlugTypeC}
	case p == record.CCaptive:
		return [2]bench.Plug{bench.PlugTypeC, bench.PlugNone}
	}
	return [2]bench.Plug{bench.PlugTypeC, bench.PlugSingle}
}

// withTable returns a session with the readings and nulls of the table it names, a file in
// the folder of the record.
func withTable(s *record.Session, files fs.FS, key string) (*record.Session, record.Errors) {
	fail := func(wrong string, err error) (*record.Session, record.Errors) {
		return s, record.Errors{{At: s.Table.At, Key: key + ".readings", Wrong: wrong, Want: "name a table in CSV beside the record", Err: err}}
	}
	if files == nil {
		return fail(ErrNoFiles.Error(), ErrNoFiles)
	}
	// The kind is asked first: to open a pipe would wait for its writer.
	info, err := fs.Stat(files, s.Table.Value)
	if err == nil && !info.Mode().IsRegular() {
		err = errNotFile
	}
	var f fs.File
	if err == nil {
		f, err = files.Open(s.Table.Value)
	}
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return fail(s.Table.Value+": "+err.Error(), err)
	}
	defer f.Close()
	out := *s
	readings, nulls, err := record.ReadTable(f, s.Table.Value)
	out.Readings = readings
	if len(nulls) > 0 { // the table's own, not the rig's
		out.Nulls = slices.Clone(nulls)
	}
	var bad record.Errors
	switch {
	case err == nil:
	case errors.As(err, &bad):
		return &out, bad
	default:
		return fail(s.Table.Value+": "+err.Error(), err)
	}
	return &out, nil
}
