package site_test

import (
	"fmt"

	"plansheaf/publish/page"
	"plansheaf/publish/site"
)

func ExampleRender() {
	files, err := site.Render(&page.Document{
		Title: "Bench tile press", Revision: "C",
		Pages: []*page.Page{
			{ID: "index", Title: "Bench tile press", Kind: page.Front},
			{ID: "parts/post", Title: "Upright post", Kind: page.Part},
		},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range files {
		fmt.Println(f.Path)
	}
	// Output:
	// assets/script.js
	// assets/search-data.js
	// assets/steps-data.js
	// assets/style.css
	// assets/words-data.js
	// index.html
	// parts/post.html
}
