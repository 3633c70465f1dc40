package stackup

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/chain"
	"plansheaf/design/quantity"
	"plansheaf/publish/picture"
	"plansheaf/publish/wording"
)

const (
	width   = 170.0 // mm of paper: the column of a binder's page
	named   = 58.0  // mm at the left for what a size is of
	sized   = 44.0  // mm at the right for the size and its tolerance
	air     = 5.0   // mm to either side of the sketch
	row     = 9.0   // mm from arrow to arrow
	top     = 5.0   // mm above the first arrow
	letters = 2.5   // mm, capital height of parts and sizes
	small   = 1.8   // mm, capital height of features
	foot    = 23.0  // mm for the gap and what it comes to
	mostOn  = 13    // arrows on one picture, so that it is low enough for a leaf
)

// A sketch is one chain being drawn.
type sketch struct {
	report *chain.Report
	system quantity.System
	words  *wording.Table
	list   []chain.Contributor // in the order of the chain
	starts []float64           // where each begins along the chain, mm
	places []float64           // what is marked along the chain, mm, rising
	at     []float64           // where that stands on paper, mm
}

// Draw draws a chain; no pictures for one that does not close. name is the pictures'
// file stem, title says what they show.
func Draw(r *chain.Report, name, title string, system quantity.System, words *wording.Table) []*picture.Picture {
	if !r.Known || len(r.Contributors) == 0 {
		return nil
	}
	s := &sketch{report: r, system: system, words: words, list: slices.Clone(r.Contributors)}
	slices.SortFunc(s.list, func(a, b chain.Contributor) int { return a.Number - b.Number })
	s.lay()
	var out []*picture.Picture
	for from := 0; from < len(s.list); from += mostOn {
		to := min(from+mostOn, len(s.list))
		pic := &picture.Picture{Name: name, Title: title, Width: width, Description: s.describe(from, to)}
		if from > 0 {
			pic.Name += fmt.Sprintf(".%d", len(out)+1)
			pic.Title = words.Say("%s, picture %d", title, len(out)+1)
		}
		s.draw(pic, from, to)
		out = append(out, pic)
	}
	return out
}

// reach is how far a contributor takes the chain, mm.
func reach(c chain.Contributor) float64 { return c.Sense * c.Size }

// lay finds where each arrow begins, and a place on paper for all that is marked.
func (s *sketch) lay() {
	at, link := 0.0, -1
	s.mark(0)
	for _, c := range s.list {
		if c.Link != link && c.Link >= 0 {
			at = s.report.Links[c.Link].Start
		}
		link = c.Link
		s.starts = append(s.starts, at)
		s.mark(at)
		at += reach(c)
		s.mark(at)
	}
	s.mark(s.report.Gap.Nominal)
	slices.Sort(s.places)
	room := width - named - sized - 2*air
	weights, sum := make([]float64, len(s.places)), 0.0
	for i := 1; i < len(s.places); i++ {
		weights[i] = math.Log1p((s.places[i]-s.places[i-1])/finest) + 2
		sum += weights[i]
	}
	x := named + air
	if sum == 0 {
		x += room / 2
		sum = 1
	}
	for i := range s.places {
		x += weights[i] / sum * room
		s.at = append(s.at, x)
	}
}

// finest (mm) is the distance along a chain from which on longer ones are drawn
// noticeably longer.
const finest = 0.05

// alike (mm) is how far two places may lie apart and be one.
const alike = 1e-6

func (s *sketch) mark(mm float64) {
	if !slices.ContainsFunc(s.places, func(p float64) bool { return math.Abs(p-mm) < alike }) {
		s.places = append(s.places, mm)
	}
}

// paper is where a place along the chain stands on paper.
func (s *sketch) paper(mm float64) float64 {
	for i, p := range s.places {
		if math.Abs(p-mm) < alike {
			return s.at[i]
		}
	}
	return s.at[0]
}

// draw draws some of the arrows, and the gap below the last.
func (s *sketch) draw(pic *picture.Picture, from, to int) {
	last := to == len(s.list)
	pic.Height = top + row*float64(to-from)
	end := pic.Height - row/2
	if last {
		end = pic.Height + 4
		pic.Height += foot
	}
	line := func(mm, from, to float64) {
		x := s.paper(mm)
		pic.Add(picture.Path{Curves: picture.Polyline(picture.Point{X: x, Y: from}, picture.Point{X: x, Y: to}), Line: picture.Thin})
	}
	y := func(i int) float64 { return top + row*float64(i-from) }
	begin := y(from)
	if from > 0 { // the loop comes from the picture before
		begin -= row / 2
		line(s.starts[from], begin, y(from))
	}
	line(0, begin, end) // the gap's one side
	for i := from; i < to; i++ {
		c := s.list[i]
		s.label(pic, c, y(i))
		s.arrow(pic, s.starts[i], s.starts[i]+reach(c), y(i))
		switch {
		case i+1 < to:
			line(s.starts[i]+reach(c), y(i), y(i+1))
		case last:
			line(s.report.Gap.Nominal, y(i), end)
		default:
			line(s.starts[i]+reach(c), y(i), end)
		}
	}
	if last {
		s.gap(pic, end)
	}
}

const (
	arrowLong = 2.5 // mm
	arrowWide = 1.0
	dot       = 0.6 // mm, radius of the mark where an arrow begins
	sway      = 3.0 // mm to either side, of what has no size of its own
)

// tip is an arrowhead that points to one side: 1 to the right.
func tip(x, y, way float64, ink picture.Colour) picture.Path {
	return picture.Path{Curves: picture.Polygon(picture.Point{X: x, Y: y}, picture.Point{X: x - way*arrowLong, Y: y - arrowWide/2}, picture.Point{X: x - way*arrowLong, Y: y + arrowWide/2}), Fill: ink}
}

// arrow is a size from one place to another; what has no size, such as play, sways to
// both sides of its place.
func (s *sketch) arrow(pic *picture.Picture, from, to, y float64) {
	a, b := s.paper(from), s.paper(to)
	if math.Abs(to-from) < alike {
		pic.Add(
			picture.Path{Curves: picture.Polyline(picture.Point{X: a - sway, Y: y}, picture.Point{X: a + sway, Y: y}), Line: picture.Thin},
			tip(a-sway, y, -1, picture.Ink), tip(a+sway, y, 1, picture.Ink),
		)
		return
	}
	way := 1.0
	if b < a {
		way = -1
	}
	pic.Add(
		picture.Path{Curves: picture.Polyline(picture.Point{X: a, Y: y}, picture.Point{X: b - way*arrowLong/2, Y: y}), Line: picture.Visible},
		picture.Path{Curves: picture.Circle(picture.Point{X: a, Y: y}, dot), Fill: picture.Ink},
		tip(b, y, way, picture.Ink),
	)
}

// label says at the left what a size is of, at the right how large it is.
func (s *sketch) label(pic *picture.Picture, c chain.Contributor, y float64) {
	const number = 8.0
	room := named - number - 1
	title, below := c.Title, s.features(c)
	if c.Kind == chain.Extra {
		title, below = c.From, s.words.Say("Added by the plan")
	}
	add := func(x, y float64, words string, height, room float64, anchor picture.Anchor, ink picture.Colour) {
		words = picture.Shortened(words, room, height, picture.Sans)
		pic.Add(picture.Text{At: picture.Point{X: x, Y: y}, Words: words, Height: height, Anchor: anchor, Rise: picture.MidCapital, Ink: ink})
	}
	add(number-2, y, strconv.Itoa(c.Number), letters, number, picture.End, picture.Ink)
	add(number, y-1.9, title, letters, room, picture.Start, picture.Ink)
	add(number, y+1.9, below, small, room, picture.Start, picture.Faint)
	size := s.size(c) // never cut short
	height := min(letters, letters*(sized-2)/picture.TextWidth(size, letters, picture.Sans))
	pic.Add(picture.Text{At: picture.Point{X: width - 1, Y: y - 1.9}, Words: size, Height: height, Anchor: picture.End, Rise: picture.MidCapital})
	add(width-1, y+1.9, c.Says, small, sized-2, picture.End, picture.Faint)
}

// features are what a size lies between.
func (s *sketch) features(c chain.Contributor) string { return Features(c, s.words) }

// Features says what a contributor's size lies between, in the words of a language:
// "top to floor of seat".
func Features(c chain.Contributor, words *wording.Table) string {
	from := Feature(c.From, words)
	switch c.Kind {
	case chain.Length:
		return words.Say("%s to %s|features of a part", from, Feature(c.To, words))
	case chain.Diameter:
		return words.Say("diameter of %s|feature of a part", from)
	case chain.Shift:
		return words.Say("play in %s|feature of a part", from)
	}
	return from
}

// places are how package chain names a place at a feature: [chain.FloorOf] and so on.
var places = []wording.Phrase{"floor of %s", "wall of %s", "end of %s"}

// Feature is a feature's name as package chain has it, "floor of seat", in the words of
// a language.
func Feature(name string, words *wording.Table) string {
	for _, p := range places {
		if of, found := strings.CutPrefix(name, strings.TrimSuffix(string(p), "%s")); found {
			return words.Say(p, of)
		}
	}
	return name
}

// size is a contributor's size with its limits: "−400 ± 0.8", of a diameter half of it.
func (s *sketch) size(c chain.Contributor) string { return Size(c, s.system) }

// Size is a contributor's size with its limits as a drawing has them, in the system's
// unit: "400 ± 0.8", "½ ⌀12 +0.034/+0.016"; of play the limits alone.
func Size(c chain.Contributor, system quantity.System) string {
	words := number(c.Size, system) + " "
	switch c.Kind {
	case chain.Diameter:
		words = "⌀" + words
		if math.Abs(math.Abs(c.Sense)-0.5) < alike {
			words = "½ " + words
		}
	case chain.Shift:
		words = ""
	}
	switch {
	case c.Lower == 0 && c.Upper == 0:
		return strings.TrimSpace(words)
	case math.Abs(c.Lower+c.Upper) < alike:
		return words + "± " + number(c.Upper, system)
	}
	return words + signed(c.Upper, system) + "/" + signed(c.Lower, system)
}

// number is a length in the system's unit, without the unit: tenths of a
// micrometre, or hundred-thousandths of an inch, at the finest.
func number(mm float64, system quantity.System) string { return rounded(mm, 4, system) }

// rounded is a length to so many places of a millimetre, and one more of an inch.
func rounded(mm float64, places int, system quantity.System) string {
	if system == quantity.Inch {
		mm, places = mm/25.4, places+1
	}
	words := strconv.FormatFloat(mm, 'f', places, 64)
	words = strings.TrimSuffix(strings.TrimRight(words, "0"), ".")
	if words == "-0" || words == "" {
		words = "0"
	}
	return strings.Replace(words, "-", "−", 1)
}

func signed(mm float64, system quantity.System) string {
	words := number(mm, system)
	if mm > 0 && words != "0" {
		words = "+" + words
	}
	return words
}

// gap draws what the chain leaves, and says what it comes to.
func (s *sketch) gap(pic *picture.Picture, y float64) {
	g := s.report.Gap
	a, b := s.paper(0), s.paper(g.Nominal)
	stroke := func(from, to float64) {
		pic.Add(picture.Path{Curves: picture.Polyline(picture.Point{X: from, Y: y}, picture.Point{X: to, Y: y}), Line: picture.Accented})
	}
	const least, tail = 3 * arrowLong, 8.0
	low, high := min(a, b), max(a, b)
	if high-low >= least {
		stroke(low+arrowLong/2, high-arrowLong/2)
		pic.Add(tip(low, y, -1, picture.Accent), tip(high, y, 1, picture.Accent))
	} else { // from outside, where it is narrow
		stroke(low-tail, low-arrowLong/2)
		stroke(high+arrowLong/2, high+tail)
		pic.Add(tip(low, y, 1, picture.Accent), tip(high, y, -1, picture.Accent))
	}
	unit := "mm"
	if s.system == quantity.Inch {
		unit = "in"
	}
	likelyLow, likelyHigh := g.Likely()
	between := func(low, high float64) string {
		return rounded(low, 3, s.system) + " … " + rounded(high, 3, s.system) + " " + unit
	}
	for i, line := range [][2]string{
		{s.words.Say("Gap"), number(g.Nominal, s.system) + " " + unit},
		{s.words.Say("Mean"), number(g.Mean, s.system) + " " + unit},
		{s.words.Say("Worst case"), between(g.Low, g.High)},
		{s.words.Say("Statistically"), between(likelyLow, likelyHigh)},
	} {
		height, ink := letters, picture.Ink
		at := y + 4.2*float64(i)
		if i == 0 {
			ink = picture.Accent
		}
		pic.Add(
			picture.Text{At: picture.Point{X: 8, Y: at}, Words: line[0], Height: height, Rise: picture.MidCapital, Ink: ink},
			picture.Text{At: picture.Point{X: width - 1, Y: at}, Words: line[1], Height: height, Anchor: picture.End, Rise: picture.MidCapital, Ink: ink},
		)
	}
}

// describe says in words what a picture shows.
func (s *sketch) describe(from, to int) string {
	var sizes []string
	for _, c := range s.list[from:to] {
		title := c.Title
		if c.Kind == chain.Extra {
			sizes = append(sizes, c.From+" "+s.size(c))
			continue
		}
		sizes = append(sizes, title+", "+s.features(c)+" "+s.size(c))
	}
	return s.words.Say("A loop of arrows, not to scale: %s. The gap is %s.", strings.Join(sizes, "; "), quantity.Text(quantity.MM(s.report.Gap.Nominal), s.system))
}
