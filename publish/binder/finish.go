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

	"plansheaf/publish/page"
)

// errForeign means that gofpdf wrote something else than the finishing pass
// expects.
var errForeign = errors.New("the PDF is not laid out as gofpdf does it")

// A finisher appends to a PDF that gofpdf wrote. gofpdf puts the document
// information and the catalog last; both are replaced.
type finisher struct {
	out     bytes.Buffer
	offsets []int // by object number; 0 is unused
}

// header is PDF 1.7 with a comment that tells programs that the file is binary.
const header = "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"

// finish adds outline, page labels, viewer preferences, language, metadata,
// embedded files and file identity to raw, which paint wrote.
func finish(raw []byte, b *book, doc *page.Document, options Options) ([]byte, error) {
	f, err := reopen(raw)
	if err != nil {
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

// reopen reads gofpdf's cross-reference table and copies all objects but the
// last two, with the names that fonts must have.
func reopen(raw []byte) (*finisher, error) {
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
	f := &finisher{offsets: make([]int, count-2)}
	starts := make([]int, 1, count) // by object number
	cut := 0
	for n := 1; n < count; n++ {
		line := raw[at+entry*n : at+entry*(n+1)]
		offset, err := strconv.Atoi(string(line[:10]))
		if err != nil || offset >= table || !bytes.HasPrefix(raw[offset:], []byte(strconv.Itoa(n)+" 0 obj")) {
			return nil, errForeign
		}
		if n >= count-2 {
			if cut == 0 {
				cut = offset
			}
			continue
		}
		starts = append(starts, offset)
	}
	f.out.Grow(len(raw) + 1<<14)
	f.out.WriteString(header)
	f.copy(raw, starts, cut)
	return f, nil
}

// copy takes over the objects that begin at starts, by their number, the last of
// them ending at end.
func (f *finisher) copy(raw []byte, starts []int, end int) {
	order := make([]int, 0, len(starts)-1) // as they stand in the file
	for n := 1; n < len(starts); n++ {
		order = append(order, n)
	}
	slices.SortFunc(order, func(a, b int) int { return starts[a] - starts[b] })
	names := subsetNames(raw)
	for i, n := range order {
		to := end
		if i+1 < len(order) {
			to = starts[order[i+1]]
		}
		f.offsets[n] = f.out.Len()
		body := raw[starts[n]:to]
		if bytes.HasPrefix(body, []byte(strconv.Itoa(n)+" 0 obj\n<</Type /Font")) {
			body = renamed(body, names)
		}
		f.out.Write(body)
	}
}

// object appends an object and gives its number.
func (f *finisher) object(body string) int {
	f.offsets = append(f.offsets, f.out.Len())
	number := len(f.offsets) - 1
	fmt.Fprintf(&f.out, "%d 0 obj\n%s\nendobj\n", number, body)
	return number
}

// stream appends a stream with the given entries and gives its number.
func (f *finisher) stream(entries string, data []byte) int {
	return f.object(fmt.Sprintf("<<%s /Length %d>>\nstream\n%s\nendstream", entries, len(data), data))
}

// pageObject is the object of leaf i, counted from 0: gofpdf numbers pages in
// steps of two, each followed by its contents.
func (f *finisher) pageObject(i int) (int, error) {
	n := 3 + 2*i
	if n >= len(f.offsets) || !bytes.HasPrefix(f.out.Bytes()[f.offsets[n]:], []byte(strconv.Itoa(n)+" 0 obj\n<</Type /Page\n")) {
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

// textString is a PDF text string: literal for plain ASCII, else UTF-16 with its
// byte order mark.
func textString(text string) string {
	plain := true
	for _, r := range text {
		plain = plain && r >= ' ' && r < 0x7f
	}
	if plain {
		return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(text) + ")"
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
