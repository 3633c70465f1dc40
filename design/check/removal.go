package check

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A removal is something that a text tells the reader to take off, out or apart.
type removal struct {
	object         []string // its words, in lower case, or what stands in braces alone
	ref            bool     // it stands in braces
	offset, length int      // where it stands in the text, bytes
	count          int      // of screws, bolts or nuts where a number says; 0 for no number
	screws         bool     // screws, bolts or nuts without saying which
}

// A removing is how a language tells to take things off.
type removing struct {
	particles map[string][]string // verb at the beginning -> words of which one follows
	plain     []string            // verbs at the beginning that say it alone
	closing   []string            // verbs at the end that say it alone
	lead      []string            // words that may stand before the verb at the beginning
	trail     []string            // words that may stand behind the object
	stops     []string            // words that end the object: what follows is no part of it
	joins     []string            // words that join clauses or objects
	articles  []string            // words that begin an object
	doubts    []string            // words with which a sentence tells what may be, not what is done
	denies    []string            // words with which a clause tells what is not done
	screws    []string
	numbers   []string // from two on
	endings   []string // that a name may have where it stands in a sentence
}

var removingBy = map[string]*removing{
	"en": {
		particles: map[string][]string{
			"take": {"off", "out", "apart", "away"}, "lift": {"off", "out", "away"}, "pull": {"off", "out"}, "slide": {"off", "out"},
			"draw": {"off", "out"}, "push": {"off", "out"}, "screw": {"off", "out"},
		},
		plain:    []string{"remove", "undo", "unscrew", "unbolt", "dismantle", "disassemble", "detach", "dismount", "loosen", "slacken"},
		lead:     words("now then first next finally carefully afterwards please once here also again"),
		trail:    words("again carefully completely altogether once now first too then"),
		stops:    words("from off out of with without on onto at under in into by before after until till to for so that which through over between along while as"),
		joins:    words("and then"),
		articles: words("the a an this that these those all both its their each every"),
		doubts:   words("if unless should whenever otherwise"),
		denies:   words("not never don't without"),
		screws:   words("screw screws bolt bolts nut nuts"),
		numbers:  words("two three four five six seven eight nine ten eleven twelve"),
		endings:  []string{"", "s", "es"},
	},
	"de": {
		particles: map[string][]string{
			"nimm": {"ab", "heraus", "weg", "herunter"}, "nehmen": {"ab", "heraus", "weg", "herunter"}, "schraube": {"ab", "los", "heraus"},
			"schrauben": {"ab", "los", "heraus"}, "baue": {"aus", "ab"}, "bauen": {"aus", "ab"}, "zieh": {"ab", "heraus"}, "ziehe": {"ab", "heraus"},
			"ziehen": {"ab", "heraus"}, "drehe": {"heraus"}, "drehen": {"heraus"}, "hebe": {"ab", "heraus"}, "heben": {"ab", "heraus"},
		},
		plain: words("entferne entfernen löse lösen demontiere demontieren zerlege zerlegen"),
		closing: words("abnehmen herausnehmen wegnehmen abschrauben losschrauben herausschrauben ausbauen abbauen abziehen herausziehen " +
			"herausdrehen abheben herausheben entfernen lösen demontieren zerlegen"),
		lead:     words("nun jetzt dann danach zuerst zunächst anschließend bitte vorsichtig wieder sie"),
		trail:    words("wieder vorsichtig ganz vollständig nun jetzt dann danach zuerst noch einmal"),
		stops:    words("von vom aus mit ohne an am auf unter in im durch bis vor nach zu zum zur für über zwischen damit beim bei des"),
		joins:    words("und dann"),
		articles: words("der die das den dem ein eine einen diese diesen dieses alle beide jede jeden jedes"),
		doubts:   words("wenn falls sollte sollten sonst kann können darf dürfen lässt lassen"),
		denies:   words("nicht nie niemals kein keine keinen ohne"),
		screws:   words("schraube schrauben bolzen mutter muttern"),
		numbers:  words("zwei drei vier fünf sechs sieben acht neun zehn elf zwölf"),
		endings:  []string{"", "n", "en", "e", "s", "es"},
	},
}

func words(list string) []string { return strings.Fields(list) }

// A spokenWord is a word, a name in braces or a mark of a text, and where it stands.
type spokenWord struct {
	text   string // lower case; of a name in braces what is in them
	ref    bool
	offset int
	length int
}

// clausesOf are the words of a text, by sentence and clause.
func clausesOf(text string) (sentences [][][]spokenWord) {
	var sentence [][]spokenWord
	var clause []spokenWord
	endClause := func() {
		if len(clause) > 0 {
			sentence, clause = append(sentence, clause), nil
		}
	}
	for from, to := spokenFrom(text, 0); from < to; from, to = spokenFrom(text, to) {
		word := text[from:to]
		switch {
		case strings.ContainsAny(word[:1], ".!?;\n"):
			if endClause(); len(sentence) > 0 {
				sentences, sentence = append(sentences, sentence), nil
			}
		case strings.ContainsAny(word[:1], ",:()"):
			endClause()
		case word[0] == '{':
			clause = append(clause, spokenWord{strings.TrimSpace(word[1 : len(word)-1]), true, from, to - from})
		default:
			clause = append(clause, spokenWord{strings.ToLower(word), false, from, to - from})
		}
	}
	if endClause(); len(sentence) > 0 {
		sentences = append(sentences, sentence)
	}
	return sentences
}

// spokenFrom is where the next word of a text stands from a byte on: a name in braces, a
// word, a number, a mark, or the break before a paragraph or an item of a list; nothing
// where there is none.
func spokenFrom(text string, from int) (start, end int) {
	for from < len(text) {
		if n := spokenAt(text[from:]); n > 0 {
			return from, from + n
		}
		_, width := utf8.DecodeRuneInString(text[from:])
		from += width
	}
	return from, from
}

// spokenAt is how many bytes the word has that a text begins with; 0 for none.
func spokenAt(text string) int {
	switch c := text[0]; {
	case c == '{':
		if end := strings.IndexAny(text[1:], "{}\n"); end >= 0 && text[1+end] == '}' {
			return end + 2
		}
	case strings.IndexByte(".!?;:,()", c) >= 0:
		return 1
	case digits(text) > 0:
		n := digits(text)
		if n+1 < len(text) && (text[n] == '.' || text[n] == ',') && digits(text[n+1:]) > 0 {
			n += 1 + digits(text[n+1:])
		}
		return n
	case c == '\n':
		n := 1 + blanks(text[1:])
		rest := text[n:]
		if strings.HasPrefix(rest, "\n") {
			return n + 1
		}
		if k := digits(rest); k > 0 && len(rest) > k+1 && (rest[k] == '.' || rest[k] == ')') && rest[k+1] == ' ' {
			return n + k + 2
		}
		if strings.HasPrefix(rest, "- ") || strings.HasPrefix(rest, "* ") {
			return n + 2
		}
	default:
		for i, r := range text {
			if r != '_' && !unicode.IsLetter(r) && (i == 0 || !strings.ContainsRune("'’-", r)) {
				return i
			}
		}
		return len(text)
	}
	return 0
}

// digits and blanks are with how many digits, or blanks of a line, a text begins.
func digits(text string) int { return len(text) - len(strings.TrimLeft(text, "0123456789")) }
func blanks(text string) int { return len(text) - len(strings.TrimLeft(text, " \t")) }

// removals finds what a text tells to take off. Only what is told to be done counts: a
// verb at the beginning of a clause, or in German at its end; not what may be done, what
// is not to be, and what is taken off something.
func (l *removing) removals(text string) []removal {
	var out []removal
	for _, sentence := range clausesOf(text) {
		doubtful := slices.ContainsFunc(sentence, func(clause []spokenWord) bool { return l.any(clause, l.doubts) })
		for _, clause := range sentence {
			if doubtful || l.any(clause, l.denies) {
				continue
			}
			for _, part := range l.parts(clause) {
				for _, object := range l.told(part) {
					if r, ok := l.removal(object); ok {
						out = append(out, r)
					}
				}
			}
		}
	}
	return out
}

func (l *removing) any(clause []spokenWord, list []string) bool {
	return slices.ContainsFunc(clause, func(w spokenWord) bool { return !w.ref && slices.Contains(list, w.text) })
}

// parts cuts a clause where a joining word begins something else than one more object.
func (l *removing) parts(clause []spokenWord) [][]spokenWord {
	var out [][]spokenWord
	from := 0
	for i, w := range clause {
		done := i > 0 && slices.Contains(l.closing, clause[i-1].text) // a verb at the end has ended it
		if w.ref || !slices.Contains(l.joins, w.text) || !done && i+1 < len(clause) && l.begins(clause[i+1]) {
			continue
		}
		out = append(out, clause[from:i])
		from = i + 1
	}
	return append(out, clause[from:])
}

// begins reports whether a word begins an object.
func (l *removing) begins(w spokenWord) bool {
	_, err := strconv.Atoi(w.text)
	return w.ref || err == nil || slices.Contains(l.articles, w.text) || slices.Contains(l.numbers, w.text)
}

// told are the objects that a part of a clause tells to take off.
func (l *removing) told(part []spokenWord) [][]spokenWord {
	for len(part) > 0 && !part[0].ref && slices.Contains(l.lead, part[0].text) {
		part = part[1:]
	}
	if len(part) < 2 {
		return nil
	}
	if last := part[len(part)-1]; slices.Contains(l.closing, last.text) && !last.ref {
		return l.objects(part[:len(part)-1])
	}
	verb, rest := part[0].text, part[1:]
	for len(rest) > 0 && slices.Contains(l.lead, rest[0].text) {
		rest = rest[1:]
	}
	if slices.Contains(l.plain, verb) {
		return l.objects(rest)
	}
	particles := l.particles[verb]
	if particles == nil || len(rest) == 0 {
		return nil
	}
	if slices.Contains(particles, rest[0].text) { // take off the guard
		return l.objects(rest[1:])
	}
	for i, w := range rest { // take the guard off
		switch {
		case !w.ref && slices.Contains(particles, w.text):
			return l.objects(rest[:i])
		case !w.ref && slices.Contains(l.stops, w.text):
			return nil
		}
	}
	return nil
}

// objects cuts words into objects, up to a word that begins something else.
func (l *removing) objects(list []spokenWord) [][]spokenWord {
	var out [][]spokenWord
	var object []spokenWord
	for _, w := range list {
		if !w.ref && slices.Contains(l.stops, w.text) {
			break
		}
		if !w.ref && slices.Contains(l.joins, w.text) {
			out, object = append(out, object), nil
			continue
		}
		object = append(object, w)
	}
	return append(out, object)
}

// removal is an object without what stands around it; ok is false where nothing is left.
func (l *removing) removal(object []spokenWord) (r removal, ok bool) {
	for len(object) > 0 && !object[len(object)-1].ref && slices.Contains(l.trail, object[len(object)-1].text) {
		object = object[:len(object)-1]
	}
	if at := slices.IndexFunc(object, func(w spokenWord) bool { return w.ref }); at >= 0 {
		object = object[:at+1]
	}
	if len(object) == 0 {
		return r, false
	}
	last := object[len(object)-1]
	r.offset, r.length, r.ref = last.offset, last.length, last.ref
	for _, w := range object {
		n := slices.Index(l.numbers, w.text) + 2
		if digits, err := strconv.Atoi(w.text); err == nil {
			n = digits
		}
		if n >= 2 || n == 1 && slices.Contains(l.numbers, w.text) {
			r.count = n
		}
		r.object = append(r.object, w.text)
	}
	if r.ref {
		r.object = []string{last.text}
	}
	r.screws = !r.ref && slices.Contains(l.screws, last.text)
	return r, true
}

// names reports whether an object's last words are a name.
func (l *removing) names(object []string, name string) bool {
	list := strings.Fields(strings.ToLower(strings.ReplaceAll(name, "_", " ")))
	if len(list) == 0 || len(list) > len(object) {
		return false
	}
	tail := object[len(object)-len(list):]
	for i, word := range list[:len(list)-1] {
		if tail[i] != word {
			return false
		}
	}
	word := list[len(list)-1]
	return slices.ContainsFunc(l.endings, func(ending string) bool { return tail[len(tail)-1] == word+ending })
}
