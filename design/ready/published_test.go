package ready_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"plansheaf/design/quantity"
	"plansheaf/design/ready"
	"plansheaf/design/trial"
)

// How a published number is known.
const (
	lookedUp   = "looked up"        // the number was seen in the place that the row names
	remembered = "from memory"      // recalled, not seen; the formula reproduces it
	recomputed = "no published one" // an independent computation, named in the row
)

// published is one example: what its book gives, and what it prints.
type published struct {
	name, calc string
	source     string // book and example
	mark       string
	seen       string // where it was looked up
	given      map[string]string
	want       map[string]string // each number as printed, with its unit
	// within is a share of the printed number that replaces half a unit of its last
	// digit where the book itself worked with rounded numbers; why says so.
	within float64
	why    string
}

const (
	shigley    = "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed., "
	notebook   = "open textbook-companion notebook"
	bookPage   = "scanned book page"
	qAndA      = "public question-and-answer page"
	handTables = "two fastener distributors' reprints of EN ISO 898-1"
)

// Each number is checked to half a unit of its last printed digit.
func TestPublishedValues(t *testing.T) {
	count, books := 0, map[string]bool{}
	for _, row := range examples() {
		t.Run(row.name, func(t *testing.T) {
			c, found := ready.Named(row.calc)
			if !found {
				t.Fatalf("no calculation is named %q", row.calc)
			}
			if row.mark == lookedUp && row.seen == "" || row.within != 0 && row.why == "" {
				t.Error("the row does not say where it was looked up, or why it is wider")
			}
			results := work(t, c, row.given)
			for name, printed := range row.want {
				got, known := results[name]
				if !known {
					t.Errorf("%s is no result", name)
					continue
				}
				compare(t, name, got, printed, row.within)
			}
		})
		if row.mark != recomputed { // sources in small letters name no book
			count += len(row.want)
			if book, _, _ := strings.Cut(row.source, ","); book != strings.ToLower(book) {
				books[book] = true
			}
		}
	}
	if count < 40 || len(books) < 8 {
		t.Errorf("%d published values from %d books or standards; forty from eight are wanted", count, len(books))
	}
	t.Logf("%d published values from %d books and standards", count, len(books))
}

// The same examples as a plan writes them, one calculation each, read, worked out and
// asked for by name.
func TestPublishedValuesInAPlan(t *testing.T) {
	files := trial.Files{
		"plan.yaml":            "title: Examples\nmachine: none\nrevision: A\n",
		"assemblies/none.yaml": "title: None\nholds: {}\n",
	}
	for i, row := range examples() {
		var b strings.Builder
		fmt.Fprintf(&b, "title: Example %d\nfrom: %s\ngiven:\n", i, row.calc)
		for name, text := range row.given {
			fmt.Fprintf(&b, "  %s: {is: \"%s\"}\n", name, text)
		}
		files[fmt.Sprintf("calcs/e%d.yaml", i)] = b.String()
	}
	r := trial.Reckoning(t, files)
	for i, row := range examples() {
		t.Run(row.name, func(t *testing.T) {
			for name, printed := range row.want {
				got, err := r.Scope().Lookup(fmt.Sprintf("e%d.%s", i, name))
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				compare(t, name, got, printed, row.within)
			}
		})
	}
}

// compare checks a value against a printed number with its unit.
func compare(t *testing.T, name string, got quantity.Value, printed string, within float64) {
	t.Helper()
	number, unit, _ := strings.Cut(printed, " ")
	want, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	x, err := got.In(unit)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	slack := within * math.Abs(want)
	if within == 0 {
		slack = half(number)
	}
	if math.Abs(x-want) > slack*(1+1e-9) {
		t.Errorf("%s = %.6g %s, printed %s", name, x, unit, printed)
	}
}

// half is half a unit of the last digit of a number as printed.
func half(number string) float64 {
	mantissa, exponent, _ := strings.Cut(number, "e")
	power := 0
	if exponent != "" {
		power, _ = strconv.Atoi(exponent)
	}
	_, decimals, _ := strings.Cut(mantissa, ".")
	return 0.5 * math.Pow10(power-len(decimals))
}
