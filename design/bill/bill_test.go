package bill_test

import (
	"math"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/reckon"
	"plansheaf/design/trial"
)

// workshop is a machine whose shopping list has every kind of line.
var workshop = trial.Files{
	"plan.yaml": `title: Rig
machine: rig
revision: A
currency: EUR
choices: {drive: {title: Drive, options: {crank: Crank, motor: Motor}, default: crank}}
spares: {fasteners: 10 %}
`,
	"suppliers.yaml": `dealer:
  title: Dealer
  sells:
    cap: {pack: 25, price: 6.40 EUR, code: "912", checked: 2026-04-10}
    bracket: {pack: 4, price: 3 EUR}
`,
	// The altered bracket stands before the bracket that it is made from.
	"parts/a.yaml": `opened: {title: Opened bracket, made: altered, of: bracket, holes: {leg: {at: [10 mm, 10 mm], for: M8}}, because: B}
bracket: {title: Bracket, made: bought, mass: 100 g, shape: [{box: [40 mm, 20 mm, 10 mm]}], holes: {leg: {at: [10 mm, 10 mm], tap: M6}}}
cap: {standard: ISO 4762 M6x12 - 8.8}
grease: {title: Grease, made: consumable, amount: 30 g, buy: {from: dealer, price: 4.50 EUR}}
motor: {title: Motor, made: bought, mass: 1 kg, buy: {from: dealer, price: 28 EUR}}
odd: {title: Odd, made: bought, mass: 1 kg, buy: {any: a thing that fits}}
`,
	"assemblies/rig.yaml": `title: Rig
holds:
  plain: {part: bracket, at: [0 mm, 0 mm, 0 mm], count: 3, step: [50 mm, 0 mm, 0 mm]}
  wide: {part: opened, at: [0 mm, 50 mm, 0 mm], count: 2, step: [50 mm, 0 mm, 0 mm]}
  odd: {part: odd, at: [0 mm, 0 mm, 0 mm]}
  drives: {assembly: drive, at: [0 mm, 0 mm, 0 mm], count: 2, step: [50 mm, 0 mm, 0 mm], only: {drive: motor}}
joints:
  hold: {screw: cap, through: [plain.leg]}
steps:
  build: {title: Build, adds: [plain, wide, odd], fastens: [hold], uses: [grease 20 g], text: T, time: 30 min}
  again: {title: Again, uses: [grease 15 g], text: T, time: 10 min}
`,
	"assemblies/drive.yaml": `title: Drive
holds: {motor: {part: motor, at: [0 mm, 0 mm, 0 mm]}}
steps: {mount: {title: Mount, adds: [motor], text: T, time: 5 min, uses: [grease 20 g]}}
`,
}

func TestPurchases(t *testing.T) {
	p := trial.Plan(t, workshop)
	type line struct {
		need, spare, packs, left int
		price                    bill.Money
		priced                   bool
	}
	cases := []struct {
		drive   string
		minutes float64
		kg      float64
		want    map[string]line
	}{
		{drive: "crank", minutes: 40, want: map[string]line{
			// Three as they are and two to open up: two packs of four.
			"bracket": {need: 5, packs: 2, left: 3, price: 60000, priced: true},
			// Ten per cent of three is one more.
			"cap": {need: 3, spare: 1, packs: 1, left: 22, price: 64000, priced: true},
			// 35 g out of tubes of 30 g.
			"grease": {need: 2, packs: 2, price: 90000, priced: true},
			"odd":    {need: 1, packs: 1},
		}},
		{drive: "motor", minutes: 40 + 2*5, want: map[string]line{
			"bracket": {need: 5, packs: 2, left: 3, price: 60000, priced: true},
			"cap":     {need: 3, spare: 1, packs: 1, left: 22, price: 64000, priced: true},
			// 20 g for each of the two drives.
			"grease": {need: 3, packs: 3, price: 135000, priced: true},
			"motor":  {need: 2, packs: 2, price: 560000, priced: true},
			"odd":    {need: 1, packs: 1},
		}},
	}
	for _, c := range cases {
		t.Run(c.drive, func(t *testing.T) {
			r := reckon.New(p, reckon.Case{Options: map[string]string{"drive": c.drive}}, nil)
			b := bill.Of(r)
			trial.Clean(t, r.Findings())
			var sum bill.Money
			for _, got := range b.Purchases {
				want, wanted := c.want[got.ID]
				if is := (line{got.Need, got.Spare, got.Packs, got.Left, got.Price, got.Priced}); !wanted || is != want {
					t.Errorf("%s: %+v, want %+v", got.ID, is, want)
				}
				delete(c.want, got.ID)
				sum += got.Price
			}
			for id := range c.want {
				t.Errorf("%s is not bought", id)
			}
			if b.Cost != sum {
				t.Errorf("cost %s, the lines come to %s", b.Cost.Text("EUR"), sum.Text("EUR"))
			}
			if math.Abs(b.WorkMinute-c.minutes) > 1e-9 {
				t.Errorf("work of %g min, want %g", b.WorkMinute, c.minutes)
			}
			if len(b.Unpriced) != 1 || b.Unpriced[0] != "odd" {
				t.Errorf("without a price are %v, want odd", b.Unpriced)
			}
		})
	}
}

// What a bar costs is what the list says: each times how many, and a length cut to
// order by its length and its cuts.
func TestStockPrices(t *testing.T) {
	cases := []struct {
		name, sold string
		price      bill.Money
		size       string
	}{
		// Three at 9.804 are 29.412: the line is rounded, not the bar.
		{name: "bars", sold: "{length: 1000 mm, price: 9.804 EUR}", price: 294100, size: "1000 mm"},
		// 2.7 m at 14 and three cuts at 1.50.
		{name: "cut to length", sold: "{cut: yes, price: 14 EUR/m, per_cut: 1.50 EUR}", price: 378000 + 45000, size: "3 × 900 mm"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := trial.Reckoning(t, trial.Files{
				"stock.yaml":          "bar: {title: Bar, section: {round: {d: 10 mm}}, material: steel_s235, sold: [" + c.sold + "]}\n",
				"parts/all.yaml":      "p: {title: P, made: cut, stock: bar, length: 900 mm}\n",
				"assemblies/rig.yaml": "title: Rig\nholds: {p: {part: p, at: [0 mm, 0 mm, 0 mm], count: 3, step: [0 mm, 0 mm, 0 mm]}}\n",
			})
			b := bill.Of(r)
			r.All()
			trial.Clean(t, r.Findings())
			if len(b.Purchases) != 1 {
				t.Fatalf("%d purchases, want one", len(b.Purchases))
			}
			if got := b.Purchases[0]; got.Price != c.price || got.Size != c.size || !got.Priced {
				t.Errorf("%s for %q, want %s for %q", got.Price.Text("EUR"), got.Size, c.price.Text("EUR"), c.size)
			}
		})
	}
}

// The counts by assembly add up to the count of the line.
func TestShares(t *testing.T) {
	p := trial.Plan(t, workshop)
	r := reckon.New(p, reckon.Case{Options: map[string]string{"drive": "motor"}}, nil)
	b := bill.Of(r)
	for _, line := range b.Lines {
		sum := 0
		for _, share := range line.By {
			sum += share.Count
		}
		if sum != line.Count {
			t.Errorf("%s: the assemblies hold %d, the machine %d", line.Part.Part.ID.Text, sum, line.Count)
		}
		if b.Line(line.Part.Part.ID.Text).Count != line.Count {
			t.Errorf("%s is not found by its id", line.Part.Part.ID.Text)
		}
	}
	// 3 plain brackets and 2 opened ones of 100 g, less what the wider hole takes;
	// 2 motors of 1 kg, the odd one, 3 screws of some grams.
	if b.Mass < 3.4 || b.Mass > 3.6 {
		t.Errorf("mass %g kg, want about 3.5", b.Mass)
	}
	if b.Line("nothing") != nil {
		t.Error("a line for nothing")
	}
}

func TestStockSparesAreWholeBars(t *testing.T) {
	r := trial.Reckoning(t, trial.Files{
		"plan.yaml": `title: Rail
machine: rail
revision: A
currency: EUR
spares: {stock: 10 %}
`,
		"stock.yaml": `bar:
  title: Bar
  section: {square: {side: 20 mm}}
  material: steel_s235
  sold: [{length: 1000 mm, price: 10 EUR}]
`,
		"parts/all.yaml": `rod:
  title: Rod
  made: cut
  stock: bar
  length: 600 mm
`,
		"assemblies/rail.yaml": `title: Rail
holds:
  rods: {part: rod, at: [0 mm, 0 mm, 0 mm], count: 3, step: [0 mm, 50 mm, 0 mm]}
`,
	})
	// Three rods of 600 need three bars of 1000; a tenth of three is a whole bar more.
	bought := bill.Of(r).Purchases
	if len(bought) != 1 || bought[0].Need != 3 || bought[0].Spare != 1 || bought[0].Packs != 4 || bought[0].Price != 400000 {
		t.Errorf("bought %+v, want 3 bars and 1 spare for 40.00", bought)
	}
}
