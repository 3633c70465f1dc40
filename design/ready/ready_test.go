package ready

import "testing"

// A fault in an embedded file shows here, not in a run.
func TestLibraryReads(t *testing.T) {
	if _, err := library(); err != nil {
		t.Fatal(err)
	}
	if len(All()) == 0 {
		t.Fatal("the library is empty")
	}
}
