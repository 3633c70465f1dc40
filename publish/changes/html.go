package changes

import (
	"bytes"
	"fmt"
	"html/template"

	"plansheaf/design/change"
	"plansheaf/publish/picture"
	"plansheaf/themes"
)

// HTML is the report as one page that opens without a network and without other files,
// dressed as the site is, with pictures of changed parts by their names in the new
// revision.
func (r Report) HTML(pictures map[string]*picture.Picture) ([]byte, error) {
	style, err := themes.Site.ReadFile("site/style.css")
	if err != nil {
		return nil, fmt.Errorf("read the style sheet: %w", err)
	}
	type shown struct {
		Words   string
		Rows    []change.Field
		List    []string
		Picture template.HTML
	}
	type part struct {
		Title, About string
		Long         bool
		Items        []shown
	}
	page := struct {
		Title, Sum string
		Style      template.CSS
		Sections   []part
	}{Title: r.title(), Sum: r.sum(), Style: template.CSS(string(style) + picture.StyleSheet() + ownStyle)}
	for _, s := range r.outline() {
		one := part{Title: s.title, About: s.about, Long: s.long}
		for _, it := range s.items {
			x := shown{Words: it.words, Rows: it.rows, List: it.list}
			if p := pictures[it.part]; it.part != "" && p != nil {
				svg, err := picture.InlineSVG(p)
				if err != nil {
					return nil, fmt.Errorf("write the picture of %q: %w", it.part, err)
				}
				x.Picture = template.HTML(svg)
			}
			one.Items = append(one.Items, x)
		}
		page.Sections = append(page.Sections, one)
	}
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, page); err != nil {
		return nil, fmt.Errorf("write the comparison as HTML: %w", err)
	}
	return b.Bytes(), nil
}

// ownStyle is what the page needs beside the site's style: old values are struck
// through, new ones bold, so that colour is not the only sign.
const ownStyle = `
:root { --pic-ink: var(--ink); --pic-accent: var(--accent); --pic-paper: var(--picture); --pic-faint: var(--ink-2); }
body { background: var(--paper); }
.changes { max-width: 76rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; }
.changes section { margin-top: 1.25rem; }
.changes table { width: auto; min-width: 50%; margin: 0.25rem 0 1rem; }
.changes li { margin: 0.4rem 0; }
.changes del { color: var(--ink-2); }
.changes ins { font-weight: 700; text-decoration: none; }
.changes summary { cursor: pointer; }
.changes summary h2 { display: inline; }
.changes svg { width: 100%; max-width: 60rem; height: auto; background: var(--picture); border: 1px solid var(--rule); }
`

var pageTemplate = template.Must(template.New("changes").Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<title>{{.Title}}</title>
<style>{{.Style}}</style>
</head>
<body>
<main class="changes">
<h1>{{.Title}}</h1>
<p>{{.Sum}}</p>
{{- range .Sections}}
<section>
{{- if .Long}}
<details><summary><h2>{{.Title}}</h2> ({{len .Items}})</summary>{{else}}
<h2>{{.Title}}</h2>{{end}}
{{- with .About}}
<p class="small">{{.}}</p>{{end}}
<ul>
{{- range .Items}}
<li>{{.Words}}
{{- with .List}}
<ul>{{range .}}<li>{{.}}</li>{{end}}</ul>{{end}}
{{- with .Rows}}
<table><thead><tr><th scope="col">What</th><th scope="col">Before</th><th scope="col">Now</th></tr></thead><tbody>
{{- range .}}
<tr><th scope="row">{{.What}}</th><td>{{with .Old}}<del>{{.}}</del>{{else}}–{{end}}</td><td>{{with .New}}<ins>{{.}}</ins>{{else}}–{{end}}</td></tr>{{end}}
</tbody></table>{{end}}
{{- with .Picture}}
{{.}}{{end}}</li>{{end}}
</ul>
{{- if .Long}}
</details>{{end}}
</section>{{end}}
</main>
</body>
</html>
`))
