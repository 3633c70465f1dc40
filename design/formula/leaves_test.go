package formula

import (
	"testing"

	"plansheaf/design/quantity"
)

func TestLeaves(t *testing.T) {
	e, failed := Parse("2 * motor.torque + curve.torque(speed * 1) * sqrt(gap / gap) + nothing_such")
	if failed != nil {
		t.Fatal(failed)
	}
	got := map[string]string{}
	for n, v := range e.Leaves(testScope()) {
		text := string([]rune(e.Source())[n.Offset : n.Offset+n.Length])
		got[text] = quantity.Text(v, quantity.Metric)
	}
	want := map[string]string{"motor.torque": "1.2 N·m", "curve.torque(speed * 1)": "0.8 N·m", "speed * 1": "120 rpm", "gap": "2 mm"}
	for text, value := range want {
		if got[text] != value {
			t.Errorf("%s is %q, want %q", text, got[text], value)
		}
	}
	if len(got) != len(want) {
		t.Errorf("got %v", got)
	}
}
