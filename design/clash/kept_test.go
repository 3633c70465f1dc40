package clash_test

import (
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/clash"
	"plansheaf/design/joint"
	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// told is all of a report that does not lead out of it: numbers exactly, bodies and
// instances by their names.
func told(r *clash.Report) string {
	var out strings.Builder
	tell(&out, reflect.ValueOf(r).Elem())
	return out.String()
}

func tell(out *strings.Builder, v reflect.Value) {
	if v.Kind() == reflect.Pointer && !v.IsNil() && v.CanInterface() {
		switch one := v.Interface().(type) {
		case *clash.Body:
			fmt.Fprintf(out, "%s %v ", one.Name(), one.At)
			return
		case *reckon.Instance:
			fmt.Fprintf(out, "%s ", one.Path)
			return
		case *clash.Travel, *clash.Clearance:
			tell(out, v.Elem())
			return
		}
	}
	switch v.Kind() {
	case reflect.Struct:
		out.WriteString("{")
		for i := range v.NumField() {
			tell(out, v.Field(i))
		}
		out.WriteString("}\n")
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			tell(out, v.Index(i))
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, k := range keys {
			fmt.Fprintf(out, "%v: ", k)
			tell(out, v.MapIndex(k))
		}
	case reflect.Pointer, reflect.Interface:
		fmt.Fprintf(out, "%v ", v.IsNil())
	default:
		fmt.Fprintf(out, "%v ", v)
	}
}

// kept looks a plan's own case over with what a store has kept.
func kept(t *testing.T, files trial.Files, s *memo.Store) string {
	t.Helper()
	r := trial.Reckoning(t, files)
	l := layout.Of(r)
	store := clash.NewStore(nil)
	store.Kept = s
	return told(clash.Of(r, l, joint.Of(r, l), store))
}

// What a report says is the same whether anything is taken over or not; nothing is worked
// out anew of a plan that did not change, and little of one of which a part did.
func TestKept(t *testing.T) {
	bystander := "stud: {part: stud, at: [20 mm, 20 mm, 9.5 mm]}"
	arms := files(rig(onBase, bystander, "turner: {assembly: turner, at: [0 mm, 0 mm, 10.5 mm], moves: {along: x, by: along}}", "top: {part: slide, at: [90 mm, 36 mm, 10.5 mm], moves: {along: z, by: -up}}", "far: {part: post, at: [0 mm, 0 mm, 300 mm]}")).
		moving("  along: {from: 0 mm, to: 120 mm, about: one}\n  swing: {from: 0 deg, to: 180 deg, about: two}\n  up: {from: 0 mm, to: -60 mm, about: three}\n")
	arms["assemblies/turner.yaml"] = "title: Turner\nholds:\n  arm: {part: arm, at: [0 mm, 0 mm, 0 mm], moves: {about: eye, by: swing}}\n"
	belt := trial.Files(files(rig(onBase, bystander, "deck: {part: base, at: [0 mm, 60 mm, 0 mm]}", "a: {part: pulley, at: [0 mm, 0 mm, 10 mm]}", "b: {part: pulley, at: [100 mm, 0 mm, 10 mm], moves: {along: y, by: travel}}",
		"belt: {part: belt, around: [a, b]}", "post: {part: post, at: [60 mm, 42 mm, 10 mm]}")).moving("  travel: {from: 0 mm, to: 60 mm, about: aside}\n")).
		With(trial.Files{"parts/belt.yaml": "pulley: {title: Pulley, made: bought, buy: any, shape: [{cylinder: {d: 30.7 mm, l: 20 mm}}], has: {teeth: 20, pitch: 5 mm}}\nbelt: {title: Belt, made: bought, buy: any, loop: {pitch: 5 mm, width: 15 mm, teeth: 64, thick: 3.6 mm}}\n"})
	cables := wired(bystander, "slide: {part: slide, at: [50 mm, -20 mm, 10 mm], moves: {along: x, by: travel}}", "far: {part: slide, at: [50 mm, 100 mm, 10 mm]}", "post: {part: post, at: [90 mm, 45 mm, 5 mm]}",
		"cable: {part: cable, from: slide.back, to: far.front}", "beside: {part: post, at: [62 mm, 40 mm, 8 mm]}")
	example := trial.FilesOf(t, os.DirFS("../../example-plan"))
	const wide, wider = "stud: {title: Stud, made: bought, buy: any, shape: [{cylinder: {d: 10 mm", "stud: {title: Stud, made: bought, buy: any, shape: [{cylinder: {d: 11 mm"
	for _, c := range []struct {
		name          string
		files         trial.Files
		file, was, is string
		share         float64 // of what is asked for, how much is new at most
	}{
		{name: "motions combined", files: arms, file: "parts/p.yaml", was: wide, is: wider, share: 0.5},
		{name: "a belt led elsewhere", files: belt, file: "parts/p.yaml", was: wide, is: wider, share: 0.2},
		{name: "cables", files: cables, file: "parts/p.yaml", was: wide, is: wider, share: 0.2},
		{name: "example", files: example, file: "parts/platen.yaml", was: "corners: {round: 4 mm}", is: "corners: {round: 5 mm}", share: 0.1},
	} {
		t.Run(c.name, func(t *testing.T) {
			want, s := kept(t, c.files, nil), memo.New()
			if got := kept(t, c.files, s); got != want {
				t.Errorf("with a store:\n%s\nwithout:\n%s", got, want)
			}
			first := s.Uses()
			s.Next()
			if got := kept(t, c.files, s); got != want {
				t.Errorf("taken over:\n%s\nworked out:\n%s", got, want)
			}
			if u := s.Uses(); u.New > 0 || u.Known < 5 {
				t.Errorf("first %+v, then %+v", first, u)
			}
			s.Doubt = true
			kept(t, c.files, s)
			s.Doubt = false
			edited := c.files.With(trial.Files{c.file: strings.Replace(c.files[c.file], c.was, c.is, 1)})
			if edited[c.file] == c.files[c.file] {
				t.Fatalf("%s does not hold %q", c.file, c.was)
			}
			want = kept(t, edited, nil)
			s.Next()
			if got := kept(t, edited, s); got != want {
				t.Errorf("edited, with a store:\n%s\nwithout:\n%s", got, want)
			}
			if u := s.Uses(); u.New == 0 || float64(u.New) > c.share*float64(u.New+u.Known) {
				t.Errorf("edited: %+v", u)
			}
			if found := s.Faults(); len(found) > 0 {
				t.Errorf("faults: %q", found)
			}
		})
	}
}
