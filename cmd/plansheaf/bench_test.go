package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/source/generated"
	"plansheaf/publish"
	"plansheaf/publish/release"
)

// checked reads and checks a plan as the commands do.
func checked(b *testing.B, fsys fs.FS) (*check.Work, []finding.Finding) {
	b.Helper()
	p, read, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		b.Fatal(err)
	}
	w := check.Out(p)
	return w, check.Run(w, read)
}

// An edit is a change of a plan that its author makes, of one part or of words.
type edit struct {
	name, file, old, new string
	words                bool // nothing but words
}

// apply makes the edit in a plan's directory, or takes it back.
func (e edit) apply(tb testing.TB, dir string, back bool) {
	tb.Helper()
	old, new := e.old, e.new
	if back {
		old, new = new, old
	}
	file := filepath.Join(dir, filepath.FromSlash(e.file))
	text, err := os.ReadFile(file)
	if err != nil {
		tb.Fatal(err)
	}
	if !strings.Contains(string(text), old) {
		tb.Fatalf("%s: %s does not say %q", e.name, e.file, old)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), old, new, 1)), 0o644); err != nil {
		tb.Fatal(err)
	}
}

// A measured is a plan that is measured.
type measured struct {
	name  string
	fsys  fs.FS
	edits []edit
}

// plans are what is measured: the example, and generated plans of 125 and 500
// parts with five fasteners to a part.
func plans() []measured {
	return []measured{
		{"example", os.DirFS("../../example-plan"), []edit{
			{name: "a guard's corners", file: "parts/guards.yaml", old: "loading_gap - 6 mm], corners: {round: 6 mm}", new: "loading_gap - 6 mm], corners: {round: 7 mm}"},
			{name: "the base board's corners", file: "parts/frame.yaml", old: "380 mm], corners: {round: 15 mm}", new: "380 mm], corners: {round: 16 mm}"},
			{name: "the bed's corners", file: "parts/frame.yaml", old: "[260 mm, 200 mm], corners: {round: 4 mm}", new: "[260 mm, 200 mm], corners: {round: 5 mm}"},
			{name: "a hole of the crank's arm", file: "parts/crank.yaml", old: "bore: 8.2 mm", new: "bore: 8.3 mm"},
			{name: "the die's edges", file: "parts/platen.yaml", old: "{chamfer: 1 mm}", new: "{chamfer: 1.2 mm}"},
			{name: "a printed bracket's height", file: "parts/motor.yaml", old: "[30 mm, 6 mm, 32 mm]", new: "[30 mm, 6 mm, 33 mm]"},
			{name: "the motor's mass", file: "parts/motor.yaml", old: "mass: 0.62 kg", new: "mass: 0.63 kg"},
			{name: "a page", file: "pages/about.md", old: "the", new: "this, the", words: true},
			{name: "a part's note", file: "parts/frame.yaml", old: "clay is wet", new: "wet clay is wet", words: true},
			{name: "a step's text", file: "assemblies/base.yaml", old: "text: |\n      ", new: "text: |\n      Slowly. ", words: true},
		}},
		tower(125),
		tower(500),
	}
}

// tower is a generated plan with edits of a plate at its foot, in its middle, at the end
// of a block, where the next one begins, and at its top.
func tower(parts int) measured {
	m := measured{name: fmt.Sprintf("parts=%d", parts), fsys: generated.Plan(parts)}
	for _, plate := range []int{1, parts / 2, 24, parts} {
		width := 160.0
		if plate == 24 {
			width = 340
		}
		text := func(w float64) string {
			return fmt.Sprintf("title: Plate %d\n  made: sheet\n  stock: alu_plate_10\n  outline: {rectangle: [%.1f mm", plate, w+float64(plate)/10)
		}
		m.edits = append(m.edits, edit{name: fmt.Sprintf("plate %d's width", plate), file: fmt.Sprintf("parts/block_%d.yaml", (plate-1)/24+1), old: text(width), new: text(width + 1.05)})
	}
	m.edits = append(m.edits,
		edit{name: "a page", file: "pages/tower.md", old: "held by", new: "kept by", words: true},
		edit{name: "a step's text", file: "assemblies/block_2.yaml", old: "flush with the edge", new: "flush with its edge", words: true})
	return m
}

func BenchmarkCheck(b *testing.B) {
	for _, p := range plans() {
		b.Run(p.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				checked(b, p.fsys)
			}
		})
	}
}

func BenchmarkPublish(b *testing.B) {
	for _, p := range plans() {
		b.Run(p.name, func(b *testing.B) {
			w, found := checked(b, p.fsys)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := publish.Make(w, found, publish.Options{Rules: allRules(), Draft: true}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// timed runs the program as a process of its own.
func timed(b *testing.B, args ...string) time.Duration {
	b.Helper()
	began := time.Now()
	if said, err := exec.Command("plansheaf", args...).CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, said)
	}
	return time.Since(began)
}

// After an edit, publishing with what was kept of the run before, held against publishing
// without it: whole runs of the program, writing included, and the same bytes.
func BenchmarkRebuild(b *testing.B) {
	for _, p := range plans() {
		b.Run(p.name, func(b *testing.B) {
			plan := filepath.Join(b.TempDir(), "plan")
			if err := os.CopyFS(plan, p.fsys); err != nil {
				b.Fatal(err)
			}
			out, bare, cache := filepath.Join(plan, "..", "out"), filepath.Join(plan, "..", "bare"), filepath.Join(plan, "..", "cache")
			timed(b, "publish", plan, "--draft", "--out", bare, "--no-cache")
			timed(b, "publish", plan, "--draft", "--out", out, "--cache", cache)
			parts, words := p.rebuilt(b, plan, out, bare, cache)
			b.ReportMetric(parts[len(parts)/2], "median-of-full")
			b.ReportMetric(parts[len(parts)-1], "worst-of-full")
			b.ReportMetric(words[len(words)-1], "words-of-full")
			b.ReportMetric(0, "ns/op") // the edits differ; the ratios count
		})
	}
}

// rebuilt makes each edit in turn, and gives, sorted, what part of a full run's time a run
// with what was kept takes: after edits of one part, and of words.
func (p measured) rebuilt(b *testing.B, plan, out, bare, cache string) (parts, words []float64) {
	for back := false; b.Loop(); back = !back {
		for _, e := range p.edits {
			e.apply(b, plan, back)
			again := timed(b, "publish", plan, "--draft", "--out", out, "--cache", cache)
			full := timed(b, "publish", plan, "--draft", "--out", bare, "--no-cache")
			ratio := again.Seconds() / full.Seconds()
			b.Logf("%s: %.2f s, in full %.2f s: %.3f", e.name, again.Seconds(), full.Seconds(), ratio)
			is, err := os.ReadFile(filepath.Join(out, release.ListName))
			want, err2 := os.ReadFile(filepath.Join(bare, release.ListName))
			if err != nil || err2 != nil || !bytes.Equal(is, want) {
				b.Errorf("%s: other bytes than in a full run; %v, %v", e.name, err, err2)
			}
			if e.words {
				words = append(words, ratio)
			} else {
				parts = append(parts, ratio)
			}
		}
	}
	slices.Sort(parts)
	slices.Sort(words)
	return parts, words
}
