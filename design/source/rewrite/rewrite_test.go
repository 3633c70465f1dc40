package rewrite_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"plansheaf/design/source/rewrite"
)

func TestEdits(t *testing.T) {
	cases := []struct {
		name, text, want string
		edit             func(f *rewrite.File) error
	}{
		{
			name: "a bare value, its comment kept", text: "a:   4.3 kN ± 1 %   # why\nb: 2\n", want: "a:   4.42 kN ± 1 %   # why\nb: 2\n",
			edit: func(f *rewrite.File) error { return f.Set([]string{"a"}, "4.42 kN ± 1 %") },
		},
		{
			name: "a double-quoted value", text: "a: {b: \"4 kN, \\\"x\\\"\" , c: 1}\n", want: "a: {b: \"5 kN\" , c: 1}\n",
			edit: func(f *rewrite.File) error { return f.Set([]string{"a", "b"}, "5 kN") },
		},
		{
			name: "a single-quoted value", text: "a: 'it''s 4'\n", want: "a: 'it''s 5'\n",
			edit: func(f *rewrite.File) error { return f.Set([]string{"a"}, "it's 5") },
		},
		{
			name: "a value becomes a map", text: "r: {a: 4 kN ± 1 %, b: 2}\n", want: "r: {a: {is: 4 kN ± 1 %}, b: 2}\n",
			edit: func(f *rewrite.File) error { return f.Wrap([]string{"r", "a"}, "is") },
		},
		{
			name: "a value with a comma gets quotes in braces", text: "a: 1, 2\n", want: "a: {is: \"1, 2\"}\n",
			edit: func(f *rewrite.File) error { return f.Wrap([]string{"a"}, "is") },
		},
		{
			name: "an entry added in braces", text: "a: {b: 1 }   # note\n", want: "a: {b: 1, c: 0.15 }   # note\n",
			edit: func(f *rewrite.File) error { return f.Put([]string{"a", "c"}, "0.15") },
		},
		{
			name: "an entry added to lines, with Windows line ends", text: "a:\r\n    b: 1   # note\r\nz: 2\r\n", want: "a:\r\n    b: 1   # note\r\n    c: 3 N*m\r\nz: 2\r\n",
			edit: func(f *rewrite.File) error { return f.Put([]string{"a", "c"}, "3 N*m") },
		},
		{
			name: "an entry added at the end of a file without a line end", text: "\ufeffa:\n  b: 1", want: "\ufeffa:\n  b: 1\n  c: 2",
			edit: func(f *rewrite.File) error { return f.Put([]string{"a", "c"}, "2") },
		},
		{
			name: "a first entry", text: "a: {}\n", want: "a: {c: 2}\n",
			edit: func(f *rewrite.File) error { return f.Put([]string{"a", "c"}, "2") },
		},
		{
			name: "an entry taken out of braces", text: "a: {b: 1, c: 2,  d: 3}\n", want: "a: {b: 1, d: 3}\n",
			edit: func(f *rewrite.File) error { return f.Remove([]string{"a", "c"}) },
		},
		{
			name: "the last entry taken out of braces", text: "a: {b: 1,\n  c: 2}\n", want: "a: {b: 1}\n",
			edit: func(f *rewrite.File) error { return f.Remove([]string{"a", "c"}) },
		},
		{
			name: "a line taken out", text: "a:\n  b: 1\n  c: 2 # gone too\n  d: 3\n", want: "a:\n  b: 1\n  d: 3\n",
			edit: func(f *rewrite.File) error { return f.Remove([]string{"a", "c"}) },
		},
		{
			name: "a long line goes on in the next", text: "a: {b: " + strings.Repeat("x", 110) + "}\n", want: "a: {b: " + strings.Repeat("x", 110) + ",\n  long_name: 17 mm}\n",
			edit: func(f *rewrite.File) error { return f.Put([]string{"a", "long_name"}, "17 mm") },
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, err := rewrite.Parse([]byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			if err := c.edit(f); err != nil {
				t.Fatal(err)
			}
			if got := string(f.Text()); got != c.want {
				t.Errorf("got\n%q\nwant\n%q", got, c.want)
			}
		})
	}
}

// What cannot be changed safely is refused, and the text stays as it was.
func TestRefusals(t *testing.T) {
	set := func(f *rewrite.File) error { return f.Set([]string{"a"}, "5") }
	cases := []struct {
		name, text string
		edit       func(f *rewrite.File) error
	}{
		{"a value over two lines", "a: one\n  two\n", set},
		{"a block of text", "a: |\n  one\n", set},
		{"an anchor", "a: &x 4\nb: *x\n", set},
		{"an alias", "b: &x 4\na: *x\n", set},
		{"a tag", "a: !!str 4\n", set},
		{"a map", "a: {b: 1}\n", set},
		{"no such key", "b: 1\n", set},
		{"no map to add to", "a: 1\n", func(f *rewrite.File) error { return f.Put([]string{"a", "b", "c"}, "5") }},
		{"the only line of a map", "a:\n  b: 1\n", func(f *rewrite.File) error { return f.Remove([]string{"a", "b"}) }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, err := rewrite.Parse([]byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			if err := c.edit(f); !errors.Is(err, rewrite.ErrLayout) {
				t.Errorf("error %v, want one of layout", err)
			}
			if got := string(f.Text()); got != c.text {
				t.Errorf("the text is %q, was %q", got, c.text)
			}
		})
	}
}

// A layout writes one file in a random way; the record stands between before and after.
type layout struct {
	random              *rand.Rand
	before, record, end string
}

func (l *layout) pick(list ...string) string { return list[l.random.IntN(len(list))] }

// write makes a calculation's file. The record is a value, or has its inputs, in braces or
// in lines, with comments wherever YAML allows them.
func (l *layout) write() {
	value := l.pick("4.31 kN ± 1 %", `"4.31 kN ± 1 %"`, `'4.31 kN ± 1 %'`)
	note := func() string {
		return l.pick("", "", "   # 4.31 kN ± 1 % was measured", "  # {a: b}")
	}
	blank := func() string { return l.pick("", "", "\n", "# made_from: {friction: 0.12}\n", "\n# force: 1\n\n") }
	head := "title: " + l.pick("Force", `"Force: of the platen"`, "'Force'") + note() + "\n" + blank()
	head += l.pick("find: {force: 2 * load}\n", "find:\n  force: 2 * load"+note()+"\n", "find:\n      force:   {is: 2 * load, about: \"4.31 kN ± 1 %\"}\n")
	tail := blank() + l.pick("", "require: [{that: force > 1 kN}]"+note()+"\n", "source: >-\n  recorded by\n  hand\n")
	inputs := l.pick("{friction: 0.12, load: 80 N}", "{ friction: 0.12,load:   80 N }", "{friction: 0.12,\n      load: 80 N}")
	switch l.random.IntN(5) {
	case 0:
		l.before, l.record, l.end = "recorded: {force: ", value, "}"+note()+"\n"
	case 1:
		l.before, l.record, l.end = "recorded:\n"+blank()+"    force:  ", value, note()+"\n    other: 2 mm\n"
	case 2:
		l.before, l.record, l.end = "recorded: {other: 1 mm, force: ", "{is: "+value+", made_from: "+inputs+"}", "}"+note()+"\n"
	case 3:
		l.before, l.record, l.end = "recorded:\n  force:\n", "    is: "+value+note()+"\n    made_from: "+inputs, note()+"\n"
	case 4:
		l.before, l.record, l.end = "recorded:\n  force:\n", "    made_from:\n      friction: 0.12"+note()+"\n      load: 80 N\n    is: "+value, note()+"\n  other: 1\n"
	}
	l.before, l.end = head+l.before, l.end+tail
	if l.random.IntN(3) == 0 {
		windows := strings.NewReplacer("\n", "\r\n")
		l.before, l.record, l.end = windows.Replace(l.before), windows.Replace(l.record), windows.Replace(l.end)
	}
	if l.random.IntN(4) == 0 {
		l.before = "\ufeff" + l.before
	}
}

// bring makes the record new, as a program would.
func bring(f *rewrite.File) error {
	path := []string{"recorded", "force"}
	if !f.Has("recorded", "force", "is") {
		if err := f.Wrap(path, "is"); err != nil {
			return err
		}
		if err := f.PutMap([]string{"recorded", "force", "made_from"}); err != nil {
			return err
		}
	}
	if err := f.Set([]string{"recorded", "force", "is"}, "4.50 kN ± 1 %"); err != nil {
		return err
	}
	for _, in := range [][2]string{{"friction", "0.15"}, {"lead_screw.lead", "4 mm"}} {
		if err := f.Put([]string{"recorded", "force", "made_from", in[0]}, in[1]); err != nil {
			return err
		}
	}
	return f.Remove([]string{"recorded", "force", "made_from", "load"})
}

// Whatever the layout, only the record's bytes change, it reads back as it was meant, and
// bringing it up to date again changes nothing.
func TestOnlyTheRecordChanges(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 31))
	for i := range 3000 {
		l := layout{random: random}
		l.write()
		text := l.before + l.record + l.end
		f, err := rewrite.Parse([]byte(text))
		if err != nil {
			t.Fatalf("%d: %v in\n%s", i, err, text)
		}
		if err := bring(f); err != nil {
			t.Fatalf("%d: %v in\n%s", i, err, text)
		}
		got := string(f.Text())
		if !strings.HasPrefix(got, l.before) || !strings.HasSuffix(got, l.end) {
			t.Fatalf("%d: more than the record changed:\n%s\nwas\n%s", i, got, text)
		}
		var read struct {
			Recorded struct {
				Force struct {
					Is   string
					Made map[string]string `yaml:"made_from"`
				}
			}
		}
		if err := yaml.Unmarshal([]byte(strings.TrimPrefix(got, "\ufeff")), &read); err != nil {
			t.Fatalf("%d: %v in\n%s", i, err, got)
		}
		want := "map[friction:0.15 lead_screw.lead:4 mm]"
		if read.Recorded.Force.Is != "4.50 kN ± 1 %" || fmt.Sprint(read.Recorded.Force.Made) != want {
			t.Fatalf("%d: reads %+v from\n%s", i, read.Recorded.Force, got)
		}
		if strings.Count(text, "#") != strings.Count(got, "#") {
			t.Fatalf("%d: a comment has gone:\n%s\nwas\n%s", i, got, text)
		}
		if err := bring(f); err != nil || string(f.Text()) != got {
			t.Fatalf("%d: again: %v\n%s", i, err, f.Text())
		}
	}
}

// No text makes an edit panic or change anything but its own value.
func FuzzSet(f *testing.F) {
	for _, seed := range []string{"a: 1\nb: 2\n", "a: {b: 1}\n", "b: [1, {a: 2}]\na: 'x' # y\n", "a: \"\\\"\"\n", "? a\n: 1\n", "\ufeffa: 1\r\n"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		file, err := rewrite.Parse([]byte(text))
		if err != nil || file.Set([]string{"a"}, "4 kN ± 1 %") != nil {
			return
		}
		again, err := rewrite.Parse(file.Text())
		if err != nil {
			t.Fatalf("%q no longer reads: %v", file.Text(), err)
		}
		if got, _ := again.Scalar("a"); got != "4 kN ± 1 %" {
			t.Errorf("%q reads %q", file.Text(), got)
		}
	})
}
