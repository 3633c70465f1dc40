package publish_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"plansheaf/publish/inspect"
)

// drawn lists the pictures that the program drew; those of the plan are its own.
func (p publication) drawn() []string {
	var list []string
	for _, name := range p.ending(".svg") {
		if !strings.HasPrefix(name, "files/") {
			list = append(list, name)
		}
	}
	return list
}

// paths are files of the publication as they lie in its folder.
func (p publication) paths(names []string) []string {
	var list []string
	for _, name := range names {
		list = append(list, filepath.Join(p.folder, filepath.FromSlash(name)))
	}
	return list
}

// xmllint sees what encoding/xml lets by, such as two attributes of one name.
func TestPicturesAreWellFormed(t *testing.T) {
	p := example(t)
	inspect.Run(t, "xmllint", append([]string{"--noout"}, p.paths(p.ending(".svg"))...)...)
}

// Every picture has a title and a description for those who cannot see it, and no
// two of its elements have one id.
func TestPicturesTellWhatTheyShow(t *testing.T) {
	p := example(t)
	for _, name := range p.drawn() {
		ids, texts := map[string]bool{}, map[string]string{}
		decoder := xml.NewDecoder(bytes.NewReader(p.files[name]))
		within := ""
		for {
			token, err := decoder.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			switch token := token.(type) {
			case xml.StartElement:
				within = token.Name.Local
				for _, a := range token.Attr {
					switch {
					case a.Name.Local == "id" && ids[a.Value]:
						t.Errorf("%s: two elements have the id %q", name, a.Value)
					case a.Name.Local == "id":
						ids[a.Value] = true
					case a.Name.Local == "href" && !strings.HasPrefix(a.Value, "#"):
						t.Errorf("%s asks for %q", name, a.Value)
					}
				}
			case xml.CharData:
				texts[within] += strings.TrimSpace(string(token))
			case xml.EndElement:
				within = ""
			}
		}
		for _, want := range []string{"title", "desc"} {
			if len(texts[want]) < 3 {
				t.Errorf("%s: its <%s> says %q", name, want, texts[want])
			}
		}
	}
}

// rsvg-convert draws every picture, one to a page, and none is blank: each has ink
// on a hundredth of a percent of its pixels at least, and is not all ink.
func TestPicturesShowSomething(t *testing.T) {
	t.Parallel()
	p := example(t)
	names := p.ending(".svg")
	dir := t.TempDir()
	all := filepath.Join(dir, "all.pdf")
	inspect.Run(t, "rsvg-convert", append([]string{"--format=pdf", "--output=" + all}, p.paths(names)...)...)
	inspect.Run(t, "pdftoppm", "-gray", "-scale-to", "400", all, filepath.Join(dir, "p"))
	drawn, err := filepath.Glob(filepath.Join(dir, "p-*.pgm"))
	if err != nil || len(drawn) != len(names) {
		t.Fatalf("%d pictures drawn of %d, %v", len(drawn), len(names), err)
	}
	for i, file := range drawn {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var width, height, deepest int
		if _, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n%d\n", &width, &height, &deepest); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		ink, pixels := 0, data[len(data)-width*height:]
		for _, v := range pixels {
			if v < 200 {
				ink++
			}
		}
		if ink*10_000 < len(pixels) || ink == len(pixels) {
			t.Errorf("%s is blank: %d of %d pixels have ink", names[i], ink, len(pixels))
		}
	}
}
