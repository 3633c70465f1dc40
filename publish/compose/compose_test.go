package compose_test

import (
	"fmt"
	"io/fs"
	"reflect"
	"slices"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/plan"
	"plansheaf/design/starter"
	"plansheaf/design/trial"
	"plansheaf/publish/compose"
	"plansheaf/publish/notation"
	"plansheaf/publish/page"
	"plansheaf/publish/site"
)

// press has two choices that change parts, counts, assemblies, steps, a calculation,
// a text and a value.
var press = trial.Files{
	"plan.yaml": `title: Press
summary: "Holds {post.count} posts of {post.length}, {post} and {press.build}."
machine: press
revision: B
date: 2026-05-02
authors: [A. Author]
license: CERN-OHL-S-2.0
currency: EUR
values: {high: {is: {by: tile, small: 90 mm, large: 150 mm}, about: height}}
choices:
  drive: {title: Drive, options: {crank: Hand crank, motor: Motor}, default: crank}
  tile: {title: Tile, options: {small: Small, large: Large}, default: small}
claims: [{say: Force, is: force.g}, {say: Mass, is: press.mass}]
history: [{revision: B, date: 2026-05-02, says: "Uses {cap}."}]
`,
	"stock.yaml":     "bar: {title: Bar, section: {square: {side: 20 mm}}, material: steel_s235, kerf: 3 mm, sold: [{length: 1000 mm, price: 9.80 EUR}], buy: {from: dealer}}\n",
	"suppliers.yaml": "dealer: {title: Dealer, sells: {cap: {pack: 25, price: 6.40 EUR}, motor: {price: 28 EUR}, bracket: {price: 2 EUR}}}\n",
	"parts/all.yaml": `post: {title: Post, made: cut, stock: bar, length: high, lies: z, holes: {crown: {face: top, at: [10 mm, 10 mm], tap: M8, depth: 20 mm}}}
handle: {title: Handle, made: cut, stock: bar, length: 50 mm}
motor: {title: Motor, made: bought, mass: 1 kg, files: [{file: files/motor.txt, use: data}]}
bracket: {title: Bracket, made: bought, mass: 100 g, shape: [{box: [40 mm, 20 mm, 10 mm]}], holes: {leg: {at: [10 mm, 10 mm], for: M6}}}
opened: {title: Opened bracket, made: altered, of: bracket, holes: {leg: {at: [10 mm, 10 mm], for: M8}}, because: It is too small.}
cap: {standard: ISO 4762 M8x25 - 8.8}
grease: {title: Grease, made: consumable, amount: 30 g, buy: any}
`,
	"files/motor.txt": "24 V\n",
	"assemblies/press.yaml": `title: Whole press
holds:
  posts: {part: post, at: [0 mm, 0 mm, 0 mm], count: {by: tile, small: 2, large: 4}, step: [50 mm, 0 mm, 0 mm]}
  bracket: {part: opened, at: [0 mm, 0 mm, 0 mm]}
  handle: {part: handle, at: [0 mm, 0 mm, 0 mm], only: {drive: crank}}
  power: {assembly: power, at: [0 mm, 0 mm, 0 mm], only: {drive: motor}}
joints: {hold: {screw: cap, through: [posts.crown]}}
steps:
  build:
    title: Build
    adds: [posts, bracket]
    fastens: [hold]
    uses: [grease 2 g]
    text: {by: drive, crank: "Turn {handle}.", motor: "Wire {power}; then {power.mount}."}
    time: 10 min
  crank: {title: Put the handle on, adds: [handle], text: T, only: {drive: crank}}
`,
	"assemblies/power.yaml": "title: Power\nholds: {motor: {part: motor, at: [0 mm, 0 mm, 0 mm]}}\nsteps: {mount: {title: Mount the motor, adds: [motor], text: T, time: 5 min}}\n",
	"calcs/force.yaml":      "title: Force of the motor\nonly: {drive: motor}\ngiven: {f: {is: 3 N ± 1 N, because: guess}, h: {is: high}}\nfind: {g: 2 * f}\nrecorded: {g: 6 N}\nrequire: [{that: g > 5 N}]\nsource: any book\n",
	"safety/all.yaml":       "fall: {kind: falling, where: [post, step press.build], harm: It falls., before: {severity: slight, chance: likely}, measures: [{warning: Hold it.}], after: {severity: slight, chance: remote}}\n",
	"pages/about.md":        "---\ntitle: About\norder: 1\n---\nThe {press} takes {cap.count} of {cap}, see {force} and {fall}; {press.hold.torque}, {press.hold.count} × {press.hold.screw}; {bar}, {drive}, {high}.\n",
}

func document(t *testing.T, w *check.Work) *page.Document {
	t.Helper()
	doc, err := compose.Document(compose.Input{Work: w})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := site.Render(doc, nil); err != nil { // it follows every link
		t.Error(err)
	}
	return doc
}

// combinations are all combinations of a document's choices.
func combinations(doc *page.Document) []page.Combination {
	all := []page.Combination{{}}
	for _, c := range doc.Choices {
		var wider []page.Combination
		for _, had := range all {
			for _, o := range c.Options {
				one := page.Combination{c.ID: o.ID}
				for k, v := range had {
					one[k] = v
				}
				wider = append(wider, one)
			}
		}
		all = wider
	}
	return all
}

// each calls visit with every value of type T that a document holds, however deep.
func each[T any](in any, visit func(T)) {
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Interface, reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
			return
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if !v.Type().Field(i).IsExported() {
					continue
				}
				walk(v.Field(i))
			}
		}
		if found, ok := v.Interface().(T); ok {
			visit(found)
		}
	}
	walk(reflect.ValueOf(in))
}

func pageOf(t *testing.T, doc *page.Document, id string) *page.Page {
	t.Helper()
	for _, pg := range doc.Pages {
		if pg.ID == id {
			return pg
		}
	}
	t.Errorf("no page %q", id)
	return nil
}

// said is what words say under a combination.
func said(words []page.Inline, c page.Combination) string {
	var b strings.Builder
	for _, w := range words {
		switch w := w.(type) {
		case page.Text:
			b.WriteString(string(w))
		case page.Verbatim:
			b.WriteString(string(w))
		case page.Measure:
			b.WriteString(w.First)
		case page.Formula:
			b.WriteString(notation.Words(w.Is))
		case page.Strong:
			b.WriteString(said(w.Words, c))
		case page.Link:
			b.WriteString(said(w.Words, c))
		case page.Varies:
			b.WriteString(said(w.Pick(c), c))
		}
	}
	return b.String()
}

func TestPagesOfTheStarter(t *testing.T) {
	files := trial.Files{}
	root := starter.Plan()
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		files[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	doc := document(t, check.Out(trial.Plan(t, files)))
	for _, id := range []string{
		"index", "safety", "pages/about", "parts", "shopping", "cutting", "tools", "build", "build/stand", "drawings", "parts/board", "parts/post",
		"calculations", "calculations/tipping", "hazards", "changes", "downloads", "license",
	} {
		pageOf(t, doc, id)
	}
	var about string
	each(pageOf(t, doc, "pages/about").Blocks, func(p page.Paragraph) { about += said(p.Words, nil) })
	if !strings.Contains(about, "Change 200 mm in plan.yaml") || strings.ContainsAny(about, "{}") {
		t.Errorf("the page says %q", about)
	}
}

// There is a page for everything, and what pages, rows, steps and words are for one
// option alone is so under each combination.
func TestPagesOfChoices(t *testing.T) {
	w := check.Out(trial.Plan(t, press))
	doc := document(t, w)
	for _, id := range []string{"choices", "parts/post", "parts/handle", "parts/motor", "parts/bracket", "parts/opened", "parts/grease", "build/press", "build/power", "calculations/force", "pages/about"} {
		pageOf(t, doc, id)
	}
	seen := map[string]bool{}
	for _, pg := range doc.Pages {
		if seen[pg.ID] {
			t.Errorf("two pages %q", pg.ID)
		}
		seen[pg.ID] = true
	}
	parents(t, doc, seen)
	for _, c := range combinations(doc) {
		t.Run(fmt.Sprint(c), func(t *testing.T) {
			s := w.Choosing(plan.Selection(c))
			if s == nil {
				t.Fatal("no situation")
			}
			motor := c["drive"] == "motor"
			for id, want := range map[string]bool{"parts/post": true, "parts/bracket": true, "parts/handle": !motor, "parts/motor": motor, "build/power": motor, "calculations/force": motor} {
				if got := pageOf(t, doc, id).Only.Fits(c); got != want {
					t.Errorf("page %s is there: %v, want %v", id, got, want)
				}
			}
			partsList(t, doc, s, c)
			steps(t, doc, s, c)
			each(doc.Pages, func(v page.Varies) {
				for _, variant := range v.Variants {
					if variant.When.Fits(c) {
						return
					}
				}
				t.Errorf("%v has nothing to say", v)
			})
		})
	}
}

func parents(t *testing.T, doc *page.Document, pages map[string]bool) {
	t.Helper()
	for _, pg := range doc.Pages {
		if pg.Parent != "" && !pages[pg.Parent] {
			t.Errorf("%s belongs to %q, which is no page", pg.ID, pg.Parent)
		}
	}
}

// partsList checks that the list shows the bill of a combination: its parts, their
// counts, and no others.
func partsList(t *testing.T, doc *page.Document, s *check.Situation, c page.Combination) {
	t.Helper()
	rows := map[string]string{}
	each(pageOf(t, doc, "parts").Blocks, func(r page.Row) {
		if r.ID != "" && !r.Section && r.Only.Fits(c) {
			var cells []string
			for _, cell := range r.Cells {
				cells = append(cells, said(cell.Words, c))
			}
			rows[r.ID] = strings.Join(cells, "|")
		}
	})
	for _, line := range s.Bill.Lines {
		id := line.Part.Part.ID.Text
		row, shown := rows[id]
		if !shown {
			t.Errorf("the list lacks %s", id)
		}
		if line.Count > 0 && !slices.Contains(strings.Split(row, "|"), fmt.Sprint(line.Count)) {
			t.Errorf("the list says %q, the bill has %d of %s", row, line.Count, id)
		}
		delete(rows, id)
	}
	delete(rows, "bracket") // bought to be altered
	for id := range rows {
		t.Errorf("the list shows %s, which this combination lacks", id)
	}
}

func steps(t *testing.T, doc *page.Document, s *check.Situation, c page.Combination) {
	t.Helper()
	var got []string
	for _, pg := range doc.Pages {
		if pg.Kind == page.Assembly && pg.Only.Fits(c) {
			each(pg.Blocks, func(st page.Step) {
				if st.Only.Fits(c) {
					got = append(got, st.ID)
				}
			})
		}
	}
	want := []string{"press.build", "press.crank"}
	if c["drive"] == "motor" {
		want = []string{"power.mount", "press.build"}
	}
	if !slices.Equal(got, want) {
		t.Errorf("steps %v, want %v", got, want)
	}
	var text string
	each(pageOf(t, doc, "build/press").Blocks, func(p page.Paragraph) {
		if p.Only.Fits(c) {
			text += said(p.Words, c)
		}
	})
	wanted, other := "Turn Handle.", "Wire Power; then Mount the motor."
	if c["drive"] == "motor" {
		wanted, other = other, wanted
	}
	if !strings.Contains(text, wanted) || strings.Contains(text, other) {
		t.Errorf("the step says %q, want %q", text, wanted)
	}
}

// Braces in plain text: values with their unit, titles of things.
func TestPlain(t *testing.T) {
	w := check.Out(trial.Plan(t, press))
	plain := compose.Plain(w)
	if got, want := plain(w.Plan.Summary), "Holds 2 posts of 90 mm, Post and Build."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	doc := document(t, w)
	if doc.Summary != plain(w.Plan.Summary) {
		t.Errorf("the document's summary is %q", doc.Summary)
	}
	var about string
	each(pageOf(t, doc, "pages/about").Blocks, func(p page.Paragraph) { about += said(p.Words, page.Combination{"drive": "motor", "tile": "large"}) })
	for _, want := range []string{"The Whole press takes 4 of ", "see Force of the motor and ", " N·m, 4 × ", "Bar, Drive, 150 mm."} {
		if !strings.Contains(about, want) {
			t.Errorf("%q, want %q in it", about, want)
		}
	}
	if strings.ContainsAny(about, "{}") {
		t.Errorf("braces stand in %q", about)
	}
}

// Names of things that no combination uses print their titles and lead nowhere: the
// plan can be published as a draft.
func TestNamesOfUnusedThings(t *testing.T) {
	files := press.With(trial.Files{
		"parts/spare.yaml":      "spare: {title: Spare, made: bought, mass: 1 kg}\nnut: {standard: ISO 4032 M8 - 8}\n",
		"stock.yaml":            press["stock.yaml"] + "rod: {title: Rod, section: {round: {d: 5 mm}}, material: steel_s235}\n",
		"assemblies/shelf.yaml": "title: Shelf\nholds: {spare: {part: spare, at: [0 mm, 0 mm, 0 mm]}}\njoints: {tie: {screw: cap, through: [spare.top]}}\nsteps: {put: {title: Put up, adds: [spare], text: \"{spare}\", tools: [mallet]}}\n",
		"pages/about.md":        "---\ntitle: About\norder: 1\n---\n{spare}, {nut}, {rod}, {shelf}, {shelf.put}, {shelf.tie}, {shelf.spare}, {shelf.tie.screw}.\n\n{picture shelf}\n",
		"tools.yaml":            "mallet: {title: Mallet, owned: yes}\n",
		"safety/more.yaml":      "drop: {kind: falling, where: [shelf, spare, step shelf.put], harm: It drops., before: {severity: slight, chance: likely}, measures: [{guard: spare}], after: {severity: slight, chance: remote}}\n",
	})
	w := check.Out(trial.Plan(t, files))
	doc := document(t, w)
	var about string
	each(pageOf(t, doc, "pages/about").Blocks, func(p page.Paragraph) { about += said(p.Words, doc.Default()) })
	if want := "Rod, Shelf, Put up, tie, Spare, "; !strings.HasPrefix(about, "Spare, ") || !strings.Contains(about, want) {
		t.Errorf("says %q, want %q in it", about, want)
	}
}

// Parts altered from each other in a circle are an error of the plan; a draft of it
// can be made all the same.
func TestAlteredInACircle(t *testing.T) {
	p, _ := trial.Read(t, press.With(trial.Files{
		"parts/odd.yaml": "one: {title: One, made: altered, of: two, holes: {h: {at: [1 mm, 1 mm], bore: 1 mm}}, because: B}\ntwo: {title: Two, made: altered, of: one, holes: {h: {at: [1 mm, 1 mm], bore: 1 mm}}, because: B}\n",
	}))
	document(t, check.Out(p))
}
