// Package referee asks a general solver of integer programs (GLPK) for what our own
// methods find; for tests.
package referee

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A Solver runs GLPK.
type Solver struct{ program, dir string }

// New finds the solver. Where it is not installed the test ends: it fails where
// CI=true and is skipped elsewhere.
func New(t *testing.T) Solver {
	t.Helper()
	program, err := exec.LookPath("glpsol")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("glpsol is not installed (Debian: glpk-utils)")
		}
		t.Skip("glpsol is not installed (Debian: glpk-utils)")
	}
	return Solver{program, t.TempDir()}
}

// Least is the least value of a model in the LP format whose values are whole; ok is
// false where the solver did not come to an end within some seconds.
func (s Solver) Least(t *testing.T, model string) (value int64, ok bool) {
	t.Helper()
	file, out := filepath.Join(s.dir, "model.lp"), filepath.Join(s.dir, "out.txt")
	if err := os.WriteFile(file, []byte(model), 0o600); err != nil {
		t.Fatal(err)
	}
	os.Remove(out)
	if said, err := exec.Command(s.program, "--lp", file, "--cuts", "--tmlim", "4", "-w", out).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	answer, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(answer), "\n") {
		var rows, columns int
		var status string
		var found float64
		if _, err := fmt.Sscanf(line, "s mip %d %d %s %g", &rows, &columns, &status, &found); err == nil {
			return int64(found + 0.5), status == "o"
		}
	}
	t.Fatalf("no answer in %s", answer)
	return 0, false
}
