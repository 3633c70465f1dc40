package browser

import (
	"context"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"plansheaf/publish/inspect"
)

// A Tab is a browser tab on a folder.
type Tab struct {
	t      *testing.T
	ctx    context.Context
	folder string

	mu       sync.Mutex
	requests []string
	faults   []string
}

// Start starts a browser with one tab on a folder; it ends with the test.
func Start(t *testing.T, folder string) *Tab {
	t.Helper()
	inspect.Program(t, "chromium", "chromium-browser", "google-chrome")
	ctx, cancel := chromedp.NewContext(context.Background())
	t.Cleanup(cancel)
	b := &Tab{t: t, ctx: ctx, folder: folder}
	if err := chromedp.Listen(ctx, b.listen); err != nil {
		t.Fatal(err)
	}
	return b
}

// Under names the test that fails when the browser does, from now on.
func (b *Tab) Under(t *testing.T) { b.t = t }

func (b *Tab) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch event := event.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, event.Request.URL)
	case *log.EventEntryAdded:
		if event.Entry.Level == log.EntryLevelError || event.Entry.Level == log.EntryLevelWarning {
			b.faults = append(b.faults, event.Entry.Text+" "+event.Entry.URL)
		}
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, event.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.faults = append(b.faults, "console "+string(event.Type))
	}
}

// Requests are the addresses asked for so far.
func (b *Tab) Requests() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.requests)
}

// Faults are the console's messages, exceptions and refused loads so far.
func (b *Tab) Faults() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.faults)
}

// Do runs actions in the tab.
func (b *Tab) Do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// Visit opens a page of the folder, at an anchor perhaps: "parts/post.html#holes".
func (b *Tab) Visit(page string) {
	b.t.Helper()
	name, anchor, _ := strings.Cut(page, "#")
	address := url.URL{Scheme: "file", Path: filepath.ToSlash(b.folder) + "/" + name, Fragment: anchor}
	b.Open(address.String())
}

// Open opens an address.
func (b *Tab) Open(address string) {
	b.t.Helper()
	b.Do(chromedp.Navigate(address))
}

// Widen sets the width of the window in CSS pixels.
func (b *Tab) Widen(width int64) {
	b.t.Helper()
	b.Do(chromedp.EmulateViewport(width, 900))
}

// See sets width, colour scheme and whether scripts run, for pages opened from then
// on.
func (b *Tab) See(width int64, scheme string, scripts bool) {
	b.t.Helper()
	b.Widen(width)
	b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		if err == nil {
			_, err = cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !scripts})
		}
		return err
	}))
}

// Eval runs an expression in the page and gives its value; promises are waited for.
func Eval[T any](b *Tab, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%.200s: %v", expression, err)
	}
	return value
}

// Click clicks an element as a script would: hidden ones too.
func (b *Tab) Click(selector string) {
	b.t.Helper()
	Eval[bool](b, `(document.querySelector(`+quote(selector)+`).click(), true)`)
}

// Shown is the text of an element as a reader sees it.
func (b *Tab) Shown(selector string) string {
	b.t.Helper()
	return strings.Join(strings.Fields(Eval[string](b, `document.querySelector(`+quote(selector)+`).innerText`)), " ")
}

// Visible reports whether an element is drawn.
func (b *Tab) Visible(selector string) bool {
	b.t.Helper()
	return Eval[bool](b, `document.querySelector(`+quote(selector)+`).checkVisibility()`)
}

func quote(s string) string { return "`" + s + "`" }
