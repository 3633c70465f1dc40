package standards

import (
	"fmt"
	"strings"
	"testing"
)

func TestGeneralTolerancesAsPublished(t *testing.T) {
	answer := map[string]func(string, float64) (float64, bool){
		"linear": GeneralTolerance, "angular": func(class string, side float64) (float64, bool) {
			degrees, known := GeneralAngleTolerance(class, side)
			return degrees * 60, known
		},
	}
	for _, p := range readPublished(t, "tolerances-iso2768") {
		// Just over the lower end, and the upper end itself.
		ends := []float64{p.number(t, "over_mm") + 0.001}
		if p["up_to_mm"] != "" {
			ends = append(ends, p.number(t, "up_to_mm"))
		}
		for _, class := range []string{"f", "m", "c", "v"} {
			for _, size := range ends {
				got, known := answer[p["kind"]](class, size)
				if known != (p[class] != "") {
					t.Errorf("%s %s at %v mm: defined %v, published %q", p["kind"], class, size, known, p[class])
				}
				p.expect(t, fmt.Sprintf("%s %v mm", p["kind"], size), class, got, exact)
			}
		}
	}
}

func TestSheetsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "sheets-and-scales") {
		sheet, known := SheetByName(p["sheet"])
		if !known || sheet.Landscape() != (p["orientation"] == "landscape") {
			t.Errorf("sheet %s: known %v, landscape %v", p["sheet"], known, sheet.Landscape())
		}
		width, height := sheet.Space()
		p.expect(t, sheet.Name, "sheet_w_mm", sheet.Width, 0)
		p.expect(t, sheet.Name, "sheet_h_mm", sheet.Height, 0)
		p.expect(t, sheet.Name, "margin_left_mm", sheet.MarginLeft, 0)
		p.expect(t, sheet.Name, "margin_other_mm", sheet.MarginOther, 0)
		p.expect(t, sheet.Name, "space_w_mm", width, 0)
		p.expect(t, sheet.Name, "space_h_mm", height, 0)
		p.expect(t, sheet.Name, "grid_fields_long", float64(sheet.FieldsLong), 0)
		p.expect(t, sheet.Name, "grid_fields_short", float64(sheet.FieldsShort), 0)
	}
}

func TestScalesAsPublished(t *testing.T) {
	rows := readPublished(t, "scales-iso5455")
	if len(rows) != len(Scales()) {
		t.Errorf("%d scales, published %d", len(Scales()), len(rows))
	}
	for _, p := range rows {
		scale, known := ScaleByText(p["scale"])
		if !known {
			t.Errorf("no scale %s", p["scale"])
		}
		p.expect(t, scale.Text, "factor", scale.Factor, 0)
	}
}

func TestLineGroupsAsPublished(t *testing.T) {
	for i, p := range readPublished(t, "line-widths-iso128") {
		group := LineGroups()[i]
		p.expect(t, p["line_group"], "wide_mm", group.Wide, 0)
		p.expect(t, p["line_group"], "narrow_mm", group.Narrow, 0)
		if group.Preferred != (p["preferred"] == "yes") {
			t.Errorf("group %s: preferred %v", p["line_group"], group.Preferred)
		}
	}
}

func TestLetteringAsPublished(t *testing.T) {
	for i, p := range readPublished(t, "lettering-iso3098") {
		lettering := Letterings()[i]
		p.expect(t, p["height_h_mm"], "height_h_mm", lettering.Height, 0)
		p.expect(t, p["height_h_mm"], "type_b_stroke_mm", lettering.Stroke, 0.0005)
		p.expect(t, p["height_h_mm"], "type_b_lowercase_mm", lettering.LowerCase, 0.0005)
	}
}

func TestTitleFieldsAsPublished(t *testing.T) {
	for i, p := range readPublished(t, "title-block-iso7200") {
		field := TitleFields()[i]
		if field.Name != p["field"] || field.Mandatory != (p["obligation"] == "mandatory") {
			t.Errorf("field %d: %+v, published %v", i, field, p)
		}
		p.expect(t, field.Name, "max_chars", float64(field.MaxChars), 0)
	}
}

func TestSignsAsPublished(t *testing.T) {
	for _, p := range readPublished(t, "safety-signs") {
		code := p["code"]
		switch section := p["section"]; {
		case code == "":
		case strings.HasPrefix(section, "ISO 7010 "):
			sign, known := SignByCode(code)
			if !known || sign.Name != p["name"] || "ISO 7010 "+sign.Kind != section {
				t.Errorf("sign %s: %+v, published %s", code, sign, p["name"])
			}
		case strings.HasPrefix(section, "ANSI"):
			signal, known := SignalWordByName(code)
			if !known || signal.Meaning != p["meaning_own_words"] {
				t.Errorf("signal word %s: %+v", code, signal)
			}
			if signal.Triangle != strings.Contains(p["colours"], "alert triangle") {
				t.Errorf("signal word %s: triangle %v, published %s", code, signal.Triangle, p["colours"])
			}
		case strings.HasPrefix(section, "ISO 3864-2"):
			if _, known := SignalWordByName(code); !known {
				t.Errorf("no signal word %s", code)
			}
		case strings.HasPrefix(section, "ISO 3864-4"):
			found := false
			for _, colour := range SafetyColours() {
				found = found || colour.Name == code && colour.RAL == p["colours"]
			}
			if !found {
				t.Errorf("no colour %s of %s", code, p["colours"])
			}
		case strings.HasPrefix(section, "IEC 60825-1"):
			if class, known := LaserClassByName(code); !known || class.Name != p["name"] {
				t.Errorf("laser class %s: %+v", code, class)
			}
		default:
			t.Errorf("nothing checks section %q", section)
		}
	}
}

func TestMaterialsAsPublished(t *testing.T) {
	// The published name, ours, and how near it must be. Rows from a data sheet
	// must agree; handbook rows round alloys together, and rows from memory are
	// good for plausibility only.
	const agree, near = 1e-9, 0.10
	ids := map[string]struct {
		id        string
		tolerance float64
	}{
		"aluminium 6061-T6":                {"aluminium_6061", agree},
		"aluminium 6063-T5":                {"aluminium_6063", agree},
		"aluminium (all alloys), handbook": {"aluminium_6063", near},
		"structural steel S235JR":          {"steel_s235", agree},
		"carbon steel, handbook":           {"steel", near},
		"stainless 304 (18-8), handbook":   {"stainless_304", near},
		"brass, handbook":                  {"brass", near},
		"brass free-cutting C36000":        {"brass", near},
		"acetal homopolymer":               {"pom_homopolymer", agree},
		"acetal copolymer":                 {"pom", agree},
		"PLA, printed":                     {"pla", near},
		"PETG, printed":                    {"petg", near},
		"birch plywood":                    {"birch_plywood", near},
		"MDF":                              {"mdf", near},
	}
	for _, p := range readPublished(t, "materials") {
		row, listed := ids[p["material"]]
		material, known := MaterialByID(row.id)
		if !listed || !known {
			t.Errorf("nothing checks %q", p["material"])
			continue
		}
		p.expect(t, row.id, "density_kg_m3", material.Density, row.tolerance*material.Density)
		p.expect(t, row.id, "young_gpa", material.Modulus/1000, row.tolerance*material.Modulus/1000)
		if material.Yield > 0 {
			p.expect(t, row.id, "yield_mpa", material.Yield, row.tolerance*material.Yield)
		}
	}
}
