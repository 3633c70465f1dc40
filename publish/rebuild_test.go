package publish_test

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

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
		if fmt.Sprint(is.err) != fmt.Sprint(want.err) {
			t.Errorf("after %s: error %v, in a full run %v", after, is.err, want.err)
		}
		return
	}
	if a, b := fmt.Sprintf("%+v %+v", is.found, is.made.Problems), fmt.Sprintf("%+v %+v", want.found, want.made.Problems); a != b {
		t.Errorf("after %s: other findings: %s", after, apart([]byte(a), []byte(b)))
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
		kept.Next()
		if t.Failed() {
			return
		}
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
		{name: "slide", plan: machine(t, "slide"), seed: 1, long: 3},
		{name: "shelf", plan: machine(t, "shelf"), seed: 2, long: 6},
		{name: "screen", plan: machine(t, "screen"), seed: 3, long: 9},
		{name: "starter", plan: draftOf(t, starter.Plan()), seed: 4, long: 6},
		{name: "tower", plan: draftOf(t, generated.Plan(27)), seed: 5, long: 3},
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
		for range 3 {
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

// FuzzRebuild goes on where TestRebuildIsAFullRun ends.
func FuzzRebuild(f *testing.F) {
	f.Add(uint64(7))
	f.Fuzz(func(t *testing.T, seed uint64) {
		chain(t, machine(t, []string{"slide", "shelf", "screen"}[seed%3]), seed, 3)
	})
}
