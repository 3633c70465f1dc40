package bill

import (
	"fmt"
	"math"
	"math/big"
)

// Money is an amount in ten-thousandths of the plan's currency, so that unit prices
// such as 2.195 stand exactly. Every line of a list is rounded once, half up, to
// hundredths (Rounded); sums are of such lines, so they never drift and always agree
// with what is printed.
type Money int64

// The parts of one unit of currency: as counted, and in which lines are rounded.
const (
	moneyPer   = 10_000
	hundredths = moneyPer / 100
)

// MoneyOf is an amount of the currency as Money, to the nearest ten-thousandth: what
// stands in a plan with up to four decimals is exact. What is beyond maxMoney counts
// as that.
func MoneyOf(amount float64) Money {
	if math.IsNaN(amount) {
		return 0
	}
	return Money(math.Round(math.Max(-maxMoney, math.Min(amount, maxMoney)) * moneyPer))
}

// Times is the money for n of a kind, not rounded, bounded as MoneyOf is.
func (m Money) Times(n int) Money {
	if product := float64(m) * float64(n); math.Abs(product) > maxMoney*moneyPer {
		return MoneyOf(product / moneyPer)
	}
	return m * Money(n)
}

// Rounded is the amount as a line of a list: to hundredths, half up.
func (m Money) Rounded() Money {
	const half = hundredths / 2
	if m < 0 {
		return -((-m + half - 1) / hundredths * hundredths)
	}
	return (m + half) / hundredths * hundredths
}

// maxMoney keeps a hostile price from overflowing sums: ninety thousand such
// amounts still fit.
const maxMoney = 1e10

// Text is the amount with the currency's code: "12.40 EUR". A part of a hundredth is
// printed too, as in the unit price "2.195 EUR".
func (m Money) Text(currency string) string {
	sign := ""
	if m < 0 {
		sign, m = "−", -m
	}
	decimals := fmt.Sprintf("%04d", m%moneyPer)
	for len(decimals) > 2 && decimals[len(decimals)-1] == '0' {
		decimals = decimals[:len(decimals)-1]
	}
	return fmt.Sprintf("%s%d.%s %s", sign, m/moneyPer, decimals, currency)
}

// Amount is the money in whole units of the currency.
func (m Money) Amount() float64 { return float64(m) / moneyPer }

// cutToLength is the price of pieces at so much a metre and so much a cut, added up
// exactly and rounded once. Lengths are micrometres.
func cutToLength(metre, cut Money, lengths []int64, counts []int) Money {
	sum := new(big.Int) // ten-thousandths of the currency, by a million
	for i, length := range lengths {
		one := new(big.Int).Mul(big.NewInt(int64(metre)), big.NewInt(length))
		one.Add(one, new(big.Int).Mul(big.NewInt(int64(cut)), big.NewInt(1_000_000)))
		sum.Add(sum, one.Mul(one, big.NewInt(int64(counts[i]))))
	}
	unit := big.NewInt(1_000_000 * hundredths)
	sum.Add(sum, big.NewInt(1_000_000*hundredths/2)).Div(sum, unit) // Div rounds down
	if most := big.NewInt(maxMoney * 100); sum.Cmp(most) > 0 {
		sum = most
	}
	return Money(sum.Int64() * hundredths)
}
