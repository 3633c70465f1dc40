package publish_test

import (
	"testing"

	"plansheaf/publish"
)

// Whoever follows the order of the cuts gets the pieces of the cut list: from sheets
// all but those that fill their sheet, and from what a router cuts none.
func TestOrderOfCutsGivesTheCutList(t *testing.T) {
	p := example(t)
	got := map[string]int{}
	stocks := map[string]bool{}
	for _, row := range table(t, p, publish.SawingPath) {
		stocks[row["stock"]] = true
		alike, each := int(number(t, row["alike"])), int(number(t, row["times each"]))
		if row["part"] != "" {
			got[row["stock"]+" "+row["part"]] += alike * each
		}
		if row["remains part"] != "" {
			got[row["stock"]+" "+row["remains part"]] += alike
		}
	}
	routed := 0
	for _, row := range table(t, p, publish.CuttingPath) {
		if !stocks[row["stock"]] {
			routed++
			continue
		}
		if key := row["stock"] + " " + row["part"]; got[key] != int(number(t, row["count"])) {
			t.Errorf("following the cuts gives %d of %s, the cut list says %s", got[key], key, row["count"])
		}
	}
	if len(stocks) < 5 || routed == 0 {
		t.Errorf("cuts of %d stocks, %d pieces cut by a router", len(stocks), routed)
	}
}
