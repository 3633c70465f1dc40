package dxf

import (
	"fmt"

	"plansheaf/publish/picture"
)

// A file is a document in the making: entities are written into it, and bytes puts
// what readers need around them.
type file struct {
	writer
	layers   []layer
	patterns []pattern
	styles   []style
	box      picture.Box // around all entities, y up
	paper    point       // the sheet's top-right corner; its other one is the origin
}

// Handles that objects elsewhere in the file point to; those of entities and table
// entries follow.
const (
	noHandle handle = iota
	blockRecords
	modelRecord
	paperRecord
	rootDictionary
	groupDictionary
	firstFree
)

// newFile is a file without entities.
func newFile(layers []layer, patterns []pattern, styles []style) *file {
	return &file{writer: writer{next: firstFree}, layers: layers, patterns: patterns, styles: styles, box: picture.Nothing}
}

// bytes is the whole file.
func (f *file) bytes() ([]byte, error) {
	if f.box.Empty() {
		f.box = picture.BoxAround(picture.Point{}, picture.Point{X: f.paper.x, Y: f.paper.y})
	}
	tail := &writer{next: f.next}
	tail.tables(f)
	tail.blocks()
	tail.section("ENTITIES")
	tail.out.Write(f.out.Bytes())
	tail.end()
	tail.objects()
	head := &writer{}
	head.header(f, tail.next+1)
	for _, w := range []*writer{&f.writer, head, tail} {
		if w.err != nil {
			return nil, w.err
		}
	}
	return append(head.out.Bytes(), tail.out.Bytes()...), nil
}

func (w *writer) section(name string) {
	w.text(0, "SECTION")
	w.text(2, name)
}

func (w *writer) end() { w.text(0, "ENDSEC") }

// header says which form of the format this is, that a unit is a millimetre, and
// what space the entities take.
func (w *writer) header(f *file, seed handle) {
	w.section("HEADER")
	variable := func(name string) { w.text(9, "$"+name) }
	variable("ACADVER")
	w.text(1, "AC1015")
	variable("DWGCODEPAGE")
	w.text(3, "ANSI_1252")
	variable("INSBASE")
	w.point(10, point{})
	variable("EXTMIN")
	w.point(10, point{f.box.Min.X, f.box.Min.Y})
	variable("EXTMAX")
	w.point(10, point{f.box.Max.X, f.box.Max.Y})
	variable("LIMMIN")
	w.number(10, 0)
	w.number(20, 0)
	variable("LIMMAX")
	w.number(10, f.paper.x)
	w.number(20, f.paper.y)
	variable("LTSCALE")
	w.number(40, 1)
	variable("TEXTSTYLE")
	w.text(7, standardStyle)
	variable("CLAYER")
	w.text(8, "0")
	variable("LUNITS")
	w.integer(70, 2) // decimal
	variable("LUPREC")
	w.integer(70, 4)
	variable("MEASUREMENT")
	w.integer(70, 1) // metric
	variable("LWDISPLAY")
	w.integer(290, 1)
	variable("INSUNITS")
	w.integer(70, millimetres)
	variable("HANDSEED")
	w.handle(5, seed)
	w.end()
	w.section("CLASSES")
	w.end()
}

// millimetres is the format's number for the unit.
const millimetres = 4

// table begins a table with a number of entries and returns its handle.
func (w *writer) table(name string, entries int) handle {
	h := blockRecords
	if name != "BLOCK_RECORD" {
		h = w.take()
	}
	w.text(0, "TABLE")
	w.text(2, name)
	w.handle(5, h)
	w.handle(330, noHandle)
	w.text(100, "AcDbSymbolTable")
	w.integer(70, entries)
	return h
}

// entry begins an entry of a table.
func (w *writer) entry(kind, class, name string, h, table handle) {
	w.text(0, kind)
	w.handle(5, h)
	w.handle(330, table)
	w.text(100, "AcDbSymbolTableRecord")
	w.text(100, class)
	w.text(2, name)
}

func (w *writer) endTable() { w.text(0, "ENDTAB") }

func (w *writer) tables(f *file) {
	w.section("TABLES")
	w.viewport(f)
	w.lineTypes(f.patterns)
	w.layerTable(f.layers)
	w.styleTable(f.styles)
	for _, name := range []string{"VIEW", "UCS"} {
		w.table(name, 0)
		w.endTable()
	}
	table := w.table("APPID", 1)
	w.entry("APPID", "AcDbRegAppTableRecord", "ACAD", w.take(), table)
	w.integer(70, 0)
	w.endTable()
	w.dimensionStyle()
	table = w.table("BLOCK_RECORD", 2)
	w.entry("BLOCK_RECORD", "AcDbBlockTableRecord", modelSpace, modelRecord, table)
	w.handle(340, noHandle)
	w.entry("BLOCK_RECORD", "AcDbBlockTableRecord", paperSpace, paperRecord, table)
	w.handle(340, noHandle)
	w.endTable()
	w.end()
}

// viewport opens the file on the whole sheet.
func (w *writer) viewport(f *file) {
	table := w.table("VPORT", 1)
	w.entry("VPORT", "AcDbViewportTableRecord", "*Active", w.take(), table)
	w.integer(70, 0)
	pair := func(code int, x, y float64) {
		w.number(code, x)
		w.number(code+10, y)
	}
	pair(10, 0, 0)
	pair(11, 1, 1)
	pair(12, f.paper.x/2, f.paper.y/2)
	pair(13, 0, 0)
	pair(14, 10, 10)
	pair(15, 10, 10)
	w.number(16, 0)
	w.number(26, 0)
	w.number(36, 1)
	w.point(17, point{})
	const margin = 1.05
	w.number(40, margin*max(f.paper.y, f.paper.x/viewShape))
	w.number(41, viewShape)
	w.number(42, 50) // a camera's lens, mm: what readers take where there is none
	w.number(43, 0)
	w.number(44, 0)
	w.number(50, 0)
	w.number(51, 0)
	for _, flag := range []struct{ code, value int }{{71, 0}, {72, 1000}, {73, 1}, {74, 3}, {75, 0}, {76, 0}, {77, 0}, {78, 0}} {
		w.integer(flag.code, flag.value)
	}
	w.endTable()
}

// viewShape is the width of a reader's window over its height, assumed.
const viewShape = 1.6

func (w *writer) lineTypes(patterns []pattern) {
	plain := []pattern{{name: "ByBlock"}, {name: "ByLayer"}, {name: continuous, about: "Solid line"}}
	all := append(plain, patterns...)
	table := w.table("LTYPE", len(all))
	for _, p := range all {
		w.entry("LTYPE", "AcDbLinetypeTableRecord", p.name, w.take(), table)
		w.integer(70, 0)
		w.text(3, p.about)
		w.integer(72, 'A') // the only alignment there is
		w.integer(73, len(p.dashes))
		period := 0.0
		for _, d := range p.dashes {
			period += d
		}
		w.number(40, period)
		for i, d := range p.dashes {
			if i%2 == 1 {
				d = -d // a gap
			}
			w.number(49, d)
			w.integer(74, 0)
		}
	}
	w.endTable()
}

func (w *writer) layerTable(layers []layer) {
	all := append([]layer{{name: "0", colour: ink, dashes: continuous, standard: true}}, layers...)
	table := w.table("LAYER", len(all))
	for _, l := range all {
		w.entry("LAYER", "AcDbLayerTableRecord", l.name, w.take(), table)
		w.integer(70, 0)
		w.integer(62, l.colour)
		w.text(6, l.dashes)
		w.integer(370, l.width())
	}
	w.endTable()
}

// dimensionStyle is there because readers ask for one: dimensions are drawn as
// lines and letters.
func (w *writer) dimensionStyle() {
	table := w.table("DIMSTYLE", 1)
	w.text(100, "AcDbDimStyleTable")
	w.integer(71, 1)
	w.text(0, "DIMSTYLE")
	w.handle(105, w.take())
	w.handle(330, table)
	w.text(100, "AcDbSymbolTableRecord")
	w.text(100, "AcDbDimStyleTableRecord")
	w.text(2, standardStyle)
	w.integer(70, 0)
	w.endTable()
}

const (
	modelSpace = "*Model_Space"
	paperSpace = "*Paper_Space"
)

func (w *writer) blocks() {
	w.section("BLOCKS")
	for _, b := range []struct {
		name   string
		record handle
	}{{modelSpace, modelRecord}, {paperSpace, paperRecord}} {
		begin := func(kind, class string) {
			w.text(0, kind)
			w.handle(5, w.take())
			w.handle(330, b.record)
			w.text(100, "AcDbEntity")
			if b.record == paperRecord {
				w.integer(67, 1)
			}
			w.text(8, "0")
			w.text(100, class)
		}
		begin("BLOCK", "AcDbBlockBegin")
		w.text(2, b.name)
		w.integer(70, 0)
		w.point(10, point{})
		w.text(3, b.name)
		w.text(1, "")
		begin("ENDBLK", "AcDbBlockEnd")
	}
	w.end()
}

// objects holds the dictionary that every file has, with the one entry that readers
// ask for.
func (w *writer) objects() {
	w.section("OBJECTS")
	dictionary := func(h, owner handle) {
		w.text(0, "DICTIONARY")
		w.handle(5, h)
		w.handle(330, owner)
		w.text(100, "AcDbDictionary")
		w.integer(281, 1)
	}
	dictionary(rootDictionary, noHandle)
	w.text(3, "ACAD_GROUP")
	w.handle(350, groupDictionary)
	dictionary(groupDictionary, rootDictionary)
	w.end()
	w.text(0, "EOF")
}

// entity begins an entity of the model on a layer, in a colour or byLayer.
func (f *file) entity(kind string, p pen, class string) {
	f.text(0, kind)
	f.handle(5, f.take())
	f.handle(330, modelRecord)
	f.text(100, "AcDbEntity")
	f.text(8, p.layer)
	if p.colour != byLayer {
		f.integer(62, p.colour)
	}
	f.text(100, class)
}

// A pen is where an entity goes and what colour it has.
type pen struct {
	layer  string
	colour int
}

func wrap(name string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("write %q as DXF: %w", name, err)
}
