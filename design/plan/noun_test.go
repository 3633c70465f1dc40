package plan

import "testing"

func TestNoun(t *testing.T) {
	for _, test := range []struct{ title, want string }{
		{title: "Upright post", want: "post"},
		{title: "Toothed pulley, 20 teeth", want: "pulley"},
		{title: "Motor cable 2×0.75", want: "cable"},
		{title: "Ball bearing for the top", want: "bearing"},
		{title: "Bronze flanged nut Tr 16×4, right hand", want: "nut"},
		{title: "12 × 30", want: ""},
		{title: "", want: ""},
	} {
		p := Part{Title: Text{Value: test.title}}
		if got := p.Noun(); got != test.want {
			t.Errorf("%q: got %q, want %q", test.title, got, test.want)
		}
	}
}
