package bill_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"plansheaf/design/bill"
	"plansheaf/design/trial"
)

func TestMoney(t *testing.T) {
	cases := []struct {
		name string
		got  bill.Money
		want string
	}{
		{name: "cents", got: bill.MoneyOf(12.4), want: "12.40 EUR"},
		{name: "a part of a cent", got: bill.MoneyOf(2.195), want: "2.195 EUR"},
		{name: "four at 2.195", got: bill.MoneyOf(2.195).Times(4).Rounded(), want: "8.78 EUR"},
		{name: "three at 2.195: half a cent goes up", got: bill.MoneyOf(2.195).Times(3).Rounded(), want: "6.59 EUR"},
		{name: "less than half a cent", got: bill.MoneyOf(0.1249).Rounded(), want: "0.12 EUR"},
		{name: "half a cent", got: bill.MoneyOf(0.125).Rounded(), want: "0.13 EUR"},
		{name: "half a cent less than nothing", got: bill.MoneyOf(-0.125).Rounded(), want: "−0.12 EUR"},
		{name: "below nothing", got: bill.MoneyOf(-0.05), want: "−0.05 EUR"},
		{name: "no number", got: bill.MoneyOf(math.NaN()), want: "0.00 EUR"},
		{name: "too much", got: bill.MoneyOf(1e300), want: "10000000000.00 EUR"},
		{name: "without end", got: bill.MoneyOf(math.Inf(-1)), want: "−10000000000.00 EUR"},
		{name: "times", got: bill.MoneyOf(9.8).Times(3), want: "29.40 EUR"},
		{name: "times too much", got: bill.MoneyOf(1e10).Times(1 << 40), want: "10000000000.00 EUR"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := c.got.Text("EUR"); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// The total of any list is that of its lines in exact fractions, each rounded half up
// once: nothing drifts, however many lines there are and whatever their prices.
func TestCostDoesNotDrift(t *testing.T) {
	const n = 400
	for seed := range uint64(3) {
		random := rand.New(rand.NewPCG(seed, 3))
		var parts, holds, sells strings.Builder
		want := new(big.Rat)
		for i := range n {
			price := fmt.Sprintf("%d.%0*d", random.IntN(40), 1+i%4, random.IntN(10))
			count := 1 + random.IntN(40)
			fmt.Fprintf(&parts, "p%d: {title: P%d, made: bought}\n", i, i)
			fmt.Fprintf(&holds, "  p%d: {part: p%d, at: [0 mm, 0 mm, 0 mm], count: %d, step: [1 mm, 0 mm, 0 mm]}\n", i, i, count)
			fmt.Fprintf(&sells, "    p%d: {price: %s EUR}\n", i, price)
			line, _ := new(big.Rat).SetString(price)
			line.Mul(line, big.NewRat(int64(count)*100, 1)).Add(line, big.NewRat(1, 2))
			want.Add(want, new(big.Rat).SetInt(new(big.Int).Div(line.Num(), line.Denom())))
		}
		r := trial.Reckoning(t, trial.Files{
			"parts/all.yaml": parts.String(), "assemblies/rig.yaml": "title: Rig\nholds:\n" + holds.String(),
			"suppliers.yaml": "dealer:\n  title: Dealer\n  sells:\n" + sells.String(),
		})
		b := bill.Of(r)
		want.Quo(want, big.NewRat(100, 1))
		if got := b.Cost.Text("EUR"); got != want.FloatString(2)+" EUR" {
			t.Errorf("seed %d: cost %s, want %s", seed, got, want.FloatString(2))
		}
		if b.Cost != b.CostBound {
			t.Errorf("seed %d: not proven, bound %s", seed, b.CostBound.Text("EUR"))
		}
	}
}

// Lines of a published check: 12 at 0.37, 4 at 2.195 and one at 18.40 are 31.62; with
// the unit price rounded first it would be 31.64.
func TestUnitPricesAreNotRounded(t *testing.T) {
	sum := bill.MoneyOf(0.37).Times(12).Rounded() + bill.MoneyOf(2.195).Times(4).Rounded() + bill.MoneyOf(18.40).Rounded()
	if got := sum.Text("EUR"); got != "31.62 EUR" {
		t.Errorf("%s, want 31.62 EUR", got)
	}
}
