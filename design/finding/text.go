package finding

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// width is how many characters of a source line are shown at most.
const width = 100

// tab is how many blanks a tab is shown as.
const tab = 4

// Write writes findings for people: place, severity, message and rule, the source
// line with the words at fault marked, related places, the remedy.
//
//	parts/frame.yaml:6:5: error: no joint uses the M8 hole "foot" [hole-without-fastener]
//	    6 |     foot: {face: bottom, at: [15 mm, 15 mm], tap: M8}
//	      |     ^^^^
//	  parts/frame.yaml:1:1: in part "post"
//	  remedy: name the hole in a joint, or make it a plain bore
//
// source gives a file's bytes, false where there are none; then no line is shown. A
// plan is a stranger's: whatever a terminal would obey instead of show, such as an
// escape or a change of text direction, is written as its number. With color,
// ANSI colours mark severity and words. The first error of w is returned.
func Write(w io.Writer, list []Finding, source func(file string) ([]byte, bool), color bool) error {
	p := &printer{w: w, source: source, color: color, lines: map[string][]string{}}
	for i, f := range list {
		if i > 0 {
			p.print("\n")
		}
		p.finding(f)
	}
	return p.err
}

// A printer keeps the first error of its writer and the lines of files already seen.
type printer struct {
	w      io.Writer
	source func(string) ([]byte, bool)
	color  bool
	lines  map[string][]string
	err    error
}

func (p *printer) print(words ...string) {
	for _, s := range words {
		if p.err == nil {
			_, p.err = io.WriteString(p.w, s)
		}
	}
}

// The colours, after ECMA-48: bold, and red, yellow, blue, cyan for severities.
const (
	bold  = "1"
	faint = "2"
)

var severityColors = map[Severity]string{Error: "1;31", Warning: "1;33", Advice: "1;34", Note: "1;36"}

func (p *printer) painted(color, text string) string {
	if !p.color || color == "" {
		return text
	}
	return "\x1b[" + color + "m" + text + "\x1b[0m"
}

func (p *printer) finding(f Finding) {
	severity := f.Severity.String()
	if f.Waived != nil {
		severity = "waived " + severity
	}
	if f.At.Known() {
		p.print(p.painted(bold, Visible(f.At.String())), ": ")
	}
	p.print(p.painted(severityColors[f.Severity], severity), ": ", Visible(f.Message))
	if f.Rule != "" {
		p.print(p.painted(faint, " ["+Visible(f.Rule)+"]"))
	}
	p.print("\n")
	p.excerpt(f)
	for _, also := range f.Also {
		p.print("  ")
		if also.At.Known() {
			p.print(Visible(also.At.String()), ": ")
		}
		p.print(Visible(also.Say), "\n")
	}
	if len(f.Choices) > 0 {
		p.print("  only with ", Visible(strings.Join(f.Choices, ", ")), "\n")
	}
	if f.Remedy != "" {
		p.print("  remedy: ", Visible(f.Remedy), "\n")
	}
	if f.Waived != nil {
		p.print("  waived because ", Visible(f.Waived.Because), "\n")
	}
}

// excerpt shows the first line of the finding's place with its words marked.
func (p *printer) excerpt(f Finding) {
	line, known := p.line(f.At)
	if !known {
		return
	}
	shown := clip(line, f.At)
	number := fmt.Sprintf("%5d", f.At.Line)
	p.print(p.painted(faint, number+" |"), " ", shown.before, p.painted(severityColors[f.Severity], shown.marked), shown.after, "\n")
	p.print(strings.Repeat(" ", len(number)), p.painted(faint, " |"), " ", strings.Repeat(" ", columns(shown.before)),
		p.painted(severityColors[f.Severity], strings.Repeat("^", max(1, columns(shown.marked)))), "\n")
}

func (p *printer) line(at Span) (string, bool) {
	if at.Line < 1 || p.source == nil {
		return "", false
	}
	lines, known := p.lines[at.File]
	if !known {
		if data, ok := p.source(at.File); ok {
			text := strings.TrimPrefix(string(data), "\uFEFF")
			lines = strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
		}
		p.lines[at.File] = lines
	}
	if at.Line > len(lines) {
		return "", false
	}
	return lines[at.Line-1], true
}

// A clipped line is what is shown of one, cut round the words that are marked.
type clipped struct{ before, marked, after string }

// clip makes a line fit to show. The marked words stay in sight, their beginning at
// least; … stands for what is cut off.
func clip(line string, at Span) clipped {
	characters := []rune(line)
	start := min(max(at.Column-1, 0), len(characters))
	end := len(characters)
	if at.EndLine == at.Line {
		end = min(max(at.EndColumn-1, start), len(characters))
	}
	// What is far from the marked words is cut before anything is made of it: a
	// line may be a megabyte long.
	head, tail := "", ""
	marked := characters[start:end]
	if len(marked) > width {
		marked, tail = marked[:width], "…"
	}
	room := width - len(marked)
	before, after := characters[:start], characters[end:]
	if tail != "" {
		after = nil
	}
	if keep := max(room*2/3, room-len(after)); len(before) > keep {
		before, head = before[len(before)-keep:], "…"
	}
	if keep := room - len(before); len(after) > keep {
		after, tail = after[:max(keep, 0)], "…"
	}
	c := clipped{before: head + Visible(string(before)), marked: Visible(string(marked)), after: Visible(string(after))}
	if len(after) == 0 && end < len(characters) && len(marked) == width {
		c.marked += tail
	} else {
		c.after += tail
	}
	c.after = strings.TrimRight(c.after, " ")
	return c
}

// columns is how many places of a terminal's line text takes up: none for a mark
// that combines with the character before it, two for wide letters of East Asia.
func columns(text string) int {
	n := 0
	for _, c := range text {
		switch {
		case unicode.Is(unicode.Mn, c), unicode.Is(unicode.Me, c):
		case unicode.In(c, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul) || c >= 0xff01 && c <= 0xff60 || c >= 0x1f300 && c <= 0x1faff:
			n += 2
		default:
			n++
		}
	}
	return n
}

// Visible is text that a terminal only shows: tabs become blanks, and controls,
// changes of text direction and bytes that are no UTF-8 are written as their number
// in angle brackets.
func Visible(text string) string {
	if !strings.ContainsFunc(text, hidden) && utf8.ValidString(text) {
		return text
	}
	var out strings.Builder
	for i := 0; i < len(text); {
		c, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case c == utf8.RuneError && size == 1:
			fmt.Fprintf(&out, "<%02X>", text[i])
		case c == '\t':
			out.WriteString(strings.Repeat(" ", tab))
		case hidden(c):
			fmt.Fprintf(&out, "<U+%04X>", c)
		default:
			out.WriteRune(c)
		}
		i += size
	}
	return out.String()
}

// hidden reports characters that act instead of being seen. A soft hyphen and the
// joiners that some scripts need are harmless but as little to be seen.
func hidden(c rune) bool {
	return unicode.Is(unicode.Cc, c) || unicode.Is(unicode.Cf, c) || unicode.Is(unicode.Zl, c) || unicode.Is(unicode.Zp, c) || unicode.Is(unicode.Co, c)
}
