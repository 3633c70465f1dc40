package standards

import "testing"

func TestParseInches(t *testing.T) {
	for _, row := range []struct {
		text  string
		want  float64
		wrong bool
	}{
		{text: "1/2", want: 0.5},
		{text: "1 1/4", want: 1.25},
		{text: "1-1/4", want: 1.25},
		{text: "2", want: 2},
		{text: "0.75", want: 0.75},
		{text: "3/8 in", want: 0.375},
		{text: "3/8\"", want: 0.375},
		{text: "1/0", wrong: true},
		{text: "0/4", wrong: true},
		{text: "1 5/4", wrong: true},
		{text: "1 2", wrong: true},
		{text: "-1", wrong: true},
		{text: "1e3", wrong: true},
		{text: "inf", wrong: true},
		{text: "0x10", wrong: true},
		{text: "", wrong: true},
		{text: "1/2/3", wrong: true},
	} {
		got, ok := parseInches(row.text)
		if ok == row.wrong || got != row.want {
			t.Errorf("parseInches(%q) = %v, %v", row.text, got, ok)
		}
	}
}

func TestFormatInches(t *testing.T) {
	for _, row := range []struct {
		value float64
		want  string
	}{
		{0.5, "1/2"}, {1.25, "1 1/4"}, {2, "2"}, {0.015625, "1/64"}, {0.3, "0.3"}, {3.875, "3 7/8"},
	} {
		if got := formatInches(row.value); got != row.want {
			t.Errorf("formatInches(%v) = %q, want %q", row.value, got, row.want)
		}
	}
}
