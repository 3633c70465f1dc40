package bill

import (
	"plansheaf/design/cutting"
	"plansheaf/design/reckon"
)

// A Setting is a stop or fence as it is set, and what is cut before it is moved.
type Setting struct {
	Stop float64 // mm from the blade
	Saws []Saw
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

// stops are the settings for a plan's bars: each length once, over all bars, the
// longest first, so that what is left of a bar never has to be longer than what was
// cut from it.
func (c *CutPlan) stops() []Setting {
	var out []Setting
	for _, p := range c.Pieces {
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
		if len(saws) == 0 {
			continue
		}
		if last := len(out) - 1; last >= 0 && out[last].Stop == p.Length {
			out[last].Saws = append(out[last].Saws, saws...)
			continue
		}
		out = append(out, Setting{Stop: p.Length, Saws: saws})
	}
	return out
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
