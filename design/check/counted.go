package check

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// A counted thing is a number beside the name of parts or fasteners in a text: "the
// eight M8 screws".
type counted struct {
	at      finding.Span
	words   string
	says    int
	holds   []int  // what it could rightly be, the likeliest first
	what    string // "M8 screws in press.square_up"
	subject string
}

// numberWords are the numbers that people write out.
var numberWords = map[string]int{
	"both": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"eleven": 11, "twelve": 12, "sixteen": 16, "twenty": 20,
	"beide": 2, "beiden": 2, "zwei": 2, "drei": 3, "vier": 4, "fünf": 5, "sechs": 6, "sieben": 7, "acht": 8, "neun": 9, "zehn": 10,
	"elf": 11, "zwölf": 12, "sechzehn": 16, "zwanzig": 20,
}

// definite words before a number mean all of them.
var definite = map[string]bool{
	"the": true, "all": true, "these": true, "those": true,
	"die": true, "den": true, "der": true, "alle": true, "allen": true, "diese": true, "diesen": true,
}

// bothWords are numbers that mean all of them by themselves.
var bothWords = map[string]bool{"both": true, "beide": true, "beiden": true}

// packWords and packOf are the two words before a number that tells what a pack holds:
// "a pack of 25", "eine Packung zu 25".
var (
	packWords = map[string]bool{"pack": true, "packs": true, "packet": true, "packets": true, "packung": true, "packungen": true, "beutel": true, "beuteln": true}
	packOf    = map[string]bool{"of": true, "with": true, "zu": true, "à": true, "mit": true}
)

// fastenerNouns are the plurals by which texts call fasteners, and their kind.
var fastenerNouns = map[string]string{"screws": "screw", "bolts": "screw", "nuts": "nut", "washers": "washer", "inserts": "insert",
	"schrauben": "screw", "muttern": "nut", "scheiben": "washer", "unterlegscheiben": "washer", "gewindeeinsätze": "insert", "gewindeeinsätzen": "insert"}

var (
	word       = regexp.MustCompile(`[\p{L}\p{N}][\p{L}\p{N}×./_-]*[\p{L}\p{N}]|[\p{L}\p{N}]`)
	threadWord = regexp.MustCompile(`^M[0-9]+(?:\.[0-9]+)?(?:[x×][0-9]+(?:\.[0-9]+)?)?$`)
)

// farthestNoun is how many words may stand between a number and what it counts.
const farthestNoun = 2

// mostWords bounds how many words of one text are looked at, mostCounts how many
// counts of a whole plan: far more than people write, few enough to stay quick.
const (
	mostWords  = 20000
	mostCounts = 500
)

// counts finds the counts in texts that differ from what is there, once.
func (w *Work) counts() []counted {
	if w.countedDone {
		return w.counted
	}
	w.countedDone = true
	nouns := partNouns(w.Plan)
	looked := 0
	for _, p := range w.mentions().passages {
		at := word.FindAllStringIndex(p.plain, -1)
		for i := range at[:min(len(at), mostWords)] {
			c, seen, wrong := w.countAt(p, at, i, nouns)
			if wrong {
				w.counted = append(w.counted, c)
			}
			if seen {
				looked++
			}
			if looked >= mostCounts {
				return w.counted
			}
		}
	}
	return w.counted
}

// countAt looks at the word i of a passage: whether a count of something that the
// plan knows begins there, and whether it is wrong.
func (w *Work) countAt(p passage, at [][]int, i int, nouns map[string][]string) (c counted, seen, wrong bool) {
	text := func(k int) string { return p.plain[at[k][0]:at[k][1]] }
	n, isCount := numberWords[strings.ToLower(text(i))]
	if !isCount {
		var err error
		if n, err = strconv.Atoi(text(i)); err != nil || n < 2 || n > 999 {
			return c, false, false
		}
	}
	packed := i > 1 && packWords[strings.ToLower(text(i-2))] && packOf[strings.ToLower(text(i-1))]
	all := packed || bothWords[strings.ToLower(text(i))] || i > 0 && definite[strings.ToLower(text(i-1))] && adjacent(p.plain, at, i-1)
	thread, adjectives := "", 0
	for k := i + 1; k < len(at) && k <= i+1+farthestNoun && adjacent(p.plain, at, k-1); k++ {
		noun := strings.ToLower(text(k))
		var holds []int
		switch {
		case fastenerNouns[noun] != "":
			holds = w.fasteners(p, fastenerNouns[noun], thread)
			if packed {
				holds = w.packs(w.fastenersCalled(fastenerNouns[noun], thread))
			}
		case nouns[noun] != nil:
			holds = w.parts(p, nouns[noun])
			if packed {
				holds = w.packs(nouns[noun])
			}
		case threadWord.MatchString(text(k)):
			thread = strings.ReplaceAll(text(k), "×", "x")
			continue
		default:
			adjectives++
			continue
		}
		if len(holds) == 0 || slices.Contains(holds, n) || n <= slices.Max(holds) && (!all || adjectives > 0) {
			return c, true, false
		}
		what := noun
		if thread != "" {
			what = thread + " " + noun
		}
		if packed {
			what += " a pack"
		}
		return counted{
			at: p.text.Place(at[i][0], at[k][1]-at[i][0]), words: p.text.Value[at[i][0]:at[k][1]],
			says: n, holds: holds, what: what, subject: p.subject(),
		}, true, true
	}
	return c, false, false
}

// adjacent reports whether nothing but blanks stands between a word and the next.
func adjacent(text string, at [][]int, i int) bool {
	return i+1 < len(at) && strings.Trim(text[at[i][1]:at[i+1][0]], " \n\t") == ""
}

// partNouns are the plurals by which texts may call parts, and the parts: of an
// "Upright post" posts, of a "Toothed pulley, 20 teeth" pulleys.
func partNouns(p *plan.Plan) map[string][]string {
	nouns := map[string][]string{}
	for _, part := range p.Parts {
		if noun := part.Noun(); noun != "" && part.Made.Text != plan.Consumable {
			for _, many := range plurals(noun, p.Language.Text) {
				nouns[many] = append(nouns[many], part.ID.Text)
			}
		}
	}
	return nouns
}

// plurals are what several of a noun may be called. German has many endings and may
// change the last vowel: all of them are tried, as none is a word of another meaning
// right behind a number.
func plurals(noun, language string) []string {
	if primary, _, _ := strings.Cut(language, "-"); primary != "de" {
		return []string{plural(noun)}
	}
	list := []string{noun}
	for _, stem := range []string{noun, umlauted(noun)} {
		for _, ending := range []string{"e", "en", "n", "er", "ern", "s"} {
			if many := stem + ending; !slices.Contains(list, many) {
				list = append(list, many)
			}
		}
	}
	return list
}

// umlauted is a German noun with its last vowel changed as many plurals have it.
func umlauted(noun string) string {
	for _, change := range [][2]string{{"au", "äu"}, {"a", "ä"}, {"o", "ö"}, {"u", "ü"}} {
		if i := strings.LastIndex(noun, change[0]); i >= 0 && !strings.ContainsAny(noun[i+len(change[0]):], "aeiouäöü") {
			return noun[:i] + change[1] + noun[i+len(change[0]):]
		}
	}
	return noun
}

func plural(noun string) string {
	switch {
	case strings.HasSuffix(noun, "y") && !strings.HasSuffix(noun, "ey"):
		return strings.TrimSuffix(noun, "y") + "ies"
	case strings.HasSuffix(noun, "s"), strings.HasSuffix(noun, "sh"), strings.HasSuffix(noun, "ch"), strings.HasSuffix(noun, "x"):
		return noun + "es"
	}
	return noun + "s"
}

// parts are the counts that a text may rightly give of parts: over all of them and
// of each one, in its step, its assembly and the machine, under any choice.
func (w *Work) parts(p passage, ids []string) []int {
	var counts []int
	for _, s := range w.Combinations() {
		if !p.fits(s.Case.Options) {
			continue
		}
		here, machine := 0, 0
		for _, id := range ids {
			n := s.Reckoning.Tally().Placed[id]
			counts = append(counts, n)
			machine += n
			if line := s.line(id); line != nil {
				for _, share := range line.By {
					counts = append(counts, share.Count)
					if share.Assembly == p.assembly {
						here += share.Count
						one := share.Count / max(1, s.Reckoning.Tally().Assembled[share.Assembly.ID.Text])
						counts = append(counts, one)
					}
				}
			}
		}
		counts = append(append(s.addedParts(p, ids), here, machine), counts...)
	}
	return positive(counts)
}

// addedParts are how many of the parts a step adds: in all, and by each word.
func (s *Situation) addedParts(p passage, ids []string) []int {
	if p.step == nil {
		return nil
	}
	var counts []int
	total := 0
	for _, w := range p.step.Adds {
		u := p.assembly.Use(w.Path()[0])
		if u == nil {
			continue
		}
		id, ok := u.Part.Pick(s.Case.Options)
		if !ok || !slices.Contains(ids, id.Text) {
			continue
		}
		n := 1
		if u.Count.Given() && len(w.Path()) == 1 {
			n, _ = s.Reckoning.Whole(u.Count)
		}
		counts = append(counts, n)
		total += n
	}
	return append([]int{total}, counts...)
}

// positive are the counts above zero, each once, in order.
func positive(counts []int) []int {
	var list []int
	for _, n := range counts {
		if n > 0 && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list
}

// fasteners are the counts that a text may rightly give of fasteners of a kind and
// thread. In a step they are those of its joints; where it has none it speaks of
// others, and nothing is said. On a page, they are those of the machine and of each
// assembly, and only a text that names the thread is clear enough.
func (w *Work) fasteners(p passage, kind, thread string) []int {
	var counts []int
	for _, s := range w.Combinations() {
		if !p.fits(s.Case.Options) {
			continue
		}
		if p.step != nil {
			counts = append(counts, s.stepFasteners(p, kind, thread)...)
			continue
		}
		if thread == "" {
			return nil
		}
		total := 0
		by := map[*plan.Assembly]int{}
		for _, held := range s.Reckoning.Tally().Joints {
			n := s.pieces(held.Joint, kind, thread) * held.Places
			counts = append(counts, n)
			by[held.Assembly] += n
			total += n
		}
		for _, a := range w.Plan.Assemblies {
			counts = append(counts, by[a])
		}
		counts = append([]int{total}, counts...)
	}
	return positive(counts)
}

func (s *Situation) stepFasteners(p passage, kind, thread string) []int {
	var counts []int
	total := 0
	seen := map[*plan.Joint]bool{}
	for _, list := range [][]plan.Word{p.step.Fastens, p.step.Tightens, p.step.SlidesIn} {
		sum := 0
		for _, word := range list {
			owner, j := jointOf(s.Reckoning.Plan, p.assembly, word)
			if j == nil || !j.Only.Fits(s.Case.Options) {
				continue
			}
			n := s.pieces(j, kind, thread) * s.Reckoning.JointPlaces(owner, j)
			counts = append(counts, n)
			sum += n
			if !seen[j] {
				seen[j] = true
				total += n
			}
		}
		counts = append(counts, sum)
	}
	return append([]int{total}, counts...)
}

// pieces are how many fasteners of a kind and thread one place of a joint takes.
func (s *Situation) pieces(j *plan.Joint, kind, thread string) (n int) {
	for _, id := range s.Reckoning.JointParts(j) {
		p := s.Reckoning.Part(id)
		if p == nil || !isKind(p, kind) {
			continue
		}
		if thread != "" && !goesBy(p, thread) {
			continue
		}
		n++
	}
	return n
}

// fastenersCalled are the ids of the plan's fasteners of a kind and thread.
func (w *Work) fastenersCalled(kind, thread string) []string {
	var ids []string
	for _, p := range w.Plan.Parts {
		worked := w.Default().Reckoning.Part(p.ID.Text)
		if worked != nil && isKind(worked, kind) && (thread == "" || goesBy(worked, thread)) {
			ids = append(ids, p.ID.Text)
		}
	}
	return ids
}

// packs are how many pieces packs of some parts hold, where the plan says so.
func (w *Work) packs(ids []string) []int {
	var counts []int
	for _, id := range ids {
		for _, s := range w.Plan.Suppliers {
			for i := range s.Sells {
				if s.Sells[i].Part.Text != id || !s.Sells[i].Pack.Given() {
					continue
				}
				if n, ok := w.Default().Reckoning.Whole(s.Sells[i].Pack); ok {
					counts = append(counts, n)
				}
			}
		}
		if own := w.Plan.Part(id).Buy; own != nil && own.Pack.Given() {
			if n, ok := w.Default().Reckoning.Whole(own.Pack); ok {
				counts = append(counts, n)
			}
		}
	}
	return positive(counts)
}

func isKind(p *reckon.Part, kind string) bool {
	switch kind {
	case "screw":
		return isScrew(p)
	case "washer":
		return isWasher(p)
	case "insert":
		return p.Part.Fastener != nil && p.Part.Fastener.Kind.Text == "insert"
	}
	return isNut(p)
}

// goesBy reports whether a text may call a fastener by "M8" or "M8x25".
func goesBy(p *reckon.Part, name string) bool {
	if f := p.Fastener; f != nil {
		return f.Thread.Size == name || f.Size == name || fmt.Sprintf("%sx%s", f.Size, f.LengthText) == name
	}
	return p.Part.Fastener != nil && p.Part.Fastener.Thread.Text == name
}
