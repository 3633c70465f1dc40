package site

import (
	"reflect"
	"testing"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
	"plansheaf/publish/picture"
)

// A second run writes no picture again, and gives the same files; a changed picture comes
// out changed.
func TestKeptPictures(t *testing.T) {
	kept := memo.New()
	plain, err := Render(sample(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for run, wantNew := range []bool{true, false} {
		got, err := Render(sample(), kept)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, plain) {
			t.Errorf("run %d gives other files than one that keeps nothing", run+1)
		}
		uses := kept.Uses()
		if (uses.New > 0) != wantNew || uses.Known+uses.New == 0 {
			t.Errorf("run %d: %+v", run+1, uses)
		}
		kept.Next()
	}

	kept.Doubt = true
	changed := sample()
	figure := page.Figure{Picture: &picture.Picture{Name: "pictures/new", Title: "New", Width: 10, Height: 10}}
	changed.Pages[0].Blocks = append(changed.Pages[0].Blocks, figure)
	got, err := Render(changed, kept)
	if err != nil {
		t.Fatal(err)
	}
	want, err := Render(changed, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Error("after a change it gives other files than a run that keeps nothing")
	}
	if uses := kept.Uses(); uses.New != 1 {
		t.Errorf("after a change of one picture: %+v", uses)
	}
	if faults := kept.Faults(); len(faults) > 0 {
		t.Error(faults)
	}
}
