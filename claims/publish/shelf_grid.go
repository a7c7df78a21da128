package publish

import (
	"slices"
	"strings"
)

// grid is a table of text. Columns of text give way, by wrapping, where the table
// is wider than Width; columns of numbers never do. Where that is not enough, the
// table is as wide as it is.
type grid struct {
	head []gridHead
	rows [][]gridCell
}

type gridHead struct {
	text  string
	right bool // numbers
}

type gridCell struct{ text, code string }

func (t *grid) add(cells ...string) {
	row := make([]gridCell, len(cells))
	for i, c := range cells {
		row[i].text = c
	}
	t.rows = append(t.rows, row)
}

const (
	gridGap   = 2
	gridLeast = 8 // columns of text are not made narrower
)

func (t *grid) widths() []int {
	w := make([]int, len(t.head))
	total := 0
	for i, h := range t.head {
		w[i] = columns(h.text)
		for _, r := range t.rows {
			w[i] = max(w[i], columns(r[i].text))
		}
		total += w[i] + gridGap
	}
	total -= gridGap
	natural := slices.Clone(w)
	for total > Width {
		widest := -1
		for i, h := range t.head {
			if !h.right && w[i] > max(gridLeast, columns(h.text)) && (widest < 0 || w[i] > w[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			return natural
		}
		w[widest]--
		total--
	}
	return w
}

func (t *grid) write(b *strings.Builder, style Style) {
	w := t.widths()
	line := func(cells []gridCell, code string) {
		lines := make([][]string, len(cells))
		height := 1
		for i, c := range cells {
			lines[i] = []string{c.text}
			if columns(c.text) > w[i] {
				lines[i] = wrap(c.text, w[i])
			}
			height = max(height, len(lines[i]))
		}
		for n := range height {
			var out strings.Builder
			blanks := 0
			for i, c := range cells {
				text := ""
				if n < len(lines[i]) {
					text = lines[i][n]
				}
				fill := max(0, w[i]-columns(text))
				if t.head[i].right {
					blanks += fill
					fill = 0
				}
				if text != "" {
					out.WriteString(strings.Repeat(" ", blanks))
					blanks = 0
					if code != "" {
						c.code = code
					}
					out.WriteString(style.paint(c.code, text))
				}
				blanks += fill + gridGap
			}
			b.WriteString(out.String() + "\n")
		}
	}
	head := make([]gridCell, len(t.head))
	for i, h := range t.head {
		head[i].text = h.text
	}
	line(head, bold)
	for _, r := range t.rows {
		line(r, "")
	}
}
