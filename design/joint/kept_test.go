package joint_test

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/source"
)

// stood measures all places of the joints of the example plan, of which a file may read
// otherwise, with what a store has kept.
func stood(t *testing.T, file, was, is string, s *memo.Store) []string {
	t.Helper()
	fsys := fstest.MapFS{}
	for _, dir := range []string{"", "parts/", "assemblies/", "calcs/"} {
		entries, err := os.ReadDir("../../example-plan/" + dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if e.IsDir() {
				continue
			}
			data, err := os.ReadFile("../../example-plan/" + dir + e.Name())
			if err != nil {
				t.Fatal(err)
			}
			if dir+e.Name() == file {
				text := strings.Replace(string(data), was, is, 1)
				if text == string(data) && was != is {
					t.Fatalf("%s does not hold %q", file, was)
				}
				data = []byte(text)
			}
			fsys[dir+e.Name()] = &fstest.MapFile{Data: data}
		}
	}
	p, _, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	r := reckon.New(p, reckon.Default(p), nil)
	m := joint.Of(r, layout.Of(r))
	m.Kept = s
	stop := func(at *joint.Stop) string {
		if at == nil {
			return "nothing"
		}
		return fmt.Sprint(at.At, at.Own, at.Say, at.Where, at.Place)
	}
	ring := func(g joint.Ring, ok bool) string {
		return fmt.Sprint(g.Inside, g.Outside, g.Carried, g.Edge, g.Fouled, g.Under, g.Rises, ok)
	}
	var out []string
	for _, a := range p.Assemblies {
		for _, j := range a.Joints {
			if r.Tally().Assembled[a.ID.Text] == 0 || !j.Only.Fits(r.Case.Options) {
				continue
			}
			for _, one := range m.Stacks(a, j) {
				text := fmt.Sprintf("%s.%s %d: %s, %s, %s, %s", a.ID.Text, j.ID.Text, one.Place, stop(one.Stop), stop(one.Struck), ring(m.HeadRing(&one)), ring(m.NutRing(&one)))
				for i := range one.Crossings {
					text += fmt.Sprint(m.Wall(&one.Crossings[i], 1))
				}
				out = append(out, text)
			}
		}
	}
	return out
}

// What is measured is the same whether anything is taken over or not; nothing is measured
// anew of a plan that did not change, and little of one of which a part did.
func TestKept(t *testing.T) {
	const file, was, is = "parts/platen.yaml", "corners: {round: 4 mm}", "corners: {round: 5 mm}"
	s := memo.New()
	want := stood(t, file, was, was, nil)
	if got := stood(t, file, was, was, s); !reflect.DeepEqual(got, want) {
		t.Errorf("first:\n%q\nwithout a store:\n%q", got, want)
	}
	first := s.Uses()
	s.Next()
	if got := stood(t, file, was, was, s); !reflect.DeepEqual(got, want) {
		t.Errorf("again:\n%q\nwithout a store:\n%q", got, want)
	}
	if u := s.Uses(); u.New > 0 || first.New < 200 || len(want) < 50 {
		t.Errorf("%d places: first %+v, then %+v", len(want), first, u)
	}
	s.Next()
	if got, want := stood(t, file, was, is, s), stood(t, file, was, is, nil); !reflect.DeepEqual(got, want) {
		t.Errorf("edited:\n%q\nwithout a store:\n%q", got, want)
	}
	if u := s.Uses(); u.New == 0 || u.New*10 > u.Known {
		t.Errorf("edited: %+v", u)
	}
	s.Doubt = true
	stood(t, file, was, is, s)
	if f := s.Faults(); len(f) > 0 {
		t.Error(f)
	}
}
