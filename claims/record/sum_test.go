package record

import "testing"

// TestSum: the same sum for what says the same, another for what does not.
func TestSum(t *testing.T) {
	sum := func(text, name string) string { return one(t, text, name).Sum }
	base := sum("gainsay: 1\ncable: a\nclaims: {power: 60 W, length: 1 m}\n", "a.yaml")
	for _, same := range []struct{ text, name string }{
		{"# mine\ncable: a\ngainsay: 1\nclaims:\n  length: 1 m\n  power: '60 W'\n", "a.yaml"},
		{`{"claims":{"length":"1 m","power":"60 W"},"cable":"a","gainsay":1}`, "a.json"},
	} {
		if got := sum(same.text, same.name); got != base {
			t.Errorf("%q: %s, want %s", same.text, got, base)
		}
	}
	for _, other := range []string{
		"gainsay: 1\ncable: b\nclaims: {power: 60 W, length: 1 m}\n",
		"gainsay: 1\ncable: a\nclaims: {power: 61 W, length: 1 m}\n",
		"gainsay: 1\ncable: a\nclaims: {power: 60 W}\n",
	} {
		if got := sum(other, "a.yaml"); got == base {
			t.Errorf("%q has the same sum", other)
		}
	}
}
