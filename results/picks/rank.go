package picks

import (
	"cmp"
	"math"
	"slices"

	"forkfront/results/table"
)

// Closeness ranks alternatives by TOPSIS (technique for order preference by similarity to ideal solution; Hwang
// and Yoon, Multiple Attribute Decision Making, Springer, 1981). Each criterion, given as its values over the
// alternatives with low values better, is divided by the root of its sum of squares and multiplied by its weight.
// The result has one entry per alternative, from 0 to 1:
//
//	closeness = d⁻ / (d⁺ + d⁻)
//
// d⁺ and d⁻ are the Euclidean distances to the best and to the worst value of every criterion. Weights count in
// proportion; where all alternatives are equal, the closeness is 1. A value that is NaN counts as the worst.
func Closeness(criteria [][]float64, weights []float64) []float64 {
	if len(criteria) == 0 {
		return nil
	}
	best, worst := make([]float64, len(criteria[0])), make([]float64, len(criteria[0]))
	for k, values := range criteria {
		low, high, squares := math.Inf(1), math.Inf(-1), 0.0
		for _, v := range values {
			if !math.IsNaN(v) {
				low, high, squares = math.Min(low, v), math.Max(high, v), squares+v*v
			}
		}
		if squares == 0 {
			continue
		}
		scale := weights[k] / math.Sqrt(squares)
		for i, v := range values {
			if math.IsNaN(v) {
				v = high
			}
			best[i] += (v - low) * (v - low) * scale * scale
			worst[i] += (high - v) * (high - v) * scale * scale
		}
	}
	for i := range best {
		d := math.Sqrt(best[i])
		if all := d + math.Sqrt(worst[i]); all > 0 {
			best[i] = math.Sqrt(worst[i]) / all
		} else {
			best[i] = 1
		}
	}
	return best
}

// Ranked is the place of a candidate among those of its setting.
type Ranked struct {
	Rank      int     // 1 for the best; equals share the better rank
	Of        int     // candidates of the setting
	Closeness float64 // see the function
}

// Rank ranks all candidates of a front within their setting, one entry per row: by the preference, or where there is
// none by all criteria alike.
func Rank(t *table.Table, criteria []Criterion, prefer Preference) []Ranked {
	criteria, weights := prefer.weigh(t, criteria)
	ranked := make([]Ranked, t.Rows)
	for _, setting := range Settings(t) {
		values := make([][]float64, len(criteria))
		for i := range criteria {
			values[i] = criteria[i].values(t, setting.Rows)
		}
		for i, c := range Closeness(values, weights) {
			ranked[setting.Rows[i]] = Ranked{Of: len(setting.Rows), Closeness: c}
		}
		order := slices.Clone(setting.Rows)
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ranked[b].Closeness, ranked[a].Closeness) })
		for i, row := range order {
			ranked[row].Rank = i + 1
			if i > 0 && ranked[row].Closeness == ranked[order[i-1]].Closeness {
				ranked[row].Rank = ranked[order[i-1]].Rank
			}
		}
	}
	return ranked
}

// values are those that rank the given rows, low values better.
func (k *Criterion) values(t *table.Table, rows []int) []float64 {
	values := make([]float64, len(rows))
	for i, row := range rows {
		values[i] = k.sign * t.Number(k.order, row)
	}
	return values
}
