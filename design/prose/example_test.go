package prose_test

import (
	"fmt"

	"plansheaf/design/prose"
)

func ExampleParse() {
	doc, faults := prose.Parse("Bolt {head_plate} down, as {picture head_plate} shows.\n\nThen {grease it.")
	for _, r := range doc.References {
		fmt.Println(r.Offset, r.Name, r.Picture)
	}
	for _, f := range faults {
		fmt.Println(f.Offset, f.Message)
	}
	// Output:
	// 6 head_plate false
	// 36 head_plate true
	// 61 the brace that opens here is not closed on its line
}
