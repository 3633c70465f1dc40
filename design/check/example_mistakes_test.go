package check

import (
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"plansheaf/design/clash"
	"plansheaf/design/finding"
	"plansheaf/design/reckon"
	"plansheaf/design/source"
	"plansheaf/design/way"
)

// aboutJoints are rules that look at joints, and at cables in holes, as they stand in the
// placed machine.
var aboutJoints = []Rule{
	ClearanceTooLarge, FitFails, HeadDoesNotBear, HeadDoesNotSeat, HolesOutOfLine, HolesUnpaired, InsertDoesNotFit, NothingToBite,
	LayersApart, ScrewBarelyThrough, ScrewDoesNotPass, ScrewRunsInto, ScrewTooLong, ScrewTooShort, ShankReachesThread, StrandHasNoRoom, ThreadMismatch, ThreadTooShallow, WasherMissing,
}

// aboutBodies are rules that look at the machine's bodies, for mistakes that these might
// tell too.
var aboutBodies = []Rule{BodiesOverlap, BodiesOverlapSlightly, MotionRunsInto, NoWayOut}

// TestMistakesInTheExample: what testdata/mistakes/example.csv does to the example plan is
// found by the rule about it, once at each row, with its numbers, and draws nothing else
// about joints; nor about bodies, in rows that say so.
func TestMistakesInTheExample(t *testing.T) {
	file, err := os.Open("../../testdata/mistakes/example.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	table.FieldsPerRecord = -1
	rows, err := table.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	files, shared := example(t), &rowStore{shapes: reckon.NewShapes()}
	for _, row := range append([][]string{{"as it is", "plan.yaml", "", "", "", ""}}, rows[1:]...) {
		name, path, text, instead, rule, says := row[0], row[1], row[2], row[3], row[4], row[5]
		t.Run(name, func(t *testing.T) {
			edited := fstest.MapFS{}
			for name, f := range files {
				edited[name] = f
			}
			if text != "" {
				if !strings.Contains(string(files[path].Data), text) {
					t.Fatalf("%s does not hold %q", path, text)
				}
				edited[path] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(string(files[path].Data), text, instead)), Mode: 0o644}
			}
			var found []finding.Finding
			rules := aboutJoints
			var also []string // what else the mistake is told by, rightly
			if len(row) > 6 {
				rules, also = slices.Concat(aboutJoints, aboutBodies), strings.Fields(row[6])[1:]
			}
			for _, one := range foundBy(t, edited, rules, shared) {
				if !slices.Contains(also, one.Rule) {
					found = append(found, one)
				}
				t.Logf("%s: %s [%s] %s", one.At, one.Message, one.Rule, one.Remedy)
			}
			switch {
			case rule == "" && len(found) > 0:
				t.Errorf("%d findings, expected none", len(found))
			case rule == "":
			case len(found) != 1 || found[0].Rule != rule || !strings.Contains(found[0].Message, says) || found[0].Remedy == "":
				t.Errorf("%d findings, expected one of %s that says %q and what to do", len(found), rule, says)
			}
		})
	}
}

// example is the example plan in memory.
func example(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	root := os.DirFS(filepath.Join("..", "..", "example-plan"))
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		files[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// A rowStore is what rows share, most of whose parts are the same.
type rowStore struct {
	shapes  *reckon.Shapes
	ways    *way.Memory
	clashes *clash.Store
}

// foundBy is what rules find in a plan's own case.
func foundBy(t *testing.T, fsys fs.FS, rules []Rule, shared *rowStore) []finding.Finding {
	t.Helper()
	p, read, err := source.Read(fsys, source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range read {
		if f.Severity == finding.Error {
			t.Fatal(f.Message)
		}
	}
	w := &Work{Plan: p, Whole: true, ways: shared.ways, clashes: shared.clashes}
	s := w.situation(reckon.Default(p), shared.shapes)
	w.Situations = []*Situation{s}
	defer func() { shared.ways, shared.clashes = s.work.ways, s.work.clashes }()
	var found []finding.Finding
	for _, rule := range rules {
		rule.Each(s, func(f finding.Finding) {
			if f.Severity = rule.Severity; f.Remedy == "" {
				f.Remedy = rule.Remedy
			}
			f.Rule = rule.Name
			found = append(found, f)
		})
	}
	return found
}
