package publish

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/shelf"
)

// A page is self-contained: style, script and pictures stand in it, and its
// content security policy forbids it to load or send anything. Text from records
// goes through Plain and html/template.

//go:embed page.tmpl page_cable.tmpl page_shelf.tmpl
var pageTemplates embed.FS

//go:embed page.css
var pageStyle string

//go:embed page_shelf.js
var pageScript string

// pages is parsed when the first page is made: no other command waits for it.
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"plain":      unbrokenUnits,
		"bdi":        isolated,
		"claimed":    claimed,
		"note":       ratingNote,
		"by":         endedBy,
		"standing":   standingClass,
		"kind":       func(f claims.Finding) string { return kindClass(f.Kind, f.Waived != "") },
		"across":     func(a shelf.Across) string { return kindClass(a.Kind, false) },
		"silent":     silent,
		"group":      groupName,
		"share":      shareText,
		"claimsline": claimsLine,
		"groupshare": func(g shelf.Group) string {
			low, high := shelf.ClopperPearson(g.Contradicted, g.Records, shelf.Confidence)
			return fmt.Sprintf("%.1f to %.1f %%", 100*low, 100*high)
		},
		"shown": func(it *shelf.Item) string { return shelf.ColumnNamed("shown").Of(it).Text },
	}).ParseFS(pageTemplates, "*.tmpl"))
})

// unbrokenUnits keeps a number and its unit on one line.
func unbrokenUnits(s string) string {
	s = shortened(s)
	words := strings.Split(Plain(s), " ")
	var b strings.Builder
	for i, w := range words {
		switch {
		case i == 0:
		case w != "" && words[i-1] != "" && endsInDigit(words[i-1]) && isUnit(w):
			b.WriteRune('\u00a0')
		default:
			b.WriteByte(' ')
		}
		b.WriteString(w)
	}
	return b.String()
}

func standingClass(s claims.Standing) string {
	switch s {
	case claims.Confirmed:
		return "good"
	case claims.Contradicted:
		return "bad"
	}
	return "open"
}

func kindClass(k claims.Kind, waived bool) string {
	switch {
	case waived:
		return "plain"
	case k == claims.Contradiction || k == claims.Breach:
		return "bad"
	case k == claims.Doubt:
		return "open"
	}
	return "plain"
}

// endedBy says by whom a claim ended, or why it did not.
func endedBy(c claims.ClaimOutcome) string {
	var parts []string
	if len(c.By) > 0 {
		parts = append(parts, "by the "+witnessList(c.By))
	}
	if c.Because != "" {
		parts = append(parts, Plain(c.Because))
	}
	return strings.Join(parts, ": ")
}

func silent(s string) string {
	if s == "" {
		return "–"
	}
	return Plain(s)
}

type pageHead struct {
	Title, Policy string
	Style         template.CSS
	Hatch         template.HTML
	Foot          string // of each page in print
	Up            link   // the page above this one; zero without one
}

type link struct{ URL, Text string }

type pageFoot struct {
	NotTested string
	Cautions  []string
	Script    template.JS
}

// isolated is text from a record, kept apart from the direction of what stands around it.
func isolated(s string) template.HTML {
	return template.HTML("<bdi>" + template.HTMLEscapeString(unbrokenUnits(s)) + "</bdi>")
}

// printFoot is the running foot of a page in print. A style sheet cannot take text from
// the page, so each page has a digest of its own sheet.
func printFoot(text string) string {
	quoted := strings.NewReplacer(`\`, `\5c `, `"`, `\22 `, `<`, `\3c `, "\n", " ").Replace(Plain(text))
	return "@page{@bottom-left{content:\"" + quoted + "\"}}"
}

// policy allows the page its own style and script, by their digests, and nothing
// else but pictures that stand in it.
func policy(style string, script bool) string {
	digest := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	p := "default-src 'none'; base-uri 'none'; form-action 'none'; img-src data:; style-src " + digest(style)
	if script {
		p += "; script-src " + digest(pageScript)
	}
	return p
}

func writeHead(w io.Writer, title, foot string, up link, script bool) error {
	style := pageStyle + printFoot(foot)
	return pages().ExecuteTemplate(w, "head", pageHead{Title: Plain(title), Policy: policy(style, script), Style: template.CSS(style),
		Hatch: template.HTML(hatch(7, `class="hatchpaper"`, `class="hatchink"`)), Up: up})
}
