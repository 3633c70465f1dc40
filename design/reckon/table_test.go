package reckon

import (
	"encoding/csv"
	"errors"
	"math"
	"math/rand"
	"os"
	"strconv"
	"testing"

	"plansheaf/design/plan"
	"plansheaf/design/quantity"
)

func tableOf(between string, pairs ...float64) plan.TableFile {
	t := plan.TableFile{
		Name: plan.Word{Text: "curve"}, Between: plan.Word{Text: between},
		Data: &plan.Table{Columns: []string{"speed", "torque"}, Units: []string{"rpm", "N*m"}},
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		t.Data.Rows = append(t.Data.Rows, pairs[i:i+2])
	}
	return t
}

// Recorded from an independent library, see testdata/smooth/make.py.
func TestSmoothAsRecorded(t *testing.T) {
	file, err := os.Open("testdata/smooth/smooth.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.FieldsPerRecord = -1
	lines, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var table plan.TableFile
	read := 0
	for _, line := range lines {
		numbers := make([]float64, len(line)-1)
		for i := range numbers {
			if numbers[i], err = strconv.ParseFloat(line[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		if line[0] == "table" {
			table = tableOf("smooth", numbers...)
			continue
		}
		got, err := between(table, 1, numbers[0])
		if err != nil {
			t.Fatal(err)
		}
		read++
		if math.Abs(got-numbers[1]) > 1e-12*math.Max(1, math.Abs(numbers[1])) {
			t.Errorf("table %v at %g: got %.17g, want %.17g", table.Data.Rows, numbers[0], got, numbers[1])
		}
	}
	if read < 500 {
		t.Errorf("%d values read", read)
	}
}

// Values that follow from the curve's definition by hand.
func TestBetweenRows(t *testing.T) {
	rows := []struct {
		name    string
		table   plan.TableFile
		x, want float64
	}{
		{name: "line", table: tableOf("", 0, 2, 100, 1, 300, 0), x: 200, want: 0.5},
		{name: "line, said", table: tableOf("line", 0, 2, 100, 1, 300, 0), x: 50, want: 1.5},
		{name: "smooth on a straight table", table: tableOf("smooth", 0, 0, 1, 2, 3, 6, 7, 14), x: 4.3, want: 8.6},
		{name: "smooth of two rows", table: tableOf("smooth", 0, 1, 4, 3), x: 1, want: 1.5},
		{name: "smooth is level at a turn", table: tableOf("smooth", -1, 1, 0, 0, 1, 1), x: 0.5, want: 0.5*0.5*(3-1) - 2*0.125},
		{name: "smooth is flat between equal rows", table: tableOf("smooth", 0, 0, 1, 5, 2, 5, 3, 9), x: 1.7, want: 5},
		{name: "smooth at a row", table: tableOf("smooth", 0, 0, 1, 5, 2, 6, 3, 9), x: 2, want: 6},
		{name: "smooth, harmonic mean", table: tableOf("smooth", 0, 0, 1, 1, 2, 4, 3, 9), x: 1.5,
			// slopes 1.5 at 1 and 3.75 at 2: the mean less an eighth of their difference
			want: 2.5 - (3.75-1.5)/8},
		{name: "a rounding beyond the end", table: tableOf("", 0, 2, 0.3, 1), x: 0.1 + 0.2, want: 1},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			got, err := between(row.table, 1, row.x)
			if err != nil || math.Abs(got-row.want) > 1e-12 {
				t.Errorf("got %.15g, %v; want %.15g", got, err, row.want)
			}
		})
	}
}

func TestBeyondTable(t *testing.T) {
	for _, x := range []float64{-1, 300.001, math.NaN(), math.Inf(1)} {
		_, err := between(tableOf("smooth", 0, 2, 100, 1, 300, 0), 1, x)
		want := "table curve runs from 0 rpm to 300 rpm and says nothing beyond"
		if err == nil || err.Error() != want || !errors.Is(err, quantity.ErrUndefined) {
			t.Errorf("at %g: %v, want %q", x, err, want)
		}
	}
}

func TestTableMustRise(t *testing.T) {
	s := NewShapes()
	for range 2 { // found once, told each time
		if err := s.rises(tableOf("", 0, 1, 2, 3, 1, 4)); err == nil || err.Error() != "table curve: column speed must rise from row to row, and does not at row 3" {
			t.Errorf("got %v", err)
		}
	}
	if err := s.rises(tableOf("", 0, 1)); err == nil {
		t.Error("a table of one row is read")
	}
	if err := s.rises(tableOf("", 0, 1, 1, 1)); err != nil {
		t.Error(err)
	}
}

// Between two rows the smooth curve stays between their values and runs one way; it
// goes through each row, and without a jump in slope.
func TestSmoothIsMonotone(t *testing.T) {
	random := rand.New(rand.NewSource(3))
	for range 300 {
		n := 2 + random.Intn(8)
		var pairs []float64
		x := random.NormFloat64()
		for range n {
			pairs = append(pairs, x, math.Round(random.NormFloat64()*3))
			x += 0.01 + random.ExpFloat64()
		}
		table := tableOf("smooth", pairs...)
		for i := 0; i+1 < n; i++ {
			a, b := table.Data.Rows[i], table.Data.Rows[i+1]
			before := a[1]
			for k := range 21 {
				got, err := between(table, 1, math.Min(a[0]+(b[0]-a[0])*float64(k)/20, b[0]))
				if err != nil {
					t.Fatal(err)
				}
				if rise := (got - before) * math.Copysign(1, b[1]-a[1]); rise < -1e-12 || a[1] == b[1] && math.Abs(rise) > 1e-12 {
					t.Fatalf("%v turns round between rows %d and %d", table.Data.Rows, i, i+1)
				}
				before = got
			}
			if math.Abs(before-b[1]) > 1e-12 {
				t.Fatalf("%v misses row %d: %g", table.Data.Rows, i+1, before)
			}
		}
	}
}
