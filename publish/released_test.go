package publish_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"golang.org/x/net/html"

	"plansheaf/design/plan"
	"plansheaf/design/trial"
	"plansheaf/publish"
	"plansheaf/publish/data"
	"plansheaf/publish/release"
)

// hostileTitle would end the front page's metadata, were it not escaped.
const hostileTitle = `Rig </script><script>alert(1)</script> <!-- "&" ]]>`

// rig is a plan with a choice, whose title is hostile.
var rig = trial.Files{
	"plan.yaml": "title: '" + hostileTitle + "'\nsummary: Holds tiles.\nmachine: rig\nrevision: B/2\ndate: 2026-03-04\nlicense: LicenseRef-ours\nauthors: [A. Person]\ncurrency: EUR\n" +
		"choices: {size: {title: Size, options: {small: Small, large: Large}, default: large}}\nvalues: {side: {is: {by: size, small: 50 mm, large: 60 mm}}}\n",
	"parts/all.yaml":               "lid: {title: Lid, made: machined, material: steel_s235, shape: [{box: [side, 60 mm, 10 mm]}]}\n",
	"assemblies/rig.yaml":          "title: Rig\nholds: {lid: {part: lid, at: [0 mm, 0 mm, 0 mm]}}\nsteps: {lay: {title: Lay it down, adds: [lid], text: Lay it down., time: 90 min}}\n",
	"LICENSES/LicenseRef-ours.txt": "Do as you like.\n",
	"README.md":                    "# Rig\n",
	".secret":                      "not for others\n",
}

// releaseOf makes a release of a plan, for all its choices.
func releaseOf(t *testing.T, files trial.Files, o publish.Options) *publish.Publication {
	t.Helper()
	r := revisionOf(t, files)
	o.Source, o.Rules, o.Version, o.Built = r.Source, rules(), "test", "test"
	for _, s := range r.Work.Combinations() {
		o.Choose = append(o.Choose, plan.Selection(s.Case.Options))
	}
	made, err := publish.Make(r.Work, r.Findings, o)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// revisionOf is a plan read.
func revisionOf(t *testing.T, files trial.Files) *publish.Revision {
	t.Helper()
	dir := fstest.MapFS{}
	for name, text := range files {
		dir[name] = &fstest.MapFile{Data: []byte(text)}
	}
	r, err := publish.Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func contents(made *publish.Publication) map[string][]byte {
	files := map[string][]byte{}
	for _, f := range made.Files {
		files[f.Path] = f.Data
	}
	return files
}

func TestReleaseHoldsEverything(t *testing.T) {
	made := releaseOf(t, rig, publish.Options{})
	files := contents(made)
	for name, text := range rig {
		if got, has := files["source/"+name]; has == strings.HasPrefix(name, ".") || has && string(got) != text {
			t.Errorf("source/%s holds %q", name, got)
		}
	}
	if got := string(files["licenses/LicenseRef-ours.txt"]); got != "Do as you like.\n" {
		t.Errorf("the licence's text is %q", got)
	}
	if made.Archive != "rig-B-2.zip" || files[made.Archive] == nil {
		t.Errorf("the archive is %q", made.Archive)
	}
	if want := []string{"binder.pdf", "choices/small/binder.pdf"}; !slices.Equal(made.Binders, want) {
		t.Errorf("binders are %v, want %v", made.Binders, want)
	}
	if a, b := files["lists/parts.csv"], files["choices/small/lists/parts.csv"]; a == nil || b == nil || bytes.Equal(a, b) {
		t.Error("the lists of the second choice are missing, or those of the first")
	}
	links := map[string]bool{}
	for _, n := range elements(t, files["downloads.html"]) {
		if n.Data == "a" {
			links[attribute(n, "href")] = true
		}
	}
	for _, name := range []string{made.Archive, "licenses/LicenseRef-ours.txt", publish.ManifestPath, publish.ManifestSchemaPath, "choices/small/binder.pdf"} {
		if !links[name] {
			t.Errorf("%s is not among the downloads", name)
		}
	}
}

// The manifest is as its schema says, and what it says of files and editions is so.
func TestManifest(t *testing.T) {
	made := releaseOf(t, rig, publish.Options{})
	files := contents(made)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(files[publish.ManifestSchemaPath]))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("https://example.org/release", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("https://example.org/release")
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(files[publish.ManifestPath]))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(value); err != nil {
		t.Error(err)
	}
	delete(value.(map[string]any), "editions")
	if schema.Validate(value) == nil {
		t.Error("a manifest without editions is not refused")
	}
	m, err := data.ReadManifest(files[publish.ManifestPath])
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{m.Archive: true, publish.ManifestPath: true}
	for _, f := range m.Files {
		told[f.Path] = true
		if got := files[f.Path]; len(got) != f.Bytes || fmt.Sprintf("%x", sha256.Sum256(got)) != f.SHA256 {
			t.Errorf("%s: %d bytes, the manifest says %d", f.Path, len(got), f.Bytes)
		}
		if f.Type == "application/octet-stream" {
			t.Errorf("%s: its media type is not known", f.Path)
		}
	}
	for name := range files {
		if !told[name] {
			t.Errorf("the manifest leaves out %s", name)
		}
	}
	for _, e := range m.Editions {
		for _, name := range append(e.Lists, e.Binder) {
			if files[name] == nil {
				t.Errorf("there is no %s", name)
			}
		}
	}
	if len(m.Editions) != 2 || m.Editions[1].Options["size"] != "small" || m.Title != hostileTitle {
		t.Errorf("the manifest says %+v", m)
	}
	for _, wrong := range []string{"", "{}", `{"form": "another"}`, `{"form": "` + data.ManifestForm + `"}`, "[1"} {
		if _, err := data.ReadManifest([]byte(wrong)); err == nil {
			t.Errorf("%q is read as a manifest", wrong)
		}
	}
}

// terms of schema.org's vocabulary that its types HowTo, HowToSection, HowToStep,
// HowToTool, HowToSupply, MonetaryAmount, Person, Product and CreativeWork have.
// Source: schema.org, the pages of these types.
var vocabulary = []string{
	"@context", "@type", "about", "author", "creativeWorkStatus", "currency", "dateModified", "description", "estimatedCost", "image",
	"inLanguage", "itemListElement", "license", "minValue", "name", "position", "requiredQuantity", "step", "supply", "tool", "totalTime", "url", "value", "version",
}

// keysOf are the keys of a JSON value, at every depth.
func keysOf(v any, to map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for key, one := range v {
			to[key] = true
			keysOf(one, to)
		}
	case []any:
		for _, one := range v {
			keysOf(one, to)
		}
	}
}

// The front page alone carries the metadata, in one element that nothing in the plan
// can end, and what it names is there.
func TestFrontPageMetadata(t *testing.T) {
	files := contents(releaseOf(t, rig, publish.Options{}))
	for name, page := range files {
		if path.Ext(name) != ".html" {
			continue
		}
		for _, n := range elements(t, page) {
			if n.Data != "script" || attribute(n, "src") != "" {
				continue
			}
			if name != "index.html" || attribute(n, "type") != "application/ld+json" {
				t.Errorf("%s holds a script of its own", name)
			}
		}
	}
	var meta map[string]any
	count := 0
	for _, n := range elements(t, files["index.html"]) {
		if n.Data == "script" && attribute(n, "type") == "application/ld+json" {
			count++
			if n.FirstChild == nil || n.FirstChild.Type != html.TextNode || n.FirstChild.NextSibling != nil {
				t.Fatal("the metadata is not one text")
			}
			if err := json.Unmarshal([]byte(n.FirstChild.Data), &meta); err != nil {
				t.Fatal(err)
			}
		}
	}
	if count != 1 {
		t.Fatalf("%d elements with metadata", count)
	}
	used := map[string]bool{}
	keysOf(meta, used)
	for _, key := range slices.Sorted(maps.Keys(used)) {
		if !slices.Contains(vocabulary, key) {
			t.Errorf("schema.org has no %q", key)
		}
	}
	for key, want := range map[string]any{
		"@context": "https://schema.org", "@type": "HowTo", "name": hostileTitle, "version": "B/2", "dateModified": "2026-03-04", "inLanguage": "en", "totalTime": "PT1H30M",
	} {
		if meta[key] != want {
			t.Errorf("%s is %v, want %v", key, meta[key], want)
		}
	}
	if image, _ := meta["image"].(string); files[image] == nil {
		t.Errorf("there is no picture %q", image)
	}
	section := meta["step"].([]any)[0].(map[string]any)
	if url, _ := section["url"].(string); files[url] == nil {
		t.Errorf("there is no page %q", url)
	}
	if step := section["itemListElement"].([]any)[0].(map[string]any); step["name"] != "Lay it down" {
		t.Errorf("the first step is %v", step)
	}
}

func TestLicenseTexts(t *testing.T) {
	cases := []struct {
		name, license string
		files         trial.Files
		earlier       trial.Files // of an earlier revision, under LicenseRef-y; nil for none
		texts         []string    // paths
		lacking       []string    // ids
	}{
		{name: "one that the program has", license: "CERN-OHL-S-2.0", texts: []string{"licenses/CERN-OHL-S-2.0.txt"}},
		{name: "or later", license: "GPL-3.0-or-later", texts: []string{"licenses/GPL-3.0-or-later.txt"}},
		{name: "several", license: "(MIT AND CC0-1.0) OR MIT", texts: []string{"licenses/CC0-1.0.txt", "licenses/MIT.txt"}},
		{name: "of the plan's own", license: "LicenseRef-x", files: trial.Files{"LICENSES/LicenseRef-x.txt": "x"}, texts: []string{"licenses/LicenseRef-x.txt"}},
		{name: "the one at the root", license: "LicenseRef-x", files: trial.Files{"LICENSE": "x"}, texts: []string{"licenses/LicenseRef-x.txt"}},
		{name: "none", license: "LicenseRef-x", lacking: []string{"LicenseRef-x"}},
		{name: "the one at the root for two", license: "LicenseRef-x OR MIT", files: trial.Files{"LICENSE": "x"}, lacking: []string{"LicenseRef-x"}},
		{name: "an exception", license: "GPL-2.0-only WITH Classpath-exception-2.0", lacking: []string{"Classpath-exception-2.0"}},
		{name: "an earlier revision under another", license: "MIT", earlier: trial.Files{"LICENSE": "y"}, texts: []string{"licenses/LicenseRef-y.txt", "licenses/MIT.txt"}},
		{name: "an earlier revision without its text", license: "MIT", earlier: trial.Files{}, lacking: []string{"LicenseRef-y"}},
		{name: "an earlier revision whose text the plan has", license: "LicenseRef-y", files: trial.Files{"LICENSE": "y"}, earlier: trial.Files{}, texts: []string{"licenses/LicenseRef-y.txt"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			under := func(license string) trial.Files {
				return trial.Files{
					"plan.yaml":            "title: Rail\nmachine: rail\nrevision: A\nlicense: " + license + "\n",
					"assemblies/rail.yaml": "title: Rail\nholds: {}\n",
				}
			}
			var o publish.Options
			if c.earlier != nil {
				o.Since = revisionOf(t, under("LicenseRef-y").With(c.earlier))
			}
			made := releaseOf(t, under(c.license).With(c.files), o)
			var lacking, texts []string
			for _, f := range made.Problems {
				if f.Rule == publish.LicenseTextMissing.Name {
					lacking = append(lacking, f.Subject)
					if f.At.File != "plan.yaml" || f.At.Line != 4 || f.Remedy == "" {
						t.Errorf("found %+v", f)
					}
				}
			}
			for _, f := range made.Files {
				if strings.HasPrefix(f.Path, "licenses/") {
					texts = append(texts, f.Path)
				}
			}
			slices.Sort(texts)
			if !slices.Equal(lacking, c.lacking) || !slices.Equal(texts, c.texts) {
				t.Errorf("texts %v, lacking %v", texts, lacking)
			}
			if len(lacking) > 0 && len(made.Files) > 0 {
				t.Error("files were made nevertheless")
			}
		})
	}
}

// A release is what its source gives, as a folder and as an archive; what is changed in
// either is named, and so is what the source gives otherwise.
func TestReleaseIsWhatItsSourceGives(t *testing.T) {
	made := releaseOf(t, rig, publish.Options{})
	dir := filepath.Join(t.TempDir(), "out")
	if err := release.Write(dir, made.Files); err != nil {
		t.Fatal(err)
	}
	again := func(name string) *publish.Comparison {
		c, err := release.Open(name, release.DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		got, err := publish.Again(c, publish.Options{Rules: rules(), Version: "test", Built: "test"})
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	for _, name := range []string{dir, filepath.Join(dir, made.Archive)} {
		if got := again(name); got.Manifest == nil || len(got.Findings)+len(got.Faults) > 0 {
			t.Errorf("%s: %+v", filepath.Base(name), got)
		}
	}
	// A release whose list is right and whose parts list is not what the source gives.
	var files []release.File
	for _, f := range made.Files {
		switch f.Path {
		case made.Archive:
			continue
		case publish.PartsPath:
			f.Data = append(slices.Clone(f.Data), "lid,one more\n"...)
		}
		files = append(files, f)
	}
	forged := filepath.Join(t.TempDir(), "forged")
	if err := release.Write(forged, files); err != nil {
		t.Fatal(err)
	}
	got := again(forged)
	var said []string
	for _, f := range got.Faults {
		said = append(said, string(f.Kind)+" "+f.Path)
	}
	if want := []string{"differs files.sha256", "differs lists/parts.csv", "lacking rig-B-2.zip"}; !slices.Equal(said, want) {
		t.Errorf("faults are %q, want %q", said, want)
	}
	// One whose source has errors.
	for i, f := range files {
		if f.Path == "source/parts/all.yaml" {
			files[i].Data = []byte("lid: {title: Lid, made: nonsense}\n")
		}
	}
	if err := release.Write(forged, files); err != nil {
		t.Fatal(err)
	}
	if got := again(forged); len(got.Findings) == 0 || got.Findings[0].At.File != "parts/all.yaml" {
		t.Errorf("the source has errors, and found is %v", got.Findings)
	}
}
