package check

import (
	"math/rand/v2"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// Sentences of instructions, and what each tells to take off.
func TestRemovals(t *testing.T) {
	cases := []struct {
		language, text string
		want           string // the objects, each with its words; none for nothing
	}{
		{"en", "Take the platen off again.", "the platen"},
		{"en", "Now take off the platen and put it aside.", "the platen"},
		{"en", "Remove {guard} and tighten {hold}.", "{guard}"},
		{"en", "Undo the four screws.", "4 the four screws"},
		{"en", "Undo the 4 screws, then lift the cover off.", "4 the 4 screws|the cover"},
		{"en", "Take the guard and the cover off the frame.", "the guard|the cover"},
		{"en", "Check the gap. Unscrew {base.hold.screw} once more.", "{base.hold.screw}"},
		{"en", "Carefully slide the platen off the rods.", "the platen"},
		{"en", "- Mark the holes\n- Remove the motor\n- Drill them", "the motor"},
		{"en", "Take the motor apart.", "the motor"},
		{"en", "Dismantle the head completely, then clean it.", "the head"},
		{"en", "Loosen {hold} again and square the frame.", "{hold}"},
		{"en", "Pull the pin out with pliers.", "the pin"},
		// What is taken off something, of something, or is only like its name.
		{"en", "Remove burrs.", "burrs"},
		{"en", "Remove the protective film from the guard.", "the protective film"},
		{"en", "Take the film off the guard.", "the film"},
		{"en", "Take off 2 mm.", "2 2 mm"},
		{"en", "Take off every burr, then check the distance of the bores.", "every burr"},
		{"en", "Remove the tape of the platen.", "the tape"},
		{"en", "Remove the guard film.", "the guard film"},
		// What may be done, is not to be done, or is no order.
		{"en", "Do not remove the guard.", ""},
		{"en", "Never take the guard off.", ""},
		{"en", "If the platen sticks, take it off and take the bush out.", ""},
		{"en", "The guard can be taken off later.", ""},
		{"en", "It must come off again without force.", ""},
		{"en", "Leave room to take the guard off.", ""},
		{"en", "Before you take the guard off, unplug the adapter.", ""},
		{"en", "Lift the screw by hand until the bearing sits.", ""},
		{"en", "Lift the platen up and take hold of it.", ""},
		{"en", "Push it in and pull it out again once.", "it"},
		{"en", "Screw the cover on.", ""},
		{"en", "Set the platen down. Take two screws.", ""},
		{"de", "Die Platte wieder abnehmen.", "die platte"},
		{"de", "Nehmen Sie die Platte wieder ab.", "die platte"},
		{"de", "Nimm die Haube ab und lege sie beiseite.", "die haube"},
		{"de", "Nun die vier Schrauben lösen.", "4 die vier schrauben"},
		{"de", "{guard} entfernen und {hold} anziehen.", "{guard}"},
		{"de", "Den Motor und die Haube ausbauen.", "den motor|die haube"},
		{"de", "Entfernen Sie {guard} wieder.", "{guard}"},
		{"de", "Die Folie von der Platte abziehen.", "die folie"},
		{"de", "Grate entfernen.", "grate"},
		{"de", "Die Haube nicht abnehmen.", ""},
		{"de", "Wenn sie klemmt, die Platte abnehmen.", ""},
		{"de", "Die Haube lässt sich später abnehmen.", ""},
		{"de", "Platte vorsichtig aufsetzen.", ""},
		{"de", "Schrauben Sie die Haube an.", ""},
	}
	for _, c := range cases {
		var got []string
		for _, r := range removingBy[c.language].removals(c.text) {
			words := strings.Join(r.object, " ")
			if r.ref {
				words = c.text[r.offset : r.offset+r.length]
			}
			if r.count > 0 {
				words = string(rune('0'+r.count)) + " " + words
			}
			got = append(got, words)
		}
		if all := strings.Join(got, "|"); all != c.want {
			t.Errorf("%q: takes off %q, want %q", c.text, all, c.want)
		}
	}
}

func TestNamesOfRemovals(t *testing.T) {
	cases := []struct {
		language, object, name string
		want                   bool
	}{
		{"en", "the platen", "platen", true},
		{"en", "the upper guards", "upper_guard", true},
		{"en", "the guard film", "guard", false},
		{"en", "the film", "guard", false},
		{"en", "both bushes", "bush", true},
		{"de", "die platten", "Platte", true},
		{"de", "die grundplatte", "Platte", false},
	}
	for _, c := range cases {
		if got := removingBy[c.language].names(strings.Fields(c.object), c.name); got != c.want {
			t.Errorf("%q is %q: %v", c.object, c.name, got)
		}
	}
}

// What the words of a text are is said by an expression, too, which is slow.
func TestSpokenWords(t *testing.T) {
	spoken := regexp.MustCompile(`\{[^{}\n]*\}|[\p{L}_][\p{L}_'’-]*|[0-9]+(?:[.,][0-9]+)?|[.!?;:,()]|\n[ \t]*(?:\n|[-*] |[0-9]+[.)] )`)
	pieces := []string{"take", "{a.b}", "{", "}", "\n", " ", "\t", "12", "3.5", "7,", ".", ",", "(", ")", "- ", "* ", "-", "*", "_x", "'", "’", "ß", "Öl", "\xff", "…", "1.", "2) ", "!", "~", "é", "\u0301", "٣"}
	draw := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		text := ""
		for range 1 + draw.IntN(12) {
			text += pieces[draw.IntN(len(pieces))]
		}
		var got [][]int
		for from, to := spokenFrom(text, 0); from < to; from, to = spokenFrom(text, to) {
			got = append(got, []int{from, to})
		}
		if want := spoken.FindAllStringIndex(text, -1); !reflect.DeepEqual(got, want) {
			t.Fatalf("%q: words at %v, want %v", text, got, want)
		}
	}
}
