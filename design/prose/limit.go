package prose

import (
	"fmt"
	"regexp"
	"strings"
)

// The limits of one text. Markdown takes time with the square of some marks, and a
// table's rows are filled up to the width of its head, so they are checked before.
const (
	MaxBytes   = 64 << 10
	MaxPipes   = 64    // | in one line
	MaxMarks   = 2500  // * _ [ < ` ! { in the whole text
	MaxCells   = 16384 // lines with bars times bars in the widest
	MaxNesting = 24    // quotes and lists within each other
)

// A Fault is something in a text that cannot be read or printed as meant.
type Fault struct {
	Offset, Length int // bytes of the text
	Message        string
	Remedy         string
}

// Work is a measure of how long Parse may take over a text: the square of its marks.
// A million is some tenth of a second at worst. Whoever parses many texts of a
// stranger's adds it up.
func Work(text string) int {
	n := marks(text)
	return n * n
}

// marks counts what the Markdown parser may have to come back to. An underscore
// within a word, as in most names, is none.
func marks(text string) int {
	count := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '*', '[', '<', '`', '!', '{':
			count++
		case '_':
			if i == 0 || i+1 == len(text) || !wordByte(text[i-1]) || !wordByte(text[i+1]) {
				count++
			}
		}
	}
	return count
}

func wordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c >= 0x80
}

// refuse gives the fault of a text that must not be taken apart.
func refuse(text string) (Fault, bool) {
	if len(text) > MaxBytes {
		return Fault{Message: fmt.Sprintf("the text is %d bytes long, more than %d", len(text), MaxBytes), Remedy: "split it"}, true
	}
	offset, count, barred, widest := 0, 0, 0, 0
	for _, line := range strings.SplitAfter(text, "\n") {
		count += marks(line)
		bars := strings.Count(line, "|")
		if bars > 0 {
			barred++
		}
		widest = max(widest, bars)
		whole := Fault{Offset: offset, Length: len(strings.TrimRight(line, "\n"))}
		switch {
		case bars > MaxPipes:
			whole.Message, whole.Remedy = fmt.Sprintf("the line has more than %d bars |", MaxPipes), "make the table narrower"
		case barred*widest > MaxCells:
			whole.Message, whole.Remedy = fmt.Sprintf("the text's tables have more than %d cells", MaxCells), "split the table"
		case openers(line) > MaxNesting:
			whole.Message, whole.Remedy = fmt.Sprintf("quotes and lists are nested more than %d deep", MaxNesting), "nest less deeply"
		case count > MaxMarks:
			whole.Message, whole.Remedy = fmt.Sprintf("the text has more than %d marks such as * and [", MaxMarks), "split it"
		}
		if whole.Message != "" {
			return whole, true
		}
		offset += len(line)
	}
	return Fault{}, false
}

// opener is a mark that opens a quote or a list.
var opener = regexp.MustCompile(`^[ \t]*(>|[-+*][ \t]|[0-9]{1,9}[.)][ \t])`)

// openers is how many quotes and lists the line opens.
func openers(line string) int {
	depth := 0
	for depth <= MaxNesting {
		mark := opener.FindString(line)
		if mark == "" {
			break
		}
		depth++
		line = line[len(mark):]
	}
	return depth
}
