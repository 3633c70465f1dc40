package binder_test

import (
	"fmt"

	"plansheaf/publish/binder"
	"plansheaf/publish/page"
)

func ExampleRender() {
	doc := &page.Document{
		Title: "Bench tile press", Revision: "C", Date: "2026-05-02",
		Pages: []*page.Page{{ID: "clay", Title: "Clay", Kind: page.Prose, Blocks: []page.Block{
			page.Paragraph{Words: page.Words("Knead it well \U0001F44D.")},
		}}},
	}
	pdf, problems, err := binder.Render(doc, binder.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s\n", pdf[:8])
	for _, p := range problems {
		fmt.Println(p)
	}
	// Output:
	// %PDF-1.7
	// clay: no font of the binder has U+1F44D ('👍' in "Knead it well 👍.")
}
