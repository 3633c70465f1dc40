package data

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/check"
)

// table writes rows as CSV after RFC 4180, in UTF-8, with the line ends that it
// asks for.
func table(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range rows {
		for i := range row {
			row[i] = defused(row[i])
		}
		w.Write(row)
	}
	w.Flush()
	return b.Bytes()
}

// defused keeps a spreadsheet from running a cell as a formula: what begins with
// one of the signs that start one gets an apostrophe before it.
func defused(cell string) string {
	if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r\n") {
		return "'" + cell
	}
	return cell
}

// PartsCSV is the parts list of one situation: a row for each part.
func PartsCSV(s *check.Situation) []byte {
	rows := [][]string{{"part", "title", "made", "count", "designation", "material", "mass each kg", "assemblies"}}
	for _, line := range s.Bill.Lines {
		p := line.Part
		mass := ""
		if p.Weighed {
			mass = fmt.Sprintf("%.6g", p.Mass)
		}
		var by []string
		for _, share := range line.By {
			by = append(by, fmt.Sprintf("%s %d", share.Assembly.ID.Text, share.Count))
		}
		rows = append(rows, []string{
			p.Part.ID.Text, bill.Title(p), p.Part.Made.Text, fmt.Sprint(line.Count), p.Part.Standard.Text, p.Material.ID, mass, strings.Join(by, "; "),
		})
	}
	return table(rows)
}

// CuttingCSV is the cut list of one situation: a row for each kind of piece.
func CuttingCSV(s *check.Situation) []byte {
	rows := [][]string{{"stock", "title", "part", "count", "length mm", "width mm", "mitres deg"}}
	for _, c := range s.Bill.Cuts {
		for _, p := range c.Pieces {
			width := ""
			if p.Width > 0 {
				width = fmt.Sprintf("%.6g", p.Width)
			}
			mitres := ""
			if p.Mitred() {
				mitres = mitreCell(degrees(p.Angles))
			}
			rows = append(rows, []string{c.Stock.ID.Text, c.Stock.Title.Value, p.Part.Part.ID.Text, fmt.Sprint(p.Count), fmt.Sprintf("%.6g", p.Length), width, mitres})
		}
	}
	return table(rows)
}

// ToolsCSV is the tools list of one situation.
func ToolsCSV(s *check.Situation) []byte {
	rows := [][]string{{"tool", "size", "owned", "places turned", "two at once", "needed once", "parts", "joints", "steps"}}
	for _, t := range toolsOf(s) {
		rows = append(rows, []string{
			t.Kind, t.Size, yes(t.Owned), fmt.Sprint(t.Turns), yes(t.Two), yes(t.Once), strings.Join(t.Parts, "; "), strings.Join(t.Joints, "; "), strings.Join(t.Steps, "; "),
		})
	}
	return table(rows)
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}
