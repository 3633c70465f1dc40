package data

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"plansheaf/design/check"
	"plansheaf/design/trial"
)

// The list and the data say the same: lines, what fills an order up, shipping, and
// what the total lacks.
func TestOrdersAsData(t *testing.T) {
	w := check.Out(trial.Plan(t, trial.Files{
		"plan.yaml": "title: Rig\nmachine: rig\nrevision: A\ncurrency: EUR\n",
		"suppliers.yaml": `general:
  title: General
  shipping: {price: 4.90 EUR, free_from: 80 EUR}
  least_order: 10 EUR
  sells: {hinge: {price: 2.195 EUR, code: H}, lamp: {price: 3 USD}}
`,
		"parts/p.yaml":        "hinge: {title: Hinge, made: bought}\nlamp: {title: Lamp, made: bought}\n",
		"assemblies/rig.yaml": "title: Rig\nholds:\n  hinge: {part: hinge, at: [0 mm, 0 mm, 0 mm], count: 4, step: [9 mm, 0 mm, 0 mm]}\n  lamp: {part: lamp, at: [0 mm, 0 mm, 0 mm]}\n",
	}))
	var lines []string
	for _, row := range records(t, ShoppingCSV(w.Default(), "EUR")) {
		lines = append(lines, strings.Join([]string{row[0], row[1], row[10], row[11]}, "|"))
	}
	want := "item|title|each EUR|price EUR hinge|Hinge|2.1950|8.78 lamp|Lamp|| |whatever else, to fill the order up||1.22 |shipping||4.90"
	if got := strings.Join(lines, " "); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	text, err := PlanJSON(w, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out planFile
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	c := out.Cases[0]
	if len(c.Orders) != 1 || c.Orders[0] != (orderFile{Supplier: "general", Goods: 8.78, Fill: 1.22, Shipping: 4.9, Total: 14.9, Least: 10, FreeFrom: 80}) {
		t.Errorf("orders %+v", c.Orders)
	}
	if math.Abs(c.Cost-14.9) > 1e-9 || c.CostBound != c.Cost || len(c.Unpriced) != 1 || c.Unpriced[0] != "lamp" {
		t.Errorf("cost %g, bound %g, without %v", c.Cost, c.CostBound, c.Unpriced)
	}
}
