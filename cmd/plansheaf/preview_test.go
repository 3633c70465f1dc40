package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// A viewer is a preview that runs, and who looks at it.
type viewer struct {
	address string
	dir     string
	end     func() error
}

// preview starts a preview of a plan, with flags.
func startPreview(tb testing.TB, dir string, flags ...string) *viewer {
	tb.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	said, out := io.Pipe()
	command := rootCommand()
	command.SetArgs(append([]string{"preview", dir, "--port", "0"}, flags...))
	command.SetOut(out)
	command.SetErr(io.Discard)
	ended := make(chan error, 1)
	go func() { ended <- command.ExecuteContext(ctx) }()
	v := &viewer{dir: dir, end: sync.OnceValue(func() error { cancel(); return <-ended })}
	tb.Cleanup(func() { v.end() })
	line, err := bufio.NewReader(said).ReadString('\n')
	if err != nil {
		tb.Fatal(err)
	}
	v.address = regexp.MustCompile(`http://\S+/`).FindString(line)
	return v
}

func (v *viewer) get(tb testing.TB, path string) string {
	tb.Helper()
	answer, err := http.Get(v.address + path)
	if err != nil {
		tb.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		tb.Fatal(err)
	}
	return string(text)
}

// built is what a page is told of a build.
type built struct {
	Version  int
	Failure  string
	Findings []struct{ Rule string }
}

// after waits for a build that is not the one with this version.
func (v *viewer) after(tb testing.TB, version int) (s built) {
	tb.Helper()
	if err := json.Unmarshal([]byte(v.get(tb, fmt.Sprint("-preview/state?after=", version))), &s); err != nil {
		tb.Fatal(err)
	}
	return s
}

// until waits for a build that is as wanted.
func (v *viewer) until(tb testing.TB, what string, wanted func(built) bool) built {
	tb.Helper()
	for last, tries := -1, 0; tries < 40; tries++ {
		s := v.after(tb, last)
		if s.Version > 0 && wanted(s) {
			return s
		}
		last = s.Version
	}
	tb.Fatalf("no build: %s", what)
	return built{}
}

func (v *viewer) write(tb testing.TB, name string, data []byte) {
	tb.Helper()
	if err := os.WriteFile(filepath.Join(v.dir, name), data, 0o644); err != nil {
		tb.Fatal(err)
	}
}

// clean is a build that found nothing wrong.
func clean(s built) bool { return s.Failure == "" && len(s.Findings) == 0 }

// faulty is a build that did.
func faulty(s built) bool { return len(s.Findings) > 0 || s.Failure != "" }

// started is the plan that a person starts with.
func started(tb testing.TB) string {
	tb.Helper()
	dir := filepath.Join(tb.TempDir(), "small")
	begin := rootCommand()
	begin.SetArgs([]string{"start", dir})
	begin.SetOut(io.Discard)
	if err := begin.Execute(); err != nil {
		tb.Fatal(err)
	}
	return dir
}

// A person previews a plan, breaks it, removes it, brings it back, and ends the preview.
// What was worked out is kept through all of that, and for the next time.
func TestPreview(t *testing.T) {
	dir, cache := started(t), t.TempDir()
	v := startPreview(t, dir, "--cache", cache)
	v.until(t, "the plan as it was started", clean)
	first := v.get(t, "")
	if !strings.Contains(first, "preview.js") {
		t.Errorf("the front page does not wait for the next build: %.300s", first)
	}
	whole, err := os.ReadFile(filepath.Join(dir, "plan.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	v.write(t, "plan.yaml", append([]byte("nonsense: [\n"), whole...))
	v.until(t, "a plan that is no YAML", faulty)
	v.write(t, "plan.yaml", whole[:len(whole)/2])
	v.until(t, "a half-saved plan", faulty)
	if err := os.Rename(dir, dir+"-away"); err != nil {
		t.Fatal(err)
	}
	v.until(t, "no plan at all", func(s built) bool { return s.Failure != "" })
	if err := os.Rename(dir+"-away", dir); err != nil {
		t.Fatal(err)
	}
	v.write(t, "plan.yaml", whole)
	v.until(t, "the plan whole again", clean)
	version := regexp.MustCompile(`data-version="\d+"`)
	if again := v.get(t, ""); version.ReplaceAllString(again, "") != version.ReplaceAllString(first, "") {
		t.Error("the same plan gives another front page")
	}
	if err := v.end(); err != nil {
		t.Error(err)
	}
	k := keeping{folder: cache}.open(dir, io.Discard)
	loaded, err := load(dir, k, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	loaded.root.Close()
	if u := k.results().Uses(); u.Known == 0 || u.New > 0 {
		t.Errorf("the next run takes over %d results and works out %d anew", u.Known, u.New)
	}
}

// What a preview works out is not lost however often a plan is saved half.
func TestHalfSavedKeeps(t *testing.T) {
	dir := started(t)
	k := keeping{folder: t.TempDir()}.open(dir, io.Discard)
	if b := previewed(dir, k); b.Err != nil {
		t.Fatal(b.Err)
	}
	file := filepath.Join(dir, "parts", "stand.yaml")
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for cut := range 12 {
		if err := os.WriteFile(file, whole[:len(whole)*cut/12], 0o644); err != nil {
			t.Fatal(err)
		}
		previewed(dir, k)
	}
	if err := os.WriteFile(file, whole, 0o644); err != nil {
		t.Fatal(err)
	}
	before := k.results().Uses()
	if b := previewed(dir, k); b.Err != nil {
		t.Fatal(b.Err)
	}
	if u := k.results().Uses(); u.New > before.New {
		t.Errorf("%d results were worked out anew", u.New-before.New)
	}
}

// From an edit of one part until the page that shows it can be loaded, beside the first
// build in the same run.
func BenchmarkEditToReload(b *testing.B) {
	for _, p := range plans() {
		b.Run(p.name, func(b *testing.B) {
			dir := filepath.Join(b.TempDir(), "plan")
			if err := os.CopyFS(dir, p.fsys); err != nil {
				b.Fatal(err)
			}
			began := time.Now()
			v := startPreview(b, dir, "--cache", b.TempDir())
			s := v.after(b, 0)
			v.get(b, "")
			first := time.Since(began)
			b.ResetTimer()
			for i := 0; b.Loop(); i++ { // one edit after the other; then they go again
				e := p.edits[i%len(p.edits)]
				e.apply(b, dir, i/len(p.edits)%2 == 1)
				s = v.after(b, s.Version)
				if s.Failure != "" {
					b.Fatal(s.Failure)
				}
				v.get(b, "")
			}
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/first.Seconds(), "of-first")
		})
	}
}
