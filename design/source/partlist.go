package source

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// reconcileForm is one entry of plan.yaml's reconcile.
var reconcileForm = object("a map that names a parts list", func(c *plan.Reconcile) *finding.Span { return &c.At }, []field[plan.Reconcile]{
	must(key("file", fileName, func(c *plan.Reconcile) *plan.Word { return &c.File }, "the list, a CSV file: files/cad_parts.csv")),
	must(key("part", word, func(c *plan.Reconcile) *plan.Word { return &c.Part }, "the head of the column that names parts: Part number")),
	key("count", word, func(c *plan.Reconcile) *plan.Word { return &c.Count }, "the head of the column of counts: QTY; each row is one piece where not given"),
	key("only", onlyForm, func(c *plan.Reconcile) *plan.Only { return &c.Only }, "the options that the list is for: {drive: motor}; the plan's own for other choices"),
	key("ignore", list("a list of names", word), func(c *plan.Reconcile) *[]plan.Word { return &c.Ignore }, "names of the list and parts of the plan that the other need not have, also fasteners, consumables or bought"),
	key("names", entries("a map from the list's names to parts", listNameForm, word, func(n *plan.ListName) *plan.Word { return &n.Name }), func(c *plan.Reconcile) *[]plan.ListName { return &c.Names }, "which part or assembly a name of the list stands for: {BP-010: post}"),
})

var listNameForm = form[plan.ListName]{
	what:   ref(toPartOrAssembly).what,
	read:   func(r *reader, e entry, into *plan.ListName) { ref(toPartOrAssembly).read(r, e, &into.Part) },
	schema: func(b *book) schema { return ref(toPartOrAssembly).schema(b) },
}

const (
	// mostListRows bounds the rows of one parts list, mostListFields the cells of a row.
	mostListRows   = 20_000
	mostListFields = 500
	// headWithin is how many rows may stand above the heads: titles, dates.
	headWithin = 20
)

// readLists reads the parts lists that reconcile names, and those other files that
// look like one.
func (g *reading) readLists() {
	taken := map[string]bool{}
	for _, c := range g.plan.Calcs {
		for _, t := range c.Tables {
			taken[t.File.Text] = true
		}
	}
	for _, c := range g.plan.Reconciles {
		taken[c.File.Text] = true
		if file := g.plan.File(c.File.Text); file != nil && file.Data != nil && c.Part.Given() {
			c.Data = g.readList(file, c)
		}
	}
	for _, file := range g.plan.Files {
		if !taken[file.Path] && path.Ext(file.Path) == ".csv" && int64(len(file.Data)) <= g.limits.TextFile {
			if l := likelyList(file); l != nil {
				g.plan.Lists = append(g.plan.Lists, l)
			}
		}
	}
}

// readList reads a parts list by the columns that c names; nil after a fault of the
// file as a whole.
func (g *reading) readList(file *plan.File, c *plan.Reconcile) *plan.PartList {
	if int64(len(file.Data)) > g.limits.TextFile {
		g.report(tooLarge, finding.WholeFile(file.Path), fmt.Sprintf("the list is %d bytes long, more than %d", len(file.Data), g.limits.TextFile), "")
		return nil
	}
	s := newSheet(file)
	var fault string
	for _, comma := range separators {
		fault = s.cut(comma, mostListRows)
		if s.find(c.Part.Text, c.Count.Text) {
			break
		}
	}
	r := &reader{reading: g, doc: s.doc}
	if s.part < 0 {
		g.report(badList, c.Part.At, fmt.Sprintf("no row among the first %d of %s has the heads that part and count name", headWithin, file.Path), g.near.perhaps(c.Part.Text, s.heads()),
			finding.Related{At: finding.WholeFile(file.Path), Say: "the list"})
		return nil
	}
	if fault != "" {
		r.report(badList, finding.WholeFile(file.Path), fault, "")
	}
	out := &plan.PartList{File: file.Path, Head: s.rows[s.head][s.part].At}
	for _, row := range s.rows[s.head+1:] {
		name := s.cell(row, s.part)
		if c.Ignored(name.Text) {
			out.Ignored = append(out.Ignored, name.Text)
			continue
		}
		if name.Text == "" {
			continue
		}
		one := plan.ListRow{Name: name, Count: 1, At: name.At}
		if s.count >= 0 {
			count := s.cell(row, s.count)
			n, ok := countIn(count.Text)
			if !ok {
				r.report(badList, name.At, fmt.Sprintf("%s has no whole count here but %s", quoted(name.Text), quoted(count.Text)), "write a count, or ignore the row's name")
				continue
			}
			one.Count, one.At = n, count.At
		}
		out.Rows = append(out.Rows, one)
	}
	return out
}

// The heads by which a list that nobody described is known, in English and German.
var (
	partHeads  = []string{"part", "part id", "part number", "part no", "part no.", "component", "teil", "teilenummer", "teile-nr.", "bauteil", "artikel"}
	countHeads = []string{"count", "qty", "qty.", "quantity", "pcs", "pieces", "anzahl", "menge", "stück", "stk", "stk."}
)

// likelyList is a file as a parts list where its heads say that it is one, else nil.
// Nothing is reported of it: it may be something else.
func likelyList(file *plan.File) *plan.PartList {
	s := newSheet(file)
	for _, comma := range separators {
		s.cut(comma, headWithin)
		if !s.findUsual() {
			continue
		}
		s.cut(comma, mostListRows)
		out := &plan.PartList{File: file.Path, Head: s.rows[s.head][s.part].At}
		for _, row := range s.rows[s.head+1:] {
			name, count := s.cell(row, s.part), s.cell(row, s.count)
			if n, ok := countIn(count.Text); ok && name.Text != "" {
				out.Rows = append(out.Rows, plan.ListRow{Name: name, Count: n, At: count.At})
			}
		}
		return out
	}
	return nil
}

// findUsual looks for a row with a usual head for parts and one for counts.
func (s *spreadsheet) findUsual() bool {
	for i, row := range s.rows {
		column := func(heads []string) int {
			return slices.IndexFunc(row, func(w plan.Word) bool { return slices.Contains(heads, strings.ToLower(w.Text)) })
		}
		if s.part, s.count = column(partHeads), column(countHeads); s.part >= 0 && s.count >= 0 {
			s.head = i
			return true
		}
	}
	return false
}

// separators are what may stand between cells, tried in this order.
var separators = []rune{';', ',', '\t'}

// A spreadsheet is a CSV file cut into cells. head is the row of heads; part and count
// are columns, -1 for none.
type spreadsheet struct {
	doc               *document
	text              string
	rows              [][]plan.Word
	head, part, count int
}

func newSheet(file *plan.File) *spreadsheet {
	text := tolerant(file.Data)
	return &spreadsheet{doc: newDocument(file.Path, text), text: text, part: -1, count: -1}
}

// tolerant makes text of a file that another program wrote: UTF-8 or UTF-16 with or
// without its mark, else the code page 1252 that spreadsheets write. Line ends become
// \n; what cannot be seen is shown as a replacement sign, so that columns hold.
func tolerant(data []byte) string {
	var text string
	switch {
	case len(data) >= 2 && (data[0] == 0xff && data[1] == 0xfe || data[0] == 0xfe && data[1] == 0xff):
		units := make([]uint16, 0, len(data)/2)
		low, high := 0, 1
		if data[0] == 0xfe {
			low, high = 1, 0
		}
		for i := 2; i+1 < len(data); i += 2 {
			units = append(units, uint16(data[i+low])|uint16(data[i+high])<<8)
		}
		text = string(utf16.Decode(units))
	case utf8.Valid(data):
		text = strings.TrimPrefix(string(data), "\ufeff")
	default:
		decoded, err := charmap.Windows1252.NewDecoder().Bytes(data)
		if err != nil { // a byte the code page leaves open
			decoded = []byte(strings.ToValidUTF8(string(data), "\ufffd"))
		}
		text = string(decoded)
	}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	return strings.Map(func(c rune) rune {
		if unseen(c) {
			return utf8.RuneError
		}
		return c
	}, text)
}

// cut takes the first rows of the text apart at a separator. The text that comes back
// says what could not be read; rows before it stand.
func (s *spreadsheet) cut(comma rune, most int) (fault string) {
	s.rows = s.rows[:0]
	c := csv.NewReader(strings.NewReader(s.text))
	c.Comma, c.LazyQuotes, c.FieldsPerRecord = comma, true, -1
	for len(s.rows) < most {
		record, err := c.Read()
		if errors.Is(err, io.EOF) {
			return ""
		}
		if err != nil {
			return "the rest of the list cannot be read: " + err.Error()
		}
		row := make([]plan.Word, 0, min(len(record), mostListFields))
		for i, text := range record[:min(len(record), mostListFields)] {
			line, column := c.FieldPos(i)
			row = append(row, s.word(text, line, column))
		}
		s.rows = append(s.rows, row)
	}
	if _, err := c.Read(); errors.Is(err, io.EOF) {
		return ""
	}
	return fmt.Sprintf("the list has more than %d rows; the others are not read", most)
}

// word is a cell with its place, without the blanks and quotes around it; column counts
// bytes.
func (s *spreadsheet) word(text string, line, column int) plan.Word {
	trimmed := strings.TrimSpace(text)
	whole := s.doc.line(line)
	from := min(max(column-1, 0), len(whole))
	rest := whole[from:]
	lead := len(rest) - len(strings.TrimLeft(rest, " \t\""))
	first, _, _ := strings.Cut(trimmed, "\n")
	length := 1
	if strings.HasPrefix(rest[lead:], first) {
		length = max(1, runes(first))
		from += lead
	}
	start := runes(whole[:from]) + 1
	return plan.Word{Text: trimmed, At: finding.OnLine(s.doc.file, line, start, max(1, min(length, runes(whole)+1-start)))}
}

// find looks for the row of heads: the first that has the columns asked for, count
// among them unless it is empty.
func (s *spreadsheet) find(part, count string) bool {
	s.part, s.count = -1, -1
	for i, row := range s.rows[:min(len(s.rows), headWithin)] {
		column := func(head string) int {
			return slices.IndexFunc(row, func(w plan.Word) bool { return strings.EqualFold(w.Text, strings.TrimSpace(head)) })
		}
		p := column(part)
		if p < 0 {
			continue
		}
		if count != "" {
			if s.count = column(count); s.count < 0 {
				continue
			}
		}
		s.head, s.part = i, p
		return true
	}
	return false
}

// heads are the words of the first rows, which may be heads.
func (s *spreadsheet) heads() []string {
	var list []string
	for _, row := range s.rows[:min(len(s.rows), headWithin)] {
		for _, w := range row[:min(len(row), headWithin)] {
			list = append(list, w.Text)
		}
	}
	return list
}

// cell is a row's cell in a column; empty where the row is too short.
func (s *spreadsheet) cell(row []plan.Word, column int) plan.Word {
	if column < 0 || column >= len(row) {
		return plan.Word{}
	}
	return row[column]
}

// countPattern is a count as spreadsheets write it: 4, 4,0, 4.00, 4 pcs, 4 Stk.
var countPattern = regexp.MustCompile(`^([0-9]{1,9})(?:[.,]0*)? ?(?:x|×|pcs?\.?|ea|off|Stk\.?|Stück)?$`)

func countIn(text string) (int, bool) {
	m := countPattern.FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	n, err := strconv.Atoi(m[1])
	return n, err == nil
}
