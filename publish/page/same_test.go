package page_test

import (
	"testing"

	"plansheaf/publish/notation"
	"plansheaf/publish/page"
)

func TestSame(t *testing.T) {
	words := page.Words
	varies := func(option string, text string) []page.Inline {
		when := page.Only{{Choice: "drive", Options: []string{option}}}
		return []page.Inline{page.Varies{Variants: []page.Variant{{When: when, Words: words(text)}}}}
	}
	link := func(to, text string) []page.Inline {
		return []page.Inline{page.Link{To: page.Target{Page: to}, Words: words(text)}}
	}
	formula := func(sign string) []page.Inline { return []page.Inline{page.Formula{Is: notation.Sign(sign)}} }
	for _, test := range []struct {
		name string
		a, b []page.Inline
		want bool
	}{
		{"text", words("4"), words("4"), true},
		{"other text", words("4"), words("5"), false},
		{"longer", words("4"), append(words("4"), page.Newline{}), false},
		{"another kind", words("4"), []page.Inline{page.Verbatim("4")}, false},
		{"within bold", []page.Inline{page.Strong{Words: words("4")}}, []page.Inline{page.Strong{Words: words("5")}}, false},
		{"bold and slanted", []page.Inline{page.Strong{Words: words("4")}}, []page.Inline{page.Emphasis{Words: words("4")}}, false},
		{"measures", []page.Inline{page.Measure{First: "1 mm"}}, []page.Inline{page.Measure{First: "1 mm", Second: "0.04 in"}}, false},
		{"links", link("parts", "post"), link("parts", "post"), true},
		{"links elsewhere", link("parts", "post"), link("tools", "post"), false},
		{"links of other words", link("parts", "post"), link("parts", "beam"), false},
		{"formulas by what they show", formula("<"), formula("<"), true},
		{"other formulas", formula("<"), formula(">"), false},
		{"no formula", formula("<"), []page.Inline{page.Formula{}}, false},
		{"variants", varies("crank", "1"), varies("crank", "1"), true},
		{"variants of other options", varies("crank", "1"), varies("motor", "1"), false},
		{"variants of other words", varies("crank", "1"), varies("crank", "2"), false},
		{"none and empty", nil, []page.Inline{}, false},
		{"none", nil, nil, true},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := page.Same(test.a, test.b); got != test.want {
				t.Errorf("Same = %v, want %v", got, test.want)
			}
			if got := page.Same(test.b, test.a); got != test.want {
				t.Errorf("the other way round: Same = %v, want %v", got, test.want)
			}
		})
	}
}
