package spacing

import "cmp"

// How far a column may reach: bulkFactor times the range in which the lower bulkShare of its values lie.
// On an even simplex or sphere of up to eight objectives the best end of the others is within.
const (
	bulkShare  = 0.95
	bulkFactor = 3
	bulkPoints = 20 // points below which nothing is an outlier
)

// trimmedBounds is bounds with the high end of outliers cut off, three objectives and more. The more there are, the
// easier a bad point is dominated by none, being best in one of them by a rounding error; scaled to its
// range, all good points would lie on top of each other in the columns where it is bad. Two
// objectives have no such points, but fronts with far pieces.
func trimmedBounds(points [][]float64) (low, high []float64) {
	low, high = Bounds(points)
	if len(low) < 3 || len(points) < bulkPoints {
		return low, high
	}
	column := make([]float64, len(points))
	for j := range low {
		for i, p := range points {
			column[i] = p[j]
		}
		bulk := ranked(column, int(bulkShare*float64(len(column)))) - low[j]
		if bulk > 0 {
			high[j] = min(high[j], low[j]+bulkFactor*bulk)
		}
	}
	return low, high
}

// ranked is the value that has a place in ascending order, from 0; it changes the order of values.
func ranked(values []float64, at int) float64 {
	place(0, len(values), at, func(k int) float64 { return values[k] }, func(i, j int) { values[i], values[j] = values[j], values[i] })
	return values[at]
}

// place exchanges what is from from to to until all before at have no greater keys than it and all behind it no lesser ones (Hoare's
// selection).
func place[K cmp.Ordered](from, to, at int, key func(k int) K, exchange func(i, j int)) {
	for to-from > 1 {
		pivot := key((from + to) / 2)
		i, j := from, to-1
		for i <= j {
			for key(i) < pivot {
				i++
			}
			for key(j) > pivot {
				j--
			}
			if i <= j {
				exchange(i, j)
				i++
				j--
			}
		}
		switch {
		case at <= j:
			to = j + 1
		case at >= i:
			from = i
		default:
			return
		}
	}
}
