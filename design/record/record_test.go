package record_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/quantity"
	"plansheaf/design/record"
	"plansheaf/design/trial"
)

// recorded is a calculation whose result is 30 N, and what its record says of it.
func recorded(t *testing.T, text string) (trial.Files, *check.Work) {
	files := trial.Files{
		"plan.yaml":       "title: Rig\nmachine: rig\nrevision: A\nchoices: {drive: {title: D, options: {crank: C, motor: M}, default: motor}}\n",
		"calcs/drag.yaml": "title: Drag\ngiven: {friction: {is: 0.15}, weight: {is: 200 N}, turns: {is: 1/3}}\nfind: {drag: friction * weight, share: turns * friction}\nrecorded: " + text + "\n",
	}
	p, _ := trial.Read(t, files)
	return files, check.Out(p)
}

func edits(t *testing.T, text string, names ...string) (string, []record.Refusal) {
	t.Helper()
	files, work := recorded(t, text)
	list, refused, err := record.Edits(work, func(file string) ([]byte, error) { return []byte(files[file]), nil }, names)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		return text, refused
	}
	_, after, _ := strings.Cut(string(list[0].After), "recorded: ")
	return strings.TrimSuffix(after, "\n"), refused
}

// The number has the unit, tolerance and about the digits that stood there.
func TestValues(t *testing.T) {
	made := ", made_from: {friction: 0.15, weight: 200 N}}"
	cases := []struct{ name, was, want string }{
		{"as many decimals", "{drag: 24.00 N ± 2 %}", "{drag: {is: 30.00 N ± 2 %" + made + "}"},
		{"more where the tolerance asks for them", "{drag: 24 N ± 0.2 %}", "{drag: {is: 30.00 N ± 0.2 %" + made + "}"},
		{"another unit", "{drag: 0.024 kN +1/-0 N}", "{drag: {is: 0.0300 kN +1/-0 N" + made + "}"},
		{"right at its own digits", "{drag: 30 N ± 5 %}", "{drag: {is: 30 N ± 5 %" + made + "}"},
		{"a plain number", "{share: 0.04 ± 10 %}", "{share: {is: 0.050 ± 10 %, made_from: {friction: 0.15, turns: 0.333333}}}"},
		{"by choice: only the default's value", "{drag: {by: drive, crank: 12 N ± 5 %, motor: 24 N ± 5 %}}", "{drag: {by: drive, crank: 12 N ± 5 %, motor: 30.0 N ± 5 %}}"},
		{"up to date", "{drag: {is: 30 N ± 5 %, made_from: {friction: 0.15, weight: 0.2 kN}}}", "{drag: {is: 30 N ± 5 %, made_from: {friction: 0.15, weight: 0.2 kN}}}"},
		{"an input changed, in its own unit", "{drag: {is: 30 N ± 5 %, made_from: {friction: 0.15, weight: 0.25 kN}}}", "{drag: {is: 30 N ± 5 %, made_from: {friction: 0.15, weight: 0.2 kN}}}"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, refused := edits(t, c.was)
			if got != c.want || len(refused) > 0 {
				t.Errorf("%s, refused %v\nwant %s", got, refused, c.want)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	for _, was := range []string{"{drag: 2 * 12 N}", "{drag: 24 mm}", "{drag: 1 1/2 N}"} {
		if got, refused := edits(t, was); got != was || len(refused) != 1 {
			t.Errorf("%s became %s, refused %v", was, got, refused)
		}
	}
	_, work := recorded(t, "{drag: 24 N}")
	if _, _, err := record.Edits(work, nil, []string{"drag.drg"}); err == nil || !strings.Contains(err.Error(), "drag.drg") {
		t.Errorf("a name that stands for nothing: %v", err)
	}
}

func TestWritten(t *testing.T) {
	cases := []struct {
		v    quantity.Value
		want string
	}{
		{quantity.MM(12.3456789), "12.3457 mm"},
		{quantity.Number(0.4), "0.4"},
		{quantity.Value{SI: 27.5, Dim: quantity.Torque}, "27.5 N*m"},
		{quantity.Value{SI: 36.6e-6, Dim: quantity.Area}, "36.6 mm^2"},
		{quantity.Value{SI: 1234567}, "1234570"},
	}
	for _, c := range cases {
		if got := record.Written(c.v, 6); got != c.want {
			t.Errorf("%v is written %q, want %q", c.v, got, c.want)
		}
	}
}

// A file is replaced whole, keeps its permissions, and is left alone where it is a link,
// lies behind one, or is no longer what was read.
func TestWrite(t *testing.T) {
	dir := t.TempDir()
	plan := filepath.Join(dir, "plan")
	for _, d := range []string{plan, filepath.Join(plan, "calcs"), filepath.Join(dir, "outside")} {
		if err := os.Mkdir(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	put := func(name string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("old"), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	put("plan/calcs/a.yaml")
	put("outside/b.yaml")
	links := os.Symlink("a.yaml", filepath.Join(plan, "calcs", "link.yaml")) == nil &&
		os.Symlink("calcs", filepath.Join(plan, "inside")) == nil && os.Symlink("../outside", filepath.Join(plan, "out")) == nil
	root, err := os.OpenRoot(plan)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	edit := func(file string) record.Edit {
		return record.Edit{File: file, Before: []byte("old"), After: []byte("new")}
	}
	refused := []string{"../outside/b.yaml", "calcs/none.yaml", "calcs"}
	if links {
		refused = append(refused, "calcs/link.yaml", "inside/a.yaml", "out/b.yaml")
	}
	for _, file := range refused {
		if err := record.Write(root, edit(file)); err == nil {
			t.Errorf("%s was written", file)
		}
	}
	if err := record.Write(root, edit("calcs/a.yaml")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(filepath.Join(plan, "calcs", "a.yaml"))
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v", info.Mode(), err)
	}
	if err := record.Write(root, edit("calcs/a.yaml")); !errors.Is(err, record.ErrChanged) {
		t.Errorf("a changed file: %v", err)
	}
	for file, want := range map[string]string{"plan/calcs/a.yaml": "new", "outside/b.yaml": "old"} {
		if got, _ := os.ReadFile(filepath.Join(dir, file)); string(got) != want {
			t.Errorf("%s holds %q", file, got)
		}
	}
	left, _ := filepath.Glob(filepath.Join(plan, "calcs", ".*"))
	if len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}
