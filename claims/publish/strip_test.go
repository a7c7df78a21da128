package publish

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.com/gainsay/claims"
)

// TestStrip holds the standing picture of each example: well-formed, nothing beyond its
// edges, large enough to be read as a thumbnail, and with the verdict's words.
func TestStrip(t *testing.T) {
	eachExample(t, func(t *testing.T, c *claims.Case, r *claims.Report) {
		svg := StripSVG(c, r)
		d := xml.NewDecoder(strings.NewReader(svg))
		large := 0
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			e, ok := tok.(xml.StartElement)
			if !ok || e.Name.Local != "text" {
				continue
			}
			var text string
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			if err := d.DecodeElement(&text, &e); err != nil {
				t.Fatal(err)
			}
			number := func(key string) float64 {
				v, err := strconv.ParseFloat(at[key], 64)
				if err != nil {
					t.Fatalf("%s of %q: %v", key, text, err)
				}
				return v
			}
			x, y, size := number("x"), number("y"), number("font-size")
			width := textWidth(text, size)
			from := x - map[string]float64{"start": 0, "middle": width / 2, "end": width}[at["text-anchor"]]
			if from < 0 || from+width > 1200 || y < size/2 || y > 630 {
				t.Errorf("%q stands from %.0f to %.0f at %.0f: outside", text, from, from+width, y)
			}
			if size >= 40 {
				large++
			}
		}
		if large != 3 {
			t.Errorf("%d texts of 40 units or more, want shown, sold and outcome", large)
		}
		for _, want := range []string{newStrip(c, r).soldWords(), newStrip(c, r).shownWords()} {
			if !strings.Contains(svg, want) {
				t.Errorf("it does not say %q", want)
			}
		}
	})
}

// TestStripScale: the scale begins at 0 W, keeps the order of powers, and ends inside.
func TestStripScale(t *testing.T) {
	x := wattScale{10, 500}
	if x.of(0) != 10 || math.Abs(x.of(stripEnd)-510) > 1e-9 || x.of(1000) != x.of(stripEnd) {
		t.Errorf("0 W at %v, the end at %v, 1000 W at %v", x.of(0), x.of(stripEnd), x.of(1000))
	}
	if !(x.of(15) < x.of(60) && x.of(60) < x.of(100) && x.of(100) < x.of(240) && x.of(240) < 510) {
		t.Error("the levels are out of order")
	}
}

// eachExample runs a test for each record of the examples.
func eachExample(t *testing.T, test func(*testing.T, *claims.Case, *claims.Report)) {
	files, err := filepath.Glob("../../examples/records/*.yaml")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, name := range files {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".yaml"), func(t *testing.T) {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range cases(t, string(text)) {
				test(t, c, c.Report())
			}
		})
	}
}
