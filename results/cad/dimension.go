package cad

import (
	"fmt"
	"math"

	"forkfront/results/sideview"
)

// How dimensions are drawn, in mm.
const (
	dimensionText   = 5.0
	dimensionOffset = 14.0 // between the dimension line and what it measures
	extensionGap    = 2.0  // before and beyond an extension line
	dimensionDigits = 2
)

// dimension measures the distance between two points along the line through them. Programs show the block, until
// someone changes the dimension; release 12 gets the lines of the block only.
func (d *dxf) dimension(layer string, from, to sideview.XZ) {
	length := math.Hypot(to.X-from.X, to.Z-from.Z)
	if length < 2*dimensionText {
		return // too short to read
	}
	if to.X < from.X { // so that the text stands upright
		from, to = to, from
	}
	way := sideview.XZ{X: (to.X - from.X) / length, Z: (to.Z - from.Z) / length}
	beside := func(p sideview.XZ, off float64) sideview.XZ {
		return sideview.XZ{X: p.X - way.Z*off, Z: p.Z + way.X*off}
	}
	middle := beside(sideview.XZ{X: (from.X + to.X) / 2, Z: (from.Z + to.Z) / 2}, dimensionOffset+dimensionText/4)
	draw := func() {
		d.line(layer, beside(from, dimensionOffset), beside(to, dimensionOffset))
		for _, end := range []sideview.XZ{from, to} {
			d.line(layer, beside(end, extensionGap), beside(end, dimensionOffset+extensionGap))
		}
		d.text(layer, middle, dimensionText, math.Atan2(way.Z, way.X)*180/math.Pi, true, fmt.Sprintf("%.*f", dimensionDigits, length))
	}
	if d.release == release12 {
		draw()
		return
	}
	name := d.block(draw)
	d.entity("DIMENSION", layer, "AcDbDimension")
	pair(d.into, 2, name)
	d.point(10, beside(to, dimensionOffset))
	d.point(11, middle)
	pairs(d.into, 70, 1+32, 71, 8, 1, "", 3, "STANDARD", 42, length) // aligned, with a block of its own; the text's bottom is centred
	d.subclass(d.into, "AcDbAlignedDimension")
	d.point(13, from)
	d.point(14, to)
}

// block collects what is drawn into a new block and returns its name.
func (d *dxf) block(draw func()) string {
	d.handles++
	d.blocks = append(d.blocks, dxfBlock{name: fmt.Sprintf("*D%d", len(d.blocks)+1), record: d.handles})
	b := &d.blocks[len(d.blocks)-1]
	into, owner := d.into, d.owner
	d.into, d.owner = &b.entities, b.record
	draw()
	d.into, d.owner = into, owner
	return b.name
}
