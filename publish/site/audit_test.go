package site

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"plansheaf/publish/inspect"
	"plansheaf/publish/page"
	"plansheaf/publish/site/browser"
)

// The accessibility audit runs axe-core over every kind of page on a wide screen
// in light, and over those with most in them on a phone in dark. PLANSHEAF_AXE
// names its axe.min.js.
func TestAccessibility(t *testing.T) {
	t.Parallel()
	axe, err := os.ReadFile(inspect.Setting(t, "PLANSHEAF_AXE", "the path of axe-core's axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	b := browser.Start(t, write(t))
	rich := map[page.Kind]bool{page.Front: true, page.Safety: true, page.Choices: true, page.PartsList: true,
		page.Prose: true, page.Assembly: true, page.Calculation: true, page.Shopping: true, page.Changes: true}
	for _, screen := range []struct {
		name, scheme string
		width        int64
		only         map[page.Kind]bool // nil: all kinds
	}{
		{name: "wide, light", scheme: "light", width: 1280},
		{name: "phone, dark", scheme: "dark", width: 360, only: rich},
	} {
		b.See(screen.width, screen.scheme, true)
		seen := map[page.Kind]bool{}
		for _, p := range sample().Pages {
			if seen[p.Kind] || screen.only != nil && !screen.only[p.Kind] {
				continue
			}
			seen[p.Kind] = true
			b.Visit(p.ID + ".html")
			audit(t, b, string(axe), p.ID+", "+screen.name)
			if p.Kind == page.Front {
				b.Click(".setup summary")
				audit(t, b, "", p.ID+", set up open, "+screen.name)
				b.Click("[data-open-search]")
				audit(t, b, "", p.ID+", search open, "+screen.name)
			}
			if p.Kind == page.Changes {
				pick(b, "frame.posts")
				audit(t, b, "", p.ID+", half way, "+screen.name)
			}
		}
		b.Click(`form.panel [data-choice="drive"][value="crank"]`)
	}
}

// audit runs the rules of axe-core, its advice on good practice too, and the rule on
// the size of targets (WCAG 2.2), which is off unless asked for.
func audit(t *testing.T, b *browser.Tab, axe, name string) {
	t.Helper()
	b.Under(t)
	if axe != "" {
		browser.Eval[bool](b, axe+"\n;true")
	}
	report := browser.Eval[[]string](b, `axe.run(document, {
		preload: false, resultTypes: ["violations"], rules: {"target-size": {enabled: true}}}).then((r) => r.violations.flatMap((v) =>
		v.nodes.map((n) => v.id + ": " + v.help + " at " + n.target.join(" ") + " " + (n.any[0]?.message || ""))))`)
	for _, line := range report {
		t.Errorf("%s: %s", name, line)
	}
}

// The validity check runs html-validate's rules of the HTML standard over every
// page. PLANSHEAF_HTML_VALIDATE names its script bin/html-validate.mjs.
func TestHTMLIsValid(t *testing.T) {
	t.Parallel()
	script := inspect.Setting(t, "PLANSHEAF_HTML_VALIDATE", "the path of html-validate's script")
	folder := write(t)
	config := filepath.Join(folder, ".htmlvalidate.json")
	if err := os.WriteFile(config, []byte(`{"root": true, "extends": ["html-validate:standard"]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	command := exec.Command("node", script, "--formatter", "text", "--ext", "html", folder)
	command.Dir = folder
	out, err := command.CombinedOutput()
	if err != nil {
		t.Errorf("html-validate: %v\n%s", err, bytes.ReplaceAll(out, []byte(folder), nil))
	}
}
