package change

import (
	"slices"
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
		{name: "another thickness of the sheet", edit: replace("stock.yaml", "sheet: 18 mm", "sheet: 20 mm"), want: []string{
			"undo open stand.posts_to_board", "undo take off stand.right (Post), put on since", "undo take off stand.left (Post), put on since", "undo take out stand.board (Board)", "cut 1 × Board",
			"do put in stand.board (Board)", "do put back stand.left (Post)", "do put back stand.right (Post)", "do join stand.posts_to_board"}},
		{name: "other screws", edit: replace("parts/stand.yaml", "M6x30", "M6x35"), want: []string{"buy 2 × Socket head cap screw M6×35", "undo open stand.posts_to_board", "do join stand.posts_to_board"}, not: []string{"cut", "drill"}, stay: "stand.drill_board"},
		{name: "another torque", edit: replace("assemblies/stand.yaml", "torque: auto", "torque: 5 N*m"), want: []string{"do tighten stand.posts_to_board to 5 N·m"}, not: []string{"undo", "buy"}, stay: "stand.drill_board"},
		{name: "something else to measure", edit: replace("assemblies/stand.yaml", "within: 0.5 mm", "within: 0.2 mm"), want: []string{"do measure again: "}, stay: "stand.drill_board"},
		{name: "one post less", edit: func(files map[string]string) {
			replace("assemblies/stand.yaml", "  right: {part: post, at: [250 mm, 50 mm, 18 mm]}\n", "")(files)
			replace("assemblies/stand.yaml", "[left.foot, right.foot]", "[left.foot]")(files)
			replace("assemblies/stand.yaml", "adds: [left, right]", "adds: [left]")(files)
		}, want: []string{"first open stand.posts_to_board", "first take out stand.right (Post)", "do join stand.posts_to_board"}, not: []string{"undo"}},
		{name: "a shim under the posts", edit: func(files map[string]string) {
			replace("parts/stand.yaml", "\npost:\n", "\nshim:\n  title: Shim\n  made: sheet\n  stock: birch_18\n  outline: {rectangle: [300 mm, 120 mm]}\n  holes:\n    "+board+"\n\npost:\n")(files)
			replace("assemblies/stand.yaml", "  left:", "  shim: {part: shim, at: [0 mm, 0 mm, 18 mm]}\n  left:")(files)
			replace("assemblies/stand.yaml", "[board.posts,", "[board.posts, shim.posts,")(files)
			replace("assemblies/stand.yaml", "adds: [left, right]", "adds: [shim, left, right]")(files)
		}, want: []string{"undo take off stand.left (Post), put on since", "cut 1 × Shim", "do put in stand.shim (Shim)", "do put back stand.left (Post)"}},
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

// A builder's choices are known by their names in either revision.
func TestUnder(t *testing.T) {
	choice := func(files map[string]string, id, one, other string) {
		files["plan.yaml"] += "\nchoices:\n  " + id + ":\n    title: Colour of the feet\n    options: {" + one + ": Red feet, " + other + ": Blue feet}\n    default: " + one + "\n"
		files["assemblies/stand.yaml"] = strings.Replace(files["assemblies/stand.yaml"], "    time: 2 min", "    time: 2 min\n  paint:\n    title: Paint it\n    only: {"+id+": "+other+"}\n    text: With a brush.", 1)
	}
	plain, coloured, renamed := small(t), small(t), small(t)
	choice(coloured, "colour", "red", "blue")
	choice(renamed, "colour", "red", "azure")
	olds := map[string]Revision{"plain": worked(t, plain), "coloured": worked(t, coloured), "renamed": worked(t, renamed)}
	cases := []struct {
		name, old, new string
		choose         map[string]string
		steps          int    // of the old revision
		next           string // after the first
		fails          bool
	}{
		{name: "by default", old: "coloured", new: "renamed", steps: 2, next: "stand.stand_posts"},
		{name: "by the old name", old: "coloured", new: "renamed", choose: map[string]string{"colour": "blue"}, steps: 3, next: "stand.paint"},
		{name: "by the new name", old: "coloured", new: "renamed", choose: map[string]string{"colour": "azure"}, steps: 3, next: "stand.paint"},
		{name: "of a new choice", old: "plain", new: "coloured", choose: map[string]string{"colour": "blue"}, steps: 2, next: "stand.paint"},
		{name: "of a choice that is gone", old: "coloured", new: "plain", choose: map[string]string{"colour": "blue"}, steps: 3, next: "stand.stand_posts"},
		{name: "of neither", old: "coloured", new: "renamed", choose: map[string]string{"colour": "green"}, fails: true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			course, err := NewHalfways(olds[c.old], olds[c.new]).Under(c.choose)
			if err != nil {
				if !c.fails {
					t.Fatal(err)
				}
				return
			}
			if c.fails {
				t.Fatal("there is no error")
			}
			if n := len(course.Steps()); n != c.steps {
				t.Errorf("there are %d steps to pick from, want %d", n, c.steps)
			}
			h, err := course.Done("stand.drill_board")
			if err != nil {
				t.Fatal(err)
			}
			if h.Next != c.next {
				t.Errorf("it goes on with %q, want %q", h.Next, c.next)
			}
		})
	}
}

// What comes off takes along what was put onto it and nothing else, and what ties that to
// the rest is opened.
func TestRiders(t *testing.T) {
	w := &walk{Course: &Course{m: &matching{}, was: &works{
		at: map[string]int{"a.base": 1, "a.motor": 2, "a.coupling": 3, "a.screw": 4, "a.label": 5},
		ties: map[string][][]body{
			"a.feet": {{{"a.base"}, {"a.motor"}}}, "a.grip": {{{"a.motor"}, {"a.coupling"}}},
			"a.run": {{{"a.coupling"}, {"a.screw"}}}, "a.bush": {{{"a.base"}, {"a.screw"}}}, "a.glue": {{{"a.coupling"}, {"a.label"}}},
		},
		tied: map[string][]string{
			"a.base": {"a.bush", "a.feet"}, "a.motor": {"a.feet", "a.grip"}, "a.coupling": {"a.glue", "a.grip", "a.run"},
			"a.screw": {"a.bush", "a.run"}, "a.label": {"a.glue"},
		},
		with: map[[2]string][]string{},
	}, places: map[string]string{}}, off: map[string]*lifted{}, put: map[string]bool{}, made: map[string]bool{}}
	for use := range w.was.at {
		w.put[use] = true
	}
	for joint := range w.was.ties {
		w.made[joint] = true
	}
	if got := strings.Join(w.riders("a.motor"), " "); got != "a.coupling a.label" {
		t.Errorf("the motor takes along %q", got)
	}
	w.made["a.glue"] = false // not yet
	if got := strings.Join(w.riders("a.motor"), " "); got != "a.coupling" {
		t.Errorf("without its label the motor takes along %q", got)
	}
}

// Every name of a field begins with words that can be translated.
func TestFieldWords(t *testing.T) {
	known := FieldWords()
	files := small(t)
	files["parts/stand.yaml"] = strings.ReplaceAll(files["parts/stand.yaml"], "M6x30", "M6x35")
	files["plan.yaml"] = strings.ReplaceAll(files["plan.yaml"], "is: 200 mm", "is: 250 mm")
	files["stock.yaml"] = strings.ReplaceAll(files["stock.yaml"], "18 mm", "20 mm")
	fields := 0
	for _, c := range Between(worked(t, small(t)), worked(t, files)).Changes {
		for _, f := range c.Lines {
			fields++
			first, _, _ := strings.Cut(f.What, ", ")
			if !slices.ContainsFunc(known, func(word string) bool { return first == word || strings.HasPrefix(first, word+" ") }) {
				t.Errorf("no known word begins %q", f.What)
			}
		}
	}
	if fields < 5 {
		t.Errorf("only %d fields changed", fields)
	}
}
