package readers

import (
	"context"
	"fmt"

	"github.com/apache/arrow-go/v18/arrow"
	"github.com/apache/arrow-go/v18/arrow/array"
	"github.com/apache/arrow-go/v18/arrow/memory"
	"github.com/apache/arrow-go/v18/parquet/file"
	"github.com/apache/arrow-go/v18/parquet/pqarrow"
)

// ByArrow reads a table with arrow-go.
func ByArrow(path string) (*Summary, error) {
	reader, err := file.OpenParquetFile(path, false)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	arrows, err := pqarrow.NewFileReader(reader, pqarrow.ArrowReadProperties{}, memory.DefaultAllocator)
	if err != nil {
		return nil, err
	}
	table, err := arrows.ReadTable(context.Background())
	if err != nil {
		return nil, err
	}
	defer table.Release()
	var names []string
	for _, f := range table.Schema().Fields() {
		names = append(names, f.Name)
	}
	t := newTally(names)
	t.rows = int(table.NumRows())
	for col := range names {
		for _, chunk := range table.Column(col).Data().Chunks() {
			if err := addChunk(t, col, chunk); err != nil {
				return nil, err
			}
		}
	}
	return t.summary(), nil
}

func addChunk(t *tally, col int, chunk arrow.Array) error {
	for i := range chunk.Len() {
		var v any
		if !chunk.IsNull(i) {
			switch a := chunk.(type) {
			case *array.Float64:
				v = a.Value(i)
			case *array.Int64:
				v = a.Value(i)
			case *array.String:
				v = a.Value(i)
			case *array.Boolean:
				v = a.Value(i)
			default:
				return fmt.Errorf("column %s: a %s", t.names[col], chunk.DataType())
			}
		}
		if err := t.add(col, v); err != nil {
			return err
		}
	}
	return nil
}
