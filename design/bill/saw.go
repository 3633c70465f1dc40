package bill

import (
	"slices"

	"plansheaf/design/cutting"
	"plansheaf/design/reckon"
)

// A Setting is a stop or fence as it is set, and what is cut before it is moved.
type Setting struct {
	Stop float64 // mm from the blade; to the far tip of a mitred piece
	Saws []Saw
	// Angles are those by which the saw is turned from a square cut for the two ends
	// of a bar's piece, radians.
	Angles [2]float64
}

// A Saw is one cut, made on each of the bars or sheets that are cut alike.
type Saw struct {
	Number int  // among a plan's cuts of sheets, from 1; 0 for bars
	Stick  int  // the first bar or sheet, an index in Pieced
	Times  int  // how many from it on are cut so
	Each   int  // cuts of a bar: pieces of this length that come off each
	Along  bool // sheets: the stop measures along the sheet's length
	From   [2]float64
	To     [2]float64 // sheets: where the cut runs, mm from the corner
	Of     int        // number of the panel that is cut; 0 is the sheet
	Off    Outcome    // what falls off
	Left   *Outcome   // what remains, where this was the panel's last cut
}

// An Outcome is what a cut makes: a finished piece, a panel to cut on, or neither:
// what is left over.
type Outcome struct {
	Part  *reckon.Part // nil: no piece
	Panel int          // its number on the sheet; 0: none
	Size  [2]float64   // mm
}

// Empty reports whether nothing but chips is left.
func (o Outcome) Empty() bool {
	return o.Part == nil && o.Panel == 0 && (o.Size[0] <= 0 || o.Size[1] <= 0)
}

// Cuts is how often a setting's stop is used, over all bars or sheets.
func (s Setting) Cuts() int {
	n := 0
	for _, saw := range s.Saws {
		n += saw.Times * max(1, saw.Each)
	}
	return n
}

// stops are the settings for a plan's bars: each length once with the same mitres, over
// all bars, the longest first, so that what is left of a bar never has to be longer than
// what was cut from it. Rows of mitred pieces, by piece in nests, come after the others
// and one after the other: a row that something else is cut between wastes more.
func (c *CutPlan) stops(nests []int) []Setting {
	var out []Setting
	for nest := range slices.Max(nests) + 1 {
		first := len(out)
		for i, p := range c.Pieces {
			if nests[i] != nest {
				continue
			}
			saws := c.sawsOf(p)
			if len(saws) == 0 {
				continue
			}
			same := func(s Setting) bool { return s.Stop == p.Length && s.Angles == p.Angles }
			if k := slices.IndexFunc(out[first:], same); k >= 0 {
				out[first+k].Saws = append(out[first+k].Saws, saws...)
				continue
			}
			out = append(out, Setting{Stop: p.Length, Angles: p.Angles, Saws: saws})
		}
	}
	return out
}

// sawsOf are the cuts of one piece on all bars.
func (c *CutPlan) sawsOf(p Piece) []Saw {
	var saws []Saw
	for i := 0; i < len(c.Pieced); {
		run := i + 1
		for run < len(c.Pieced) && Alike(c.Pieced[i], c.Pieced[run]) {
			run++
		}
		each := 0
		for _, cut := range c.Pieced[i].Cuts {
			if cut.Part == p.Part {
				each++
			}
		}
		if each > 0 {
			saws = append(saws, Saw{Stick: i, Times: run - i, Each: each, Along: true, Off: Outcome{Part: p.Part, Size: [2]float64{p.Length, 0}}})
		}
		i = run
	}
	return saws
}

// Alike reports whether two bars or sheets of a plan are cut in the same way.
func Alike(a, b Stick) bool {
	if a.Way != b.Way || len(a.Cuts) != len(b.Cuts) {
		return false
	}
	for i := range a.Cuts {
		if a.Cuts[i] != b.Cuts[i] {
			return false
		}
	}
	return true
}

// sawn are the settings for sheets, in the order of the cuts. first is the first
// sheet of each layout.
func (c *CutPlan) sawn(problem cutting.SheetProblem, found cutting.SheetPlan, first []int) []Setting {
	outcome := func(o cutting.Outcome) Outcome {
		out := Outcome{Panel: o.Panel, Size: [2]float64{mm(o.Size[0]), mm(o.Size[1])}}
		if o.Rect >= 0 {
			out.Part = c.Pieces[o.Rect].Part
		}
		return out
	}
	var out []Setting
	for i, cut := range cutting.SawCuts(problem, found) {
		if first[cut.Layout] >= len(c.Pieced) {
			continue // beyond the sheets that a plan may have
		}
		saw := Saw{
			Number: i + 1, Stick: first[cut.Layout], Times: found.Layouts[cut.Layout].Times, Along: cut.Axis == 0, Of: cut.Of,
			From: [2]float64{mm(cut.From[0]), mm(cut.From[1])}, To: [2]float64{mm(cut.To[0]), mm(cut.To[1])}, Off: outcome(cut.Part),
		}
		if cut.Rest != nil {
			left := outcome(*cut.Rest)
			saw.Left = &left
		}
		if last := len(out) - 1; last < 0 || out[last].Stop != mm(cut.Stop) {
			out = append(out, Setting{Stop: mm(cut.Stop)})
		}
		out[len(out)-1].Saws = append(out[len(out)-1].Saws, saw)
	}
	return out
}

// PanelName names a part of a sheet by letters, in the order in which parts come off:
// A to Z, then AA; nothing for the sheet itself.
func PanelName(n int) string {
	name := ""
	for ; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}
