package binder

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A syllable is a stretch of text that is never broken, unless it is longer than
// a line; a line may end after it.
type syllable struct {
	runs  []run   // without the space that follows
	width float64 // mm, of the runs
	space *run    // what follows on the same line, absent at a line's end
	gap   float64 // mm, of the space
	ends  bool    // a forced line end follows
}

// A textLine is one line of set text.
type textLine struct {
	runs  []run
	width float64
}

// runWidth is a run's length in millimetres.
func (c *composer) runWidth(r run) float64 {
	switch {
	case r.symbol != 0:
		return symbolWidth(r.symbol, r.style.size)
	case r.page != "":
		return c.fonts.width(c.pagePrefix()+c.digits, r.style.face, r.style.size)
	}
	return c.fonts.width(r.words, r.style.face, r.style.size)
}

// pagePrefix stands before page numbers in text.
func (c *composer) pagePrefix() string { return c.say("p.|before a page number") + string(noBreak) }

// syllables cuts runs where a line may end: at spaces, after hyphens and slashes
// between letters, at invisible breaks.
func (c *composer) syllables(runs []run) []syllable {
	var out []syllable
	var now syllable
	flush := func() {
		if len(now.runs) > 0 || now.space != nil || now.ends {
			out = append(out, now)
		}
		now = syllable{}
	}
	put := func(r run) {
		r.words = strings.ReplaceAll(r.words, string(breakHere), "")
		if r.words != "" || r.symbol != 0 || r.page != "" {
			now.runs, now.width = append(now.runs, r), now.width+c.runWidth(r)
		}
	}
	for _, r := range runs {
		switch {
		case r.newline:
			now.ends = true
			flush()
		case r.symbol != 0 || r.page != "":
			put(r)
		default:
			c.cut(r, put, func(space *run) {
				now.space = space
				if space != nil {
					now.gap = c.runWidth(*space)
				}
				flush()
			})
		}
	}
	flush()
	return out
}

// cut hands a run's unbreakable pieces to put and calls end where a line may
// end, with the space that stands there if any.
func (c *composer) cut(r run, put func(run), end func(*run)) {
	piece := func(words string) run { p := r; p.words = words; return p }
	start := 0
	var before rune
	for at, char := range r.words {
		size := utf8.RuneLen(char)
		switch {
		case spaceLike(char) && !holds(r.words[:at], r.words[at+size:]):
			put(piece(r.words[start:at]))
			space := piece(" ")
			end(&space)
			start = at + size
		case char == breakHere || breaksAfter(before, char, r.words[at+size:]):
			put(piece(r.words[start : at+size]))
			end(nil)
			start = at + size
		}
		before = char
	}
	if start < len(r.words) {
		put(piece(r.words[start:]))
	}
}

// units that stay on the line of their number.
var units = map[string]bool{
	"mm": true, "cm": true, "m": true, "µm": true, "in": true, "ft": true, "kg": true, "g": true, "lb": true, "oz": true,
	"N": true, "kN": true, "lbf": true, "N·m": true, "W": true, "kW": true, "V": true, "A": true, "Ω": true, "Hz": true,
	"°C": true, "°F": true, "K": true, "%": true, "s": true, "min": true, "h": true, "l": true, "ml": true, "MPa": true, "GPa": true,
	"bar": true, "rpm": true, "EUR": true, "USD": true, "GBP": true,
}

// holds reports whether a space belongs to a quantity, within a number (10 000,
// 4 3/4), before its unit or before the sign of multiplication, so that no line
// may end there.
func holds(before, after string) bool {
	if strings.HasPrefix(after, "× ") {
		return true
	}
	last, _ := utf8.DecodeLastRuneInString(before)
	if !unicode.IsDigit(last) {
		return false
	}
	end := strings.IndexFunc(after, func(r rune) bool { return spaceLike(r) || strings.ContainsRune(",;:.)]", r) })
	word := after
	if end >= 0 {
		word = after[:end]
	}
	first, _ := utf8.DecodeRuneInString(word)
	if unicode.IsDigit(first) {
		// A fraction or a group of three digits goes on with the number.
		return strings.Contains(word, "/") || len(word) == 3
	}
	return units[word]
}

// breaksAfter reports whether a line may end after char: a hyphen or dash
// between letters, or a slash, but never before a number's sign or at the end of
// the run, where punctuation of the next run may follow.
func breaksAfter(before, char rune, rest string) bool {
	next, _ := utf8.DecodeRuneInString(rest)
	if rest == "" {
		return false
	}
	word := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	switch char {
	case '-', '\u2010', '\u2013', '\u2014':
		return word(before) && unicode.IsLetter(next)
	case '/', '\\', '_':
		// A fraction such as 3/8 stays whole.
		return word(next) && !(unicode.IsDigit(before) && unicode.IsDigit(next)) && before != 0
	}
	return false
}

// setLines breaks runs into lines no longer than width millimetres.
func (c *composer) setLines(runs []run, width float64) []textLine {
	var lines []textLine
	var now textLine
	var space *run
	gap := 0.0
	flush := func() { lines, now, space, gap = append(lines, now), textLine{}, nil, 0 }
	for _, s := range c.syllables(runs) {
		for _, s := range c.fitting(s, width) {
			if now.runs != nil && now.width+gap+s.width > width+tolerance {
				flush()
			}
			if now.runs != nil && space != nil {
				now.runs, now.width = append(now.runs, *space), now.width+gap
			}
			now.runs, now.width = append(now.runs, s.runs...), now.width+s.width
			space, gap = s.space, s.gap
			if s.ends {
				flush()
			}
		}
	}
	if now.runs != nil {
		flush()
	}
	return lines
}

// tolerance absorbs rounding where lengths are compared, in millimetres.
const tolerance = 1e-6

// fitting cuts a syllable that is longer than a line into ones that are not,
// never before a combining mark.
func (c *composer) fitting(s syllable, width float64) []syllable {
	if s.width <= width+tolerance {
		return []syllable{s}
	}
	var out []syllable
	var now syllable
	put := func(r run) {
		w := c.runWidth(r)
		if now.runs != nil && now.width+w > width+tolerance {
			out, now = append(out, now), syllable{}
		}
		if last := len(now.runs) - 1; last >= 0 && r.words != "" && sameLook(now.runs[last], r) {
			now.runs[last].words += r.words
		} else {
			now.runs = append(now.runs, r)
		}
		now.width += w
	}
	for _, r := range s.runs {
		if r.words == "" {
			put(r)
			continue
		}
		for _, cluster := range clusters(r.words) {
			p := r
			p.words = cluster
			put(p)
		}
	}
	now.space, now.gap, now.ends = s.space, s.gap, s.ends
	return append(out, now)
}

// clusters cuts words into letters with their combining marks.
func clusters(words string) []string {
	var out []string
	start := 0
	for at, r := range words {
		if at > start && !unicode.Is(unicode.M, r) {
			out, start = append(out, words[start:at]), at
		}
	}
	return append(out, words[start:])
}

// sameLook reports whether b can be printed as the continuation of a.
func sameLook(a, b run) bool {
	return a.words != "" && b.words != "" && a.style == b.style && a.link == b.link && a.rise == b.rise
}

// natural is the length of runs set on one line, and the length of the longest
// part that is never broken, both in millimetres.
func (c *composer) natural(runs []run) (whole, longest float64) {
	lineLength := 0.0
	for _, s := range c.syllables(runs) {
		lineLength += s.width
		longest, whole = max(longest, s.width), max(whole, lineLength)
		lineLength += s.gap
		if s.ends {
			lineLength = 0
		}
	}
	return whole, longest
}

// lineMarks are the marks of a line that starts at x and stands on baseline y.
func (c *composer) lineMarks(l textLine, x, y float64) []mark {
	var marks []mark
	for _, r := range l.runs {
		if r.page != "" {
			return []mark{lateLine{x, y, l}}
		}
	}
	for i := 0; i < len(l.runs); i++ {
		r := l.runs[i]
		for i+1 < len(l.runs) && sameLook(r, l.runs[i+1]) {
			i++
			r.words += l.runs[i].words
		}
		r.words = strings.ReplaceAll(r.words, string(noBreak), " ")
		w := c.runWidth(r)
		switch {
		case r.symbol != 0:
			marks = append(marks, symbolMark{x, y - r.rise, r.symbol, r.style})
		case strings.TrimSpace(r.words) != "":
			marks = append(marks, textMark{x, y - r.rise, r.words, r.style})
		}
		if r.leads() {
			em := r.style.size * mmPerPoint
			link := r.link
			link.rect = rect{x, y - r.rise - ascent*em, w, (ascent + descent) * em}
			marks = append(marks, link)
		}
		x += w
	}
	return marks
}
