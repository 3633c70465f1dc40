package way

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/trial"
)

// cameApart takes a rig apart with what a store has kept: all that is told of it, and what
// was counted on the way.
func cameApart(t *testing.T, files trial.Files, s *memo.Store) string {
	t.Helper()
	r := trial.Reckoning(t, files)
	a := r.Plan.Assembly("rig")
	m := NewMemory()
	m.Kept = s
	p := Of(a, r.Case.Options, layout.Of(r).Pieces(a), m).Apart()
	var out strings.Builder
	for _, r := range p.Out {
		fmt.Fprintf(&out, "%s %v %v\n", r.Unit.Name(), r.Way, r.Free)
	}
	for _, s := range p.Stopped {
		by := ""
		if s.By != nil {
			by = s.By.Name()
		}
		fmt.Fprintf(&out, "%s stopped %v %v %s\n", s.Unit.Name(), s.Way, s.Free, by)
	}
	fmt.Fprintln(&out, p.space.work)
	return out.String()
}

// How things come apart, and what is counted on the way, is the same whether anything is
// taken over or not; of what did not change, nothing is found out anew.
func TestKept(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 9))
	for run := range 4 {
		files := strewn(random, 10+random.IntN(10))
		files["parts/all.yaml"] = strings.Replace(files["parts/all.yaml"]+hardwareParts, "bore: 10.1 mm", "bore: 9.9 mm", 1) // a rod that is stuck
		files["assemblies/rig.yaml"] = strings.Replace(files["assemblies/rig.yaml"], "steps:\n  all: {title: All, adds: [", `  hplate: {part: plate, at: [300 mm, 0 mm, 8 mm]}
  hblock: {part: block, at: [300 mm, 0 mm, 0 mm]}
joints:
  hold: {screw: cap, through: [hplate.ends, hblock.ends], into: nut}
steps:
  all: {title: All, fastens: [hold], adds: [hplate, hblock, `, 1)
		s := memo.New()
		want := cameApart(t, files, nil)
		if got := cameApart(t, files, s); got != want {
			t.Errorf("run %d, first:\n%s\nwithout a store:\n%s", run, got, want)
		}
		first := s.Uses()
		s.Next()
		if got := cameApart(t, files, s); got != want {
			t.Errorf("run %d, again:\n%s\nwithout a store:\n%s", run, got, want)
		}
		if u := s.Uses(); u.New > 0 || first.New < 10 {
			t.Errorf("run %d: first %+v, then %+v", run, first, u)
		}
		at := strings.Index(files["parts/all.yaml"], "box: [") + len("box: [")
		edited := files.With(trial.Files{"parts/all.yaml": files["parts/all.yaml"][:at] + "1" + files["parts/all.yaml"][at:]})
		s.Next()
		if got, want := cameApart(t, edited, s), cameApart(t, edited, nil); got != want {
			t.Errorf("run %d, edited:\n%s\nwithout a store:\n%s", run, got, want)
		}
		if u := s.Uses(); u.New == 0 || u.Known < u.New {
			t.Errorf("run %d, edited: %+v", run, u)
		}
		s.Doubt = true
		cameApart(t, edited, s)
		if f := s.Faults(); len(f) > 0 {
			t.Errorf("run %d: %v", run, f)
		}
	}
}
