package publish

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"slices"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/shelf"
)

// strip is one cable on one scale of watts: what it is sold as, what its marker allows,
// and what the bench shows.
type strip struct {
	verdict  claims.Verdict
	rating   claims.Rating
	markerW  float64 // 0 where the marker allows nothing, or there is none
	measured bool
}

func newStrip(c *claims.Case, r *claims.Report) strip {
	return strip{r.Verdict, r.Rating, float64(c.MarkerSupport().Tier.Watts), r.Bench != nil}
}

func itemStrip(it *shelf.Item) strip {
	return strip{it.Verdict, it.Rating, float64(it.Marker.Tier.Watts), it.Measured()}
}

// shownW is what the bench shows, in W; known is false where it shows nothing yet.
func (s strip) shownW() (watts float64, known bool) {
	if s.verdict.ShownW == nil {
		return 0, false
	}
	return float64(*s.verdict.ShownW), true
}

func (s strip) soldW() float64 {
	if s.verdict.SoldW == nil {
		return 0
	}
	return *s.verdict.SoldW
}

// shortW is how much less is shown than sold, in W. Whether it is missing or not shown yet
// is failed's.
func (s strip) shortW() float64 {
	shown, known := s.shownW()
	if !known || s.verdict.SoldW == nil {
		return 0
	}
	return math.Max(0, s.soldW()-shown)
}

// failed reports whether what is short was measured and fails, rather than not settled.
func (s strip) failed() bool {
	shown, known := s.shownW()
	return known && shown == 0 || slices.Contains(s.verdict.Contradicted, claims.Power) ||
		slices.Contains(s.verdict.Contradicted, claims.Current) || slices.Contains(s.verdict.Contradicted, claims.Voltage)
}

// shortWords label what is short.
func (s strip) shortWords() string {
	return watts(s.shortW()) + pick(s.failed(), " short", " not shown")
}

func watts(w float64) string { return quantity.Format(w, quantity.Power, 4) }

// The words of a strip's three rows.
func (s strip) soldWords() string {
	switch {
	case s.verdict.SoldW != nil:
		return "sold " + watts(s.soldW())
	case s.verdict.Outcome == claims.OutcomeNoClaim:
		return "no claim recorded"
	}
	return "no power claimed"
}

func (s strip) markerWords() string {
	if s.markerW == 0 {
		return "no power declared"
	}
	return "marker " + watts(s.markerW)
}

func (s strip) shownWords() string {
	switch shown, known := s.shownW(); {
	case !known && !s.measured:
		return "not measured"
	case !known:
		return "not settled"
	case shown == 0:
		return "fails at 3 A"
	default:
		return "shown " + watts(shown)
	}
}

// outcomeWords are the outcome with its sign and class.
func outcomeWords(v claims.Verdict, against bool) (sign, word, class string) {
	switch {
	case v.Outcome == claims.OutcomeContradicted, against && v.Outcome == claims.OutcomeNoClaim:
		return "✕", "contradicted", "bad"
	case v.Outcome == claims.OutcomeConfirmed:
		return "●", "confirmed", "good"
	case v.Outcome == claims.OutcomeNoClaim:
		return "–", "no claim", "plain"
	}
	return "○", "open", "open"
}

// alt says in words what a strip shows.
func (s strip) alt() string {
	text := fmt.Sprintf("One scale of watts. Seller: %s. Marker: %s. Bench: %s", s.soldWords(), strings.TrimPrefix(s.markerWords(), "marker "), s.shownWords())
	if s.shortW() > 0 {
		text += ", " + s.shortWords() + " of the claim"
	}
	return text + "."
}

// stripSize is how a strip is drawn: its width, and the size of its text, on which all
// heights hang.
type stripSize struct{ width, text, names float64 }

var (
	stripWide  = stripSize{1000, 16, 76}
	stripPhone = stripSize{340, 13, 0}
	stripFile  = stripSize{1040, 34, 0}
)

// stripEnd is the end of the scale, a little above the highest tier.
const stripEnd = 262.0

// wattScale is the scale of a strip: lengths go by the square root, so that the lower
// tiers have room.
type wattScale struct{ at, width float64 }

func (s wattScale) of(w float64) float64 {
	return s.at + s.width*math.Sqrt(math.Min(w, stripEnd)/stripEnd)
}

// textWidth estimates the width of a text in a sans-serif face.
func textWidth(s string, size float64) float64 { return textShare * size * float64(columns(s)) }

// textShare is the mean width of a letter, in parts of the text's size, generous so that
// bold text fits too.
const textShare = 0.61

// draw draws the three rows and the scale; it returns the height used. The names of the
// rows stand at the left where the size has room for them.
func (s strip) draw(d *drawing, size stripSize, left, top float64) (height float64) {
	t := size.text
	row := 2.1 * t
	x := wattScale{left + size.names, size.width - size.names - 0.5*t}
	end := x.at + x.width
	base := top + 3*row + 0.5*t
	label := func(class, anchor string, at, y float64, text string) {
		d.sized("t "+class, anchor, at, y, t, text)
	}
	// beside writes a text right of a place, or left of it where the right has no room.
	beside := func(class string, at, gap, y float64, text string) {
		if at+gap+textWidth(text, t) > end && at-gap-textWidth(text, t) >= x.at {
			label(class, "end", at-gap, y, text)
			return
		}
		label(class, "start", at+gap, y, text)
	}
	for i, name := range []string{"seller", "marker", "bench"} {
		if size.names > 0 {
			label("faint", "start", left, top+row*float64(i)+1.45*t, name)
		}
	}
	for _, w := range []float64{0, 15, 60, 100, 240} {
		d.line("grid", x.of(w), top, x.of(w), base)
	}
	// The bench: a bar that ends at what is shown, and what is short, hatched.
	y, high := top+2*row+0.15*t, 1.9*t
	shown, known := s.shownW()
	sold := s.soldW()
	short := s.shortW()
	if known && shown == 0 && sold == 0 {
		short = 60 // the least that a Type-C cable has to carry, for the eye
	}
	if short > 0 {
		d.rect(pick(s.failed(), "gap", "unknown"), x.of(shown), y, x.of(shown+short)-x.of(shown), high)
	}
	if known {
		d.rect("shownbar", x.at, y, x.of(shown)-x.at, high)
	}
	words, short1 := s.shownWords(), s.shortWords()
	bar := x.of(shown) - x.at
	switch {
	case !known:
		d.rect("unknown", x.at, y, x.width, high)
		label("faint halo", "start", x.at+0.5*t, y+1.3*t, words)
	case shown == 0:
		s.onGap(d, x.at, x.of(short), y, t, words)
	case bar > textWidth(words, t)+t:
		label("strong onbar", "start", x.at+0.5*t, y+1.3*t, words)
	default:
		label("strong halo", "start", x.of(shown+short)+0.4*t, y+1.3*t, words)
	}
	if shown > 0 && short > 0 {
		from, to := x.of(shown), x.of(sold)
		switch {
		case to-from > textWidth(short1, t)+t:
			s.onGap(d, from, to, y, t, short1)
		default:
			beside("strong halo "+pick(s.failed(), "bad", "open"), to, 0.5*t, y+1.3*t, short1)
		}
	}
	// The marker: a square.
	y = top + row + 0.55*t
	if s.markerW > 0 {
		at := x.of(s.markerW)
		d.rect("square", at-0.5*t, y, t, t)
		beside("halo", at, t, y+0.85*t, s.markerWords())
	} else {
		label("faint halo", "start", x.at+0.5*t, y+0.85*t, s.markerWords())
	}
	// The seller: an open flag whose pole goes through all rows.
	y = top + 0.1*t
	if s.verdict.SoldW != nil {
		at, words := x.of(sold), s.soldWords()
		width := textWidth(words, t) + 1.6*t
		to := at + width
		if to > end {
			to = at - width
		}
		tail := 0.45 * t * (at - to) / math.Abs(at-to)
		d.path("flag", fmt.Sprintf("M%s %sV%sH%sl%s %sl%s %sH%s", px(at), px(base), px(y), px(to), px(tail), px(0.8*t), px(-tail), px(0.8*t), px(at)))
		label("strong", "start", math.Min(at, to)+0.7*t, y+1.15*t, words)
	} else {
		label("faint halo", "start", x.at+0.5*t, y+1.15*t, s.soldWords())
	}
	d.line("base", x.at, base, end, base)
	for _, w := range []float64{15, 60, 100, 240} {
		d.line("base", x.of(w), base, x.of(w), base+0.35*t)
		label("num", "middle", x.of(w), base+1.5*t, watts(w))
	}
	return base + 1.9*t - top
}

// onGap writes on the hatched part, on a plate of the paper's colour.
func (s strip) onGap(d *drawing, from, to, y, t float64, text string) {
	w := math.Min(textWidth(text, t)+0.8*t, to-from-0.4*t)
	d.rect("plate", (from+to-w)/2, y+0.25*t, w, 1.4*t)
	d.sized("t strong "+pick(s.failed(), "bad", "open"), "middle", (from+to)/2, y+1.3*t, t, text)
}

// picture draws a strip for a page.
func (s strip) picture(size stripSize) template.HTML {
	d := newDrawing(size.width, 0)
	d.h = s.draw(d, size, 0, 2) + 2
	return d.picture(s.alt())
}

// cell draws a strip for a cell of a table, 120 by 16; the table has its numbers.
func (s strip) cell() template.HTML {
	x := wattScale{0, 120}
	var b strings.Builder
	b.WriteString(`<svg class="cell" viewBox="0 0 120 16" aria-hidden="true">`)
	shown, known := s.shownW()
	switch {
	case !known:
		b.WriteString(`<path class="unknown" d="M.5 6.500h119v8H.5z"/>`)
	case s.shortW() > 0:
		fmt.Fprintf(&b, `<path class="%s" d="M%s 6.500H%sv8H%sz"/>`, pick(s.failed(), "gap", "unknown"), px(x.of(shown)), px(x.of(s.soldW())), px(x.of(shown)))
		fallthrough
	default:
		fmt.Fprintf(&b, `<path class="shownbar" d="M0 6H%sv9H0z"/>`, px(x.of(shown)))
	}
	if s.markerW > 0 {
		fmt.Fprintf(&b, `<path class="square" d="M%s 1h4v4h-4z"/>`, px(x.of(s.markerW)-2))
	}
	if s.verdict.SoldW != nil {
		fmt.Fprintf(&b, `<path class="pole" d="M%s 1v14"/>`, px(x.of(s.soldW())))
	}
	b.WriteString("</svg>")
	return template.HTML(strings.ReplaceAll(b.String(), ".500", ".5"))
}

// stripStyle are the colours of a strip that stands alone; a page has its own.
const stripStyle = `.t{font-family:system-ui,"Segoe UI",Roboto,"Noto Sans","DejaVu Sans",sans-serif;fill:#1c2733}` +
	`.strong{font-weight:700}.faint{fill:#4c5863}.bad{fill:#a1320f}.good{fill:#0b6a5c}.open{fill:#6d4d00}.plain{fill:#4c5863}` +
	`.onbar{fill:#fff}.halo{paint-order:stroke;stroke:#fff;stroke-width:7px;stroke-linejoin:round}` +
	`.shownbar{fill:#1c2733}.gap{fill:url(#hatch);stroke:#a1320f;stroke-width:2}.plate{fill:#fff}` +
	`.unknown{fill:none;stroke:#4c5863;stroke-width:2;stroke-dasharray:10 8}.square{fill:#fff;stroke:#1c2733;stroke-width:5}` +
	`.flag{fill:#fff;stroke:#1c2733;stroke-width:3.5;stroke-linejoin:round}.grid{stroke:#d9dde1;stroke-width:2}.base{stroke:#1c2733;stroke-width:3}`

// hatch is the pattern of what is short of the claim, in the colours of its place.
func hatch(step float64, paper, ink string) string {
	return fmt.Sprintf(`<defs><pattern id="hatch" width="%[1]s" height="%[1]s" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`+
		`<rect width="%[1]s" height="%[1]s" %[3]s/><rect width="%[2]s" height="%[1]s" %[4]s/></pattern></defs>`, px(step), px(step*0.3), paper, ink)
}

// StripSVG is the verdict of a cable as one picture that needs no page: 1200 by 630, to
// be read as a thumbnail of 300 pixels too.
func StripSVG(c *claims.Case, r *claims.Report) string {
	s := newStrip(c, r)
	d := newDrawing(1200, 630)
	const left, room = 80.0, 1040.0
	id := clipped(r.Cable, 34, room)
	d.sized("t strong", "start", left, 72, 34, id)
	if rest := room - textWidth(id, 36) - 24; r.Label != "" && rest > 200 {
		d.sized("t faint", "end", left+room, 72, 34, clipped(r.Label, 34, rest))
	}
	head := strings.TrimSuffix(strings.TrimSuffix(s.shownWords(), "."), " yet")
	head = capital(strings.Replace(head, "shown ", "shown to carry ", 1))
	d.sized("t strong", "start", left, 172, 82, head)
	sold := capital(strings.Replace(s.soldWords(), "sold ", "sold as ", 1))
	d.sized("t", "start", left, 252, 54, sold)
	sign, word, class := outcomeWords(r.Verdict, r.Contradicted())
	word = capital(word)
	if class == "bad" && len(r.Verdict.Contradicted) > 0 && s.shortW() == 0 {
		word += ": " + claims.PropertyList(r.Verdict.Contradicted[:1])
	}
	outcome, size := sign+" "+word, 54.0
	for size > 42 && textWidth(sold, 54)+40+textWidth(outcome, size) > room {
		size--
	}
	d.sized("t strong "+class, "start", left+textWidth(sold, 54)+40, 252, size, clipped(outcome, size, room-textWidth(sold, 54)-40))
	s.draw(d, stripFile, left, 292)
	d.sized("t faint", "start", left, 610, 26, clipped(stripFoot(r), 26, room))
	title := r.Cable + ": " + r.Lines()[0]
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1200 630" width="1200" height="630" role="img" aria-labelledby="title words">`+
		"<title id=\"title\">%s</title><desc id=\"words\">%s</desc><style>%s</style>%s<rect width=\"1200\" height=\"630\" fill=\"#fff\"/>%s</svg>\n",
		html.EscapeString(Plain(title)), html.EscapeString(Plain(s.alt())), stripStyle, hatch(14, `fill="#fff"`, `fill="#a1320f"`), d.b.String())
}

// stripFoot is the number that decides, and when and by whom it was measured.
func stripFoot(r *claims.Report) string {
	text := worstText(r)
	if m := r.Measured; m != nil {
		var when []string
		if n := len(m.Dates); n > 0 {
			when = append(when, m.Dates[n-1])
		}
		if m.By != "" {
			when = append(when, "by "+m.By)
		}
		if when != nil {
			text += " · measured " + strings.Join(when, " ")
		}
	}
	return text
}

// clipped cuts a text to a width, with an ellipsis.
func clipped(s string, size, width float64) string {
	s = Plain(s)
	if textWidth(s, size) <= width {
		return s
	}
	keep := max(1, int(width/(textShare*size))-1)
	return strings.TrimRight(s[:columnsIn(s, keep)], " ,") + "…"
}
