package quantity_test

import (
	"fmt"

	"plansheaf/design/quantity"
)

func ExampleParse() {
	bore, err := quantity.Parse("12 mm H7")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bore.SI, bore.Dim, bore.Fit)
	first, second := quantity.Both(bore, quantity.Metric)
	fmt.Printf("%s (%s)\n", first, second)
	// Output:
	// 0.012 length H7
	// 12 mm H7 (0.472 in)
}

func ExampleValue_Add() {
	sum, err := quantity.MM(12).Add(quantity.Number(3))
	fmt.Println(sum.SI, err)
	// Output:
	// 0 a length does not go with a plain number
}
