package finding

import (
	"errors"
	"strings"
	"testing"
)

func TestWrite(t *testing.T) {
	files := map[string]string{
		"parts/frame.yaml": "post:\n  title: Upright post\n  holes:\n    foot: {face: bottom, at: [15 mm, 15 mm], tap: M8}\n\tünter: x\r\n" +
			strings.Repeat("a", 300) + "HERE" + strings.Repeat("b", 300) + "\nx: \x1b[31mred\u202e\n漢字: é\u0301 end\n",
	}
	source := func(file string) ([]byte, bool) {
		text, ok := files[file]
		return []byte(text), ok
	}
	const file = "parts/frame.yaml"
	for _, test := range []struct {
		name string
		list []Finding
		want string
	}{
		{
			name: "everything",
			list: []Finding{{
				Rule: "hole-without-fastener", Severity: Error, At: OnLine(file, 4, 5, 4), Message: `no joint uses the M8 hole "foot"`,
				Also: []Related{{At: OnLine(file, 1, 1, 4), Say: `in part "post"`}}, Remedy: "name the hole in a joint",
				Choices: []string{"drive: motor"}, Waived: &Waiver{Because: "it vents"},
			}},
			want: `parts/frame.yaml:4:5: waived error: no joint uses the M8 hole "foot" [hole-without-fastener]
    4 |     foot: {face: bottom, at: [15 mm, 15 mm], tap: M8}
      |     ^^^^
  parts/frame.yaml:1:1: in part "post"
  only with drive: motor
  remedy: name the hole in a joint
  waived because it vents
`,
		},
		{
			name: "two, the second about a whole file",
			list: []Finding{{Severity: Note, At: OnLine(file, 1, 1, 4), Message: "one"}, {Rule: "r", Severity: Warning, At: WholeFile("gone.yaml"), Message: "two"}},
			want: "parts/frame.yaml:1:1: note: one\n    1 | post:\n      | ^^^^\n\ngone.yaml: warning: two [r]\n",
		},
		{
			name: "tabs and carriage returns",
			list: []Finding{{Severity: Error, At: OnLine(file, 5, 2, 5), Message: "m"}},
			want: "parts/frame.yaml:5:2: error: m\n    5 |     ünter: x\n      |     ^^^^^\n",
		},
		{
			name: "long line",
			list: []Finding{{Severity: Error, At: OnLine(file, 6, 301, 4), Message: "m"}},
			want: "parts/frame.yaml:6:301: error: m\n    6 | …" + strings.Repeat("a", 64) + "HERE" + strings.Repeat("b", 32) + "…\n      | " + strings.Repeat(" ", 65) + "^^^^\n",
		},
		{
			name: "longer than fits",
			list: []Finding{{Severity: Error, At: OnLine(file, 6, 1, 304), Message: "m"}},
			want: "parts/frame.yaml:6:1: error: m\n    6 | " + strings.Repeat("a", 100) + "…\n      | " + strings.Repeat("^", 101) + "\n",
		},
		{
			name: "what a terminal would obey",
			list: []Finding{{Severity: Error, At: OnLine(file, 7, 4, 8), Message: "m\x1b]0;title\x07", Remedy: "r\u2066"}},
			want: "parts/frame.yaml:7:4: error: m<U+001B>]0;title<U+0007>\n    7 | x: <U+001B>[31mred<U+202E>\n      |    ^^^^^^^^^^^^^^^\n  remedy: r<U+2066>\n",
		},
		{
			name: "wide and combining characters",
			list: []Finding{{Severity: Error, At: OnLine(file, 8, 5, 2), Message: "m"}},
			want: "parts/frame.yaml:8:5: error: m\n    8 | 漢字: é\u0301 end\n      |       ^\n",
		},
		{
			name: "to the end of the line, beyond it, after the last line",
			list: []Finding{
				{Severity: Error, At: Span{File: file, Line: 1, Column: 3, EndLine: 2, EndColumn: 4}, Message: "m"},
				{Severity: Error, At: OnLine(file, 1, 50, 4), Message: "m"},
				{Severity: Error, At: OnLine(file, 99, 1, 4), Message: "m"},
			},
			want: "parts/frame.yaml:1:3: error: m\n    1 | post:\n      |   ^^^\n\nparts/frame.yaml:1:50: error: m\n    1 | post:\n      |      ^\n\nparts/frame.yaml:99:1: error: m\n",
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			var out strings.Builder
			if err := Write(&out, test.list, source, false); err != nil {
				t.Fatal(err)
			}
			if out.String() != test.want {
				t.Errorf("got\n%s\nwant\n%s", out.String(), test.want)
			}
		})
	}
}

// TestColorOnlyPaints checks that colour adds nothing but colours.
func TestColorOnlyPaints(t *testing.T) {
	list := []Finding{{Rule: "r", Severity: Error, At: OnLine("f", 1, 3, 2), Message: "m", Remedy: "x"}}
	source := func(string) ([]byte, bool) { return []byte("abcdef\n"), true }
	var plain, painted strings.Builder
	if err := errors.Join(Write(&plain, list, source, false), Write(&painted, list, source, true)); err != nil {
		t.Fatal(err)
	}
	stripped := painted.String()
	for _, code := range []string{"\x1b[0m", "\x1b[1m", "\x1b[2m", "\x1b[1;31m"} {
		if !strings.Contains(stripped, code) {
			t.Errorf("no %q in %q", code, painted.String())
		}
		stripped = strings.ReplaceAll(stripped, code, "")
	}
	if stripped != plain.String() {
		t.Errorf("got %q, want %q", stripped, plain.String())
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestWriteKeepsTheFirstError(t *testing.T) {
	if err := Write(failing{}, []Finding{{Message: "m"}}, nil, false); err == nil || err.Error() != "full" {
		t.Errorf("got %v, want full", err)
	}
}

// FuzzWrite checks that nothing a terminal obeys gets through and nothing panics.
func FuzzWrite(f *testing.F) {
	f.Add("a: \x1b[2J\u202e\n", 1, 3, 9, "m")
	f.Add(strings.Repeat("x", 300), 1, 200, 250, "\x00")
	f.Fuzz(func(t *testing.T, text string, line, column, end int, message string) {
		var out strings.Builder
		at := Span{File: "f", Line: line, Column: column, EndLine: line, EndColumn: end}
		if err := Write(&out, []Finding{{Rule: "r", Severity: Error, At: at, Message: message, Remedy: message}}, func(string) ([]byte, bool) { return []byte(text), true }, false); err != nil {
			t.Fatal(err)
		}
		for _, c := range out.String() {
			if c != '\n' && hidden(c) {
				t.Errorf("%q gets through", c)
			}
		}
	})
}
