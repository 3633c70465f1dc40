package preview_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"plansheaf/design/finding"
	"plansheaf/publish/preview"
	"plansheaf/publish/site/browser"
)

// until waits for an expression in the page to be true, through reloads.
func until(t *testing.T, tab *browser.Tab, expression string) {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if browser.Eval[bool](tab, expression) {
			return
		}
	}
	t.Fatalf("%s does not come true; the page says %q", expression, browser.Eval[string](tab, "document.body.innerText"))
}

// A page comes anew after a build, where its reader was, and lists what was found.
func TestPageFollows(t *testing.T) {
	tab := browser.Start(t, t.TempDir())
	b := start(t, page("first"))
	b.state(t, "0")
	tab.Widen(800)
	tab.Open(b.url + "/")
	until(t, tab, "document.querySelector('h1').textContent === 'first'")
	if browser.Eval[bool](tab, "document.querySelector('.preview-findings') !== null") {
		t.Error("findings are shown where there are none")
	}
	browser.Eval[bool](tab, "scrollTo(0, 700); true")

	b.change(page("second", finding.Finding{Severity: finding.Error, Message: "too <b>short</b>", Remedy: "take 25 mm", At: finding.Span{File: "parts/a.yaml", Line: 3, Column: 5}}))
	until(t, tab, "document.querySelector('h1').textContent === 'second'")
	until(t, tab, "Math.abs(scrollY - 700) < 2")
	until(t, tab, "document.querySelector('.preview-findings summary')?.textContent === '1 finding, 1 error'")
	items := browser.Eval[string](tab, "document.querySelector('.preview-findings ol').textContent")
	if !strings.Contains(items, "parts/a.yaml:3:5 too <b>short</b>") || !strings.Contains(items, "take 25 mm") {
		t.Errorf("the findings say %q", items)
	}

	b.change(preview.Built{Err: errors.New("open plan: gone")})
	until(t, tab, "document.querySelector('.preview-findings summary')?.textContent === 'Not built: open plan: gone'")
	if got := browser.Eval[string](tab, "document.querySelector('h1').textContent"); got != "second" {
		t.Errorf("a build that failed shows %q", got)
	}
	b.change(page("third"))
	until(t, tab, "document.querySelector('h1').textContent === 'third' && document.querySelector('.preview-findings') === null")
	for _, fault := range tab.Faults() {
		t.Errorf("the browser says: %s", fault)
	}
}
