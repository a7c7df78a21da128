package record

import "testing"

func TestNearest(t *testing.T) {
	keys := []string{"gainsay", "cable", "label", "about", "claims", "marker", "bench", "vbus", "ground", "loop", "date", "note"}
	for text, want := range map[string]string{
		"lable":          "perhaps cable or label", // one replaced, or two swapped
		"maker":          "perhaps marker",
		"Marker":         "perhaps marker",
		"vbus-drop":      "perhaps vbus",
		"bnch":           "perhaps bench",
		"benhc":          "perhaps bench",
		"groudn":         "perhaps ground",
		"abel":           "perhaps label",
		"grand":          "", // two edits in five characters
		"grounding":      "perhaps ground",
		"able":           "perhaps cable",
		"noted":          "perhaps note",
		"ate":            "perhaps date",
		"notd":           "perhaps note",
		"node":           "perhaps note",
		"dote":           "perhaps date or note",
		"xyz":            "",
		"a":              "",
		"":               "",
		"lo":             "",
		"something else": "",
	} {
		if got := Nearest(text, keys); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
