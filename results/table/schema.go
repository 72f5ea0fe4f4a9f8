package table

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"reflect"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// orderedGroup is a group whose fields stay in the order given; parquet.Group is a map and sorts
// its fields by name.
type orderedGroup struct {
	parquet.Group
	fields []parquet.Field
}

func (g *orderedGroup) Fields() []parquet.Field { return g.fields }

type orderedField struct {
	parquet.Node
	name string
}

func (f *orderedField) Name() string { return f.name }

// Value is asked for by writers of Go structs; tables write rows of values and never call it.
func (f *orderedField) Value(base reflect.Value) reflect.Value {
	return base.MapIndex(reflect.ValueOf(f.name))
}

func schemaOf(columns []Column) *parquet.Schema {
	group := &orderedGroup{Group: parquet.Group{}}
	for i := range columns {
		node := nodeOf(&columns[i])
		group.Group[columns[i].Name] = node
		group.fields = append(group.fields, &orderedField{node, columns[i].Name})
	}
	return parquet.NewSchema("forkfront", group)
}

// readLayout reads the footer of a file: its schema, and where its pages are.
func readLayout(f *os.File) (*format.FileMetaData, int64, error) {
	footer, at, err := findFooter(f)
	if err != nil {
		return nil, 0, err
	}
	layout := &format.FileMetaData{}
	if err := thrift.Unmarshal(new(thrift.CompactProtocol), footer, layout); err != nil {
		return nil, 0, fmt.Errorf("damaged file: its footer: %w", err)
	}
	return layout, at + int64(len(footer)) + footerTail, nil
}

// checkSchema compares the schema of a file with the one that a Writer of these columns gives it.
func checkSchema(layout *format.FileMetaData, columns []Column) error {
	var empty bytes.Buffer
	if err := parquet.NewGenericWriter[any](&empty, schemaOf(columns)).Close(); err != nil {
		return err
	}
	like, err := parquet.OpenFile(bytes.NewReader(empty.Bytes()), int64(empty.Len()))
	if err != nil {
		return err
	}
	if !reflect.DeepEqual(layout.Schema, like.Metadata().Schema) {
		return errors.New("damaged file: the columns are not those of the dictionary in the footer")
	}
	return nil
}

func nodeOf(c *Column) parquet.Node {
	var node parquet.Node
	switch c.Kind {
	case Int:
		node = parquet.Int(64)
	case Text:
		node = parquet.Encoded(parquet.String(), &parquet.RLEDictionary)
	case Bool:
		node = parquet.Leaf(parquet.BooleanType)
	default:
		// The bytes of neighbouring values that stand for sign and exponent, and the first of the mantissa, are alike: with
		// each byte of all values in a stream of its own, they compress.
		node = parquet.Encoded(parquet.Leaf(parquet.DoubleType), &parquet.ByteStreamSplit)
	}
	node = parquet.Compressed(node, &parquet.Zstd)
	if c.Optional {
		return parquet.Optional(node)
	}
	return parquet.Required(node)
}
