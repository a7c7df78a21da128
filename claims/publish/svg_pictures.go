package publish

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"
	"time"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/bench"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
)

// Sizes shared by the pictures, in units of the drawing.
const (
	pictureWidth = 480.0
	dotRadius    = 4.5
)

func milliohm(ohm float64) string { return fmt.Sprintf("%.4g", 1000*ohm) }

// limitPicture sets VBUS and ground with their intervals against the limits at
// 5 A and 3 A. Each row has its own scale, so that the limits stand below each
// other: they are in the same proportion for both.
func limitPicture(b *claims.BenchReport) template.HTML {
	rows := slices.DeleteFunc(measured(b), func(r measuredRow) bool { return r.of == bench.Loop })
	if len(rows) == 0 {
		return ""
	}
	most := 1.12 // of the limit at 3 A
	for _, r := range rows {
		most = math.Max(most, 1.06*(r.Ohm+r.Expanded)/bench.LimitOhm(r.of, claims.LeastAmps))
	}
	const left, rowHeight, barHeight, top = 58.0, 74.0, 22.0, 26.0
	d := newDrawing(pictureWidth, top+rowHeight*float64(len(rows))-22)
	var alt []string
	for i, r := range rows {
		name := capital(r.of.Name())
		at3, at5 := bench.LimitOhm(r.of, claims.LeastAmps), bench.LimitOhm(r.of, 5)
		x := scale{0, most * at3, left, pictureWidth - 14}
		y := top + rowHeight*float64(i)
		d.text("t strong", "start", 0, y+barHeight*0.68, name)
		d.rect("zone good", left, y, x.of(at5)-left, barHeight)
		d.rect("zone mid", x.of(at5), y, x.of(at3)-x.of(at5), barHeight)
		d.rect("zone poor", x.of(at3), y, x.end-x.of(at3), barHeight)
		for _, l := range []struct {
			ohm  float64
			amps int
		}{{at5, 5}, {at3, 3}} {
			d.line("limit", x.of(l.ohm), y-5, x.of(l.ohm), y+barHeight+5)
			d.text("t small", "middle", x.of(l.ohm), y-10, fmt.Sprintf("%d A: %s mΩ", l.amps, milliohm(l.ohm)))
		}
		from, to := x.of(math.Max(0, r.Ohm-r.Expanded)), x.of(r.Ohm+r.Expanded)
		middle := y + barHeight/2
		d.line("bar", from, middle, to, middle)
		d.line("bar", from, middle-6, from, middle+6)
		d.line("bar", to, middle-6, to, middle+6)
		d.circle("dot", x.of(r.Ohm), middle, dotRadius)
		value := resistanceText(r.Resistance)
		anchor, vx := "middle", x.of(r.Ohm)
		if vx < left+60 {
			anchor, vx = "start", left
		} else if vx > pictureWidth-60 {
			anchor, vx = "end", pictureWidth-2
		}
		d.text("t strong num", anchor, vx, y+barHeight+18, value)
		alt = append(alt, fmt.Sprintf("%s has %s; the limits are %s mΩ at 5 A and %s mΩ at 3 A", name, value, milliohm(at5), milliohm(at3)))
	}
	return d.picture(strings.Join(alt, ". ") + ".")
}

func resistanceText(r *claims.Resistance) string {
	return say.Ohm(&bench.Estimate{Ohm: r.Ohm, Expanded: r.Expanded})
}

// gauges are the wires drawn over length.
var gauges = []float64{20, 22, 24, 26, 28}

// lengthPoint is one cable in the picture of resistance over length.
type lengthPoint struct {
	name          string
	metre         float64
	ohm, expanded float64
	bad           bool
}

// lengthPicture shows VBUS resistance over length, with the lines of copper wires
// alone, without contacts.
func lengthPicture(points []lengthPoint) template.HTML {
	if len(points) == 0 {
		return ""
	}
	longest, most := 0.0, bench.LimitOhm(bench.VBUS, claims.LeastAmps)
	bad := 0
	for _, p := range points {
		longest, most = math.Max(longest, p.metre), math.Max(most, p.ohm+p.expanded)
		if p.bad {
			bad++
		}
	}
	longest, most = longest*1.15, most*1.12
	const left, right, top, bottom, height = 40.0, 58.0, 20.0, 40.0, 300.0
	d := newDrawing(pictureWidth, height)
	x := scale{0, longest, left, pictureWidth - right}
	y := scale{0, most, height - bottom, top}
	for _, t := range ticks(longest) {
		d.line("grid", x.of(t), y.at, x.of(t), y.end)
		d.text("t small num", "middle", x.of(t), y.at+16, fmt.Sprintf("%g", math.Round(t*1000)/1000))
	}
	for _, t := range ticks(1000 * most) {
		d.line("grid", x.at, y.of(t/1000), x.end, y.of(t/1000))
		d.text("t small num", "end", left-6, y.of(t/1000)+4, fmt.Sprintf("%g", t))
	}
	d.text("t small", "middle", (x.at+x.end)/2, height-6, "length / m")
	d.text("t small", "start", 0, 11, "VBUS / mΩ")
	for _, g := range gauges {
		slope := bench.CopperOhmMetre / quantity.GaugeArea(g)
		endX, endY := longest, slope*longest
		if endY > most {
			endX, endY = most/slope, most
		}
		d.line("gauge", x.at, y.at, x.of(endX), y.of(endY))
		if endY < most {
			d.text("t small faint", "start", x.of(endX)+4, y.of(endY)+4, fmt.Sprintf("AWG %g", g))
		} else {
			d.text("t small faint", "start", x.of(endX)+3, top+10, fmt.Sprintf("%g", g))
		}
	}
	for _, amps := range []float64{5, claims.LeastAmps} {
		l := bench.LimitOhm(bench.VBUS, amps)
		d.line("limit", x.at, y.of(l), x.end, y.of(l))
		d.text("t small strong", "start", x.end+4, y.of(l)-3, fmt.Sprintf("%g A", amps))
	}
	for _, p := range points {
		px, py := x.of(p.metre), y.of(p.ohm)
		if p.expanded > 0 {
			d.line("bar", px, y.of(p.ohm-p.expanded), px, y.of(p.ohm+p.expanded))
		}
		if p.bad {
			d.diamond("dot bad", px, py, dotRadius+0.5)
		} else {
			d.circle("dot", px, py, dotRadius-0.5)
		}
	}
	if len(points) == 1 {
		p := points[0]
		return d.picture(fmt.Sprintf("VBUS of %s over length: %s mΩ at %s. Lines show what copper wire alone has, AWG 20 to 28, and the limits at 5 A and 3 A.",
			p.name, milliohm(p.ohm), quantity.Format(p.metre, quantity.Length, 3)))
	}
	return d.picture(fmt.Sprintf("VBUS resistance of %d records over length; %d of them, drawn as diamonds, have a contradiction or a breach. Lines show what copper wire alone has, AWG 20 to 28, and the limits at 5 A and 3 A.", len(points), bad))
}

// wordPicture is the bit map of a word: its 32 bits, gathered by field. Fields are
// numbered as in the table beside it.
func wordPicture(w Word) template.HTML {
	const cell, top = pictureWidth / 32, 16.0
	d := newDrawing(pictureWidth, 66)
	for i, f := range w.Fields {
		high, low := f.Bits[0], f.Bits[1]
		x, width := float64(31-high)*cell, float64(high-low+1)*cell
		class := "field"
		switch {
		case f.Standing == "reserved":
			class = "field hollow"
			if f.Raw != 0 {
				class = "field wrong"
			}
		case i%2 == 1:
			class = "field other"
		}
		d.rect(class, x+0.75, top, width-1.5, 32)
		for bit := high; bit >= low; bit-- {
			d.text("t num bit", "middle", float64(31-bit)*cell+cell/2, top+21, fmt.Sprint(f.Raw>>(bit-low)&1))
		}
		d.text("t small", "middle", x+width/2, top+47, fmt.Sprint(i+1))
		d.text("t tiny num", "middle", x+cell/2, top-5, fmt.Sprint(high))
		if low != high {
			d.text("t tiny num", "middle", x+width-cell/2, top-5, fmt.Sprint(low))
		}
	}
	return d.picture(fmt.Sprintf("The bits of word %d, %s, by field; the table says what each field means.", w.Index, w.Word))
}

// sitting is one date in the picture of drift.
type sitting struct {
	date         time.Time
	vbus, ground *bench.Estimate
}

func sittingsOf(ss []shelf.Sitting) []sitting {
	var out []sitting
	for _, s := range ss {
		if s.Result.VBUS != nil || s.Result.Ground != nil {
			out = append(out, sitting{s.Date, s.Result.VBUS, s.Result.Ground})
		}
	}
	return out
}

// driftPicture shows resistance over time.
func driftPicture(cable string, ss []sitting) template.HTML {
	if len(ss) < 2 {
		return ""
	}
	most := 0.0
	for _, s := range ss {
		for _, e := range []*bench.Estimate{s.vbus, s.ground} {
			if e != nil {
				most = math.Max(most, e.Ohm+e.Expanded)
			}
		}
	}
	most *= 1.25
	const left, right, top, bottom, height = 40.0, 64.0, 22.0, 30.0, 210.0
	d := newDrawing(pictureWidth, height)
	first, last := ss[0].date, ss[len(ss)-1].date
	x := scale{0, last.Sub(first).Hours(), left + 36, pictureWidth - right}
	y := scale{0, most, height - bottom, top}
	for _, t := range ticks(1000 * most) {
		d.line("grid", left, y.of(t/1000), pictureWidth-right+10, y.of(t/1000))
		d.text("t small num", "end", left-6, y.of(t/1000)+4, fmt.Sprintf("%g", t))
	}
	d.text("t small", "start", 0, 12, "mΩ")
	lastLabel := math.Inf(-1)
	for i, s := range ss {
		at := x.of(s.date.Sub(first).Hours())
		if at-lastLabel < 84 && i > 0 {
			continue
		}
		d.text("t small num", "middle", at, height-8, s.date.Format(time.DateOnly))
		lastLabel = at
	}
	var alt []string
	for _, series := range []struct {
		name string
		of   func(sitting) *bench.Estimate
	}{{"VBUS", func(s sitting) *bench.Estimate { return s.vbus }}, {"ground", func(s sitting) *bench.Estimate { return s.ground }}} {
		var points [][2]float64
		var said []string
		for _, s := range ss {
			e := series.of(s)
			if e == nil {
				continue
			}
			at := x.of(s.date.Sub(first).Hours())
			points = append(points, [2]float64{at, y.of(e.Ohm)})
			said = append(said, fmt.Sprintf("%s on %s", shelf.OhmText(e), s.date.Format(time.DateOnly)))
			d.line("bar", at, y.of(e.Ohm-e.Expanded), at, y.of(e.Ohm+e.Expanded))
			d.circle("dot", at, y.of(e.Ohm), dotRadius)
		}
		if len(points) == 0 {
			continue
		}
		d.polyline("path", points)
		end := points[len(points)-1]
		d.text("t small strong", "start", end[0]+9, end[1]+4, series.name)
		alt = append(alt, series.name+" "+strings.Join(said, ", "))
	}
	return d.picture(cable + " over time: " + strings.Join(alt, "; ") + ".")
}

// part is a stretch of a stacked bar.
type part struct {
	class, name string
	n           int
}

// barsPicture draws rows of stacked bars on one scale.
func barsPicture(what string, names []string, rows [][]part) template.HTML {
	most := 1
	for _, r := range rows {
		n := 0
		for _, p := range r {
			n += p.n
		}
		most = max(most, n)
	}
	const left, rowHeight = 88.0, 28.0
	d := newDrawing(pictureWidth, rowHeight*float64(len(rows))+2)
	x := scale{0, float64(most), left, pictureWidth - 40}
	var alt []string
	for i, r := range rows {
		y := rowHeight*float64(i) + 2
		d.text("t", "start", 0, y+17, names[i])
		at := 0
		var said []string
		for _, p := range r {
			if p.n == 0 {
				continue
			}
			from, to := x.of(float64(at)), x.of(float64(at+p.n))
			d.rect("seg "+p.class, from+0.5, y, to-from-1, 22)
			label := fmt.Sprint(p.n)
			if len(r) > 1 && to-from > 10+7*float64(len(label)) {
				d.text("t num seglabel "+p.class, "middle", (from+to)/2, y+16, label)
			}
			at += p.n
			said = append(said, strings.TrimSpace(fmt.Sprintf("%d %s", p.n, p.name)))
		}
		d.text("t small num", "start", x.of(float64(at))+6, y+17, fmt.Sprint(at))
		alt = append(alt, names[i]+": "+strings.Join(said, ", "))
	}
	return d.picture(what + ". " + strings.Join(alt, "; ") + ".")
}

// shownPicture shows how many records fall into each rating.
func shownPicture(s shelf.Summary) template.HTML {
	var names []string
	var rows [][]part
	for _, n := range s.Shown {
		name, class := shownName(n.PowerW), "plain"
		if n.PowerW == 0 {
			name, class = "none", "bad"
		}
		names, rows = append(names, name), append(rows, []part{{class, "", n.Records}})
	}
	return barsPicture("Records by the power shown", names, rows)
}

// claimsPicture shows how the claims ended.
func claimsPicture(s shelf.Summary) template.HTML {
	var names []string
	var rows [][]part
	for _, n := range s.Claims {
		names = append(names, string(n.Property))
		rows = append(rows, []part{{"good", "confirmed", n.Confirmed}, {"bad", "contradicted", n.Contradicted}, {"open", "not shown", n.NotShown}})
	}
	return barsPicture("Claims by how they ended", names, rows)
}
