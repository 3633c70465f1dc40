package source

import (
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf16"

	"plansheaf/design/plan"
)

// readCAD reads a list by the heads Part and Qty, with what is found in it.
func readCAD(t testing.TB, data []byte, ignore ...string) (*plan.PartList, []string) {
	t.Helper()
	files := fstest.MapFS{
		"plan.yaml":           {Data: []byte("title: T\nmachine: rig\nrevision: A\nreconcile: [{file: files/cad.csv, part: Part, count: Qty, ignore: [" + strings.Join(ignore, ", ") + "]}]\n"), Mode: 0o644},
		"assemblies/rig.yaml": {Data: []byte("title: Rig\nholds: {p: {part: p, at: [0 mm, 0 mm, 0 mm]}}\n"), Mode: 0o644},
		"parts/p.yaml":        {Data: []byte("p: {title: P, made: bought}\n"), Mode: 0o644},
		"files/cad.csv":       {Data: data, Mode: 0o644},
	}
	p, found, err := Read(files, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	var rules []string
	for _, f := range found {
		rules = append(rules, f.Rule)
	}
	return p.Reconciles[0].Data, rules
}

func inUTF16(text string, low bool) []byte {
	var out []byte
	for _, u := range append([]uint16{0xfeff}, utf16.Encode([]rune(text))...) {
		if low {
			out = append(out, byte(u), byte(u>>8))
		} else {
			out = append(out, byte(u>>8), byte(u))
		}
	}
	return out
}

// Lists are read as other programs write them.
func TestPartLists(t *testing.T) {
	type row struct {
		name         string
		count        int
		line, column int // of the name
	}
	two := []row{{"post", 4, 2, 1}, {"Größe 2", 2, 3, 1}}
	cases := []struct {
		name   string
		data   []byte
		ignore []string
		want   []row
		found  string // rules of findings
	}{
		{name: "commas", data: []byte("Part,Qty\npost,4\nGröße 2,2\n"), want: two},
		{name: "semicolons and decimal commas", data: []byte("Part;Qty\npost;4,0\nGröße 2;2,00\n"), want: two},
		{name: "tabs", data: []byte("Part\tQty\npost\t4\nGröße 2\t2\n"), want: two},
		{name: "a mark before UTF-8, lines ended by CR LF", data: []byte("\ufeffPart,Qty\r\npost,4\r\nGröße 2,2\r\n"), want: two},
		{name: "lines ended by CR", data: []byte("Part,Qty\rpost,4\rGröße 2,2\r"), want: two},
		{name: "code page 1252", data: []byte("Part;Qty\npost;4\nGr\xf6\xdfe 2;2\n"), want: two},
		{name: "UTF-16, low byte first", data: inUTF16("Part;Qty\npost;4\nGröße 2;2\n", true), want: two},
		{name: "UTF-16, high byte first", data: inUTF16("Part;Qty\npost;4\nGröße 2;2\n", false), want: two},
		{name: "titles above, columns between, heads in other letters", data: []byte("Exported 2026-04-28;\n;\nItem;PART;Material;qty\n1;post;steel;4\n2;Größe 2;steel;2\n"),
			want: []row{{"post", 4, 4, 3}, {"Größe 2", 2, 5, 3}}},
		{name: "quotes, with a comma, a quote and a line end within", data: []byte("Part,Qty\n\"post, tall\",4\n\"3/4\"\" pipe\",2\n\"two\nlines\",1\n"),
			want: []row{{"post, tall", 4, 2, 2}, {`3/4" pipe`, 2, 3, 1}, {"two\nlines", 1, 4, 2}}},
		{name: "units behind counts", data: []byte("Part,Qty\na,2 pcs\nb,3 Stk.\nc,4x\n"), want: []row{{"a", 2, 2, 1}, {"b", 3, 3, 1}, {"c", 4, 4, 1}}},
		{name: "rows without a name, and those ignored", data: []byte("Part,Qty\npost,4\n,9\nTotal,many\n"), ignore: []string{"Total"}, want: []row{{"post", 4, 2, 1}}},
		{name: "counts that are none", data: []byte("Part,Qty\na,\nb,2.5\nc,-1\nd,99999999999\ne\nf,1e3\ng,1\n"), want: []row{{"g", 1, 8, 1}}, found: strings.Repeat("bad-list ", 6)},
		{name: "a column that is not there", data: []byte("Part,Count\npost,4\n"), found: "bad-list "},
		{name: "nothing", data: nil, found: "bad-list "},
		{name: "formulas are names like others", data: []byte("Part,Qty\n=1+2,1\n"), want: []row{{"=1+2", 1, 2, 1}}},
		{name: "a quote that does not end", data: []byte("Part,Qty\npost,4\n\"open,2\nlast,1\n"), want: []row{{"post", 4, 2, 1}}, found: "bad-list "},
		{name: "heads too far down", data: []byte(strings.Repeat("x,y\n", headWithin) + "Part,Qty\npost,4\n"), found: "bad-list "},
		{name: "more rows than any machine has", data: []byte("Part,Qty\n" + strings.Repeat("a,1\n", mostListRows+5)), found: "bad-list "},
		{name: "bytes that nobody sees", data: []byte("Part,Qty\npo\x00st\x1b,4\n"), want: []row{{"po\ufffdst\ufffd", 4, 2, 1}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			list, found := readCAD(t, c.data, c.ignore...)
			if got := strings.Join(append(found, ""), " "); got != c.found {
				t.Errorf("found %q, want %q", got, c.found)
			}
			if list == nil || len(list.Rows) > 100 {
				return
			}
			if len(list.Rows) != len(c.want) {
				t.Fatalf("%d rows %v, want %d", len(list.Rows), list.Rows, len(c.want))
			}
			for i, want := range c.want {
				got := list.Rows[i]
				if is := (row{got.Name.Text, got.Count, got.Name.At.Line, got.Name.At.Column}); is != want {
					t.Errorf("row %d: %+v, want %+v", i, is, want)
				}
			}
		})
	}
}

// FuzzPartList checks that no list brings the reader down, that places stand within the
// text, and that no more is kept than the bounds allow.
func FuzzPartList(f *testing.F) {
	for _, seed := range []string{"Part,Qty\npost,4\n", "Part;Qty\n\"a\nb\";2,0\n", "\xff\xfeP\x00", "Part\tQty\r\"\"\"\t1\r", "Part,Qty\n\"open,1", "Gr\xf6\xdfe;Part;Qty\n;;\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<14 {
			return
		}
		list, _ := readCAD(t, data)
		likely := likelyList(&plan.File{Path: "files/cad.csv", Data: data})
		lines := strings.Split(tolerant(data), "\n")
		for _, l := range []*plan.PartList{list, likely} {
			if l == nil {
				continue
			}
			if len(l.Rows) > mostListRows {
				t.Fatalf("%d rows", len(l.Rows))
			}
			for _, row := range l.Rows {
				at := row.Name.At
				if at.Line < 1 || at.Line > len(lines) || at.Column < 1 || at.EndColumn > runes(lines[at.Line-1])+2 {
					t.Fatalf("%q stands at %s, beyond the text", row.Name.Text, at)
				}
				if row.Count < 0 {
					t.Fatalf("%d of %q", row.Count, row.Name.Text)
				}
			}
		}
	})
}
