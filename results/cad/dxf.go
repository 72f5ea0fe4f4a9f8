package cad

import (
	"bytes"
	"fmt"
	"strings"

	"forkfront/results/sideview"
)

// dxf collects a drawing in DXF, release 12, ASCII (DXF reference of that release, recalled): pairs
// of a group code and a value, each on a line of its own; sections HEADER, TABLES and ENTITIES. The
// release has no units; a comment says that one unit is 1 mm. Layers must be there before what is
// drawn on them.
type dxf struct {
	layers   []dxfLayer
	entities bytes.Buffer
}

// dxfLayer is a layer, its colour number (1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta,
// 7 black or white, 8 grey) and whether it is dashed.
type dxfLayer struct {
	name   string
	colour int
	dashed bool
}

// layer adds a layer and returns its name: what is asked for, in the letters that release 12 allows
// (capitals, digits, $ - _, at most 31), told apart by a number where that makes two alike.
func (d *dxf) layer(name string, colour int, dashed bool) string {
	legal := strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-' {
			return r
		}
		return '_'
	}, strings.ToUpper(name))
	taken := func(n string) bool {
		for _, l := range d.layers {
			if l.name == n {
				return true
			}
		}
		return false
	}
	unique := legal[:min(len(legal), 31)]
	for i := 2; taken(unique); i++ {
		tail := fmt.Sprintf("_%d", i)
		unique = legal[:min(len(legal), 31-len(tail))] + tail
	}
	d.layers = append(d.layers, dxfLayer{unique, colour, dashed})
	return unique
}

// pair writes a group code and its value.
func pair(b *bytes.Buffer, code int, value string) { fmt.Fprintf(b, "%3d\n%s\n", code, value) }

// point writes the group codes first, first+10 and first+20 of a point in the drawing's plane.
func (d *dxf) point(first int, p sideview.XZ) {
	pair(&d.entities, first, coordinate(p.X))
	pair(&d.entities, first+10, coordinate(p.Z))
	pair(&d.entities, first+20, coordinate(0))
}

func (d *dxf) entity(kind, layer string) {
	pair(&d.entities, 0, kind)
	pair(&d.entities, 8, layer)
}

func (d *dxf) line(layer string, from, to sideview.XZ) {
	d.entity("LINE", layer)
	d.point(10, from)
	d.point(11, to)
}

func (d *dxf) circle(layer string, centre sideview.XZ, radiusMM float64) {
	d.entity("CIRCLE", layer)
	d.point(10, centre)
	pair(&d.entities, 40, coordinate(radiusMM))
}

func (d *dxf) mark(layer string, at sideview.XZ) {
	d.entity("POINT", layer)
	d.point(10, at)
}

func (d *dxf) text(layer string, at sideview.XZ, heightMM float64, text string) {
	d.entity("TEXT", layer)
	d.point(10, at)
	pair(&d.entities, 40, coordinate(heightMM))
	pair(&d.entities, 1, plainText(text))
}

func (d *dxf) polyline(layer string, points []sideview.XZ) {
	d.entity("POLYLINE", layer)
	pair(&d.entities, 66, "1") // vertices follow
	d.point(10, sideview.XZ{})
	for _, p := range points {
		d.entity("VERTEX", layer)
		d.point(10, p)
	}
	d.entity("SEQEND", layer)
}

// plainText keeps to printable ASCII: release 12 says nothing of other letters, and a line break in
// a value would be read as the next group code.
func plainText(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, text)
}

// bytes is the whole file.
func (d *dxf) bytes(comment string) []byte {
	var b bytes.Buffer
	pair(&b, 999, plainText(comment))
	open := func(section string) { pair(&b, 0, "SECTION"); pair(&b, 2, section) }
	open("HEADER")
	pair(&b, 9, "$ACADVER")
	pair(&b, 1, "AC1009")
	pair(&b, 0, "ENDSEC")
	open("TABLES")
	d.lineTypes(&b)
	d.layerTable(&b)
	pair(&b, 0, "ENDSEC")
	open("ENTITIES")
	b.Write(d.entities.Bytes())
	pair(&b, 0, "ENDSEC")
	pair(&b, 0, "EOF")
	return b.Bytes()
}

// lineTypes defines CONTINUOUS, and DASHED as 6 mm on, 3 mm off.
func (d *dxf) lineTypes(b *bytes.Buffer) {
	pair(b, 0, "TABLE")
	pair(b, 2, "LTYPE")
	pair(b, 70, "2")
	for _, t := range []struct {
		name, shows string
		dashes      []string
	}{{"CONTINUOUS", "Solid line", nil}, {"DASHED", "__ __ __", []string{"6.0", "-3.0"}}} {
		pair(b, 0, "LTYPE")
		pair(b, 2, t.name)
		pair(b, 70, "0")
		pair(b, 3, t.shows)
		pair(b, 72, "65") // alignment, always A
		pair(b, 73, fmt.Sprint(len(t.dashes)))
		total := "0.0"
		if t.dashes != nil {
			total = "9.0"
		}
		pair(b, 40, total)
		for _, dash := range t.dashes {
			pair(b, 49, dash)
		}
	}
	pair(b, 0, "ENDTAB")
}

func (d *dxf) layerTable(b *bytes.Buffer) {
	pair(b, 0, "TABLE")
	pair(b, 2, "LAYER")
	pair(b, 70, fmt.Sprint(len(d.layers)))
	for _, l := range d.layers {
		pair(b, 0, "LAYER")
		pair(b, 2, l.name)
		pair(b, 70, "0")
		pair(b, 62, fmt.Sprint(l.colour))
		kind := "CONTINUOUS"
		if l.dashed {
			kind = "DASHED"
		}
		pair(b, 6, kind)
	}
	pair(b, 0, "ENDTAB")
}
