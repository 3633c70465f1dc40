package site

import (
	"strings"
	"testing"
)

// Metadata that could end its element, or is no JSON, is not written; what may stand
// there stands on the first page alone.
func TestMetadata(t *testing.T) {
	for name, metadata := range map[string]string{"ends its element": `{"name":"</script>"}`, "opens a comment": `{"name":"<!--"}`, "no JSON": `{"name":`} {
		doc := sample()
		doc.Metadata = []byte(metadata)
		if _, err := Render(doc, nil); err == nil || !strings.Contains(err.Error(), "metadata") {
			t.Errorf("%s: error is %v", name, err)
		}
	}
	doc := sample()
	files, err := Render(doc, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		want := 0
		if f.Path == doc.Pages[0].ID+".html" {
			want = 1
		}
		if got := strings.Count(string(f.Data), `<script type="application/ld+json">`+string(doc.Metadata)+"</script>"); got != want {
			t.Errorf("%s holds the metadata %d times, want %d", f.Path, got, want)
		}
	}
}
