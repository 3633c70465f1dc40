package publish_test

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"
)

// A draft is a plan's files by path, as text, while it is being edited.
type draft map[string]string

func draftOf(t testing.TB, plan fs.FS) draft {
	t.Helper()
	d := draft{}
	err := fs.WalkDir(plan, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(plan, name)
		d[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func machine(t testing.TB, name string) draft {
	t.Helper()
	return draftOf(t, os.DirFS("../testdata/machines/"+name))
}

func (d draft) fs() fs.FS {
	out := fstest.MapFS{}
	for name, text := range d {
		out[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	return out
}

// paths are the files below a folder or with a name, in order.
func (d draft) paths(prefix string) []string {
	var list []string
	for _, name := range slices.Sorted(maps.Keys(d)) {
		if strings.HasPrefix(name, prefix) {
			list = append(list, name)
		}
	}
	return list
}

// replace puts something else in one place, any, where a pattern's first group stands; it
// says what it did.
func (d draft) replace(r *rand.Rand, prefix, pattern string, with func(was string) string) string {
	type place struct {
		file string
		at   []int
	}
	var places []place
	re := regexp.MustCompile(pattern)
	for _, name := range d.paths(prefix) {
		for _, at := range re.FindAllStringSubmatchIndex(d[name], -1) {
			places = append(places, place{name, at[2:4]})
		}
	}
	if len(places) == 0 {
		return ""
	}
	p := places[r.IntN(len(places))]
	text := d[p.file]
	was := text[p.at[0]:p.at[1]]
	is := with(was)
	d[p.file] = text[:p.at[0]] + is + text[p.at[1]:]
	return fmt.Sprintf("%s:%d: %q for %q", p.file, 1+strings.Count(text[:p.at[0]], "\n"), is, was)
}

// nearby is a number somewhat larger or smaller.
func nearby(r *rand.Rand) func(string) string {
	return func(was string) string {
		x, err := strconv.ParseFloat(was, 64)
		if err != nil {
			panic(err) // the patterns ask for numbers
		}
		by := []float64{-2, -1, -0.5, 0.25, 1, 3}[r.IntN(6)]
		if math.Abs(x) >= 100 {
			by *= 5
		}
		return strconv.FormatFloat(max(x+by, 0.5), 'f', -1, 64)
	}
}

// oneOf is another one of some words.
func oneOf(r *rand.Rand, words ...string) func(string) string {
	return func(was string) string {
		left := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == was })
		return left[r.IntN(len(left))]
	}
}

const amount = `([0-9]+(?:\.[0-9]+)?)`

// An edit is what an author does to a plan in one go; it says what it did, empty for
// nothing where the plan has nothing of the kind.
type edit struct {
	name string
	do   func(r *rand.Rand, d draft) string
}

// replacing is an edit that replaces the first group of a pattern somewhere.
func replacing(name, prefix, pattern string, with func(*rand.Rand) func(string) string) edit {
	return edit{name, func(r *rand.Rand, d draft) string { return d.replace(r, prefix, pattern, with(r)) }}
}

// setting is an edit of a key at the top of plan.yaml.
func setting(key string, values ...string) edit {
	return edit{"set " + key, func(r *rand.Rand, d draft) string {
		pattern := `(?m)^` + key + `: (.*)$`
		if !regexp.MustCompile(pattern).MatchString(d["plan.yaml"]) {
			d["plan.yaml"] += key + ": " + values[0] + "\n"
		}
		return d.replace(r, "plan.yaml", pattern, oneOf(r, values...))
	}}
}

// head begins a top-level entry of a file.
var head = regexp.MustCompile(`(?m)^[a-z]`)

// entries cuts a text before each place that begins one, what stands before the first
// being an entry of its own.
func entries(text string, begins *regexp.Regexp) []string {
	var list []string
	from := 0
	for _, at := range begins.FindAllStringIndex(text, -1) {
		list = append(list, text[from:at[0]])
		from = at[0]
	}
	return append(list, text[from:])
}

// steps are an assembly's text up to its steps, and those one by one.
func steps(text string) (before string, list []string) {
	before, after, found := strings.Cut(text, "\nsteps:\n")
	if !found {
		return text, nil
	}
	return before + "\nsteps:\n", entries(after, regexp.MustCompile(`(?m)^  [a-z]`))[1:]
}

func otherOrder(r *rand.Rand, d draft) string {
	list := d.paths("assemblies/")
	name := list[r.IntN(len(list))]
	before, all := steps(d[name])
	if len(all) < 2 {
		return ""
	}
	i := r.IntN(len(all) - 1)
	all[i], all[i+1] = all[i+1], all[i]
	d[name] = before + strings.Join(all, "")
	return fmt.Sprintf("%s: steps %d and %d changed over", name, i+1, i+2)
}

// added makes a part that is like another one, and puts it into an assembly.
func added(r *rand.Rand, d draft) string {
	files, assemblies := d.paths("parts/"), d.paths("assemblies/")
	name := files[r.IntN(len(files))]
	all := entries(d[name], head)[1:]
	one := all[r.IntN(len(all))]
	id, rest, _ := strings.Cut(one, ":")
	fresh := fmt.Sprintf("%s_%c", id, 'p'+r.IntN(8))
	d[name] = strings.TrimRight(d[name], "\n") + "\n" + fresh + ":" + strings.TrimRight(rest, "\n") + "\n"
	into := assemblies[r.IntN(len(assemblies))]
	d[into] = strings.Replace(d[into], "holds:\n", fmt.Sprintf("holds:\n  one_%s: {part: %s, at: [%d mm, %d mm, 90 mm]}\n", fresh, fresh, 50*r.IntN(9), 50*r.IntN(9)), 1)
	return name + ": " + fresh + " in " + into
}

// removed takes one entry out of a file.
func removed(folder string) func(r *rand.Rand, d draft) string {
	return func(r *rand.Rand, d draft) string {
		files := d.paths(folder)
		if len(files) == 0 {
			return ""
		}
		name := files[r.IntN(len(files))]
		all := entries(d[name], head)
		if len(all) < 3 {
			return ""
		}
		at := 1 + r.IntN(len(all)-1)
		id, _, _ := strings.Cut(all[at], ":")
		d[name] = strings.Join(slices.Delete(all, at, at+1), "")
		return name + ": without " + id
	}
}

// shifted moves all that stands below by some lines.
func shifted(r *rand.Rand, d draft) string {
	list := slices.DeleteFunc(d.paths(""), func(name string) bool { return !strings.HasSuffix(name, ".yaml") })
	name := list[r.IntN(len(list))]
	all := entries(d[name], head)
	at := r.IntN(len(all))
	all[at] += strings.Repeat("# To be looked at again.\n\n", 1+r.IntN(3))
	d[name] = strings.Join(all, "")
	return fmt.Sprintf("%s: comments below entry %d", name, at)
}

// reformatted is a file set anew, with the same meaning.
func reformatted(r *rand.Rand, d draft) string {
	list := slices.DeleteFunc(d.paths(""), func(name string) bool { return !strings.HasSuffix(name, ".yaml") })
	name := list[r.IntN(len(list))]
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(d[name]), &doc); err != nil {
		return ""
	}
	text, err := yaml.Marshal(&doc)
	if err != nil {
		return ""
	}
	d[name] = string(text)
	return name + " set anew"
}

// renamed is an entry of the parts with another name all over the plan.
func renamed(r *rand.Rand, d draft) string {
	files := d.paths("parts/")
	all := entries(d[files[r.IntN(len(files))]], head)[1:]
	id, _, _ := strings.Cut(all[r.IntN(len(all))], ":")
	word := regexp.MustCompile(`\b` + id + `\b`)
	for name, text := range d {
		d[name] = word.ReplaceAllString(text, id+"_n")
	}
	return id + " is called " + id + "_n"
}

// moved is an entry of the parts in another file.
func moved(r *rand.Rand, d draft) string {
	files := d.paths("parts/")
	name := files[r.IntN(len(files))]
	all := entries(d[name], head)
	if len(all) < 3 {
		return ""
	}
	at := 1 + r.IntN(len(all)-1)
	d["parts/other.yaml"] = strings.TrimLeft(strings.TrimRight(d["parts/other.yaml"], "\n")+"\n"+all[at], "\n")
	id, _, _ := strings.Cut(all[at], ":")
	d[name] = strings.Join(slices.Delete(all, at, at+1), "")
	return name + ": " + id + " stands in parts/other.yaml"
}

// calculated adds a calculation on a part's mass, or changes it.
func calculated(r *rand.Rand, d draft) string {
	files := d.paths("parts/")
	all := entries(d[files[r.IntN(len(files))]], head)[1:]
	id, _, _ := strings.Cut(all[r.IntN(len(all))], ":")
	d["calcs/carried.yaml"] = fmt.Sprintf(`title: Force on the hook
given:
  share: {is: %.2f ± 0.05, because: it hangs from two hooks}
find:
  force: share * %s.mass * 9.81 m/s^2
require:
  - {that: force < %d N, because: more tears the hook out}
source: statics
`, 0.5+0.1*float64(r.IntN(5)), id, 1+r.IntN(30))
	return "calcs/carried.yaml: of " + id
}

// chosen adds a choice that a length of the plan depends on.
func chosen(r *rand.Rand, d draft) string {
	if strings.Contains(d["plan.yaml"], "\nchoices:") {
		return d.replace(r, "plan.yaml", `default: (small|large)`, oneOf(r, "small", "large"))
	}
	d["plan.yaml"] += "choices:\n  size:\n    title: How large it is\n    options: {small: Small, large: Large}\n    default: small\n"
	return d.replace(r, "parts/", `(?m)(?:length|l): ([0-9]+ (?:mm|in))\b`, func(was string) string { return "{by: size, small: " + was + ", large: 1.05 * " + was + "}" })
}

// written adds a page, or a line to it.
func written(r *rand.Rand, d draft) string {
	files := d.paths("parts/")
	all := entries(d[files[r.IntN(len(files))]], head)[1:]
	id, _, _ := strings.Cut(all[r.IntN(len(all))], ":")
	if d["pages/words.md"] == "" {
		d["pages/words.md"] = "---\ntitle: Words\norder: 3\n---\n"
	}
	d["pages/words.md"] += fmt.Sprintf("\nOf {%s} there are {%s.count}; {%s.mass} each.\n\n{picture %s}\n", id, id, id, id)
	return "pages/words.md: " + id
}

var edits = []edit{
	replacing("size", "parts/", amount+` (?:mm|in)\b`, nearby),
	replacing("length", "parts/", `length: `+amount+` (?:mm|in)\b`, nearby),
	replacing("hole place", "parts/", `(?:at|from|centre): \[`+amount+` (?:mm|in)\b`, nearby),
	replacing("hole place, second", "parts/", `(?:at|from|centre): \[[^,\]]*, `+amount+` (?:mm|in)\b`, nearby),
	replacing("diameter", "parts/", `\bd: `+amount+` (?:mm|in)\b`, nearby),
	replacing("fit", "parts/", `mm (H[0-9]+|h[0-9]+|r[0-9]|E8)\b`, func(r *rand.Rand) func(string) string { return oneOf(r, "H7", "h6", "h9", "r6", "H8") }),
	replacing("thread", "parts/", `(?:for|tap): (M[0-9]+)\b`, func(r *rand.Rand) func(string) string { return oneOf(r, "M3", "M4", "M5", "M6") }),
	replacing("count", "", `count: ([0-9]+)\b`, func(*rand.Rand) func(string) string {
		return func(was string) string { return map[string]string{"1": "2", "2": "3", "3": "2", "4": "3"}[was] + "" }
	}),
	replacing("place", "assemblies/", `at: \[`+amount+` (?:mm|in)\b`, nearby),
	replacing("place, third", "assemblies/", `at: \[[^,\]]*, [^,\]]*, `+amount+` (?:mm|in)\b`, nearby),
	replacing("turn", "assemblies/", `turn: [xyz] (-?[0-9]+) deg`, func(r *rand.Rand) func(string) string { return oneOf(r, "90", "180", "-90", "135") }),
	replacing("price", "", `price: `+amount+` `, nearby),
	replacing("sold", "stock.yaml", `(?:length|kerf|trim): `+amount+` (?:mm|in)\b`, nearby),
	replacing("section", "stock.yaml", `(?:size: \[|slot: |sheet: |core: )`+amount+` (?:mm|in)\b`, nearby),
	replacing("material's value", "materials.yaml", `(?:density|modulus|yield): `+amount+` `, nearby),
	replacing("material", "", `material: ([a-z_0-9]+)`, func(r *rand.Rand) func(string) string {
		return oneOf(r, "aluminium_6082", "aluminium_6063", "steel_c45", "pine")
	}),
	replacing("screw", "parts/", `M[35]x([0-9]+)\b`, func(r *rand.Rand) func(string) string { return oneOf(r, "8", "10", "12", "16", "20") }),
	replacing("value", "plan.yaml", `(?:is|to): `+amount+` mm`, nearby),
	replacing("words", "", `(?m)(?:text|summary|harm|about|warning|says):[^\n]*?\b(the|and|of|a|is|it)\b`, func(*rand.Rand) func(string) string {
		return func(was string) string { return was + " old" }
	}),
	replacing("title", "", `(?m)title: "?([A-Z][a-z]+)`, func(*rand.Rand) func(string) string { return func(was string) string { return "New " + was } }),
	replacing("time", "assemblies/", `time: ([0-9]+) min`, nearby),
	replacing("torque", "assemblies/", `torque: ([a-z]+)`, func(r *rand.Rand) func(string) string { return oneOf(r, "hand", "auto") }),
	replacing("severity", "safety/", `severity: ([a-z]+)`, func(r *rand.Rand) func(string) string { return oneOf(r, "slight", "serious", "severe") }),
	replacing("chance", "safety/", `chance: ([a-z]+)`, func(r *rand.Rand) func(string) string { return oneOf(r, "remote", "possible", "likely") }),
	replacing("a comma less", "", `(,)`, func(*rand.Rand) func(string) string { return func(string) string { return "" } }),
	replacing("a use removed", "assemblies/", `(?m)^(  [a-z_0-9]+: +\{(?:part|assembly): [^\n]*\n)`, func(*rand.Rand) func(string) string { return func(string) string { return "" } }),
	replacing("a name mistyped", "assemblies/", `part: ([a-z_]+)`, func(*rand.Rand) func(string) string { return func(was string) string { return was + "x" } }),
	setting("tolerances", "ISO 2768-m", "ISO 2768-f", "ISO 2768-c"),
	setting("projection", "third", "first"),
	setting("language", "en", "de", "fi"),
	setting("units", "metric", "inch"),
	setting("sheet", "A4", "letter"),
	setting("currency", "EUR", "USD", "CHF"),
	setting("revision", "A", "B", "C"),
	setting("date", "2026-05-02", "2026-07-11"),
	setting("approved", "T. Brannigan-Sato", "M. Okafor-Lind"),
	{"order of steps", otherOrder},
	{"part added", added},
	{"part removed", removed("parts/")},
	{"hazard removed", removed("safety/")},
	{"stock removed", removed("stock.yaml")},
	{"lines shifted", shifted},
	{"set anew", reformatted},
	{"renamed", renamed},
	{"moved", moved},
	{"calculation", calculated},
	{"choice", chosen},
	{"page", written},
}

// change makes so many edits and says which.
func (d draft) change(r *rand.Rand, many int) string {
	var said []string
	for len(said) < many {
		e := edits[r.IntN(len(edits))]
		if what := e.do(r, d); what != "" {
			said = append(said, e.name+" ("+what+")")
		}
	}
	return strings.Join(said, "; ")
}
