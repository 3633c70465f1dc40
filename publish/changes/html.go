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
// dressed as the site is, with the pictures of what changed; drawings may be nil.
func (r Report) HTML(drawings *Drawings) ([]byte, error) {
	style, err := themes.Site.ReadFile("site/style.css")
	if err != nil {
		return nil, fmt.Errorf("read the style sheet: %w", err)
	}
	page := htmlPage{Title: r.title(), Sum: r.sum(), Style: template.CSS(string(style) + picture.StyleSheet() + ownStyle)}
	sections := r.outline()
	// The machine as a whole comes before what changed of it one by one.
	first := 0
	for i, s := range sections {
		if s.title == firstLooks {
			first = i + 1
		}
	}
	for i, s := range sections {
		if i == first {
			if err := page.assemblies(drawings); err != nil {
				return nil, err
			}
		}
		one := htmlSection{Title: s.title, About: s.about, Long: s.long}
		for _, it := range s.items {
			x := htmlItem{Words: it.words, Rows: it.rows, List: it.list}
			if d := drawings.Part(it.part); it.part != "" && d != nil {
				if x.Picture, err = shown(*d); err != nil {
					return nil, err
				}
			}
			one.Items = append(one.Items, x)
		}
		page.Sections = append(page.Sections, one)
	}
	if first == len(sections) {
		if err := page.assemblies(drawings); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, page); err != nil {
		return nil, fmt.Errorf("write the comparison as HTML: %w", err)
	}
	return b.Bytes(), nil
}

// What the template is given.
type (
	htmlPage struct {
		Title, Sum string
		Style      template.CSS
		Sections   []htmlSection
	}
	htmlSection struct {
		Title, About string
		Long         bool
		Items        []htmlItem
	}
	htmlItem struct {
		Words   string
		Rows    []change.Field
		List    []string
		Picture *htmlPicture
	}
	htmlPicture struct {
		SVG    template.HTML
		Case   string
		Legend []string
	}
)

// assemblies adds the section of what looks otherwise put together.
func (p *htmlPage) assemblies(drawings *Drawings) error {
	if drawings == nil || len(drawings.Assemblies)+len(drawings.Left) == 0 {
		return nil
	}
	s := htmlSection{Title: "Put together, before and now", About: "What is dashed was there before, what is wide is new, what is thin stays."}
	for _, d := range drawings.Assemblies {
		pic, err := shown(d)
		if err != nil {
			return err
		}
		pic.Legend = d.Legend
		s.Items = append(s.Items, htmlItem{Words: "assembly " + d.ID + ": " + d.Picture.Title, Picture: pic})
	}
	for _, text := range drawings.Left {
		s.Items = append(s.Items, htmlItem{Words: "Not drawn: " + text})
	}
	p.Sections = append(p.Sections, s)
	return nil
}

// shown is a picture for the page.
func shown(d Drawn) (*htmlPicture, error) {
	svg, err := picture.InlineSVG(d.Picture)
	if err != nil {
		return nil, fmt.Errorf("write the picture of %q: %w", d.ID, err)
	}
	return &htmlPicture{SVG: template.HTML(svg), Case: d.Case}, nil
}

// ownStyle is what the page needs beside the site's style: old values are struck
// through, new ones bold, so that colour is not the only sign.
const ownStyle = `
:root { --pic-ink: var(--ink); --pic-accent: var(--accent); --pic-paper: var(--picture); --pic-faint: var(--ink-2); }
body { background: var(--paper); }
.changes { max-width: 76rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; }
.changes section { margin-top: 1.25rem; }
.changes table { width: auto; min-width: 50%; margin: 0.25rem 0 1rem; }
.changes td, .changes th { overflow-wrap: anywhere; }
.changes li { margin: 0.4rem 0; }
.changes del { color: var(--ink-2); }
.changes ins { font-weight: 700; text-decoration: none; }
.changes summary { cursor: pointer; }
.changes summary h2 { display: inline; }
.changes figure { margin: 0.5rem 0 1rem; max-width: 48rem; }
.changes svg { display: block; width: 100%; height: auto; background: var(--picture); border: 1px solid var(--rule); }
.changes figcaption ul { list-style: none; margin: 0.25rem 0; padding: 0; }
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
<figure>{{.SVG}}
{{- if or .Case .Legend}}
<figcaption>{{with .Case}}With {{.}}.{{end}}
{{- with .Legend}}<ul>{{range .}}<li>{{.}}</li>{{end}}</ul>{{end}}</figcaption>{{end}}</figure>{{end}}</li>{{end}}
</ul>
{{- if .Long}}
</details>{{end}}
</section>{{end}}
</main>
</body>
</html>
`))
