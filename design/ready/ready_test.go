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

// Nothing is in the library whose numbers nobody checked.
func TestEveryCalculationIsChecked(t *testing.T) {
	checked := map[string]bool{}
	for _, row := range examples() {
		checked[row.calc] = true
	}
	for _, row := range bent() {
		checked[row.calc] = true
	}
	for _, c := range All() {
		if !checked[c.Name] {
			t.Errorf("%s is checked against nothing", c.Name)
		}
	}
}
