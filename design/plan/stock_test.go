package plan

import "testing"

func TestToolsThatSpareOthers(t *testing.T) {
	word := func(text string) Word { return Word{Text: text} }
	cases := []struct {
		name       string
		tool       Tool
		kind, size string
		want       bool
	}{
		{name: "a set of its kind", tool: Tool{Owned: true, Kind: word("hex key")}, kind: "hex key", size: "5 mm", want: true},
		{name: "a set of another kind", tool: Tool{Owned: true, Kind: word("hex key")}, kind: "spanner", size: "5 mm"},
		{name: "one of its kind", tool: Tool{Owned: true, Kind: word("hex key"), Size: word("5 mm")}, kind: "hex key", size: "5 mm", want: true},
		{name: "another size of its kind", tool: Tool{Owned: true, Kind: word("hex key"), Size: word("4 mm")}, kind: "hex key", size: "5 mm"},
		{name: "a size alone", tool: Tool{Owned: true, Size: word("5 mm")}, kind: "hex key", size: "5 mm", want: true},
		{name: "no kind and no size", tool: Tool{Owned: true}, kind: "saw"},
		{name: "a saw, which has no size", tool: Tool{Owned: true, Kind: word("saw")}, kind: "saw", want: true},
		{name: "not owned", tool: Tool{Kind: word("saw")}, kind: "saw"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := c.tool.Spares(c.kind, c.size); got != c.want {
				t.Errorf("got %v", got)
			}
		})
	}
}
