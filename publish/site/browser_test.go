package site

import (
	"context"
	"encoding/base64"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// missing fails in CI and skips elsewhere when a test cannot run for want of an
// outside tool.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is missing", what)
	}
	t.Skipf("%s is missing", what)
}

// A tab is a browser tab on a site written to a folder.
type tab struct {
	t      *testing.T
	ctx    context.Context
	folder string

	mu       sync.Mutex
	requests []string
	faults   []string // console errors, exceptions, refused loads
}

// write puts the sample's site into a folder, with the files that others write
// beside it.
func write(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	files := render(t, sample())
	pixel, err := base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==")
	if err != nil {
		t.Fatal(err)
	}
	files["files/clay photo.png"] = pixel
	files["files/wiring.svg"] = []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7"/></svg>`)
	files["files/crank_knob.stl"] = []byte("solid knob\nendsolid knob\n")
	files["binder.pdf"] = []byte("%PDF-1.7\n")
	for name, data := range files {
		file := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// browse starts a browser with one tab.
func browse(t *testing.T) *tab {
	t.Helper()
	found := false
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		_, err := exec.LookPath(name)
		found = found || err == nil
	}
	if !found {
		missing(t, "Chromium")
	}
	ctx, cancel := chromedp.NewContext(context.Background())
	t.Cleanup(cancel)
	b := &tab{t: t, ctx: ctx, folder: write(t)}
	if err := chromedp.Listen(ctx, b.listen); err != nil {
		t.Fatal(err)
	}
	return b
}

func (b *tab) listen(event any) {
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

func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// address is a page of the folder, with an anchor perhaps, as an address.
func (b *tab) address(page string) string {
	name, anchor, _ := strings.Cut(page, "#")
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(b.folder) + "/" + name, Fragment: anchor}).String()
}

func (b *tab) open(page string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.address(page)))
}

// see sets width, colour scheme and whether scripts run, for pages opened from
// then on.
func (b *tab) see(width int64, scheme string, scripts bool) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(width, 900), chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		if err == nil {
			_, err = cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !scripts})
		}
		return err
	}))
}

// eval runs an expression in the page and gives its value; promises are waited
// for.
func eval[T any](b *tab, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return value
}

// click clicks an element as a script would: hidden ones too.
func (b *tab) click(selector string) {
	b.t.Helper()
	eval[bool](b, `(document.querySelector(`+quote(selector)+`).click(), true)`)
}

// shown is the text of an element as a reader sees it.
func (b *tab) shown(selector string) string {
	b.t.Helper()
	return strings.Join(strings.Fields(eval[string](b, `document.querySelector(`+quote(selector)+`).innerText`)), " ")
}

// visible reports whether an element is drawn.
func (b *tab) visible(selector string) bool {
	b.t.Helper()
	return eval[bool](b, `document.querySelector(`+quote(selector)+`).checkVisibility()`)
}

func quote(s string) string { return "`" + s + "`" }
