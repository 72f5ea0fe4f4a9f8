package dominance

// stairLayers are layers of points with three columns: of those that came before a point in
// lexicographic order, none worse in the first, one dominates it if it is no worse in the
// second and third either. So each layer is held as a staircase in these two.
type stairLayers struct {
	points [][]float64
	layers []Staircase
}

func (l *stairLayers) dominated(layer, point int) bool {
	p := l.points[point]
	return l.layers[layer].Covers(p[1], p[2])
}

func (l *stairLayers) put(layer, point int) {
	if layer == len(l.layers) {
		l.layers = append(l.layers, Staircase{})
	}
	p, stairs := l.points[point], &l.layers[layer]
	if from, to, covered := stairs.Find(p[1], p[2]); !covered {
		stairs.Replace(from, to, p[1], p[2])
	}
}
