package check

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"plansheaf/design/bill"
	"plansheaf/design/finding"
	"plansheaf/design/memo"
)

// NamedNotListed finds consumables and tools that the text of a step or a part's note
// names and that stand on no list.
var NamedNotListed = Rule{
	Rule: finding.Rule{
		Name: "named-not-listed", Severity: finding.Advice,
		Reason: "The builder finds out in the middle of the work that something was to be bought or borrowed.",
		Remedy: "add it as a consumable that the step uses, or name the tool under tools",
	},
	Check: func(w *Work, report func(finding.Finding)) {
		lists := w.listedWords()
		drills := w.drills()
		for _, p := range w.mentions().passages {
			if p.step == nil && p.part == nil {
				continue
			}
			for i, at := range w.thingsIn(p.plain) {
				if at != nil && !unlistedThings[i].listed(lists) {
					report(finding.Finding{
						At: p.text.Place(at[0], at[1]-at[0]), Subject: p.subject(),
						Message: fmt.Sprintf("the text names %q, and no list of the plan has it", p.plain[at[0]:at[1]]),
					})
				}
			}
			said := map[string]bool{}
			for _, at := range drillWords.FindAllStringSubmatchIndex(p.plain, mostDrills) {
				size := drillSize(p.plain, at)
				if said[size] || slices.Contains(drills, size) {
					continue
				}
				said[size] = true
				report(finding.Finding{
					At: p.text.Place(at[0], at[1]-at[0]), Subject: p.subject(),
					Message: fmt.Sprintf("the text names a drill of %s, the plan's holes call for %s", size, orNone(drills)),
					Remedy:  "correct the size, or give the hole in the part",
				})
			}
		}
	},
}

// A thing is something that texts name: in small letters, English and German together,
// as a whole word or the end of one.
type thing struct {
	words   []string
	pattern *regexp.Regexp
}

func named(words ...string) thing {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = regexp.QuoteMeta(w)
	}
	return thing{words, regexp.MustCompile(`(?i)(?:^|[^\p{L}\p{N}-])(` + strings.Join(quoted, "|") + `)(?:$|[^\p{L}\p{N}-])`)}
}

// unlistedThings are named by words that mean nothing else in a workshop: a wrong
// alarm costs more than a word left out.
var unlistedThings = []thing{
	named("grease", "lubricating grease", "Schmierfett", "Fett"),
	named("oil", "cutting oil", "machine oil", "Schneidöl", "Maschinenöl", "Öl"),
	named("glue", "wood glue", "superglue", "epoxy", "contact adhesive", "Klebstoff", "Kleber", "Leim", "Holzleim", "Sekundenkleber", "Epoxidharz", "Kontaktkleber"),
	named("thread lock", "threadlock", "thread locker", "threadlocker", "Schraubensicherung", "Schraubensicherungslack"),
	named("primer", "varnish", "Grundierung", "Klarlack"),
	named("masking tape", "insulating tape", "electrical tape", "double-sided tape", "Kreppband", "Isolierband", "Klebeband"),
	named("solder", "Lötzinn"),
	named("sandpaper", "emery paper", "abrasive paper", "Schleifpapier", "Schmirgelpapier"),
	named("cable tie", "cable ties", "zip tie", "zip ties", "Kabelbinder"),
	named("heat-shrink tube", "heat-shrink tubing", "Schrumpfschlauch"),
	named("soldering iron", "Lötkolben"),
	named("heat gun", "hot-air gun", "Heißluftpistole", "Heißluftgebläse"),
	named("mallet", "soft-faced hammer", "Gummihammer", "Schonhammer"),
	named("torque wrench", "Drehmomentschlüssel"),
	named("spirit level", "Wasserwaage"),
	named("multimeter", "Vielfachmessgerät"),
	named("feeler gauge", "Fühlerlehre"),
	named("reamer", "Reibahle"),
	named("deburring tool", "Entgrater"),
	named("tap wrench", "Windeisen"),
	named("calliper", "callipers", "caliper", "calipers", "Messschieber", "Schieblehre"),
	named("hacksaw", "Bügelsäge"),
	named("crimping tool", "crimping pliers", "Crimpzange", "Aderendhülsenzange"),
	named("bench vice", "bench vise", "Schraubstock"),
	named("tape measure", "Maßband", "Rollbandmaß"),
}

// thingsIn are for each of the unlisted things the place of its first naming in a text.
func (w *Work) thingsIn(text string) [][]int {
	return memo.Sure(w.Kept, "things that a text names", func() [][]int {
		places := make([][]int, len(unlistedThings))
		for i, thing := range unlistedThings {
			places[i] = thing.namedIn(text)
		}
		return places
	}, text)
}

// negated are words that say that a thing is not wanted, where they stand before it.
var negated = regexp.MustCompile(`(?i)(?:^|[^\p{L}])(?:no|not|never|without|instead of|free of|free from|neither|nor|kein|keine|keinen|ohne|nicht|nie|statt|frei von|weder)(?: \p{L}+)?\s*$`)

// namedIn is the place of the first naming of a thing that is wanted, nil for none.
func (t thing) namedIn(text string) []int {
	for _, m := range t.pattern.FindAllStringSubmatchIndex(text, -1) {
		if !negated.MatchString(text[max(0, m[2]-40):m[2]]) {
			return m[2:4]
		}
	}
	return nil
}

// listed reports whether one of the plan's lists has the thing by any of its names.
func (t thing) listed(lists []string) bool {
	return slices.ContainsFunc(lists, func(name string) bool {
		return slices.ContainsFunc(t.words, func(w string) bool { return strings.Contains(name, strings.ToLower(w)) })
	})
}

// listedWords are what the plan's lists call things, in small letters: parts and tools by
// title and id, and the kinds of tool that the work calls for.
func (w *Work) listedWords() []string {
	var names []string
	add := func(texts ...string) {
		for _, text := range texts {
			names = append(names, strings.ToLower(strings.ReplaceAll(text, "_", " ")))
		}
	}
	for _, p := range w.Plan.Parts {
		add(p.ID.Text, bill.Title(w.Default().Reckoning.Part(p.ID.Text)))
	}
	for _, t := range w.Plan.Tools {
		add(t.ID.Text, t.Title.Value, t.Kind.Text)
	}
	for _, s := range w.Combinations() {
		for _, t := range s.Sequence().Tools() {
			add(t.Kind)
		}
	}
	return names
}

// drillWords are a drill with its size: "a 6.6 mm drill", "Bohrer 6,6 mm", "6,6-mm-Bohrer".
var drillWords = regexp.MustCompile(`(?i)([0-9]+(?:[.,][0-9]+)?)[  -]?mm[ -](?:twist )?(?:drill(?: bit)?|Spiralbohrer|Bohrer)\b|(?:Spiralbohrer|Bohrer) (?:mit )?([0-9]+(?:[.,][0-9]+)?) mm`)

// mostDrills bounds how many drills of one text are looked at.
const mostDrills = 100

// drillSize is the size that a match of drillWords names, written as lists of tools do.
func drillSize(text string, at []int) string {
	from, to := at[2], at[3]
	if from < 0 {
		from, to = at[4], at[5]
	}
	size := strings.ReplaceAll(text[from:to], ",", ".")
	if strings.Contains(size, ".") {
		size = strings.TrimRight(strings.TrimRight(size, "0"), ".")
	}
	return size + " mm"
}

// drills are the sizes of drill that the plan lists, under any choice.
func (w *Work) drills() []string {
	var sizes []string
	for _, s := range w.Combinations() {
		for _, t := range s.Sequence().Tools() {
			if strings.Contains(t.Kind, "drill") && t.Size != "" && !slices.Contains(sizes, t.Size) {
				sizes = append(sizes, t.Size)
			}
		}
	}
	for _, t := range w.Plan.Tools {
		if strings.Contains(t.Kind.Text, "drill") && t.Size.Given() && !slices.Contains(sizes, t.Size.Text) {
			sizes = append(sizes, t.Size.Text)
		}
	}
	return sizes
}

func orNone(list []string) string {
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, ", ")
}
