package changes

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/golden"
	"plansheaf/design/source/generated"
	"plansheaf/design/trial"
	"plansheaf/publish/inspect"
	"plansheaf/publish/picture"
	"plansheaf/publish/site/browser"
)

// pictures are those of two revisions, as files: by their names.
func pictures(t testing.TB, old, new change.Revision) (*Drawings, map[string][]byte) {
	t.Helper()
	d, err := Pictures(change.Between(old, new), old.Work, new.Work)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, list := range [][]Drawn{d.Assemblies, d.Parts} {
		for _, one := range list {
			svg, err := picture.SVG(one.Lone())
			if err != nil {
				t.Fatal(err)
			}
			name := filepath.Base(one.Picture.Name) + ".svg"
			if files[name] != nil {
				t.Errorf("two pictures are called %q", name)
			}
			files[name] = svg
		}
	}
	return d, files
}

// What each revision of the history looks like over the one before it: a picture of what
// looks otherwise, and none of anything else.
func TestPicturesOfHistory(t *testing.T) {
	names, list := revisions(t)
	kept := map[string]bool{}
	for i, name := range names {
		t.Run(name, func(t *testing.T) {
			d, files := pictures(t, list[i], list[i+1])
			if len(d.Left) > 0 {
				t.Errorf("left out: %v", d.Left)
			}
			for file, svg := range files {
				path := filepath.Join("testdata/pictures", name+"."+file)
				kept[path] = true
				golden.Compare(t, path, svg)
				inspect.RunOn(t, svg, "xmllint", "--noout", "-")
			}
			_, again := pictures(t, list[i], list[i+1])
			for file, svg := range files {
				if !bytes.Equal(svg, again[file]) {
					t.Errorf("%s has other bytes when drawn again", file)
				}
			}
		})
	}
	found, err := filepath.Glob("testdata/pictures/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range found {
		if !kept[path] {
			t.Errorf("%s is made by no revision", path)
		}
	}
	if len(found) == 0 {
		t.Error("no revision has a picture")
	}
}

// A revision over itself shows nothing, and a renamed part is no other look.
func TestNothingToDraw(t *testing.T) {
	_, list := revisions(t)
	for i, r := range list {
		if d, files := pictures(t, r, r); len(files) > 0 || len(d.Left) > 0 {
			t.Errorf("revision %d over itself has the pictures %v and leaves out %v", i, files, d.Left)
		}
	}
	other := machine(nil)
	for path, text := range other {
		other[path] = strings.ReplaceAll(text, "foot", "leg")
	}
	if _, drawn := pictures(t, small(t, machine(nil)), small(t, other)); len(drawn) > 0 {
		t.Errorf("renamed parts have %d pictures", len(drawn))
	}
}

// small is a small plan worked out.
func small(t testing.TB, files trial.Files) change.Revision {
	t.Helper()
	w := check.Out(trial.Plan(t, files))
	return change.Revision{Work: w}
}

// machine is a rig with two feet, a cart with a load on it, and a flag under one choice;
// with some words of it replaced.
func machine(edit map[string]string) trial.Files {
	files := trial.Files{
		"plan.yaml": `title: Rig
machine: rig
revision: A
license: CERN-OHL-S-2.0
currency: EUR
choices:
  drive: {title: Drive, options: {crank: Crank, motor: Motor}, default: crank}
`,
		"parts/all.yaml": `foot: {title: Foot, made: bought, material: aluminium_6082, shape: [{box: [20 mm, 20 mm, 30 mm]}], buy: {any: foot, price: 1 EUR}}
deck: {title: Deck, made: bought, material: aluminium_6082, shape: [{box: [80 mm, 60 mm, 10 mm]}], holes: {axle: {face: front, at: [40 mm, 5 mm], bore: 4 mm, depth: 20 mm, note: vent}}, buy: {any: deck, price: 1 EUR}}
load: {title: Load, made: bought, material: aluminium_6082, shape: [{box: [20 mm, 20 mm, {by: drive, crank: 20 mm, motor: 20 mm}]}], buy: {any: load, price: 1 EUR}}
flag: {title: Flag, made: bought, material: aluminium_6082, shape: [{box: [4 mm, 4 mm, 50 mm]}], buy: {any: flag, price: 1 EUR}}
`,
		"assemblies/cart.yaml": `title: Cart
holds:
  deck: {part: deck, at: [0 mm, 0 mm, 0 mm]}
  load: {part: load, at: [20 mm, 20 mm, 10 mm]}
`,
		"assemblies/rig.yaml": `title: Rig
holds:
  feet: {part: foot, at: [0 mm, 0 mm, 0 mm], count: 2, step: [100 mm, 0 mm, 0 mm]}
  cart: {assembly: cart, at: [20 mm, 0 mm, 30 mm]}
  flag: {part: flag, at: [0 mm, 50 mm, 0 mm], only: {drive: motor}}
`,
	}
	for path, text := range files {
		for from, to := range edit {
			text = strings.ReplaceAll(text, from, to)
		}
		files[path] = text
	}
	return files
}

// What is drawn of a change, and what is said of it.
func TestWhatIsDrawn(t *testing.T) {
	const load = "{by: drive, crank: 20 mm, motor: 20 mm}"
	cases := []struct {
		name string
		edit map[string]string
		want []string // assembly or part, the choices, and the legend
	}{
		{name: "a foot stands elsewhere", edit: map[string]string{"step: [100 mm, 0 mm, 0 mm]": "step: [100 mm, 0 mm, 2.5 mm]"},
			want: []string{"rig: 1→ Foot: moved by 2.5 mm up."}},
		{name: "a part is turned", edit: map[string]string{"part: load, at: [20 mm, 20 mm, 10 mm]": "part: flag, at: [20 mm, 20 mm, 10 mm], turn: x 90 deg"},
			want: []string{"rig: 1⊃ Cart: changed within.", "cart: 1≠ Flag: in place of Load."}},
		{name: "the cart moves as a whole", edit: map[string]string{"at: [20 mm, 0 mm, 30 mm]": "at: [10 mm, 4 mm, 30 mm]"},
			want: []string{"rig: 1→ Cart: moved by 10 mm to the left, 4 mm to the back."}},
		{name: "the cart is turned", edit: map[string]string{"at: [20 mm, 0 mm, 30 mm]": "at: [100 mm, 0 mm, 30 mm], turn: z 90 deg"},
			want: []string{"rig: 1→ Cart: turned by 90° and moved by 10 mm to the right, 10 mm to the back."}},
		{name: "within the cart alone", edit: map[string]string{"at: [20 mm, 20 mm, 10 mm]": "at: [25 mm, 20 mm, 10 mm]"},
			want: []string{"rig: 1⊃ Cart: changed within.", "cart: 1→ Load: moved by 5 mm to the right."}},
		{name: "something is new", edit: map[string]string{"count: 2": "count: 3"}, want: []string{"rig: 1+ Foot: new."}},
		{name: "something is gone", edit: map[string]string{"count: 2, step: [100 mm, 0 mm, 0 mm]": "count: 1, step: [100 mm, 0 mm, 0 mm]"},
			want: []string{"rig: 1− Foot: gone."}},
		{name: "a hole that no side shows", edit: map[string]string{"depth: 20 mm": "depth: 25 mm"},
			want: []string{"rig: 1⊃ Cart: changed within.", "cart: 1≠ Deck: another shape or size.", "deck: hole axle, depth: 20 mm → 25 mm mass of one: 128.9 g → 128.8 g"}},
		{name: "under another choice alone", edit: map[string]string{load: "{by: drive, crank: 20 mm, motor: 30 mm}"},
			want: []string{"rig, drive: motor: 1⊃ Cart: changed within.", "cart, drive: motor: 1≠ Load: another shape or size.", "load, drive: motor: shape: box, size 20 mm × 20 mm × crank: 20 mm, motor: 20 mm → box, size 20 mm × 20 mm × crank: 20 mm, motor: 30 mm"}},
		{name: "a part of another choice", edit: map[string]string{"at: [0 mm, 50 mm, 0 mm]": "at: [0 mm, 52 mm, 0 mm]"},
			want: []string{"rig, drive: motor: 1→ Flag: moved by 2 mm to the back."}},
		{name: "a title alone", edit: map[string]string{"title: Load": "title: Cargo"}},
	}
	base := small(t, machine(nil))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, _ := pictures(t, base, small(t, machine(c.edit)))
			var got []string
			for _, one := range append(d.Assemblies, d.Parts...) {
				name := one.ID
				if one.Case != "" {
					name += ", " + one.Case
				}
				got = append(got, name+": "+strings.Join(one.Legend, " "))
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
}

// The page of the whole history is valid, and readable by everybody, in light and dark,
// on a phone and on a wide screen: the page stays within the screen.
func TestPage(t *testing.T) {
	_, list := revisions(t)
	old, new := list[0], list[len(list)-1]
	d, _ := pictures(t, old, new)
	html, err := Report{Comparison: change.Between(old, new)}.HTML(d)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for name, text := range map[string]string{"changes.html": string(html), ".htmlvalidate.json": `{"root": true, "extends": ["html-validate:standard"]}`} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, one := range slices.Concat(d.Assemblies, d.Parts) {
		if !bytes.Contains(html, []byte(one.Picture.Title)) {
			t.Errorf("the page lacks the picture of %q", one.ID)
		}
	}
	t.Run("valid", func(t *testing.T) {
		script := inspect.Setting(t, "PLANSHEAF_HTML_VALIDATE", "the path of html-validate's script")
		command := exec.Command("node", script, "--formatter", "text", "--ext", "html", folder)
		command.Dir = folder
		if out, err := command.CombinedOutput(); err != nil {
			t.Errorf("html-validate: %v\n%s", err, out)
		}
	})
	t.Run("accessible", func(t *testing.T) {
		axe, err := os.ReadFile(inspect.Setting(t, "PLANSHEAF_AXE", "the path of axe-core's axe.min.js"))
		if err != nil {
			t.Fatal(err)
		}
		b := browser.Start(t, folder)
		for _, screen := range []struct {
			scheme string
			width  int64
		}{{"light", 1280}, {"dark", 360}} {
			b.See(screen.width, screen.scheme, true)
			b.Visit("changes.html")
			browser.Eval[bool](b, "document.querySelectorAll('details').forEach((d) => d.open = true), true")
			if over := browser.Eval[float64](b, "document.documentElement.scrollWidth - innerWidth"); over > 0 {
				t.Errorf("%d px wide: the page is %v px wider than the screen", screen.width, over)
			}
			browser.Eval[bool](b, string(axe)+"\n;true")
			for _, line := range browser.Eval[[]string](b, `axe.run(document, {preload: false, resultTypes: ["violations"]}).then((r) =>
				r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + v.help + " at " + n.target.join(" "))))`) {
				t.Errorf("%d px wide, %s: %s", screen.width, screen.scheme, line)
			}
		}
	})
}

// However much changed, the pictures are few, and what is left out is told. What plans
// call their things stays words.
func TestPicturesAreBounded(t *testing.T) {
	const evil = "</text><script>alert(1)</script>"
	plan := func(side int) change.Revision {
		var parts, uses strings.Builder
		for i := range mostParts + 3 {
			fmt.Fprintf(&parts, "p%d: {title: \"%s %d\", made: bought, material: aluminium_6082, shape: [{box: [%d mm, 20 mm, 30 mm]}], buy: {any: it, price: 1 EUR}}\n", i, evil, i, side)
			fmt.Fprintf(&uses, "  u%d: {part: p%d, at: [0 mm, %d mm, 0 mm]}\n", i, i, 30*i)
		}
		files := trial.Files{
			"plan.yaml":           "title: Rig\nmachine: rig\nrevision: A\nlicense: CERN-OHL-S-2.0\ncurrency: EUR\n",
			"parts/all.yaml":      parts.String(),
			"assemblies/rig.yaml": "title: Rig\nholds:\n" + uses.String(),
		}
		for i := range mostAssemblies + 2 {
			files[fmt.Sprintf("assemblies/a%d.yaml", i)] = fmt.Sprintf("title: A\nholds:\n  one: {part: p%d, at: [0 mm, 0 mm, 0 mm]}\n", i)
			files["assemblies/rig.yaml"] += fmt.Sprintf("  a%d: {assembly: a%d, at: [100 mm, %d mm, 0 mm]}\n", i, i, 30*i)
		}
		return small(t, files)
	}
	old, new := plan(20), plan(25)
	d, files := pictures(t, old, new)
	if len(d.Parts) != mostParts || len(d.Assemblies) != mostAssemblies || len(d.Left) != 2 {
		t.Errorf("%d parts and %d assemblies are drawn, want %d and %d; left out: %v", len(d.Parts), len(d.Assemblies), mostParts, mostAssemblies, d.Left)
	}
	if d.Assemblies[0].ID != "rig" {
		t.Errorf("the first picture is that of %q, want the machine", d.Assemblies[0].ID)
	}
	if n := len(d.Assemblies[0].Legend); n != mostNumbered+1 {
		t.Errorf("the machine's legend has %d lines, want %d with what is left out", n, mostNumbered+1)
	}
	html, err := Report{Comparison: change.Between(old, new)}.HTML(d)
	if err != nil {
		t.Fatal(err)
	}
	files["page"] = html
	for name, text := range files {
		if bytes.Contains(text, []byte("<script>")) {
			t.Errorf("%s holds the plan's script", name)
		}
	}
	for _, left := range d.Left {
		if !bytes.Contains(html, []byte("Not drawn: "+left)) {
			t.Errorf("the page does not say %q", left)
		}
	}
}

// Two plans of 500 parts and 2,495 screws, in the second of which every plate is thicker
// and all that stands on one moved. Working them out and comparing them is not measured.
func BenchmarkPictures(b *testing.B) {
	files := generated.Plan(500)
	old := revision(b, files)
	files = generated.Plan(500)
	files["plan.yaml"].Data = bytes.Replace(files["plan.yaml"].Data, []byte("thick: {is: 10 mm"), []byte("thick: {is: 11 mm"), 1)
	new := revision(b, files)
	c := change.Between(old, new)
	for b.Loop() {
		d, err := Pictures(c, old.Work, new.Work)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(d.Assemblies)+len(d.Parts)), "pictures")
	}
}
