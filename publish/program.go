package publish

import (
	"fmt"

	"plansheaf/design/plan"
	"plansheaf/publish/compose"
	"plansheaf/publish/dxf"
)

// forPrograms makes what CAD programs and cutting machines take of one form of a
// part: each drawing sheet, and for a sheet part the contours to cut.
func (s *shape) forPrograms(own *plan.Drawing) {
	id := s.part.Part.ID.Text
	for _, one := range s.sheets {
		data, err := dxf.Picture(one.Picture)
		if err != nil {
			s.err = fmt.Errorf("drawing of part %q: %w", id, err)
			return
		}
		s.files = append(s.files, compose.File{
			Path: one.Picture.Name + ".dxf", Scale: one.Scale,
			Only: s.only, Data: data,
		})
	}
	if s.part.Part.Made.Text != plan.Sheet {
		return
	}
	name := "cutting/" + id + s.mark
	data, err := dxf.Cutting(name, s.part.Solid)
	if err != nil {
		s.problem(own, NotDrawable, "contours to cut: "+err.Error(), "draw the part so that it can be cut out of its sheet, or make it another way than sheet")
		return
	}
	s.files = append(s.files, compose.File{
		Path: name + ".dxf", Only: s.only, Cutting: true, Data: data,
	})
}
