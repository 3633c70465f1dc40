package compose_test

import (
	"slices"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
	"plansheaf/publish/page"
)

// reckoned is a machine whose calculations have all that a page of one shows.
var reckoned = trial.Files{
	"plan.yaml": `title: Reckoned
machine: rig
revision: A
date: 2026-01-02
values: {speed: {is: 90 rpm, about: working speed}}
choices: {drive: {title: Drive, options: {crank: Crank, motor: Motor}, default: motor}}
claims: [{say: Force, is: pull.force, at_least: 40 N}]
`,
	"parts/all.yaml": `arm: {title: Arm, made: machined, material: steel_s235, shape: [{box: ["pull.reach", 20 mm, 20 mm]}]}
`,
	"assemblies/rig.yaml": `title: Rig
holds: {arm: {part: arm, at: [0 mm, 0 mm, 0 mm]}}
steps: {lay: {title: Lay the arm, adds: [arm], text: "Pull with {pull.force} at most."}}
`,
	"files/curve.csv": "speed [rpm],torque [N*m]\n0,6\n60,4\n120,2\n",
	"calcs/pull.yaml": `title: Pull of the arm
assumes: [The arm is stiff.]
tables: {curve: files/curve.csv}
given:
  torque: {is: {by: drive, crank: 5 N*m, motor: curve.torque(speed)}, about: at the shaft}
  friction: {is: 0.2 ± 0.05, because: common practice}
  reach: {is: 60 mm}
find:
  force: {is: torque * (1 - friction) / reach, about: at the end}
holds_while: [{that: friction < 0.5, because: beyond that it sticks}]
graphs: [{of: force, against: friction, from: "0", to: "0.4"}]
recorded: {force: 40 N ± 60 %}
require: [{that: force >= 40 N, because: the clay is stiff}, {that: torque > 0 N*m or reach > 1 m}]
source: Statics
`,
	"calcs/lift.yaml": `title: Lift of the screw
from: screw_lift
given: {torque: {is: pull.torque}, lead: {is: 4 mm}}
`,
	"pages/about.md": "---\ntitle: About\n---\nIt pulls {pull.force}.\n",
}

// block is the first block of a page of one kind that a test accepts.
func block[T page.Block](p *page.Page, fits func(T) bool) (found T, ok bool) {
	for _, b := range p.Blocks {
		if one, is := b.(T); is && fits(one) {
			return one, true
		}
	}
	return found, false
}

func tableOf(t *testing.T, p *page.Page, id string) page.Table {
	t.Helper()
	found, ok := block(p, func(b page.Table) bool { return b.ID == id })
	if !ok {
		t.Fatalf("%s has no table %q", p.ID, id)
	}
	return found
}

// rowsUnder are a table's rows under a combination.
func rowsUnder(list []page.Row, c page.Combination) (out []string) {
	for _, r := range list {
		var cells []string
		for _, cell := range r.Cells {
			cells = append(cells, said(cell.Words, c))
		}
		out = append(out, strings.Join(cells, " | "))
	}
	return out
}

func TestACalculationsPage(t *testing.T) {
	doc := document(t, check.Out(trial.Plan(t, reckoned)))
	p := pageOf(t, doc, "calculations/pull")
	motor, crank := page.Combination{"drive": "motor"}, page.Combination{"drive": "crank"}
	same(t, "givens", rowsUnder(tableOf(t, p, "givens").Rows, motor), []string{
		"torque | at the shaft | 3 N·m | torque_curve(speed)", "friction |  | 0.20 ± 0.05 | common practice", "reach |  | 60 mm | "})
	same(t, "givens of the crank", rowsUnder(tableOf(t, p, "givens").Rows, crank)[:1], []string{"torque | at the shaft | 5 N·m | "})
	e, ok := block(p, func(e page.Equation) bool { return e.ID == "result-force" })
	if !ok {
		t.Fatal("no equation")
	}
	formula := func(in page.Inline) string { return said([]page.Inline{in}, nil) }
	same(t, "formula", []string{formula(page.Formula{Is: e.Name}), formula(page.Formula{Is: e.Is}), said(e.About, nil), said(e.Result, motor), said(e.Result, crank)},
		[]string{"force", "torque · (1 − friction)/reach", "at the end", "40 N", "66.67 N"})
	var worked []string
	for _, w := range e.Worked {
		for name, c := range map[string]page.Combination{"motor": motor, "crank": crank} {
			if w.When.Fits(c) {
				worked = append(worked, name+": "+formula(page.Formula{Is: w.Is}))
			}
		}
	}
	slices.Sort(worked)
	same(t, "with values", worked, []string{"crank: 5 N·m × (1 − 0.2)/(60 mm)", "motor: 3 N·m × (1 − 0.2)/(60 mm)"})
	var facts []string
	for _, f := range e.Facts {
		facts = append(facts, f.Label+": "+said(f.Words, motor))
	}
	same(t, "facts", facts, []string{"Worst case: ± 2.5 N", "Statistically: ± 2.5 N", "On record: 40 ± 24 N: holds"})
	same(t, "validity", rowsUnder(tableOf(t, p, "validity").Rows, motor), []string{"friction < 0.5 | 0.2 < 0.5 | yes | 60 % | in the worst case too | beyond that it sticks"})
	must := rowsUnder(tableOf(t, p, "requirements").Rows, motor)
	if !strings.HasPrefix(must[0], "force ≥ 40 N | 40 N ≥ 40 N | yes | 0 % | 50 %") || !strings.Contains(must[1], "3 N·m > 0 N·m or 60 mm > 1 m") {
		t.Errorf("requirements are %q", must)
	}
	same(t, "drivers", rowsUnder(tableOf(t, p, "driver-list").Rows, motor), []string{"force | friction | ± 2.5 N; 6.2 % | 100 %"})
	same(t, "table", rowsUnder(tableOf(t, p, "table-curve").Rows, motor), []string{"0 | 6", "60 | 4", "▸ 90 | torque = 3", "120 | 2"})
	f, ok := block(p, func(f page.Figure) bool { return f.Picture != nil })
	if !ok || !strings.Contains(f.Picture.Description, "force against friction. From 50 N at 0 to 30 N at 0.4. The machine is at 0.2, 40 N. Limit: ≥ 40 N.") {
		t.Errorf("the graph is told as %q", f.Picture.Description)
	}
	var relied []string
	for i, b := range p.Blocks {
		if h, is := b.(page.Heading); is && h.ID == "relied-on" {
			for _, item := range p.Blocks[i+1].(page.List).Items {
				relied = append(relied, said(item.Blocks[0].(page.Paragraph).Words, nil))
			}
		}
	}
	same(t, "relied on by", relied, []string{"the promise of Force", "Lift of the screw", "sizes of Arm", "the step Lay the arm", "the page About"})
}

func TestAReadyCalculationsPage(t *testing.T) {
	doc := document(t, check.Out(trial.Plan(t, reckoned)))
	own, ready := pageOf(t, doc, "calculations/lift"), pageOf(t, doc, "calculations/ready/screw_lift")
	e, ok := block(own, func(page.Equation) bool { return true })
	if !ok {
		t.Fatal("no equation")
	}
	same(t, "symbols of handbooks", []string{said([]page.Inline{page.Formula{Is: e.Name}, page.Text(" = "), page.Formula{Is: e.Is}}, nil)}, []string{"F = 2 π T η/l"})
	inputs := rowsUnder(tableOf(t, ready, "inputs").Rows, nil)
	if len(inputs) != 3 || !strings.HasPrefix(inputs[1], "l | lead | mm |  | ") || !strings.HasPrefix(inputs[2], "η | efficiency |  | 100 % | ") {
		t.Errorf("inputs are %q", inputs)
	}
	there, back := false, false
	each(own.Blocks, func(l page.Link) { there = there || l.To.Page == ready.ID })
	each(ready.Blocks, func(l page.Link) { back = back || l.To.Page == own.ID })
	if !there || !back {
		t.Error("the pages do not lead to each other")
	}
}
