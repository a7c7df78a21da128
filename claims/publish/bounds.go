package publish

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"example.com/gainsay/claims"
)

// Bounds of what is printed of one cable in text, Markdown and pages, so that the result
// of any record stays below 3 MB. JSON has all of it.
const (
	mostShown     = 2000 // bytes of a text from a record
	mostListed    = 200  // lines of a list
	mostAnswers   = 32   // answers of a plug, each word bit by bit
	mostDateShown = 300  // dates in a picture over time
)

// shortened cuts the middle out of a text that is longer than mostShown.
func shortened(s string) string {
	if len(s) <= mostShown {
		return s
	}
	// With the count between them they are shorter than mostShown.
	head := strings.ToValidUTF8(s[:mostShown*7/10], "")
	tail := strings.ToValidUTF8(s[len(s)-mostShown/5:], "")
	return fmt.Sprintf("%s … (%d more bytes) … %s", head, len(s)-len(head)-len(tail), tail)
}

func andMore(n int, what string) string {
	return fmt.Sprintf("and %d more %s; --json has them all", n, what)
}

// bounded is the report with long texts and lists cut, each with a count of what is left
// out; the report itself where nothing is.
func bounded(r *claims.Report) *claims.Report {
	if !exceeds(reflect.ValueOf(*r)) {
		return r
	}
	out := *r
	cut := map[string]int{}
	out = boundedValue(reflect.ValueOf(out), "", cut).Interface().(claims.Report)
	for _, list := range []string{"Findings", "Claims", "Testimony", "NotExamined"} {
		if n := cut[list]; n > 0 {
			out.Remarks = append(out.Remarks, andMore(n, strings.ToLower(list)))
		}
	}
	return &out
}

// mostOf is how much of a list is printed. methods counts readings itself.
func mostOf(field string) int {
	if field == "Readings" || field == "Nulls" {
		return math.MaxInt
	}
	return mostListed
}

// exceeds reports whether boundedValue would cut anything.
func exceeds(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String:
		return v.Len() > mostShown
	case reflect.Pointer, reflect.Interface:
		return !v.IsNil() && exceeds(v.Elem())
	case reflect.Slice:
		if v.Len() > mostListed {
			return true
		}
		for i := range v.Len() {
			if exceeds(v.Index(i)) {
				return true
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && exceeds(v.Field(i)) {
				return true
			}
		}
	}
	return false
}

// boundedValue copies a value with its texts and lists cut. A list of texts ends with a
// line that counts the others; of other lists the count is put down under the field's name.
func boundedValue(v reflect.Value, field string, cut map[string]int) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.String:
		out.SetString(shortened(v.String()))
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(boundedValue(v.Elem(), field, cut))
		}
	case reflect.Slice:
		if v.IsNil() {
			break
		}
		n := min(v.Len(), mostOf(field))
		out.Set(reflect.MakeSlice(v.Type(), n, n+1))
		for i := range n {
			out.Index(i).Set(boundedValue(v.Index(i), field, cut))
		}
		if more := v.Len() - n; more > 0 {
			cut[field] += more
			if v.Type().Elem().Kind() == reflect.String {
				out.Set(reflect.Append(out, reflect.ValueOf(andMore(more, "lines")).Convert(v.Type().Elem())))
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				out.Field(i).Set(boundedValue(v.Field(i), f.Name, cut))
			}
		}
	}
	return out
}
