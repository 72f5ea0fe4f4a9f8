package table

import (
	"reflect"

	"github.com/parquet-go/parquet-go"
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
		node = parquet.Leaf(parquet.DoubleType)
	}
	node = parquet.Compressed(node, &parquet.Zstd)
	if c.Optional {
		return parquet.Optional(node)
	}
	return parquet.Required(node)
}
