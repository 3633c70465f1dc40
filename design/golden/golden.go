// Package golden is test support: it holds what a test wrote against a file that
// was looked at and kept, and rewrites the file when tests are run with -update.
//
// It is imported by tests only, so that the flag stands in one place; packages
// without golden files do not know it.
package golden

import (
	"bytes"
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "rewrite golden files")

// Compare fails the test when the file at path does not hold got; with -update it
// first writes got there.
func Compare(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from what was made; run with -update and look at what it becomes", path)
	}
}
