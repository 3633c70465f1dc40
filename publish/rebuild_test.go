package publish_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/finding"
	"plansheaf/design/memo"
	"plansheaf/design/source/generated"
	"plansheaf/design/starter"
)

// same checks that a plan comes to the same with what a store keeps as it does without,
// byte for byte and finding for finding.
func same(t *testing.T, d draft, kept *memo.Store, after string) {
	t.Helper()
	is, want := makeKeeping(d.fs(), true, kept), makeOf(d.fs(), true)
	if is.err != nil || want.err != nil {
		t.Errorf("after %s: no draft: %v, in a full run: %v", after, is.err, want.err)
		return
	}
	if a, b := is.findings(t), want.findings(t); !bytes.Equal(a, b) {
		t.Errorf("after %s: other findings: %s", after, apart(a, b))
	}
	for _, name := range slices.Sorted(maps.Keys(want.files)) {
		if data, made := is.files[name]; !made {
			t.Errorf("after %s: no %s", after, name)
		} else if !bytes.Equal(data, want.files[name]) {
			t.Errorf("after %s: %s differs: %s", after, name, apart(data, want.files[name]))
		}
	}
	for i, f := range want.made.Files {
		if is.made.Files[i].Path != f.Path {
			t.Errorf("after %s: file %d is %s, in a full run %s", after, i, is.made.Files[i].Path, f.Path)
			break
		}
	}
}

// findings are all that was found, in the order in which it was.
func (p publication) findings(t *testing.T) []byte {
	t.Helper()
	text, err := json.Marshal([2][]finding.Finding{p.found, p.made.Problems})
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// apart shows where two texts begin to differ.
func apart(is, want []byte) string {
	at := 0
	for at < min(len(is), len(want)) && is[at] == want[at] {
		at++
	}
	cut := func(b []byte) []byte { return b[max(0, at-60):min(len(b), at+60)] }
	return fmt.Sprintf("at byte %d: %q, in a full run %q", at, cut(is), cut(want))
}

func noFaults(t *testing.T, kept *memo.Store, after string) {
	t.Helper()
	for _, fault := range kept.Faults() {
		t.Errorf("after %s: %s", after, fault)
	}
}

// chain edits a plan again and again, and holds each state that it comes to against a
// full run.
func chain(t *testing.T, d draft, seed uint64, long int) {
	r := rand.New(rand.NewPCG(seed, 17))
	kept := memo.New()
	states := []draft{maps.Clone(d)}
	same(t, d, kept, "nothing")
	kept.Next()
	takenOver := 0
	for i := range long {
		after := ""
		if i%5 == 4 { // back to how it was
			at := r.IntN(len(states))
			d, after = maps.Clone(states[at]), fmt.Sprintf("state %d again", at)
		} else {
			after = d.change(r, 1+r.IntN(2))
		}
		after = fmt.Sprintf("seed %d, edit %d: %s", seed, i, after)
		states = append(states, maps.Clone(d))
		same(t, d, kept, after)
		noFaults(t, kept, after)
		takenOver += kept.Uses().Known
		kept.Next()
		if t.Failed() {
			return
		}
	}
	if takenOver == 0 {
		t.Error("nothing was taken over")
	}
}

// However a plan is edited, what is made with what was kept of its earlier states is what
// a full run makes.
func TestRebuildIsAFullRun(t *testing.T) {
	for _, c := range []struct {
		name string
		plan draft
		seed uint64
		long int
	}{
		{name: "slide", plan: machine(t, "slide"), seed: 1, long: 2},
		{name: "shelf", plan: machine(t, "shelf"), seed: 2, long: 6},
		{name: "screen", plan: machine(t, "screen"), seed: 3, long: 9},
		{name: "starter", plan: draftOf(t, starter.Plan()), seed: 4, long: 6},
		{name: "tower", plan: draftOf(t, generated.Plan(27)), seed: 5, long: 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			chain(t, c.plan, c.seed, c.long)
		})
	}
}

// Whatever is taken over comes out the same when it is worked out again.
func TestDoubted(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(6, 17))
	kept := memo.New()
	kept.Doubt = true
	for _, d := range []draft{machine(t, "shelf"), machine(t, "screen")} {
		for range 2 {
			if p := makeKeeping(d.fs(), true, kept); p.err != nil {
				t.Fatal(p.err)
			}
			after := d.change(r, 2)
			if p := makeKeeping(d.fs(), true, kept); p.err != nil {
				t.Fatal(p.err)
			}
			noFaults(t, kept, after)
		}
	}
	if kept.Uses().Known == 0 {
		t.Error("nothing was taken over")
	}
}

// A store that several plans share gives each its own results.
func TestPlansDoNotMix(t *testing.T) {
	t.Parallel()
	kept := memo.New()
	plans := []draft{machine(t, "shelf"), draftOf(t, starter.Plan()), machine(t, "screen")}
	narrow := maps.Clone(plans[0])
	narrow["parts/all.yaml"] = string(bytes.Replace([]byte(narrow["parts/all.yaml"]), []byte("[16 in, 10 in]"), []byte("[16 in, 9.75 in]"), 1))
	for i, d := range append(plans, narrow, plans[0]) {
		same(t, d, kept, fmt.Sprintf("plan %d", i))
	}
	noFaults(t, kept, "all plans")
}

// The example after an edit of a part, a price, a calculation, a page and a step comes to
// what a full run gives, and most of it is taken over.
func TestExampleRebuilt(t *testing.T) {
	t.Parallel()
	example(t)
	d := draftOf(t, os.DirFS("../example-plan"))
	for _, e := range []struct{ file, old, new string }{
		{"parts/guards.yaml", "loading_gap - 6 mm], corners: {round: 6 mm}", "loading_gap - 6 mm], corners: {round: 7 mm}"},
		{"parts/motor.yaml", "price: 46.00 EUR", "price: 47.50 EUR"},
		{"calcs/press_force.yaml", "0.15 ± 0.03", "0.15 ± 0.031"},
		{"pages/about.md", "the", "this, the"},
		{"assemblies/base.yaml", "text: |\n      ", "text: |\n      Take your time. "},
	} {
		if !strings.Contains(d[e.file], e.old) {
			t.Fatalf("%s does not say %q", e.file, e.old)
		}
		d[e.file] = strings.Replace(d[e.file], e.old, e.new, 1)
	}
	keptOfExample.Next()
	same(t, d, keptOfExample, "edits of the example")
	noFaults(t, keptOfExample, "edits of the example")
	if u := keptOfExample.Uses(); u.New > u.Known/2 {
		t.Errorf("%d results were worked out anew, %d taken over", u.New, u.Known)
	}
}

// FuzzRebuild goes on where TestRebuildIsAFullRun ends.
func FuzzRebuild(f *testing.F) {
	f.Add(uint64(7))
	f.Fuzz(func(t *testing.T, seed uint64) {
		chain(t, machine(t, []string{"slide", "shelf", "screen"}[seed%3]), seed, 3)
	})
}
