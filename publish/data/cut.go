package data

import (
	"fmt"
	"math"

	"plansheaf/design/bill"
	"plansheaf/design/check"
)

func cutsOf(c *bill.CutPlan) cutFile {
	out := cutFile{Stock: c.Stock.ID.Text, Proven: c.Proven(), Fewest: c.Fewest, Bound: c.Bound.Amount(), Bars: []barFile{}, Order: []stopFile{}}
	for _, stick := range c.Pieced {
		size := c.Size(stick)
		bar := barFile{LengthMM: size[0], WidthMM: size[1], OnHand: c.Ways[stick.Way].Sold == nil, Cuts: []cutPiece{}, Rests: restsOf(c, stick)}
		for _, cut := range stick.Cuts {
			piece := cutPiece{Part: cut.Part.Part.ID.Text, XMM: cut.X, YMM: cut.Y, LengthMM: cut.Length, WidthMM: cut.Width, Turned: cut.Turned}
			if cut.Slant != [2]float64{} {
				piece.Slant = cut.Slant[:]
			}
			bar.Cuts = append(bar.Cuts, piece)
		}
		out.Bars = append(out.Bars, bar)
	}
	for _, setting := range c.Settings {
		stop := stopFile{StopMM: setting.Stop}
		if setting.Mitred() {
			stop.Mitres = degrees(setting.Angles)
		}
		for _, saw := range setting.Saws {
			stop.Cuts = append(stop.Cuts, sawOf(saw))
		}
		out.Order = append(out.Order, stop)
	}
	return out
}

func restsOf(c *bill.CutPlan, stick bill.Stick) []leftFile {
	out := []leftFile{}
	if c.Bars() && stick.Left > 0 {
		out = append(out, leftFile{XMM: c.Size(stick)[0] - c.Trim - stick.Left, LengthMM: stick.Left})
	}
	for _, r := range stick.Rests {
		out = append(out, leftFile{XMM: r.X, YMM: r.Y, LengthMM: r.Length, WidthMM: r.Width})
	}
	return out
}

func sawOf(saw bill.Saw) sawFile {
	out := sawFile{Number: saw.Number, Bar: saw.Stick + 1, Alike: saw.Times, Each: max(1, saw.Each), From: bill.PanelName(saw.Of), Along: "y", Off: outcomeOf(saw.Off)}
	if saw.Along {
		out.Along = "x"
	}
	if saw.Left != nil {
		out.Remains = outcomeOf(*saw.Left)
	}
	return out
}

func outcomeOf(o bill.Outcome) *outcomeFile {
	out := &outcomeFile{Panel: bill.PanelName(o.Panel), LengthMM: o.Size[0], WidthMM: o.Size[1]}
	if o.Part != nil {
		out.Part = o.Part.Part.ID.Text
	}
	return out
}

// CutOrderCSV is the order of the cuts of one situation: a row for each cut of bars
// or sheets that are cut alike, in the order to make them.
func CutOrderCSV(s *check.Situation) []byte {
	rows := [][]string{{
		"stock", "stop mm", "cut", "bar or sheet", "alike", "times each", "from", "stop along",
		"part", "panel", "length mm", "width mm", "remains part", "remains panel", "remains length mm", "remains width mm", "mitres deg",
	}}
	for i := range s.Bill.Cuts {
		c := cutsOf(&s.Bill.Cuts[i])
		for _, stop := range c.Order {
			for _, cut := range stop.Cuts {
				row := []string{c.Stock, fmt.Sprintf("%.6g", stop.StopMM), "", fmt.Sprint(cut.Bar), fmt.Sprint(cut.Alike), fmt.Sprint(cut.Each), cut.From, cut.Along}
				if cut.Number > 0 {
					row[2] = fmt.Sprint(cut.Number)
				}
				row = append(row, outcomeCells(cut.Off)...)
				row = append(row, outcomeCells(cut.Remains)...)
				rows = append(rows, append(row, mitreCell(stop.Mitres)))
			}
		}
	}
	return table(rows)
}

func outcomeCells(o *outcomeFile) []string {
	if o == nil {
		return []string{"", "", "", ""}
	}
	width := ""
	if o.WidthMM > 0 {
		width = fmt.Sprintf("%.6g", o.WidthMM)
	}
	return []string{o.Part, o.Panel, fmt.Sprintf("%.6g", o.LengthMM), width}
}

// degrees are the angles of a bar's two ends.
func degrees(radians [2]float64) []float64 {
	var out []float64
	for _, a := range radians {
		out = append(out, math.Round(a*180/math.Pi*1e6)/1e6)
	}
	return out
}

// mitreCell is the two angles in one cell, empty for square ends.
func mitreCell(degrees []float64) string {
	if len(degrees) == 0 {
		return ""
	}
	return fmt.Sprintf("%.6g; %.6g", degrees[0], degrees[1])
}
