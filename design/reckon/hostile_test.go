package reckon

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"plansheaf/design/finding"
	"plansheaf/design/formula"
	"plansheaf/design/plan"
)

// valued is a plan of values, each a name and its formula.
func valued(t *testing.T, values ...[2]string) *plan.Plan {
	t.Helper()
	p := &plan.Plan{}
	for i, v := range values {
		at := finding.OnLine("plan.yaml", i+1, 1, len(v[1]))
		e, failed := formula.Parse(v[1])
		if failed != nil {
			t.Fatal(failed)
		}
		p.Values = append(p.Values, &plan.Value{ID: plan.Word{Text: v[0], At: at}, Is: plan.Quantity{Plain: plan.Formula{Expr: e, At: at}, At: at}})
	}
	p.Index()
	return p
}

// What formulas repeat is bounded for all of a plan's cases together; what is plain
// is worked out all the same.
func TestWorkOfAPlanIsBounded(t *testing.T) {
	var values [][2]string
	for i := range 100 {
		values = append(values, [2]string{fmt.Sprintf("v%d", i), fmt.Sprintf("solve(x, 0, 1, solve(y, 0, 1, y^3 + y = x) = 0.%02d)", i+1)})
	}
	values = append(values, [2]string{"plain", "2 * 3"})
	p := valued(t, values...)
	shapes := NewShapes()
	shapes.work = formula.NewWork(2_000_000)
	for range 2 {
		r := New(p, Case{}, shapes)
		r.All()
		var refused int
		for _, f := range r.Findings() {
			if strings.Contains(f.Message, "the formulas of the plan take more than 2000000 steps together") {
				refused++
			}
		}
		if refused < 70 {
			t.Errorf("%d of %d values refused, findings %+v", refused, len(values), r.Findings())
		}
		if v, err := r.Named("plain"); err != nil || v.SI != 6 {
			t.Errorf("plain: %v, %v", v, err)
		}
	}
	if done := shapes.work.Done(); done > 2_100_000 {
		t.Errorf("%d steps", done)
	}
}

// A chain of names of which each uses the one before twice is worked out once each.
func TestDoublingNames(t *testing.T) {
	values := [][2]string{{"v0", "1"}}
	for i := 1; i <= 300; i++ {
		values = append(values, [2]string{fmt.Sprintf("v%d", i), fmt.Sprintf("v%d + v%d", i-1, i-1)})
	}
	r := New(valued(t, values...), Case{}, nil)
	if v, err := r.Named("v300"); err != nil || v.SI != math.Pow(2, 300) {
		t.Errorf("got %v, %v", v, err)
	}
}
