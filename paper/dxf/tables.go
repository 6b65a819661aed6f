package dxf

import (
	"strconv"

	"stallwright/engine/measure"
	"stallwright/paper/draw"
)

// colours are the index colours of layers; those not listed are drawn in the
// ink of the page.
var colours = map[string]int64{
	draw.LayerHatch: 8, draw.LayerBeyond: 8, draw.LayerHidden: 8,
	draw.LayerAxis: 1, draw.LayerDimension: 4, "swing": 8,
}

const ink = 7

// bytes puts the sections together.
func (f *file) bytes() []byte {
	f.layer(draw.LayerDimension)
	f.layer(draw.LayerText)
	var body groups
	f.tables(&body)
	f.blockSection(&body)
	section(&body, "ENTITIES", func() { body.Write(f.entities.Bytes()) })
	f.objects(&body)
	body.put(0, "EOF")
	var out groups
	out.put(999, "Stallwright")
	f.header(&out)
	section(&out, "CLASSES", func() {
		class(&out, "ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault")
		class(&out, "ACDBPLACEHOLDER", "AcDbPlaceHolder")
	})
	out.Write(body.Bytes())
	return out.Bytes()
}

func section(g *groups, name string, write func()) {
	g.put(0, "SECTION")
	g.put(2, name)
	write()
	g.put(0, "ENDSEC")
}

func class(g *groups, record, name string) {
	g.put(0, "CLASS")
	g.put(1, record)
	g.put(2, name)
	g.put(3, "ObjectDBX Classes")
	g.whole(90, 0)
	g.whole(280, 0)
	g.whole(281, 0)
}

// header says which release and unit the file is in, and how far it reaches.
func (f *file) header(g *groups) {
	section(g, "HEADER", func() {
		variable := func(name string) { g.put(9, "$"+name) }
		number := func(name string, v int64) {
			variable(name)
			g.whole(70, v)
		}
		variable("ACADVER")
		g.put(1, "AC1015")
		variable("DWGCODEPAGE")
		g.put(3, "ANSI_1252")
		variable("EXTMIN")
		f.point(g, 10, f.lo)
		variable("EXTMAX")
		f.point(g, 10, f.hi)
		unit, metric, show := int64(1), int64(0), int64(4) // inches, shown as feet, inches and fractions
		if f.units == measure.Metric {
			unit, metric, show = 4, 1, 2
		}
		number("INSUNITS", unit)
		number("MEASUREMENT", metric)
		number("LUNITS", show)
		variable("LTSCALE")
		g.put(40, "1.0")
		variable("HANDSEED")
		g.handle(5, f.next)
	})
}

// table writes one table with its records.
func table(g *groups, name string, handle int64, n int, records func()) {
	g.put(0, "TABLE")
	g.put(2, name)
	g.handle(5, handle)
	g.handle(330, 0)
	g.put(100, "AcDbSymbolTable")
	g.whole(70, int64(n))
	if name == "DIMSTYLE" {
		g.put(100, "AcDbDimStyleTable")
	}
	records()
	g.put(0, "ENDTAB")
}

// record begins a record of a table.
func record(g *groups, kind string, handle, owner int64, class, name string) {
	g.put(0, kind)
	code := 5
	if kind == "DIMSTYLE" {
		code = 105
	}
	g.handle(code, handle)
	g.handle(330, owner)
	g.put(100, "AcDbSymbolTableRecord")
	g.put(100, class)
	g.put(2, name)
}

// Handles of the tables.
const (
	blockRecords = 0x1
	layerTable   = 0x2
	styleTable   = 0x3
	ltypeTable   = 0x5
	viewTable    = 0x6
	ucsTable     = 0x7
	vportTable   = 0x8
	appTable     = 0x9
	dimTable     = 0xA
	standard     = 0x11 // text style
)

func (f *file) tables(g *groups) {
	section(g, "TABLES", func() {
		table(g, "VPORT", vportTable, 1, func() { f.viewport(g) })
		table(g, "LTYPE", ltypeTable, 5, func() { f.lineTypes(g) })
		table(g, "LAYER", layerTable, 1+len(f.order), func() { f.layerRecords(g) })
		table(g, "STYLE", styleTable, 1, func() {
			record(g, "STYLE", standard, styleTable, "AcDbTextStyleTableRecord", "STANDARD")
			g.whole(70, 0)
			g.put(40, "0.0")
			g.put(41, "1.0")
			g.put(50, "0.0")
			g.whole(71, 0)
			g.put(42, "1.0")
			g.put(3, "DejaVuSans.ttf")
			g.put(4, "")
		})
		table(g, "VIEW", viewTable, 0, func() {})
		table(g, "UCS", ucsTable, 0, func() {})
		table(g, "APPID", appTable, 1, func() {
			record(g, "APPID", 0x12, appTable, "AcDbRegAppTableRecord", "ACAD")
			g.whole(70, 0)
		})
		table(g, "DIMSTYLE", dimTable, 1, func() { f.dimStyle(g) })
		table(g, "BLOCK_RECORD", blockRecords, 2+len(f.blocks), func() {
			record(g, "BLOCK_RECORD", modelSpace, blockRecords, "AcDbBlockTableRecord", "*Model_Space")
			record(g, "BLOCK_RECORD", paperSpace, blockRecords, "AcDbBlockTableRecord", "*Paper_Space")
			for _, b := range f.blocks {
				record(g, "BLOCK_RECORD", b.record, blockRecords, "AcDbBlockTableRecord", b.name)
			}
		})
	})
}

// viewport shows all of the model.
func (f *file) viewport(g *groups) {
	record(g, "VPORT", 0x13, vportTable, "AcDbViewportTableRecord", "*ACTIVE")
	g.whole(70, 0)
	pair := func(code int, x, y string) {
		g.put(code, x)
		g.put(code+10, y)
	}
	pair(10, "0.0", "0.0")
	pair(11, "1.0", "1.0")
	f.length(g, 12, f.lo.X+(f.hi.X-f.lo.X)/2)
	f.length(g, 22, f.lo.Y+(f.hi.Y-f.lo.Y)/2)
	pair(13, "0.0", "0.0")
	pair(14, "1.0", "1.0")
	pair(15, "1.0", "1.0")
	pair(16, "0.0", "0.0")
	g.put(36, "1.0")
	pair(17, "0.0", "0.0")
	g.put(37, "0.0")
	wide, tall := f.hi.X-f.lo.X, f.hi.Y-f.lo.Y
	f.length(g, 40, max(tall, wide/2, measure.Metre)*6/5)
	g.put(41, "2.0")
	g.put(42, "50.0")
	for _, code := range []int{43, 44} {
		g.put(code, "0.0")
	}
}

// lineTypes are written in the file's unit as on paper at 1:40, so that they are
// seen as dashes in plan and elevation alike.
func (f *file) lineTypes(g *groups) {
	scale := draw.Scale{Ratio: 40}
	write := func(handle int64, name, title string, parts ...draw.Micron) {
		record(g, "LTYPE", handle, ltypeTable, "AcDbLinetypeTableRecord", name)
		g.whole(70, 0)
		g.put(3, title)
		g.whole(72, 65)
		g.whole(73, int64(len(parts)))
		sum := draw.Micron(0)
		for _, p := range parts {
			sum += max(p, -p)
		}
		f.length(g, 40, scale.Model(sum))
		for _, p := range parts {
			f.length(g, 49, scale.Model(p))
			g.whole(74, 0)
		}
	}
	write(0x14, "ByBlock", "")
	write(0x15, "ByLayer", "")
	write(0x16, "CONTINUOUS", "Solid line")
	gaps := func(t draw.LineType) []draw.Micron {
		p := t.Pattern(draw.Thin)
		for i := 1; i < len(p); i += 2 {
			p[i] = -p[i]
		}
		return p
	}
	write(0x17, "DASHED", "Hidden edges", gaps(draw.Dashed)...)
	write(0x18, "CHAIN", "Axes", gaps(draw.Chain)...)
}

func (f *file) layerRecords(g *groups) {
	write := func(handle int64, name string, colour int64) {
		record(g, "LAYER", handle, layerTable, "AcDbLayerTableRecord", name)
		g.whole(70, 0)
		g.whole(62, colour)
		g.put(6, "CONTINUOUS")
		g.handle(390, plotStyle)
	}
	write(0x10, "0", ink)
	for _, name := range f.order {
		if name == "0" {
			continue
		}
		colour, ok := colours[name]
		if !ok {
			colour = ink
		}
		write(f.newHandle(), name, colour)
	}
}

// dimStyle sizes dimensions for programs that draw them anew.
func (f *file) dimStyle(g *groups) {
	record(g, "DIMSTYLE", 0x19, dimTable, "AcDbDimStyleTableRecord", "STANDARD")
	g.whole(70, 0)
	scale := draw.Scale{Ratio: 40}
	for _, v := range []struct {
		code int
		size draw.Micron
	}{{42, extGap}, {43, dimPitch}, {44, extOver}, {140, draw.MinText}, {142, tick}, {147, textAbove}} {
		f.length(g, v.code, scale.Model(v.size))
	}
	g.whole(73, 0)
	g.whole(74, 0)
	g.whole(77, 1)
	units := int64(4)
	if f.units == measure.Metric {
		units = 2
	}
	g.whole(277, units)
	g.handle(340, standard)
}

// blockSection writes the blocks: the two spaces, empty, and the dimensions.
func (f *file) blockSection(g *groups) {
	section(g, "BLOCKS", func() {
		f.block(g, block{name: "*Model_Space", record: modelSpace})
		f.block(g, block{name: "*Paper_Space", record: paperSpace})
		for _, b := range f.blocks {
			f.block(g, b)
		}
	})
}

func (f *file) block(g *groups, b block) {
	begin := func(kind, class string) {
		g.put(0, kind)
		g.handle(5, f.newHandle())
		g.handle(330, b.record)
		g.put(100, "AcDbEntity")
		if b.record == paperSpace {
			g.whole(67, 1)
		}
		g.put(8, "0")
		g.put(100, class)
	}
	begin("BLOCK", "AcDbBlockBegin")
	g.put(2, b.name)
	flag := int64(0)
	if len(b.name) > 1 && b.name[1] == 'D' {
		flag = 1
	}
	g.whole(70, flag)
	f.point(g, 10, draw.Point{})
	g.put(3, b.name)
	g.put(1, "")
	g.Write(b.body.Bytes())
	begin("ENDBLK", "AcDbBlockEnd")
}

// objects writes the dictionaries every file of this release has.
func (f *file) objects(g *groups) {
	const root, group, styles = 0xC, 0xD, 0xE
	section(g, "OBJECTS", func() {
		begin := func(kind string, handle, owner int64) {
			g.put(0, kind)
			g.handle(5, handle)
			g.handle(330, owner)
		}
		begin("DICTIONARY", root, 0)
		g.put(100, "AcDbDictionary")
		g.whole(281, 1)
		g.put(3, "ACAD_GROUP")
		g.handle(350, group)
		g.put(3, "ACAD_PLOTSTYLENAME")
		g.handle(350, styles)
		begin("DICTIONARY", group, root)
		g.put(100, "AcDbDictionary")
		g.whole(281, 1)
		begin("ACDBDICTIONARYWDFLT", styles, root)
		g.put(100, "AcDbDictionary")
		g.whole(281, 1)
		g.put(3, "Normal")
		g.handle(350, plotStyle)
		g.put(100, "AcDbDictionaryWithDefault")
		g.handle(340, plotStyle)
		begin("ACDBPLACEHOLDER", plotStyle, styles)
	})
}

// blockName is the name of dimension block n.
func blockName(n int) string { return "*D" + strconv.Itoa(n) }
