package cad

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"forkfront/results/sideview"
)

// release is a release of the DXF format.
type release int

const (
	release2000 release = iota // AC1015, with units and dimensions
	release12                  // AC1009, which every program reads, without either
)

// dxf collects a drawing in ASCII DXF: pairs of a group code and a value, each on a line of its own (DXF reference of
// the two releases, recalled). Layers must exist before anything is drawn on them.
type dxf struct {
	release  release
	comment  string
	layers   []dxfLayer
	entities bytes.Buffer
	blocks   []dxfBlock
	into     *bytes.Buffer // what is being drawn into: entities, or a block
	owner    int           // handle of the block record of that
	handles  int           // handles given out
	low      sideview.XZ
	high     sideview.XZ
	drawn    bool // low and high hold what was drawn
}

// dxfLayer is a layer, its colour number (1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white,
// 8 grey, 9 light grey) and whether it is dashed.
type dxfLayer struct {
	name   string
	colour int
	dashed bool
}

// dxfBlock is a block that a dimension shows.
type dxfBlock struct {
	name     string
	record   int // handle of its record
	entities bytes.Buffer
}

// Handles of what every drawing has; others follow.
const (
	handleModel = iota + 1
	handlePaper
	handleDictionary
	handleGroups
	handleFirst = 0x40
)

func newDXF(r release, comment string) *dxf {
	d := &dxf{release: r, comment: comment, handles: handleFirst, owner: handleModel}
	d.into = &d.entities
	return d
}

// handle is a new handle, in hexadecimal digits.
func (d *dxf) handle() string {
	d.handles++
	return fmt.Sprintf("%X", d.handles)
}

// layer adds a layer and returns its name: what is asked for, in the letters that release 12 allows (capitals, digits,
// $ - _, at most 31), told apart by a number where that makes two alike.
func (d *dxf) layer(name string, colour int, dashed bool) string {
	unique := layerName(name, func(n string) bool {
		return slices.ContainsFunc(d.layers, func(l dxfLayer) bool { return l.name == n })
	})
	d.layers = append(d.layers, dxfLayer{unique, colour, dashed})
	return unique
}

func layerName(name string, taken func(string) bool) string {
	legal := strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-' {
			return r
		}
		return '_'
	}, strings.ToUpper(name))
	unique := legal[:min(len(legal), 31)]
	for i := 2; taken(unique); i++ {
		tail := fmt.Sprintf("_%d", i)
		unique = legal[:min(len(legal), 31-len(tail))] + tail
	}
	return unique
}

// pair writes a group code and its value.
func pair(b *bytes.Buffer, code int, value string) { fmt.Fprintf(b, "%3d\n%s\n", code, value) }

// pairs writes pairs of group codes and values, each an int, a float64 or a string.
func pairs(b *bytes.Buffer, codesAndValues ...any) {
	for i := 0; i < len(codesAndValues); i += 2 {
		value := ""
		switch v := codesAndValues[i+1].(type) {
		case float64:
			value = coordinate(v)
		default:
			value = fmt.Sprint(v)
		}
		pair(b, codesAndValues[i].(int), value)
	}
}

// subclass marks whose group codes follow; release 12 has no such marks.
func (d *dxf) subclass(b *bytes.Buffer, name string) {
	if d.release != release12 {
		pair(b, 100, name)
	}
}

// entity begins an entity of a kind whose group codes are those of a subclass.
func (d *dxf) entity(kind, layer, subclass string) {
	pair(d.into, 0, kind)
	if d.release != release12 {
		pairs(d.into, 5, d.handle(), 330, fmt.Sprintf("%X", d.owner), 100, "AcDbEntity")
	}
	pair(d.into, 8, layer)
	d.subclass(d.into, subclass)
}

// point writes the group codes first, first+10 and first+20 of a point in the drawing's plane.
func (d *dxf) point(first int, p sideview.XZ) {
	pairs(d.into, first, p.X, first+10, p.Z, first+20, 0.0)
}

// covers widens the extents by a point and what is around it.
func (d *dxf) covers(p sideview.XZ, around float64) {
	low, high := sideview.XZ{X: p.X - around, Z: p.Z - around}, sideview.XZ{X: p.X + around, Z: p.Z + around}
	if d.drawn {
		low, high = sideview.XZ{X: min(low.X, d.low.X), Z: min(low.Z, d.low.Z)}, sideview.XZ{X: max(high.X, d.high.X), Z: max(high.Z, d.high.Z)}
	}
	d.low, d.high, d.drawn = low, high, true
}

func (d *dxf) line(layer string, from, to sideview.XZ) {
	d.entity("LINE", layer, "AcDbLine")
	d.point(10, from)
	d.point(11, to)
	d.covers(from, 0)
	d.covers(to, 0)
}

func (d *dxf) circle(layer string, centre sideview.XZ, radiusMM float64) {
	d.entity("CIRCLE", layer, "AcDbCircle")
	d.point(10, centre)
	pairs(d.into, 40, radiusMM)
	d.covers(centre, radiusMM)
}

func (d *dxf) mark(layer string, at sideview.XZ) {
	d.entity("POINT", layer, "AcDbPoint")
	d.point(10, at)
	d.covers(at, 0)
}

// text writes a line of text, turned by an angle in degrees; centred puts its middle at the point, not its left end.
func (d *dxf) text(layer string, at sideview.XZ, heightMM, angleDeg float64, centred bool, text string) {
	d.entity("TEXT", layer, "AcDbText")
	d.point(10, at)
	pairs(d.into, 40, heightMM, 1, plainText(text), 50, angleDeg)
	if centred {
		pair(d.into, 72, "1")
		d.point(11, at)
	}
	d.subclass(d.into, "AcDbText")
	d.covers(at, heightMM)
}

func (d *dxf) polyline(layer string, points []sideview.XZ) {
	if d.release == release12 {
		d.entity("POLYLINE", layer, "")
		pair(d.into, 66, "1") // vertices follow
		d.point(10, sideview.XZ{})
		for _, p := range points {
			d.entity("VERTEX", layer, "")
			d.point(10, p)
		}
		d.entity("SEQEND", layer, "")
	} else {
		d.entity("LWPOLYLINE", layer, "AcDbPolyline")
		pairs(d.into, 90, len(points), 70, 0)
		for _, p := range points {
			pairs(d.into, 10, p.X, 20, p.Z)
		}
	}
	for _, p := range points {
		d.covers(p, 0)
	}
}

// plainText keeps to printable ASCII: release 12 says nothing of other letters, and a line break in a value would be
// read as the next group code.
func plainText(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, text)
}

// bytes is the whole file.
func (d *dxf) bytes() []byte {
	var b bytes.Buffer
	pair(&b, 999, plainText(d.comment))
	section := func(name string, fill func()) {
		pairs(&b, 0, "SECTION", 2, name)
		fill()
		pair(&b, 0, "ENDSEC")
	}
	var tables, blocks, objects bytes.Buffer // before the header, which has the next free handle
	d.writeTables(&tables)
	d.writeBlocks(&blocks)
	d.writeObjects(&objects)
	section("HEADER", func() { d.writeHeader(&b) })
	if d.release != release12 {
		section("CLASSES", func() {})
	}
	section("TABLES", func() { b.Write(tables.Bytes()) })
	if d.release != release12 {
		section("BLOCKS", func() { b.Write(blocks.Bytes()) })
	}
	section("ENTITIES", func() { b.Write(d.entities.Bytes()) })
	if d.release != release12 {
		section("OBJECTS", func() { b.Write(objects.Bytes()) })
	}
	pair(&b, 0, "EOF")
	return b.Bytes()
}

// writeHeader has the release, the extents and, where the release has them, the units: millimetres.
func (d *dxf) writeHeader(b *bytes.Buffer) {
	version := "AC1015"
	if d.release == release12 {
		version = "AC1009"
	}
	pairs(b, 9, "$ACADVER", 1, version)
	if d.release != release12 {
		pairs(b, 9, "$HANDSEED", 5, fmt.Sprintf("%X", d.handles+1))
		pairs(b, 9, "$MEASUREMENT", 70, 1, 9, "$INSUNITS", 70, insertMM)
	}
	pairs(b, 9, "$EXTMIN", 10, d.low.X, 20, d.low.Z, 30, 0.0)
	pairs(b, 9, "$EXTMAX", 10, d.high.X, 20, d.high.Z, 30, 0.0)
}

// view is the centre and height of a view of all that is drawn, in a window a third wider than high.
func (d *dxf) view() (centre sideview.XZ, height float64) {
	return sideview.XZ{X: (d.low.X + d.high.X) / 2, Z: (d.low.Z + d.high.Z) / 2}, 1.05 * math.Max(d.high.Z-d.low.Z, (d.high.X-d.low.X)*3/4)
}
