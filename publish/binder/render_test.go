package binder

import (
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	doc := sample()
	pdf, problems, err := Render(doc, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Log(p)
	}
	if out := os.Getenv("BINDER_OUT"); out != "" {
		if err := os.WriteFile(out, pdf, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
