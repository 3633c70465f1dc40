package starter_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/finding"
	"plansheaf/design/source"
	"plansheaf/design/starter"
)

// The plan to begin from has nothing to mend: no finding of any severity.
func TestTheStarterIsClean(t *testing.T) {
	p, read, err := source.Read(starter.Plan(), source.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	w := check.Out(p)
	found := check.Run(w, read)
	for _, f := range found {
		t.Errorf("%s: %s: %s [%s]", f.At, f.Severity, f.Message, f.Rule)
	}
	if n := finding.Count(found); n.Waived > 0 {
		t.Errorf("%d findings are waived", n.Waived)
	}
	// It shows what a plan is made of.
	if len(p.Assemblies) == 0 || len(p.Assemblies[0].Joints) == 0 || len(p.Calcs) == 0 || len(p.Hazards) == 0 || len(p.Pages) == 0 || len(w.Default().Bill.Cuts) == 0 {
		t.Error("the starter lacks a joint, a calculation, a hazard, a page or a cut")
	}
}

func TestWrite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "plan")
	written, err := starter.Write(dir)
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	err = fs.WalkDir(starter.Plan(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		count++
		want, err := fs.ReadFile(starter.Plan(), name)
		if err != nil {
			return err
		}
		got, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil || string(got) != string(want) {
			t.Errorf("%s is not what the starter holds (%v)", name, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(written) != count {
		t.Errorf("%d paths are said to be written, %d are", len(written), count)
	}
}

// A folder that holds anything is left as it is.
func TestWriteTouchesNothingThatIsThere(t *testing.T) {
	dir := t.TempDir()
	mine := filepath.Join(dir, "plan.yaml")
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	written, err := starter.Write(dir)
	if err == nil || len(written) > 0 {
		t.Errorf("wrote %v, error %v: want an error alone", written, err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("%d entries, want the one that was there (%v)", len(entries), err)
	}
	if got, _ := os.ReadFile(mine); string(got) != "mine" {
		t.Errorf("the file holds %q", got)
	}
	if empty, err := starter.Write(t.TempDir()); err != nil || len(empty) == 0 {
		t.Errorf("an empty folder that is there: wrote %v, error %v", empty, err)
	}
}
