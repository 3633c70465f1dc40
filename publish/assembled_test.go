package publish_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"
)

var itemGroup = regexp.MustCompile(`id="[^"]*item-(\d+)"`)

// Every assembly's page shows it numbered and taken apart, with a parts list that has
// a row for each number; the machine, whose parts depend on a choice, has a pair of
// pictures for each of the two parts lists.
func TestAssemblyPagesAreNumbered(t *testing.T) {
	p := example(t)
	pages := 0
	for name, body := range p.files {
		id, is := strings.CutPrefix(name, "build/")
		id, html := strings.CutSuffix(id, ".html")
		if !is || !html || strings.Contains(id, ".") { // what a long assembly goes on with
			continue
		}
		pages++
		rows := bytes.Count(between(body, `id="items"`, "</table>"), []byte("<tr")) - 1 // less the head
		wants := []string{"numbered", "exploded"}
		if id == "press" {
			wants = append(wants, "numbered.2", "exploded.2")
		}
		for _, want := range wants {
			file := fmt.Sprintf("assemblies/%s.%s.svg", id, want)
			if !bytes.Contains(body, []byte(file)) {
				t.Errorf("%s does not show %s", name, file)
			}
			numbers := itemGroup.FindAllSubmatch(p.files[file], -1)
			if len(numbers) == 0 {
				t.Errorf("%s has no balloons", file)
			}
			for _, n := range numbers {
				var number int
				if _, err := fmt.Sscan(string(n[1]), &number); err != nil || number < 1 || number > rows {
					t.Errorf("%s: balloon %s, the parts list has %d rows", file, n[1], rows)
				}
			}
		}
	}
	if pages != 10 {
		t.Errorf("%d assembly pages, want 10", pages)
	}
}

// between is the text from a mark to the next end.
func between(body []byte, mark, end string) []byte {
	_, rest, _ := bytes.Cut(body, []byte(mark))
	inside, _, _ := bytes.Cut(rest, []byte(end))
	return inside
}
