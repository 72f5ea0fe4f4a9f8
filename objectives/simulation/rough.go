package simulation

import (
	"math"

	"forkfront/objectives/quarter"
)

// A rough road is a sum of roughBands cosines, one per band of spatial frequency between roughFrom and roughTo in 1/m; the
// bands are equally wide on a logarithmic scale.
const (
	roughBands         = 96
	roughFrom, roughTo = 0.05, 5.0
	roughPointM        = 0.01 // distance of its points
	roughEaseM         = 2.0  // over which it rises from level
)

// Rough is a realisation of a road of a class of ISO 8608, from start on, as long as length, in m: a sum of cosines with
// random phases. Same class and seed, same road.
func Rough(class byte, start, length float64, seed uint64) *Road {
	roughness := (&quarter.Road{Class: class}).Roughness()
	var amplitude, step, sine, cosine, turnSine, turnCosine [roughBands]float64
	state := seed
	edge := roughFrom
	for i := range roughBands {
		next := roughFrom * math.Pow(roughTo/roughFrom, float64(i+1)/roughBands)
		amplitude[i] = math.Sqrt(2 * roughness * quarter.ReferenceWave * quarter.ReferenceWave * (1/edge - 1/next))
		step[i] = 2 * math.Pi * math.Sqrt(edge*next)
		phase := 2 * math.Pi * splitMix(&state)
		sine[i], cosine[i] = math.Sincos(phase)
		turnSine[i], turnCosine[i] = math.Sincos(step[i] * roughPointM)
		edge = next
	}
	points := make([][2]float64, int(math.Ceil(length/roughPointM))+1)
	for k := range points {
		x, z := roughPointM*float64(k), 0.0
		for i := range roughBands {
			z += amplitude[i] * cosine[i]
			cosine[i], sine[i] = cosine[i]*turnCosine[i]-sine[i]*turnSine[i], sine[i]*turnCosine[i]+cosine[i]*turnSine[i]
		}
		u := math.Min(x/roughEaseM, 1)
		points[k] = [2]float64{start + x, z * u * u * (3 - 2*u)}
	}
	return NewRoad(points)
}

// splitMix gives numbers from 0 to 1, evenly distributed: the upper 53 bits of SplitMix64 (Steele, Lea and Flood, Fast
// splittable pseudorandom number generators, 2014).
func splitMix(state *uint64) float64 {
	*state += 0x9e3779b97f4a7c15
	z := *state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return float64((z^z>>31)>>11) / (1 << 53)
}
