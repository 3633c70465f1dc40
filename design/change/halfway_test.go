package change

import (
	"strings"
	"testing"
)

// What somebody who has done all of the small plan does about one change of it.
func TestMidway(t *testing.T) {
	replace := func(path, old, new string) func(files map[string]string) {
		return func(files map[string]string) { files[path] = strings.ReplaceAll(files[path], old, new) }
	}
	const board = "posts: {line: {from: [40 mm, 60 mm], step: [220 mm, 0 mm], count: 2}, for: M6, fit: medium}"
	cases := []struct {
		name string
		edit func(files map[string]string)
		want []string // lines, each with what it is
		not  []string
		stay string
	}{
		{name: "nothing", edit: func(map[string]string) {}, stay: "stand.drill_board stand.stand_posts"},
		{name: "a hole more is drilled", edit: replace("parts/stand.yaml", board, board+"\n    peg: {at: [150 mm, 60 mm], bore: 8 mm, note: for a peg}"),
			want: []string{"drill stand.board (Board): the holes peg", "undo open stand.posts_to_board (2 × Socket head cap screw M6×30, 2 × Washer M6)", "do join stand.posts_to_board"},
			not:  []string{"cut", "buy"}},
		{name: "shorter posts are cut off", edit: replace("plan.yaml", "is: 200 mm", "is: 150 mm"), want: []string{"cut stand.left (Post): to 150 mm", "cut stand.right (Post): to 150 mm"}, not: []string{"buy", "drill", "undo take out"}},
		{name: "longer posts are cut anew", edit: replace("plan.yaml", "is: 200 mm", "is: 250 mm"), want: []string{"cut 2 × Post", "undo take out stand.left (Post)"}},
		{name: "another thickness of the sheet", edit: replace("stock.yaml", "sheet: 18 mm", "sheet: 20 mm"), want: []string{"cut 1 × Board"}},
		{name: "other screws", edit: replace("parts/stand.yaml", "M6x30", "M6x35"), want: []string{"buy 2 × Socket head cap screw M6×35", "undo open stand.posts_to_board", "do join stand.posts_to_board"}, not: []string{"cut", "drill"}, stay: "stand.drill_board"},
		{name: "another torque", edit: replace("assemblies/stand.yaml", "torque: auto", "torque: 5 N*m"), want: []string{"do tighten stand.posts_to_board to 5 N·m"}, not: []string{"undo", "buy"}, stay: "stand.drill_board"},
		{name: "something else to measure", edit: replace("assemblies/stand.yaml", "within: 0.5 mm", "within: 0.2 mm"), want: []string{"do measure again: "}, stay: "stand.drill_board"},
		{name: "one post less", edit: func(files map[string]string) {
			replace("assemblies/stand.yaml", "  right: {part: post, at: [250 mm, 50 mm, 18 mm]}\n", "")(files)
			replace("assemblies/stand.yaml", "[left.foot, right.foot]", "[left.foot]")(files)
			replace("assemblies/stand.yaml", "adds: [left, right]", "adds: [left]")(files)
		}, want: []string{"first take out stand.right (Post)"}},
	}
	old := worked(t, small(t))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			files := small(t)
			c.edit(files)
			h, err := Midway(old, worked(t, files), []string{"stand.stand_posts"}, nil)
			if err != nil {
				t.Fatal(err)
			}
			var said []string
			add := func(word string, list []Task) {
				for _, task := range list {
					said = append(said, word+" "+task.Say)
				}
			}
			add("first", h.First)
			for _, s := range h.Steps {
				add("undo", s.Undo)
				add("buy", s.Buy)
				add("cut", s.Cut)
				add("drill", s.Drill)
				add("do", s.Do)
			}
			all := strings.Join(said, "\n")
			for _, want := range c.want {
				if !strings.Contains(all, want) {
					t.Errorf("nothing says %q in\n%s", want, all)
				}
			}
			for _, not := range c.not {
				for _, line := range said {
					if strings.HasPrefix(line, not) {
						t.Errorf("it says %q", line)
					}
				}
			}
			if got := strings.Join(h.Stay, " "); c.stay != "" && got != c.stay {
				t.Errorf("the steps %q stay, want %q", got, c.stay)
			}
			if h.Next != "" {
				t.Errorf("it goes on with %q, want nothing", h.Next)
			}
		})
	}
	if _, err := Midway(old, old, []string{"stand.paint"}, nil); err == nil {
		t.Error("a step that is not there is no error")
	}
	if _, err := Midway(old, old, []string{"stand.drill_board"}, map[string]string{"colour": "red"}); err == nil {
		t.Error("a choice that is not there is no error")
	}
}
