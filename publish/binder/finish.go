package binder

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"

	"plansheaf/design/memo"
	"plansheaf/publish/page"
)

// errForeign means that gofpdf wrote something else than the finishing pass
// expects.
var errForeign = errors.New("the PDF is not laid out as gofpdf does it")

// A finisher writes the file that a painter painted.
type finisher struct {
	out     bytes.Buffer
	offsets []int // by object number; 0 is unused
	pages   int   // how many leaves
}

// header is PDF 1.7 with a comment that tells programs that the file is binary.
const header = "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"

// The objects of gofpdf's that are known by their number.
const (
	resources = 2
	firstPage = 3 // every page is followed by its content
)

// finish writes the file: what was painted, fonts, pictures, outline, page labels, viewer
// preferences, language, metadata, embedded files and the file's identity.
func finish(painted *painted, b *book, doc *page.Document, options Options) ([]byte, error) {
	f := &finisher{offsets: make([]int, 1), pages: len(b.leaves)}
	f.out.WriteString(header)
	if err := f.painted(painted); err != nil {
		return nil, fmt.Errorf("finish the PDF: %w", err)
	}
	info := f.info(doc)
	catalog := []string{
		"/Type /Catalog", "/Pages 1 0 R", "/PageMode /UseOutlines",
		"/PageLabels <</Nums [0 <</S /D>>]>>",
		viewerPreferences(options.TwoSided),
	}
	if tag := languageTag(doc.Language); tag != "" {
		catalog = append(catalog, "/Lang "+textString(tag))
	}
	outline, err := f.outline(b)
	if err != nil {
		return nil, fmt.Errorf("finish the PDF: %w", err)
	}
	if outline > 0 {
		catalog = append(catalog, fmt.Sprintf("/Outlines %d 0 R", outline))
	}
	names, err := f.attachments(options.Attachments)
	if err != nil {
		return nil, fmt.Errorf("finish the PDF: %w", err)
	}
	catalog = append(catalog, names...)
	catalog = append(catalog, fmt.Sprintf("/Metadata %d 0 R", f.metadata(doc)))
	root := f.object("<<" + strings.Join(catalog, "\n") + ">>")
	f.trailer(root, info)
	return f.out.Bytes(), nil
}

// objectsOf reads gofpdf's cross-reference table and gives the bodies of all objects, the
// first of them number 1.
func objectsOf(raw []byte) ([][]byte, error) {
	const foreign = "%PDF-1."
	end := bytes.LastIndex(raw, []byte("startxref\n"))
	newline := bytes.IndexByte(raw, '\n')
	if end < 0 || newline != len(foreign)+1 || !bytes.HasPrefix(raw, []byte(foreign)) {
		return nil, errForeign
	}
	rest := raw[end+len("startxref\n"):]
	digits, _, _ := bytes.Cut(rest, []byte("\n"))
	table, err := strconv.Atoi(string(digits))
	if err != nil || table < 0 || table >= len(raw) {
		return nil, errForeign
	}
	var count int
	if _, err := fmt.Sscanf(string(raw[table:min(len(raw), table+40)]), "xref\n0 %d\n", &count); err != nil || count < 5 {
		return nil, errForeign
	}
	const entry = 20
	at := table + len("xref\n0 \n") + len(strconv.Itoa(count))
	if at+entry*count > len(raw) {
		return nil, errForeign
	}
	starts := make([]int, count) // by object number
	for n := 1; n < count; n++ {
		if starts[n], err = strconv.Atoi(string(raw[at+entry*n : at+entry*n+10])); err != nil || starts[n] >= table {
			return nil, errForeign
		}
	}
	ends := append(slices.Clone(starts[1:]), table) // in the order in which they stand in the file
	slices.Sort(ends)
	objects := make([][]byte, 0, count-1)
	for n := 1; n < count; n++ {
		i, _ := slices.BinarySearch(ends, starts[n])
		body, opens := bytes.CutPrefix(raw[starts[n]:ends[i+1]], []byte(strconv.Itoa(n)+" 0 obj\n"))
		body, closes := bytes.CutSuffix(body, []byte("\nendobj\n"))
		if !opens || !closes {
			return nil, errForeign
		}
		objects = append(objects, body)
	}
	return objects, nil
}

// painted writes what was painted. gofpdf puts the document information and the catalog
// last; both are left out. Its resources get the fonts and the forms, which it knows
// nothing of; they are numbered after its objects.
func (f *finisher) painted(p *painted) error {
	objects, err := objectsOf(p.raw)
	if err != nil {
		return err
	}
	objects = objects[:len(objects)-2]
	next := 1 + len(objects)
	fonts := map[face]int{}
	for which, font := range p.fonts {
		if font != nil {
			fonts[face(which)] = next
			next += len(font.Objects)
		}
	}
	if objects[resources-1], err = p.resources(objects[resources-1], fonts, next); err != nil {
		return err
	}
	f.out.Grow(p.size())
	pieces := newPieces(next + len(p.forms))
	var body []byte
	for i, object := range objects {
		n := i + 1
		says, stream := parted(object)
		if n < firstPage || n >= firstPage+2*f.pages {
			f.put(says, stream)
			continue
		}
		shown := &p.contents[(n-firstPage)/2]
		if (n-firstPage)%2 == 0 {
			if says, err = pieces.joined(says, n+1, shown); err != nil {
				return err
			}
			f.put(says, nil)
			continue
		}
		body = append(append(body[:0], stream...), shown[bodyPiece]...)
		f.stream("/Filter /FlateDecode", memo.Sure(p.kept, "binder.leaf", func() []byte { return p.deflater.deflated(body) }, body))
	}
	for which, font := range p.fonts {
		if font == nil {
			continue
		}
		for _, o := range font.Objects {
			f.put(renumbered(o.Says, fonts[face(which)]-1), o.Stream)
		}
	}
	for _, drawn := range p.forms {
		f.form(drawn, fonts)
	}
	for _, data := range pieces.streams {
		f.stream("", data)
	}
	return nil
}

// pieces are the contents of leaves but their bodies, each once. They are short and are not
// compressed.
type pieces struct {
	first   int // the number of the first
	streams [][]byte
	numbers map[string]int
}

func newPieces(first int) *pieces { return &pieces{first: first, numbers: map[string]int{}} }

// number is the number that a piece has.
func (p *pieces) number(data []byte) int {
	n, known := p.numbers[string(data)]
	if !known {
		n = p.first + len(p.streams)
		p.numbers[string(data)] = n
		p.streams = append(p.streams, data)
	}
	return n
}

// joined is what a page says, whose content is the object numbered body alone, with all
// pieces of its content.
func (p *pieces) joined(says []byte, body int, shown *content) ([]byte, error) {
	alone := fmt.Appendf(nil, "/Contents %d 0 R", body)
	all := fmt.Appendf(nil, "/Contents [%d 0 R", body)
	for _, data := range shown[bodyPiece+1:] {
		if len(data) > 0 {
			all = fmt.Appendf(all, " %d 0 R", p.number(data))
		}
	}
	if !bytes.Contains(says, alone) {
		return nil, errForeign
	}
	return bytes.Replace(says, alone, append(all, ']'), 1), nil
}

// size is about how many bytes the file will have: compressed, leaves are a quarter.
func (p *painted) size() int {
	n := len(p.raw) + 1<<14
	for _, c := range p.contents {
		n += len(c[bodyPiece])/4 + len(c[numberPiece]) + 1<<9
	}
	for _, drawn := range p.forms {
		n += len(drawn.Data) + 1<<9
	}
	for _, font := range p.fonts {
		if font != nil {
			for _, o := range font.Objects {
				n += len(o.Says) + len(o.Stream) + 1<<6
			}
		}
	}
	return n
}

// resources is the dictionary of resources that gofpdf wrote, with the fonts at their
// numbers, and the forms, numbered from first on.
func (p *painted) resources(written []byte, fonts map[face]int, first int) ([]byte, error) {
	var forms strings.Builder
	for i, drawn := range p.forms {
		fmt.Fprintf(&forms, "/%s %d 0 R\n", drawn.Name, first+i)
	}
	for _, add := range []struct{ to, entries string }{{"/Font <<\n", fontEntries(fonts)}, {"/XObject <<\n", forms.String()}} {
		before, after, found := bytes.Cut(written, []byte(add.to))
		if !found {
			return nil, errForeign
		}
		written = bytes.Join([][]byte{before, []byte(add.to + add.entries), after}, nil)
	}
	return written, nil
}

// fontEntries name fonts for a dictionary of resources, in order.
func fontEntries(fonts map[face]int) string {
	var b strings.Builder
	for which := range faceCount {
		if number, used := fonts[which]; used {
			fmt.Fprintf(&b, "/%s %d 0 R\n", faceSpecs[which].picture.PDFName(), number)
		}
	}
	return b.String()
}

// form writes a picture. Its box is three times as wide and as high as its paper, so that
// lines on the paper's edge are not cut.
func (f *finisher) form(drawn *form, fonts map[face]int) {
	own := map[face]int{}
	for which, number := range fonts {
		if drawn.Letters[faceSpecs[which].picture] != "" {
			own[which] = number
		}
	}
	f.stream(fmt.Sprintf("/Type /XObject /Subtype /Form /BBox [%.2f %.2f %.2f %.2f] /Resources <</Font <<%s>>>> /Filter /FlateDecode",
		-drawn.Width, -drawn.Height, 2*drawn.Width, 2*drawn.Height, fontEntries(own)), drawn.Data)
}

// put appends an object.
func (f *finisher) put(says, stream []byte) {
	f.offsets = append(f.offsets, f.out.Len())
	fmt.Fprintf(&f.out, "%d 0 obj\n", len(f.offsets)-1)
	f.out.Write(says)
	if stream != nil {
		f.out.Write(streamOpens)
		f.out.Write(stream)
		f.out.Write(streamCloses)
	}
	f.out.WriteString("\nendobj\n")
}

// object appends an object without a stream and gives its number.
func (f *finisher) object(body string) int {
	f.put([]byte(body), nil)
	return len(f.offsets) - 1
}

// stream appends a stream with the given entries and gives its number.
func (f *finisher) stream(entries string, data []byte) int {
	f.put(fmt.Appendf(nil, "<<%s /Length %d>>", entries, len(data)), data)
	return len(f.offsets) - 1
}

// pageObject is the object of leaf i, counted from 0.
func (f *finisher) pageObject(i int) (int, error) {
	n := firstPage + 2*i
	if i >= f.pages || !bytes.HasPrefix(f.out.Bytes()[f.offsets[n]:], []byte(strconv.Itoa(n)+" 0 obj\n<</Type /Page\n")) {
		return 0, errForeign
	}
	return n, nil
}

// info appends the document information.
func (f *finisher) info(doc *page.Document) int {
	entries := []string{"/Producer " + textString(producer), "/Creator " + textString(producer)}
	for _, e := range []struct{ key, value string }{
		{"/Title", line(doc.Title)}, {"/Subject", line(doc.Summary)}, {"/Author", authors(doc)},
	} {
		if e.value != "" {
			entries = append(entries, e.key+" "+textString(e.value))
		}
	}
	if day, ok := planDay(doc); ok {
		stamp := textString(day.Format("D:20060102150405Z"))
		entries = append(entries, "/CreationDate "+stamp, "/ModDate "+stamp)
	}
	return f.object("<<" + strings.Join(entries, "\n") + ">>")
}

// producer names the program in the metadata.
const producer = "plansheaf"

// planDay is the plan's own date; the file bears no other.
func planDay(doc *page.Document) (time.Time, bool) {
	day, err := time.Parse("2006-01-02", strings.TrimSpace(doc.Date))
	return day, err == nil
}

func authors(doc *page.Document) string {
	var names []string
	for _, a := range doc.Authors {
		if a = line(a); a != "" {
			names = append(names, a)
		}
	}
	return strings.Join(names, ", ")
}

// viewerPreferences keep drawings at true size when printed and choose the
// printer's tray by each leaf's size.
func viewerPreferences(twoSided bool) string {
	duplex := "/Simplex"
	if twoSided {
		duplex = "/DuplexFlipLongEdge"
	}
	return "/ViewerPreferences <</PrintScaling /None /DisplayDocTitle true /PickTrayByPDFSize true /Duplex " + duplex + ">>"
}

// languageTag is a BCP 47 tag as far as its letters go; empty if it is none.
func languageTag(tag string) string {
	for _, r := range tag {
		if !(r == '-' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') {
			return ""
		}
	}
	if len(tag) < 2 || len(tag) > 35 {
		return ""
	}
	return tag
}

// literal escapes what a literal string may not hold as it is.
var literal = strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`)

// textString is a PDF text string: literal for plain ASCII, else UTF-16 with its
// byte order mark.
func textString(text string) string {
	plain := true
	for _, r := range text {
		plain = plain && r >= ' ' && r < 0x7f
	}
	if plain {
		return "(" + literal.Replace(text) + ")"
	}
	units := append([]uint16{0xFEFF}, utf16.Encode([]rune(text))...)
	data := make([]byte, 0, 2*len(units))
	for _, u := range units {
		data = append(data, byte(u>>8), byte(u))
	}
	return "<" + hex.EncodeToString(data) + ">"
}

// checkAttachments refuses names that are no plain file names or not unique.
func checkAttachments(files []Attachment) error {
	seen := map[string]bool{}
	for _, file := range files {
		if file.Name == "" || strings.ContainsAny(file.Name, "/\\\x00") || seen[file.Name] {
			return fmt.Errorf("attach %q: a plain file name of its own is needed", file.Name)
		}
		seen[file.Name] = true
	}
	return nil
}

// attachments appends embedded files and gives the catalog's entries for them.
func (f *finisher) attachments(files []Attachment) ([]string, error) {
	if len(files) == 0 {
		return nil, nil
	}
	// A name tree is sorted by name.
	files = append([]Attachment(nil), files...)
	sort.SliceStable(files, func(i, j int) bool { return files[i].Name < files[j].Name })
	var names, list []string
	for i, file := range files {
		kind := file.Type
		if kind == "" {
			kind = "application/octet-stream"
		}
		var packed bytes.Buffer
		z := zlib.NewWriter(&packed)
		if _, err := z.Write(file.Data); err != nil {
			return nil, fmt.Errorf("attach %q: %w", file.Name, err)
		}
		if err := z.Close(); err != nil {
			return nil, fmt.Errorf("attach %q: %w", file.Name, err)
		}
		data := f.stream(fmt.Sprintf("/Type /EmbeddedFile /Subtype /%s /Filter /FlateDecode /Params <</Size %d>>",
			pdfName(kind), len(file.Data)), packed.Bytes())
		name := textString(line(file.Name))
		spec := f.object(fmt.Sprintf("<</Type /Filespec /F %s /UF %s /Desc %s /AFRelationship /Supplement /EF <</F %d 0 R /UF %d 0 R>>>>",
			name, name, textString(line(file.About)), data, data))
		// The key only orders the tree; a number keeps it sorted in any coding.
		names = append(names, fmt.Sprintf("(%06d) %d 0 R", i, spec))
		list = append(list, fmt.Sprintf("%d 0 R", spec))
	}
	return []string{
		"/Names <</EmbeddedFiles <</Names [" + strings.Join(names, " ") + "]>>>>",
		"/AF [" + strings.Join(list, " ") + "]",
	}, nil
}

// pdfName writes text as a name object's letters.
func pdfName(text string) string {
	var b strings.Builder
	for _, c := range []byte(text) {
		if c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '-' || c == '.' || c == '+' {
			b.WriteByte(c)
		} else {
			b.WriteString("#" + hexByte(c))
		}
	}
	return b.String()
}

// trailer writes the cross-reference table and the end of the file. The identity
// is the content's own hash, so that it changes only with it.
func (f *finisher) trailer(root, info int) {
	sum := sha256.Sum256(f.out.Bytes())
	id := hex.EncodeToString(sum[:16])
	table := f.out.Len()
	fmt.Fprintf(&f.out, "xref\n0 %d\n0000000000 65535 f \n", len(f.offsets))
	for _, offset := range f.offsets[1:] {
		fmt.Fprintf(&f.out, "%010d 00000 n \n", offset)
	}
	fmt.Fprintf(&f.out, "trailer\n<</Size %d /Root %d 0 R /Info %d 0 R /ID [<%s> <%s>]>>\nstartxref\n%d\n%%%%EOF\n",
		len(f.offsets), root, info, id, id, table)
}
