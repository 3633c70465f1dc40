package changes

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"plansheaf/design/change"
	"plansheaf/design/check"
	"plansheaf/design/layout"
	"plansheaf/design/memo"
	"plansheaf/design/plan"
	"plansheaf/design/solid"
	"plansheaf/publish/picture"
	"plansheaf/publish/scene"
)

const (
	// mostParts is how many changed parts are drawn, mostAssemblies how many pictures there
	// are of assemblies; the rest are told in words.
	mostParts      = 60
	mostAssemblies = 12
	// mostFaces is how many faces a part that is drawn may have in either revision,
	// mostFacesInAll how many all of them may have.
	mostFaces      = 4000
	mostFacesInAll = 20_000
	// mostEdges is how many edges of bodies the pictures of assemblies may hold in all, and
	// mostPieces how many pieces an assembly that is compared.
	mostEdges  = 600_000
	mostPieces = 10_000
	// mostLooked is how many faces bodies that are made otherwise may have in all to find
	// out whether they look otherwise; beyond, they are taken to.
	mostLooked = 100_000
)

// A Drawn is a picture of something as it was and as it is, laid over each other.
type Drawn struct {
	ID, Title string // in the new revision
	Picture   *picture.Picture
	Case      string // the choices that it is drawn for; "" for the plan's own
	// Legend tells what differs: of an assembly by number, of a part as it is listed.
	Legend []string
}

// Drawings are the pictures of a comparison.
type Drawings struct {
	Parts      []Drawn  // in the order of the changes, each part once
	Assemblies []Drawn  // the machine, then others in the order of the plan
	Left       []string // what changed and is not drawn, and why
}

// Part is the drawing of a part; nil for none.
func (d *Drawings) Part(id string) *Drawn {
	if d == nil {
		return nil
	}
	for i := range d.Parts {
		if d.Parts[i].ID == id {
			return &d.Parts[i]
		}
	}
	return nil
}

// Pictures draws what looks otherwise: parts with another shape, and assemblies in which
// something itself changed, came, went or moved, the whole machine too where its look
// changed. Each is drawn for the plan's own choices, and for others under which it
// differs in another way. What is left out for the sake of the time that it takes is told.
func Pictures(c *change.Comparison, old, new *check.Work) (*Drawings, error) {
	d := &drawing{
		c: c, cases: pairings(c, old, new), out: &Drawings{}, known: map[[2]memo.Key]bool{},
		studio: scene.NewStudio(new.Ways()),
	}
	if err := d.parts(); err != nil {
		return nil, err
	}
	if err := d.assemblies(old.Plan, new.Plan); err != nil {
		return nil, err
	}
	return d.out, nil
}

// A drawing is the work on the pictures of a comparison.
type drawing struct {
	c      *change.Comparison
	cases  []pairing
	out    *Drawings
	studio *scene.Studio
	known  map[[2]memo.Key]bool // whether two bodies look the same
	looked int                  // faces of bodies that were looked at for that
}

// parts draws parts that changed, each for the first case in which it looks otherwise.
func (d *drawing) parts() error {
	faces, left := 0, []string(nil)
	for _, x := range d.c.Changes {
		if x.Kind != change.OfPart || x.What == change.Added || x.What == change.Removed {
			continue
		}
		p, a, b := d.otherwise(cmp.Or(x.Was, x.ID), x.ID)
		if p == nil {
			continue
		}
		n := len(a.Faces) + len(b.Faces)
		if len(d.out.Parts) == mostParts || max(len(a.Faces), len(b.Faces)) > mostFaces || faces+n > mostFacesInAll {
			left = append(left, x.ID)
			continue
		}
		faces += n
		pic, err := Overlay("parts/"+x.ID, x.Title, a, b)
		if errors.Is(err, errAlike) {
			continue
		}
		if err != nil {
			return fmt.Errorf("draw part %q over what it was: %w", x.ID, err)
		}
		d.out.Parts = append(d.out.Parts, Drawn{ID: x.ID, Title: x.Title, Picture: pic, Case: p.says, Legend: listed(x.Lines)})
	}
	if len(left) > 0 {
		d.out.Left = append(d.out.Left, fmt.Sprintf("parts of another shape: %s. At most %d are drawn, with %d faces in all and %d each.", some(left), mostParts, mostFacesInAll, mostFaces))
	}
	return nil
}

// mostListed is how many fields stand below a part's picture.
const mostListed = 12

// listed are fields on one line each.
func listed(fields []change.Field) []string {
	var out []string
	for i, f := range fields {
		if i == mostListed {
			return append(out, fmt.Sprintf("and %d more", len(fields)-mostListed))
		}
		out = append(out, row(change.Field{What: f.What, Old: f.Said(f.Old), New: f.Said(f.New)}))
	}
	return out
}

// otherwise is the first case in which a part has another shape, with both shapes.
func (d *drawing) otherwise(was, id string) (p *pairing, old, new *solid.Solid) {
	for i := range d.cases {
		p = &d.cases[i]
		a, b := p.old.Reckoning.Part(was), p.new.Reckoning.Part(id)
		if a != nil && b != nil && a.Solid != nil && b.Solid != nil && a.Solid.MemoKey() != b.Solid.MemoKey() && !d.alike(a.Solid, b.Solid) {
			return p, a.Solid, b.Solid
		}
	}
	return nil, nil, nil
}

// alike reports whether two bodies look the same though they are made otherwise; of
// very large ones it is taken that they do not.
func (d *drawing) alike(a, b *solid.Solid) bool {
	p, q := a.Box(), b.Box()
	if len(a.Faces) != len(b.Faces) || len(a.Faces) > mostFaces || p.Min.Sub(q.Min).Len() > still || p.Max.Sub(q.Max).Len() > still {
		return false
	}
	key := [2]memo.Key{a.MemoKey(), b.MemoKey()}
	same, asked := d.known[key]
	if !asked && d.looked < mostLooked {
		d.looked += len(a.Faces) + len(b.Faces)
		_, differs, err := overlays(a, b)
		same = err == nil && !differs
		d.known[key] = same
	}
	return same
}

// assemblies draws the assemblies in which something changed.
func (d *drawing) assemblies(old, new *plan.Plan) error {
	c := &contrast{
		parts: renamed(d.c, change.OfPart), uses: renamed(d.c, change.OfPlacement), joints: renamed(d.c, change.OfJoint),
		looks: d.alike, system: check.System(new),
	}
	were := renamed(d.c, change.OfAssembly)
	edges, left := 0, []string(nil)
	list := slices.Clone(new.Assemblies)
	slices.SortStableFunc(list, func(a, b *plan.Assembly) int { return first(b, new) - first(a, new) })
	for _, a := range list {
		before := old.Assembly(were.of(a.ID.Text))
		if before == nil {
			continue
		}
		told := map[string]bool{}
		for _, p := range d.cases {
			was := assembled{old, before, p.old.Case.Options, d.studio.Pieces(p.old.Layout, before)}
			is := assembled{new, a, p.new.Case.Options, d.studio.Pieces(p.new.Layout, a)}
			if max(len(was.pieces), len(is.pieces)) > mostPieces {
				left = append(left, a.ID.Text)
				break
			}
			differences, stays := c.differences(was, is)
			fresh, ok := news(differences, told, a.ID.Text == new.Machine.Text)
			if !ok {
				continue
			}
			if edges += edgesOf(was.pieces) + edgesOf(is.pieces); len(d.out.Assemblies) == mostAssemblies || edges > mostEdges {
				left = append(left, a.ID.Text)
				break
			}
			if err := d.assembly(a, p, differences, fresh, stays); err != nil {
				return err
			}
		}
	}
	if len(left) > 0 {
		d.out.Left = append(d.out.Left, fmt.Sprintf("assemblies in which something changed: %s. At most %d pictures are drawn, of %d edges in all, and none of more than %d pieces.", some(left), mostAssemblies, mostEdges, mostPieces))
	}
	return nil
}

func edgesOf(pieces []layout.Piece) (n int) {
	for _, p := range pieces {
		n += len(p.Solid.Edges)
	}
	return n
}

// first is 1 for the machine, which is drawn before its assemblies, and 0 for others.
func first(a *plan.Assembly, p *plan.Plan) int {
	if a.ID.Text == p.Machine.Text {
		return 1
	}
	return 0
}

// news puts those differences first that no picture of the assembly before has told,
// and counts them; ok is whether they deserve a picture: of an assembly what it does
// itself, of the machine what is done in it, too.
func news(list []*difference, told map[string]bool, machine bool) (fresh int, ok bool) {
	known := func(d *difference) bool { return told[string(d.sign)+d.words] }
	slices.SortStableFunc(list, func(a, b *difference) int {
		switch {
		case known(a) == known(b):
			return 0
		case known(a):
			return 1
		}
		return -1
	})
	for _, d := range list {
		if !known(d) {
			fresh++
			ok = ok || d.own || machine
		}
	}
	for _, d := range list {
		told[string(d.sign)+d.words] = true
	}
	return fresh, ok
}

// assembly draws an assembly in one case; the first so many differences are news.
func (d *drawing) assembly(a *plan.Assembly, p pairing, list []*difference, fresh int, stays []layout.Piece) error {
	id := a.ID.Text
	n := 1
	for _, other := range d.out.Assemblies {
		if other.ID == id {
			n++
		}
	}
	if n > 1 {
		id = fmt.Sprintf("%s.%d", id, n)
	}
	pic, words, err := (&artist{studio: d.studio}).drawn(id, assemblyTitle(a), list, fresh, stays)
	if err != nil {
		return fmt.Errorf("draw assembly %q over what it was: %w", a.ID.Text, err)
	}
	if pic != nil {
		d.out.Assemblies = append(d.out.Assemblies, Drawn{ID: a.ID.Text, Title: assemblyTitle(a), Picture: pic, Case: p.says, Legend: words})
	}
	return nil
}

// assemblyTitle is what an assembly is called.
func assemblyTitle(a *plan.Assembly) string { return cmp.Or(a.Title.Value, a.ID.Text) }

// mostNamed is how many things that are not drawn are named.
const mostNamed = 8

// some are names in words, not too many of them.
func some(names []string) string {
	if len(names) > mostNamed {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostNamed], ", "), len(names)-mostNamed)
	}
	return strings.Join(names, ", ")
}
