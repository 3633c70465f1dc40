package binder

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A syllable is a stretch of text that is never broken, unless it is longer than
// a line; a line may end after it.
type syllable struct {
	runs   []run   // without the space that follows
	width  float64 // mm, of the runs
	spaced bool    // a space follows on the same line, absent at a line's end
	space  run     // that space
	gap    float64 // mm, of the space
	ends   bool    // a forced line end follows
}

// scratch is room for what is not kept: the syllables and the line of one text at a time.
type scratch struct {
	syllables []syllable
	runs      []run
	line      []run
}

// A textLine is one line of set text.
type textLine struct {
	runs  []run
	width float64
}

// runWidth is a run's length in millimetres.
func (c *composer) runWidth(r *run) float64 {
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
// between letters, at invisible breaks. They hold until syllables are asked for again.
func (c *composer) syllables(runs []run) []syllable {
	room := &c.scratch
	room.syllables, room.runs = room.syllables[:0], room.runs[:0]
	var now syllable
	from := 0 // in room.runs
	flush := func() {
		now.runs = room.runs[from:len(room.runs):len(room.runs)]
		if len(now.runs) > 0 || now.spaced || now.ends {
			room.syllables = append(room.syllables, now)
		}
		now, from = syllable{}, len(room.runs)
	}
	put := func(r *run, words string) {
		if strings.Contains(words, string(breakHere)) {
			words = strings.ReplaceAll(words, string(breakHere), "")
		}
		if words != "" || r.symbol != 0 || r.page != "" {
			room.runs = append(room.runs, *r)
			last := &room.runs[len(room.runs)-1]
			last.words = words
			now.width += c.runWidth(last)
		}
	}
	for i := range runs {
		r := &runs[i]
		switch {
		case r.newline:
			now.ends = true
			flush()
		case r.symbol != 0 || r.page != "":
			put(r, r.words)
		default:
			cut(r.words, func(words string) { put(r, words) }, func(space bool) {
				if space {
					now.spaced, now.space = true, *r
					now.space.words = " "
					now.gap = c.runWidth(&now.space)
				}
				flush()
			})
		}
	}
	flush()
	return room.syllables
}

// cut hands the unbreakable pieces of words to put and calls end where a line may
// end, and whether a space stands there.
func cut(words string, put func(string), end func(space bool)) {
	start := 0
	var before rune
	for at, char := range words {
		if char < utf8.RuneSelf && !mayBreak[char] {
			before = char
			continue
		}
		size := utf8.RuneLen(char)
		switch {
		case spaceLike(char) && !holds(words[:at], words[at+size:]):
			put(words[start:at])
			end(true)
			start = at + size
		case char == breakHere || breaksAfter(before, char, words[at+size:]):
			put(words[start : at+size])
			end(false)
			start = at + size
		}
		before = char
	}
	if start < len(words) {
		put(words[start:])
	}
}

// mayBreak are the ASCII characters at which a line may end, see spaceLike and breaksAfter.
var mayBreak = [utf8.RuneSelf]bool{' ': true, '-': true, '/': true, '\\': true, '_': true}

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
	room := &c.scratch
	now.runs = room.line[:0]
	flush := func() {
		lines = append(lines, textLine{merged(now.runs), now.width})
		room.line = now.runs[:0]
		now, space, gap = textLine{runs: room.line}, nil, 0
	}
	add := func(s *syllable) {
		if len(now.runs) > 0 && now.width+gap+s.width > width+tolerance {
			flush()
		}
		if len(now.runs) > 0 && space != nil {
			now.runs, now.width = append(now.runs, *space), now.width+gap
		}
		now.runs, now.width = append(now.runs, s.runs...), now.width+s.width
		space, gap = nil, s.gap
		if s.spaced {
			space = &s.space
		}
		if s.ends {
			flush()
		}
	}
	syllables := c.syllables(runs)
	for i := range syllables {
		if s := &syllables[i]; s.width <= width+tolerance {
			add(s)
			continue
		}
		pieces := c.fitting(syllables[i], width)
		for n := range pieces {
			add(&pieces[n])
		}
	}
	if len(now.runs) > 0 {
		flush()
	}
	return lines
}

// merged are runs with those that continue each other as one.
func merged(runs []run) []run {
	n := 0
	for i := range runs {
		if i == 0 || !sameLook(&runs[i-1], &runs[i]) {
			n++
		}
	}
	out := make([]run, 0, n)
	for i := 0; i < len(runs); {
		end, length := i+1, len(runs[i].words)
		for end < len(runs) && sameLook(&runs[end-1], &runs[end]) {
			length += len(runs[end].words)
			end++
		}
		out = append(out, runs[i])
		if end > i+1 {
			var words strings.Builder
			words.Grow(length)
			for _, r := range runs[i:end] {
				words.WriteString(r.words)
			}
			out[len(out)-1].words = words.String()
		}
		i = end
	}
	return out
}

// tolerance absorbs rounding where lengths are compared, in millimetres.
const tolerance = 1e-6

// fitting cuts a syllable that is longer than a line into ones that are not,
// never before a combining mark.
func (c *composer) fitting(s syllable, width float64) []syllable {
	var out []syllable
	var now syllable
	put := func(r run) {
		w := c.runWidth(&r)
		if now.runs != nil && now.width+w > width+tolerance {
			out, now = append(out, now), syllable{}
		}
		if last := len(now.runs) - 1; last >= 0 && r.words != "" && sameLook(&now.runs[last], &r) {
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
	now.spaced, now.space, now.gap, now.ends = s.spaced, s.space, s.gap, s.ends
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
func sameLook(a, b *run) bool {
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
	runs := l.runs
	for i := range runs[:max(0, len(runs)-1)] {
		if sameLook(&runs[i], &runs[i+1]) { // of a line that was not broken out of a text
			runs = merged(runs)
			break
		}
	}
	for _, r := range runs {
		if strings.ContainsRune(r.words, noBreak) {
			r.words = strings.ReplaceAll(r.words, string(noBreak), " ")
		}
		w := c.runWidth(&r)
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
