package cad

import (
	"bytes"
	"fmt"
)

// writeTables has what entities refer to. Release 2000 wants every table and a handle for each of its records.
func (d *dxf) writeTables(b *bytes.Buffer) {
	if d.release == release12 {
		d.table(b, "LTYPE", 2, d.lineTypes)
		d.table(b, "LAYER", len(d.layers), d.layerRecords)
		return
	}
	d.table(b, "VPORT", 1, func(b *bytes.Buffer, owner string) {
		centre, height := d.view()
		d.record(b, "VPORT", owner, "*Active")
		pairs(b, 10, 0.0, 20, 0.0, 11, 1.0, 21, 1.0, 12, centre.X, 22, centre.Z, 13, 0.0, 23, 0.0, 14, 10.0, 24, 10.0, 15, 10.0, 25, 10.0)
		pairs(b, 16, 0.0, 26, 0.0, 36, 1.0, 17, 0.0, 27, 0.0, 37, 0.0, 40, height, 41, 4.0/3, 42, 50.0)
	})
	d.table(b, "LTYPE", 4, func(b *bytes.Buffer, owner string) {
		for _, name := range []string{"ByBlock", "ByLayer"} {
			d.lineType(b, owner, name, "", nil)
		}
		d.lineTypes(b, owner)
	})
	d.table(b, "LAYER", 1+len(d.layers), func(b *bytes.Buffer, owner string) {
		d.layerRecord(b, owner, &dxfLayer{name: "0", colour: 7})
		d.layerRecords(b, owner)
	})
	d.table(b, "STYLE", 1, func(b *bytes.Buffer, owner string) {
		d.record(b, "STYLE", owner, "Standard")
		pairs(b, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 8.0, 3, "txt", 4, "")
	})
	d.table(b, "VIEW", 0, nil)
	d.table(b, "UCS", 0, nil)
	d.table(b, "APPID", 1, func(b *bytes.Buffer, owner string) { d.record(b, "APPID", owner, "ACAD") })
	d.table(b, "DIMSTYLE", 1, d.dimensionStyle)
	d.table(b, "BLOCK_RECORD", 2+len(d.blocks), func(b *bytes.Buffer, owner string) {
		d.blockRecord(b, owner, handleModel, "*Model_Space")
		d.blockRecord(b, owner, handlePaper, "*Paper_Space")
		for i := range d.blocks {
			d.blockRecord(b, owner, d.blocks[i].record, d.blocks[i].name)
		}
	})
}

// table writes a table of so many records.
func (d *dxf) table(b *bytes.Buffer, name string, records int, fill func(b *bytes.Buffer, owner string)) {
	pairs(b, 0, "TABLE", 2, name)
	owner := ""
	if d.release != release12 {
		owner = d.handle()
		pairs(b, 5, owner, 330, "0", 100, "AcDbSymbolTable")
	}
	pairs(b, 70, records)
	if name == "DIMSTYLE" {
		d.subclass(b, "AcDbDimStyleTable")
		pairs(b, 71, 0)
	}
	if fill != nil {
		fill(b, owner)
	}
	pair(b, 0, "ENDTAB")
}

// recordClasses are the subclasses of the records of each table.
var recordClasses = map[string]string{
	"VPORT": "AcDbViewportTableRecord", "LTYPE": "AcDbLinetypeTableRecord", "LAYER": "AcDbLayerTableRecord",
	"STYLE": "AcDbTextStyleTableRecord", "APPID": "AcDbRegAppTableRecord", "DIMSTYLE": "AcDbDimStyleTableRecord",
}

// record begins a record of a table.
func (d *dxf) record(b *bytes.Buffer, table, owner, name string) {
	pair(b, 0, table)
	if d.release != release12 {
		code := 5
		if table == "DIMSTYLE" {
			code = 105
		}
		pairs(b, code, d.handle(), 330, owner, 100, "AcDbSymbolTableRecord", 100, recordClasses[table])
	}
	pairs(b, 2, name, 70, 0)
}

// lineTypes defines CONTINUOUS, and DASHED as 6 mm on, 3 mm off.
func (d *dxf) lineTypes(b *bytes.Buffer, owner string) {
	d.lineType(b, owner, "CONTINUOUS", "Solid line", nil)
	d.lineType(b, owner, "DASHED", "__ __ __", []float64{6, -3})
}

func (d *dxf) lineType(b *bytes.Buffer, owner, name, shows string, dashes []float64) {
	d.record(b, "LTYPE", owner, name)
	total := 0.0
	for _, dash := range dashes {
		total += max(dash, -dash)
	}
	pairs(b, 3, shows, 72, 65, 73, len(dashes), 40, total) // 65: alignment, always A
	for _, dash := range dashes {
		pairs(b, 49, dash)
		if d.release != release12 {
			pairs(b, 74, 0)
		}
	}
}

func (d *dxf) layerRecords(b *bytes.Buffer, owner string) {
	for i := range d.layers {
		d.layerRecord(b, owner, &d.layers[i])
	}
}

func (d *dxf) layerRecord(b *bytes.Buffer, owner string, l *dxfLayer) {
	d.record(b, "LAYER", owner, l.name)
	kind := "CONTINUOUS"
	if l.dashed {
		kind = "DASHED"
	}
	pairs(b, 62, l.colour, 6, kind)
}

// dimensionStyle has what programs need to draw the dimensions again when they are changed.
func (d *dxf) dimensionStyle(b *bytes.Buffer, owner string) {
	d.record(b, "DIMSTYLE", owner, "STANDARD")
	pairs(b, 41, dimensionText/2, 42, extensionGap, 44, extensionGap, 140, dimensionText, 147, dimensionText/4, 271, dimensionDigits, 73, 0, 77, 1)
}

func (d *dxf) blockRecord(b *bytes.Buffer, owner string, handle int, name string) {
	pairs(b, 0, "BLOCK_RECORD", 5, fmt.Sprintf("%X", handle), 330, owner, 100, "AcDbSymbolTableRecord", 100, "AcDbBlockTableRecord", 2, name)
}

// writeBlocks has the two spaces, whose entities stand in a section of their own, and the blocks.
func (d *dxf) writeBlocks(b *bytes.Buffer) {
	d.writeBlock(b, handleModel, "*Model_Space", 0, nil)
	d.writeBlock(b, handlePaper, "*Paper_Space", 0, nil)
	for i := range d.blocks {
		k := &d.blocks[i]
		d.writeBlock(b, k.record, k.name, 1, k.entities.Bytes()) // 1: made by a dimension
	}
}

func (d *dxf) writeBlock(b *bytes.Buffer, record int, name string, flags int, entities []byte) {
	owner := fmt.Sprintf("%X", record)
	pairs(b, 0, "BLOCK", 5, d.handle(), 330, owner, 100, "AcDbEntity")
	if record == handlePaper {
		pairs(b, 67, 1)
	}
	pairs(b, 8, "0", 100, "AcDbBlockBegin", 2, name, 70, flags, 10, 0.0, 20, 0.0, 30, 0.0, 3, name, 1, "")
	b.Write(entities)
	pairs(b, 0, "ENDBLK", 5, d.handle(), 330, owner, 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
}

// writeObjects has the dictionary that every drawing of release 2000 has.
func (d *dxf) writeObjects(b *bytes.Buffer) {
	root, groups := fmt.Sprintf("%X", handleDictionary), fmt.Sprintf("%X", handleGroups)
	pairs(b, 0, "DICTIONARY", 5, root, 330, "0", 100, "AcDbDictionary", 281, 1, 3, "ACAD_GROUP", 350, groups)
	pairs(b, 0, "DICTIONARY", 5, groups, 330, root, 100, "AcDbDictionary", 281, 1)
}
