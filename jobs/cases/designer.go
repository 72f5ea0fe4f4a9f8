package cases

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
)

// Designer turns variables into forks of a case, and is one worker's memory for it. What takes long to make for a tree of
// members is kept: a search comes back to the same few trees.
type Designer struct {
	c        *Case
	across   *fork.Across // the case's, or its own where lanes are chosen
	plain    shape        // of a mechanism that states its members
	shapes   map[string]*shape
	order    []string // of the shapes, by when they were made
	replaced int      // number of shapes that made room for others
	tree     []byte
}

// shape is a mechanism with its members, and the assembly of its parts; nil without a package.
type shape struct {
	mechanism *mechanism.Mechanism
	assembly  *clearance.Assembly
	lanes     []float64 // half widths at which it is; nil: those of the case
}

// mostShapes is the number of shapes that a designer keeps: most searches meet fewer trees, and one takes some 100 kB.
const mostShapes = 256

// Designer makes one.
func (c *Case) Designer() *Designer {
	w := &Designer{c: c, across: c.Across, plain: shape{mechanism: c.Mechanism, assembly: c.Assembly}}
	if slices.ContainsFunc(c.Free, func(f Free) bool { return f.Kind == FreeLane }) {
		own := *c.Across
		own.HalfWidthMM = slices.Clone(c.Across.HalfWidthMM)
		w.across = &own
	}
	return w
}

// shapeOf is the shape that a layout has.
func (w *Designer) shapeOf(layout []kinematics.Vec[float64]) *shape {
	if !w.c.Mechanism.Least() {
		return &w.plain
	}
	w.tree = w.c.Mechanism.AppendTree(w.tree[:0], layout)
	if k := w.shapes[string(w.tree)]; k != nil {
		return k
	}
	k := &shape{mechanism: w.c.Mechanism.WithTree(w.tree)}
	if r := w.c.Assembly; r != nil {
		k.assembly = clearance.NewAssembly(r.Package, k.mechanism, w.across, &w.c.Conditions.Chassis, &w.c.Shock)
		k.lanes = slices.Clone(w.across.HalfWidthMM)
	}
	w.keep(string(w.tree), k)
	return k
}

// keep keeps a shape, in place of the oldest one where there are too many.
func (w *Designer) keep(tree string, k *shape) {
	if w.shapes == nil {
		w.shapes = map[string]*shape{}
	}
	w.shapes[tree] = k
	if len(w.order) < mostShapes {
		w.order = append(w.order, tree)
		return
	}
	at := w.replaced % mostShapes
	delete(w.shapes, w.order[at])
	w.order[at] = tree
	w.replaced++
}

// placed is the assembly of a shape with its bodies in the lanes of the designer.
func (w *Designer) placed(k *shape, shock *fork.Shock) *clearance.Assembly {
	if k.assembly == nil || w.across == w.c.Across {
		return k.assembly
	}
	if k.lanes == nil {
		k.lanes, k.assembly = slices.Clone(w.c.Across.HalfWidthMM), k.assembly.Movable()
	}
	if !slices.Equal(k.lanes, w.across.HalfWidthMM) {
		copy(k.lanes, w.across.HalfWidthMM)
		k.assembly.Place(k.mechanism, w.across, shock)
	}
	return k.assembly
}
