package binder

import (
	"encoding/xml"
	"fmt"
	"strings"

	"plansheaf/publish/page"
)

// metadata appends the XMP packet (ISO 16684-1), which says what the document
// information says.
func (f *finisher) metadata(doc *page.Document) int {
	var b strings.Builder
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		"<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n" +
		"<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n" +
		"<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\"" +
		" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n")
	alternatives := func(name, text string) {
		if text = line(text); text != "" {
			fmt.Fprintf(&b, "<dc:%s><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:%s>\n", name, xmlText(text), name)
		}
	}
	b.WriteString("<dc:format>application/pdf</dc:format>\n")
	alternatives("title", doc.Title)
	alternatives("description", doc.Summary)
	alternatives("rights", doc.License)
	var names strings.Builder
	for _, a := range doc.Authors {
		if a = line(a); a != "" {
			fmt.Fprintf(&names, "<rdf:li>%s</rdf:li>", xmlText(a))
		}
	}
	if names.Len() > 0 {
		fmt.Fprintf(&b, "<dc:creator><rdf:Seq>%s</rdf:Seq></dc:creator>\n", names.String())
	}
	if tag := languageTag(doc.Language); tag != "" {
		fmt.Fprintf(&b, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>\n", tag)
	}
	if day, ok := planDay(doc); ok {
		stamp := day.Format("2006-01-02T15:04:05Z")
		fmt.Fprintf(&b, "<xmp:CreateDate>%s</xmp:CreateDate>\n<xmp:ModifyDate>%s</xmp:ModifyDate>\n", stamp, stamp)
	}
	fmt.Fprintf(&b, "<xmp:CreatorTool>%s</xmp:CreatorTool>\n<pdf:Producer>%s</pdf:Producer>\n", producer, producer)
	b.WriteString("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return f.stream("/Type /Metadata /Subtype /XML", []byte(b.String()))
}

// xmlText is text escaped for XML; what XML cannot hold is replaced.
func xmlText(text string) string {
	var b strings.Builder
	// EscapeText fails only when its writer does.
	_ = xml.EscapeText(&b, []byte(text))
	return b.String()
}
