package change

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/check"
	"plansheaf/design/source"
)

// small is the text of a small plan's files.
func small(t testing.TB) map[string]string {
	t.Helper()
	files := map[string]string{}
	root := os.DirFS("../starter/plan")
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, path)
		files[path] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// worked is a plan worked out and checked.
func worked(t testing.TB, files map[string]string) Revision {
	t.Helper()
	tree := fstest.MapFS{}
	for path, text := range files {
		tree[path] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	p, read, err := source.Read(tree, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	w := check.Out(p)
	return Revision{w, check.Run(w, read)}
}

// An edit changes a plan's files in place.
type edit func(r *rand.Rand, files map[string]string)

var amount = regexp.MustCompile(`\b[0-9]+(\.[0-9]+)? (mm|min|EUR|g|kg)\b`)

// another number somewhere.
func tweak(r *rand.Rand, files map[string]string) {
	path := pick(r, files)
	places := amount.FindAllStringIndex(files[path], -1)
	if len(places) == 0 {
		return
	}
	at := places[r.IntN(len(places))]
	_, unit, _ := strings.Cut(files[path][at[0]:at[1]], " ")
	files[path] = files[path][:at[0]] + fmt.Sprintf("%d %s", 1+r.IntN(60), unit) + files[path][at[1]:]
}

// ids that may get another name, all over the plan.
var ids = []string{"board", "post", "left", "right", "posts", "foot", "posts_to_board", "drill_board", "stand_posts", "square_20", "birch_18",
	"post_height", "cap_m6x30", "washer_m6", "tipping", "wood_dust", "dealer"}

func rename(r *rand.Rand, files map[string]string) { renamed(files, ids[r.IntN(len(ids))]) }

// prose begins where a line goes on in words, in which only names in braces are names.
var prose = regexp.MustCompile(`(title|about|because|warning|harm|summary|any|text):|^      [A-Z]|^      with|^The |^to suit|^title|^    measure`)

func renamed(files map[string]string, id string) {
	word := regexp.MustCompile(`\b` + id + `\b`)
	inside := regexp.MustCompile(`\{([a-z_0-9]+\.)*` + id + `(\.[a-z_0-9]+)*\}`)
	for path, text := range files {
		var lines []string
		for _, line := range strings.Split(text, "\n") {
			names, rest := line, ""
			if at := prose.FindStringIndex(line); at != nil {
				names, rest = line[:at[0]], line[at[0]:]
			}
			rest = inside.ReplaceAllStringFunc(rest, func(name string) string { return word.ReplaceAllString(name, id+"_x") })
			lines = append(lines, word.ReplaceAllString(names, id+"_x")+rest)
		}
		delete(files, path)
		files[word.ReplaceAllString(path, id+"_x")] = strings.Join(lines, "\n")
	}
}

// a top-level entry less in a file of parts, hazards or stock.
func drop(r *rand.Rand, files map[string]string) {
	path := []string{"parts/stand.yaml", "safety/hazards.yaml", "stock.yaml"}[r.IntN(3)]
	list := entries(files[path])
	if len(list) < 2 {
		return
	}
	at := r.IntN(len(list))
	files[path] = strings.Join(slices.Delete(list, at, at+1), "")
}

// one more entry, like another one.
func double(r *rand.Rand, files map[string]string) {
	path := []string{"parts/stand.yaml", "safety/hazards.yaml", "stock.yaml"}[r.IntN(3)]
	list := entries(files[path])
	if len(list) == 0 {
		return
	}
	one := list[r.IntN(len(list))]
	files[path] += "\n" + regexp.MustCompile(`^([a-z0-9_]+):`).ReplaceAllString(one, fmt.Sprintf("more_%d:", r.IntN(3)))
}

var head = regexp.MustCompile(`(?m)^[a-z]`)

// entries cuts a file into its top-level entries.
func entries(text string) []string {
	var list []string
	places := head.FindAllStringIndex(text, -1)
	for i, at := range places {
		end := len(text)
		if i+1 < len(places) {
			end = places[i+1][0]
		}
		list = append(list, text[at[0]:end])
	}
	return list
}

func pick(r *rand.Rand, files map[string]string) string {
	var paths []string
	for path := range files {
		paths = append(paths, path)
	}
	slices.Sort(paths)
	return paths[r.IntN(len(paths))]
}

func asText(t testing.TB, c *Comparison) string {
	t.Helper()
	text, err := json.MarshalIndent(c, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(strings.ReplaceAll(string(text), ": []", ": null"), "{}", "null")
}

// Whatever is edited, the comparison the other way round is the mirror image, and a
// revision compared with itself is nothing.
func TestRandomEditsMirror(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	edits := []edit{tweak, tweak, rename, drop, double}
	changed := 0
	for round := range 40 {
		files := small(t)
		old := worked(t, files)
		for range 1 + r.IntN(4) {
			edits[r.IntN(len(edits))](r, files)
		}
		new := worked(t, files)
		there, back := Between(old, new), Between(new, old)
		if got, want := asText(t, back), asText(t, there.Mirror()); got != want {
			a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
			for i := range min(len(a), len(b)) {
				if a[i] != b[i] {
					t.Fatalf("round %d: the other way round differs at line %d:\n%s\nwant\n%s", round, i, strings.Join(b[max(0, i-8):min(len(b), i+8)], "\n"), strings.Join(a[max(0, i-8):min(len(a), i+8)], "\n"))
				}
			}
			t.Fatalf("round %d: the other way round is longer or shorter", round)
		}
		if again := Between(new, worked(t, files)); !again.Empty() {
			t.Fatalf("round %d: compared with itself: %s", round, asText(t, again))
		}
		if !there.Empty() {
			changed++
		}
	}
	if changed < 30 {
		t.Errorf("only %d of 40 rounds changed anything", changed)
	}
}

// Text that says the same otherwise is nothing.
func TestOtherTextSameMeaning(t *testing.T) {
	cases := []struct {
		name string
		edit func(files map[string]string)
	}{
		{name: "comments and blank lines", edit: func(files map[string]string) {
			for path, text := range files {
				if strings.HasSuffix(path, ".yaml") {
					files[path] = "# a comment\n\n" + text
				}
			}
		}},
		{name: "parts in another order", edit: func(files map[string]string) {
			list := entries(files["parts/stand.yaml"])
			slices.Reverse(list)
			files["parts/stand.yaml"] = strings.Join(list, "\n")
		}},
		{name: "parts in another file", edit: func(files map[string]string) {
			files["parts/other.yaml"] = files["parts/stand.yaml"]
			delete(files, "parts/stand.yaml")
		}},
		{name: "another unit", edit: func(files map[string]string) {
			files["parts/stand.yaml"] = strings.ReplaceAll(files["parts/stand.yaml"], "18 mm", "1.8 cm")
		}},
		{name: "a formula for a value", edit: func(files map[string]string) {
			files["parts/stand.yaml"] = strings.ReplaceAll(files["parts/stand.yaml"], "220 mm", "200 mm + 2 * 10 mm")
		}},
		{name: "the order of what a step adds", edit: func(files map[string]string) {
			files["assemblies/stand.yaml"] = strings.ReplaceAll(files["assemblies/stand.yaml"], "adds: [left, right]", "adds: [right, left]")
		}},
		{name: "prose broken elsewhere", edit: func(files map[string]string) {
			files["assemblies/stand.yaml"] = strings.ReplaceAll(files["assemblies/stand.yaml"], "below and put", "below\n      and put")
		}},
	}
	old := worked(t, small(t))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := small(t)
			before := fmt.Sprint(files)
			c.edit(files)
			if fmt.Sprint(files) == before {
				t.Fatal("the edit changed nothing")
			}
			if got := Between(old, worked(t, files)); !got.Empty() {
				t.Errorf("it counts as a change: %s", asText(t, got))
			}
		})
	}
}

// A name that is changed all over the plan is a renaming and nothing else.
func TestRenamesAreFound(t *testing.T) {
	old := worked(t, small(t))
	for _, id := range ids {
		t.Run(id, func(t *testing.T) {
			files := small(t)
			renamed(files, id)
			c := Between(old, worked(t, files))
			seen := 0
			for _, x := range c.Changes {
				switch {
				case x.What == Renamed:
					seen++
				case len(x.Lines) == 1 && strings.HasPrefix(x.Lines[0].What, "name of "):
					seen++ // a hole of a part
				default:
					t.Errorf("%s: %+v", x.Headline(), x.Lines)
				}
			}
			if seen == 0 {
				t.Error("no renaming was found")
			}
			if !c.Effects.empty() || len(c.Found)+len(c.Gone)+len(c.Worse) > 0 {
				t.Errorf("something follows from a name: %s", asText(t, c))
			}
		})
	}
}
