package bill_test

import (
	"reflect"
	"strings"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/memo"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// What is cut and bought is taken over where the same is to be cut and bought, and only
// there.
func TestBillKept(t *testing.T) {
	files := shop(`foot: {title: Foot, made: bought}
post: {title: Post, made: cut, stock: rod, length: 400 mm}
shelf: {title: Shelf, made: sheet, stock: ply, outline: {rectangle: [300 mm, 200 mm]}}
side: {title: Side, made: sheet, stock: ply, outline: {rectangle: [220 mm, 210 mm]}}
`, `general:
  title: General
  shipping: {price: 4.90 EUR, free_from: 80 EUR}
  sells: {foot: {price: 2 EUR, pack: 4}}
`, `rod: {title: Rod, section: {round: {d: 12 mm}}, material: steel_s235, kerf: 2 mm, sold: [{length: 1 m, price: 6 EUR}]}
ply: {title: Ply, sheet: 12 mm, material: birch_plywood, kerf: 3 mm, sold: [{size: [1000 mm, 500 mm], price: 30 EUR}], offcuts: [{size: [310 mm, 210 mm]}]}
`, map[string]int{"foot": 6, "post": 5, "shelf": 3, "side": 4}, "foot", "post", "shelf", "side")
	work := func(files trial.Files, kept *memo.Store) *bill.Bill {
		p, shapes := trial.Plan(t, files), reckon.NewShapes()
		shapes.Kept = kept
		r := reckon.New(p, reckon.Default(p), shapes)
		return bill.Of(r)
	}
	kept := memo.New()
	work(files, kept)
	cases := []struct {
		name, file, old, new string
		anew                 int // bars, sheets, basket; body and size of a changed part
	}{
		{name: "nothing"},
		{name: "lines", file: "parts/all.yaml", old: "post:", new: "# moved\npost:"},
		{name: "a part that nothing here hangs on", file: "parts/all.yaml", old: "title: Foot", new: "title: Rubber foot"},
		{name: "a length", file: "parts/all.yaml", old: "400 mm", new: "410 mm", anew: 3},
		{name: "an outline", file: "parts/all.yaml", old: "[220 mm", new: "[230 mm", anew: 3},
		{name: "how many", file: "assemblies/rig.yaml", old: "count: 3", new: "count: 7", anew: 2}, // more sheets to buy
		{name: "a price", file: "suppliers.yaml", old: "price: 2 EUR", new: "price: 3 EUR", anew: 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			edited := files
			if c.file != "" {
				text := strings.Replace(files[c.file], c.old, c.new, 1)
				if text == files[c.file] {
					t.Fatalf("%q does not stand in %s", c.old, c.file)
				}
				edited = files.With(trial.Files{c.file: text})
			}
			before := kept.Uses().New
			got := work(edited, kept)
			if anew := kept.Uses().New - before; anew != c.anew {
				t.Errorf("%d worked out anew, want %d", anew, c.anew)
			}
			want := work(edited, nil)
			for _, one := range []struct {
				what      string
				got, want any
			}{
				{"pieces", pieced(got), pieced(want)}, {"purchases", buys(got), buys(want)}, {"orders", len(got.Orders), len(want.Orders)},
				{"cost", [2]bill.Money{got.Cost, got.CostBound}, [2]bill.Money{want.Cost, want.CostBound}},
			} {
				if !reflect.DeepEqual(one.got, one.want) {
					t.Errorf("%s: got %+v, want %+v", one.what, one.got, one.want)
				}
			}
		})
	}
	kept.Doubt = true
	work(files, kept)
	if faults := kept.Faults(); len(faults) > 0 {
		t.Errorf("faults %q", faults)
	}
}

// pieced is what a bill's cut plans say, parts by name.
func pieced(b *bill.Bill) (out []any) {
	for _, c := range b.Cuts {
		out = append(out, c.Cost, c.Bound, c.Fewest, c.Unlaid, len(c.TooBig))
		for _, s := range c.Pieced {
			out = append(out, s.Way, s.Left, s.Rests)
			for _, cut := range s.Cuts {
				out = append(out, cut.Part.Part.ID.Text, cut.X, cut.Y, cut.Length, cut.Width, cut.Turned, cut.Slant)
			}
		}
		for _, s := range c.Settings {
			out = append(out, s.Stop, s.Angles, len(s.Saws))
		}
	}
	return out
}

func buys(b *bill.Bill) (out []any) {
	for _, p := range b.Purchases {
		out = append(out, p.ID, p.Need, p.Packs, p.Price, p.Left)
	}
	return out
}
