package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"plansheaf/design/solid"
	"plansheaf/publish/picture"
)

// mostPlaced is how many hole dimensions one side of the part takes before a
// hole table is easier to read.
const mostPlaced = 8

// A row of the hole table.
type row struct {
	label string // A1
	hole  int
}

// tableGroups puts the holes of a side into a table when dimensions would crowd
// it: they are placed by coordinates from the datum and sized there.
func (s *scheme) tableGroups() {
	p := s.part
	for _, e := range eyes {
		var facing []int
		needed := 0
		for i, g := range p.groups {
			if p.holes[g.holes[0]].dir.Dist(e.Toward.Mul(-1)) > 1e-9 || s.ringed(i) {
				continue
			}
			facing = append(facing, i)
		}
		for _, axis := range axes {
			if sameAxis(e.Toward, axis) {
				continue
			}
			needed += s.placesNeeded(axis, facing)
		}
		if needed <= mostPlaced {
			continue
		}
		for _, i := range facing {
			s.table(i)
		}
	}
}

// ringed reports whether a group has its ring dimension.
func (s *scheme) ringed(g int) bool {
	return slices.ContainsFunc(s.list, func(d Dimension) bool { return d.Kind == Ring && d.group == g })
}

// placesNeeded is how many dimensions would place the groups on an axis.
func (s *scheme) placesNeeded(axis solid.Axis, groups []int) int {
	open := map[int]bool{}
	saved := 0
	for _, g := range groups {
		at := s.levelsOf(s.part.groups[g], axis)
		fresh := 0
		for _, i := range at {
			if root := s.root(axis, i); root != s.root(axis, s.part.datum(axis)) && !open[root] {
				open[root] = true
				fresh++
			}
		}
		if fresh >= 3 && fresh == len(at) && equalSteps(s.part.levels[axis], at) {
			saved += fresh - 2 // one to the first, one for the steps
		}
	}
	return len(open) - saved
}

// table places and sizes a group by the hole table.
func (s *scheme) table(index int) {
	p, g := s.part, s.part.groups[index]
	s.tabled[index] = true
	dir := p.holes[g.holes[0]].dir
	for _, axis := range axes {
		if sameAxis(dir, axis) {
			continue
		}
		for _, i := range s.levelsOf(g, axis) {
			datum := s.part.datum(axis)
			if s.root(axis, i) == s.root(axis, datum) {
				continue
			}
			made := s.add(axis, datum, i)
			made.Kind, made.group = Table, index
		}
	}
	first, second := p.callout(group{pattern: g.pattern, holes: g.holes[:1]}, s.system, s.words[g.pattern], holeWords{})
	d := Dimension{Kind: Table, Text: first, Second: second, Count: len(g.holes), group: index, To: g.pattern}
	for _, h := range g.holes {
		if s.sized[p.holes[h].name] {
			continue
		}
		s.sized[p.holes[h].name] = true
		d.Sizes = append(d.Sizes, p.holes[h].name)
	}
	s.list = append(s.list, d)
}

// rows of the hole table: a letter for each group, a number for each hole.
func (s *scheme) rows() []row {
	var list []row
	letter := 0
	for i, g := range s.part.groups {
		if !s.tabled[i] {
			continue
		}
		name := letters(letter)
		letter++
		for n, h := range g.holes {
			label := name
			switch {
			case len(g.holes) > 99 && len(s.tabled) == 1: // one group: the number says all
				label = fmt.Sprint(n + 1)
			case len(g.holes) > 1:
				label = fmt.Sprintf("%s%d", name, n+1)
			}
			list = append(list, row{label, h})
		}
	}
	return list
}

// crowding is the least distance between holes of the hole table where there are
// many of them, mm: their labels must find room; 0 for few.
func (s *scheme) crowding() float64 {
	rows := s.rows()
	if len(rows) <= manyLabels {
		return 0
	}
	least := math.Inf(1)
	for i, r := range rows {
		for _, o := range rows[:i] {
			least = min(least, s.part.holes[r.hole].at.Dist(s.part.holes[o.hole].at))
		}
	}
	return least
}

// manyLabels is how many labels crowd a view; labelRoom is the distance between holes
// on paper that leaves room for one, mm.
const (
	manyLabels = 30
	labelRoom  = 18.0
)

// letters counts A to Z without I and O, then AA, AB ...
func letters(n int) string {
	const alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	name := ""
	for n++; n > 0; n = (n - 1) / len(alphabet) {
		name = alphabet[(n-1)%len(alphabet):][:1] + name
	}
	return name
}

// holeTable is the table laid out: its cells and their widths.
type holeTable struct {
	head    []string
	cells   [][]string
	widths  []float64
	height  float64 // of the letters
	columns int     // side by side
}

// Rows of tables and the space beside letters, in letter heights.
const (
	tableRow = 2.0
	tablePad = 0.7
)

// tableGap is between the columns of a table, mm; mostColumns how many it may have.
const (
	tableGap    = 3.0
	mostColumns = 40
)

// layTable is the hole table in letters of a height, worked out once for each;
// nil when there is none.
func (s *scheme) layTable(height float64) *holeTable {
	height = s.tableLetters(height)
	t, known := s.tables[height]
	if !known {
		t = s.makeTable(height)
		s.tables[height] = t
	}
	return t
}

// tableLetters is the height of the letters of a hole table and its labels: that of
// the sheet, but in long tables the smallest of ISO 3098 that is read on paper.
func (s *scheme) tableLetters(height float64) float64 {
	if len(s.rows()) > longTable {
		return min(height, longLetters)
	}
	return height
}

// longTable is how many rows make a table long, longLetters the height of its letters,
// mm.
const (
	longTable   = 60
	longLetters = 2.5
)

func (s *scheme) makeTable(height float64) *holeTable {
	rows := s.rows()
	if len(rows) == 0 {
		return nil
	}
	one, two := s.system, s.system.other()
	units := map[System]string{Metric: "mm", Inch: "in"}
	used := s.tableAxes(rows)
	t := &holeTable{height: height, columns: 1, head: []string{"Hole"}}
	for _, u := range []System{one, two} {
		for _, axis := range used {
			t.head = append(t.head, axis.String()+" "+units[u])
		}
	}
	t.head = append(t.head, "Size "+units[one], "Size "+units[two])
	for _, r := range rows {
		h := s.part.holes[r.hole]
		cells := []string{r.label}
		for _, u := range []System{one, two} {
			for _, axis := range used {
				value := ""
				if !sameAxis(h.dir, axis) {
					value = u.length(on(h.at, axis) - s.part.levels[axis][s.part.datum(axis)].at)
					if !s.tableFixes(axis, on(h.at, axis)) {
						value = "(" + value + ")" // a dimension says it already: ISO 129-1, auxiliary
					}
				}
				cells = append(cells, value)
			}
		}
		word := s.words[h.pattern]
		sizes := []string{h.row(one, word), h.lengths(two)}
		for i, size := range sizes {
			if size != "" && s.called(h) {
				sizes[i] = "(" + size + ")" // a callout says it already
			}
		}
		t.cells = append(t.cells, append(cells, sizes...))
	}
	t.widths = make([]float64, len(t.head))
	for n, line := range append([][]string{t.head}, t.cells...) {
		face := picture.Sans
		if n == 0 {
			face = picture.SansBold
		}
		for i, words := range line {
			t.widths[i] = max(t.widths[i], picture.TextWidth(words, height, face)+2*tablePad*height)
		}
	}
	return t
}

// row is the hole's size as the table has it, which shows no picture: with the way
// that a slot lies, and the side that its mouth is on.
func (h hole) row(s System, word HoleWord) string {
	words := h.words(s, word)
	if h.long > 0 {
		words = strings.Replace(words, h.opening(s), h.opening(s)+h.lying(), 1)
	}
	if mouth := h.mouth(s); h.far && mouth != "" {
		words = strings.Replace(words, mouth, mouth+" far side", 1)
	}
	return words
}

// lying is how a slot lies: along an axis, or at an angle from the first axis of its
// side.
func (h hole) lying() string {
	if straight(h.along) {
		return " along " + normalAxis(h.along).String()
	}
	for _, axis := range axes {
		if sameAxis(h.dir, axis) {
			plane := planeOf(axis)
			angle := math.Atan2(on(h.along, plane[1]), on(h.along, plane[0])) * 180 / math.Pi
			return fmt.Sprintf(" at %s from %s", degrees(math.Mod(angle+360, 180)), plane[0])
		}
	}
	return ""
}

// called reports whether a callout gives a hole's size.
func (s *scheme) called(h hole) bool {
	return slices.ContainsFunc(s.list, func(d Dimension) bool { return d.Kind == Callout && slices.Contains(d.Sizes, h.name) })
}

// tableFixes reports whether it is the table that places a level.
func (s *scheme) tableFixes(axis solid.Axis, at float64) bool {
	return slices.ContainsFunc(s.list, func(d Dimension) bool {
		return d.Kind == Table && d.Axis == axis.String() && (math.Abs(d.High-at) < near || math.Abs(d.Low-at) < near)
	})
}

// tableAxes are the axes along which any tabled hole is placed.
func (s *scheme) tableAxes(rows []row) []solid.Axis {
	var used []solid.Axis
	for _, axis := range axes {
		if slices.ContainsFunc(rows, func(r row) bool { return !sameAxis(s.part.holes[r.hole].dir, axis) }) {
			used = append(used, axis)
		}
	}
	return used
}

// column is how many rows stand in one column of the table.
func (t *holeTable) column() int { return (len(t.cells) + t.columns - 1) / t.columns }

// wide is the width of one column.
func (t *holeTable) wide() (width float64) {
	for _, w := range t.widths {
		width += w
	}
	return width
}

// size of the table on paper.
func (t *holeTable) size() (width, height float64) {
	width = t.wide()*float64(t.columns) + tableGap*float64(t.columns-1)
	return width, float64(t.column()+1) * tableRow * t.height
}

// folded is the table in so many columns.
func (t *holeTable) folded(columns int) *holeTable {
	folded := *t
	folded.columns = columns
	return &folded
}

// fitWithTable tries the hole table at the right of the views, then above them, in
// as few columns as go.
func (l *layout) fitWithTable(region picture.Box, table *holeTable) bool {
	for columns := 1; columns <= min(mostColumns, len(table.cells)); columns++ {
		folded := table.folded(columns)
		width, height := folded.size()
		if width > region.Width() {
			return false
		}
		if height > region.Height() {
			continue
		}
		at := point{X: region.Max.X - width, Y: region.Min.Y}
		box := picture.Box{Min: at, Max: at.Plus(point{X: width, Y: height})}
		beside, under := region, region
		beside.Max.X, under.Min.Y = box.Min.X-4, box.Max.Y+4
		board := l.board.mark()
		l.board.take(box)
		if l.fit(beside) || l.fit(under) || l.fitAround(l.paper.space().Grow(-centringRun-1)) {
			l.add(folded.draw(at))
			return true
		}
		l.board.back(board)
	}
	return false
}

// draw sets the table with its top-left corner at a point.
func (t *holeTable) draw(at point) picture.Group {
	g := picture.Group{ID: "hole-table", Title: "Hole table"}
	per := t.column()
	for c := range t.columns {
		from := min(c*per, len(t.cells))
		rows := append([][]string{t.head}, t.cells[from:min(from+per, len(t.cells))]...)
		g.Marks = append(g.Marks, t.drawColumn(at.Plus(point{X: float64(c) * (t.wide() + tableGap)}), rows)...)
	}
	return g
}

// drawColumn sets rows, the head first.
func (t *holeTable) drawColumn(at point, rows [][]string) []picture.Mark {
	step := tableRow * t.height
	width, height := t.wide(), step*float64(len(rows))
	marks := []picture.Mark{picture.Path{Curves: picture.Rectangle(at, width, height), Line: picture.Visible}}
	var lines []picture.Curve
	for i := range rows[1:] {
		y := at.Y + float64(i+1)*step
		lines = append(lines, picture.Line{A: point{X: at.X, Y: y}, B: point{X: at.X + width, Y: y}})
	}
	x := at.X
	for i, w := range t.widths {
		if i > 0 {
			lines = append(lines, picture.Line{A: point{X: x, Y: at.Y}, B: point{X: x, Y: at.Y + height}})
		}
		for j, row := range rows {
			words := picture.Text{Words: row[i], Height: t.height, Rise: picture.MidCapital,
				At: point{X: x + tablePad*t.height, Y: at.Y + (float64(j)+0.5)*step}}
			if numeric := i > 0 && i < len(t.widths)-2; numeric {
				words.Anchor, words.At.X = picture.End, x+w-tablePad*t.height
			}
			if j == 0 {
				words.Face = picture.SansBold
			}
			if words.Words != "" {
				marks = append(marks, words)
			}
		}
		x += w
	}
	return append(marks, picture.Path{Curves: lines, Line: picture.Thin})
}
