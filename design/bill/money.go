package bill

import (
	"fmt"
	"math"
)

// Money is an amount in hundredths of the plan's currency.
type Money int64

// Rounded is an amount of the currency as Money, to the nearest hundredth; what is
// beyond maxMoney counts as that.
func Rounded(amount float64) Money {
	if math.IsNaN(amount) {
		return 0
	}
	return Money(math.Round(math.Max(-maxMoney, math.Min(amount, maxMoney)) * 100))
}

// Times is the money for n of a kind, bounded as Rounded is.
func (m Money) Times(n int) Money {
	if product := float64(m) * float64(n); math.Abs(product) > maxMoney*100 {
		return Rounded(product / 100)
	}
	return m * Money(n)
}

// maxMoney keeps a hostile price from overflowing sums: ninety thousand such
// amounts still fit.
const maxMoney = 1e12

// Text is the amount with two decimals and the currency's code: "12.40 EUR".
func (m Money) Text(currency string) string {
	sign := ""
	if m < 0 {
		sign, m = "−", -m
	}
	return fmt.Sprintf("%s%d.%02d %s", sign, m/100, m%100, currency)
}

// Amount is the money in whole units of the currency.
func (m Money) Amount() float64 { return float64(m) / 100 }
