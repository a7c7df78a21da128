package publish

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"
)

// drawing is an SVG picture that takes its colours from the page's style sheet.
// Every text goes through Plain and is escaped.
type drawing struct {
	b    strings.Builder
	w, h float64
}

func newDrawing(w, h float64) *drawing { return &drawing{w: w, h: h} }

func px(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }

func (d *drawing) line(class string, x1, y1, x2, y2 float64) {
	fmt.Fprintf(&d.b, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, px(x1), px(y1), px(x2), px(y2))
}

func (d *drawing) rect(class string, x, y, w, h float64) {
	fmt.Fprintf(&d.b, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, class, px(x), px(y), px(math.Max(w, 0)), px(h))
}

func (d *drawing) circle(class string, x, y, r float64) {
	fmt.Fprintf(&d.b, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, px(x), px(y), px(r))
}

// diamond marks a point that differs from the circles by more than its colour.
func (d *drawing) diamond(class string, x, y, r float64) {
	fmt.Fprintf(&d.b, `<path class="%s" d="M%s %sL%s %sL%s %sL%s %sZ"/>`, class, px(x), px(y-r), px(x+r), px(y), px(x), px(y+r), px(x-r), px(y))
}

func (d *drawing) polyline(class string, points [][2]float64) {
	d.b.WriteString(`<polyline class="` + class + `" points="`)
	for i, p := range points {
		if i > 0 {
			d.b.WriteByte(' ')
		}
		d.b.WriteString(px(p[0]) + "," + px(p[1]))
	}
	d.b.WriteString(`"/>`)
}

// text writes at a point; anchor is start, middle or end.
func (d *drawing) text(class, anchor string, x, y float64, s string) {
	fmt.Fprintf(&d.b, `<text class="%s" text-anchor="%s" x="%s" y="%s">%s</text>`, class, anchor, px(x), px(y), html.EscapeString(Plain(s)))
}

// sized is text in a size of its own.
func (d *drawing) sized(class, anchor string, x, y, size float64, s string) {
	fmt.Fprintf(&d.b, `<text class="%s" text-anchor="%s" x="%s" y="%s" font-size="%s">%s</text>`, class, anchor, px(x), px(y), px(size), html.EscapeString(Plain(s)))
}

func (d *drawing) path(class, along string) {
	fmt.Fprintf(&d.b, `<path class="%s" d="%s"/>`, class, along)
}

// picture closes the drawing; alt says in words what it shows.
func (d *drawing) picture(alt string) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg viewBox="0 0 %s %s" role="img" aria-label="%s">`, px(d.w), px(d.h), html.EscapeString(Plain(alt))) +
		d.b.String() + "</svg>")
}

// scale maps values onto a stretch of the drawing.
type scale struct{ from, to, at, end float64 }

func (s scale) of(v float64) float64 {
	if s.to == s.from {
		return (s.at + s.end) / 2
	}
	return s.at + (v-s.from)/(s.to-s.from)*(s.end-s.at)
}

// ticks gives four to eight round steps from 0 to a value.
func ticks(most float64) []float64 {
	if !(most > 0) {
		return []float64{0}
	}
	step := math.Pow(10, math.Floor(math.Log10(most/4)))
	for _, f := range []float64{1, 2, 5, 10} {
		if most/(step*f) <= 7 {
			step *= f
			break
		}
	}
	var out []float64
	for i := 0; float64(i)*step <= most*1.0001; i++ {
		out = append(out, float64(i)*step)
	}
	return out
}
