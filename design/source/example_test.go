package source_test

import (
	"fmt"
	"io/fs"
	"os"
	"testing/fstest"

	"plansheaf/design/finding"
	"plansheaf/design/source"
)

func ExampleRead() {
	files := fstest.MapFS{
		"plan.yaml":             {Data: []byte("title: Tile press\nmachine: press\nrevision: A\n")},
		"parts/frame.yaml":      {Data: []byte("post: {title: Upright post, made: cut, lenght: 412 mm}\n")},
		"assemblies/press.yaml": {Data: []byte("title: Press\nholds:\n  left: {part: pots, at: [0 mm, 0 mm, 0 mm]}\n")},
	}
	plan, found, err := source.Read(files, source.DefaultLimits())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %d part\n\n", plan.Title.Value, len(plan.Parts))
	text := func(file string) ([]byte, bool) {
		data, err := fs.ReadFile(files, file)
		return data, err == nil
	}
	if err := finding.Write(os.Stdout, found, text, false); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Tile press: 1 part
	//
	// assemblies/press.yaml:3:16: error: no part is called "pots" [unknown-reference]
	//     3 |   left: {part: pots, at: [0 mm, 0 mm, 0 mm]}
	//       |                ^^^^
	//   remedy: perhaps post is meant
	//
	// parts/frame.yaml:1:40: error: "lenght" is no key here [unknown-key]
	//     1 | post: {title: Upright post, made: cut, lenght: 412 mm}
	//       |                                        ^^^^^^
	//   remedy: perhaps length is meant
}

func ExampleSchema() {
	text, err := source.Schema("page")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(string(text[:90]))
	// Output:
	// {
	//   "$defs": {
	//     "only": {
	//       "additionalProperties": {
	//         "anyOf": [
}
