package lanes

import (
	"math"
	"math/rand/v2"
	"testing"
)

// random returns points of some columns around the range 0…1, some far beyond it.
func random(rng *rand.Rand, n, columns int) [][]float64 {
	points := make([][]float64, n)
	for i := range points {
		points[i] = make([]float64, columns)
		for j := range points[i] {
			points[i][j] = rng.Float64()
			switch rng.IntN(20) {
			case 0:
				points[i][j] = math.Round(3 * points[i][j])
			case 1:
				points[i][j] = 1e12 * (points[i][j] - 0.5)
			}
		}
	}
	return points
}

func fitted(columns int) *Lanes {
	low, high := make([]float64, columns), make([]float64, columns)
	for j := range high {
		high[j] = 1
	}
	l := &Lanes{}
	l.Fit(low, high)
	return l
}

// A point that is nowhere above another one must not be found to be, and, where columns differ by more than lanes round, the
// other way about.
func TestNoneAboveFollowsThePoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for columns := 1; columns <= 20; columns++ {
		l := fitted(columns)
		points := random(rng, 60, columns)
		told, open := 0, 0
		for _, p := range points {
			for _, q := range points {
				below, apart := true, false
				for j := range p {
					below = below && p[j] <= q[j]
					apart = apart || j < most && math.Min(p[j], 1)-math.Max(q[j], 0) > 2/l.most
				}
				switch got := l.NoneAbove(l.Pack(p), l.Pack(q)); {
				case below && !got:
					t.Fatalf("%v is nowhere above %v, their words are", p, q)
				case apart && got:
					t.Fatalf("%v is above %v, their words are not", p, q)
				case apart:
					told++
				case !below:
					open++
				}
			}
		}
		if told < 10*open {
			t.Errorf("%d columns: only %d of %d pairs told apart", columns, told, told+open)
		}
	}
}

// Bounds widened by words hold them all and are met in every lane; the widest lane is that of the largest range.
func TestBoundsOfWords(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	for columns := 1; columns <= 16; columns++ {
		l := fitted(columns)
		points := random(rng, 1+rng.IntN(40), columns)
		low, high := l.Pack(points[0]), l.Pack(points[0])
		for _, p := range points {
			l.Widen(&low, &high, l.Pack(p))
		}
		widest := uint64(0)
		for k := range columns {
			least, largest := l.Lane(l.Pack(points[0]), k), uint64(0)
			for _, p := range points {
				least, largest = min(least, l.Lane(l.Pack(p), k)), max(largest, l.Lane(l.Pack(p), k))
			}
			if l.Lane(low, k) != least || l.Lane(high, k) != largest {
				t.Fatalf("%d columns: lane %d is bounded by %d and %d, should be by %d and %d", columns, k, l.Lane(low, k), l.Lane(high, k), least, largest)
			}
			widest = max(widest, largest-least)
		}
		if at, span := l.Widest(low, high); span != widest || l.Lane(high, at)-l.Lane(low, at) != span {
			t.Fatalf("%d columns: lane %d is widest with %d, should be %d", columns, at, span, widest)
		}
	}
}

// Points within a distance of each other in every column are within each other's reach, and those far apart in one are not.
func TestReachHoldsWhatIsNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for columns := 1; columns <= 18; columns++ {
		l := fitted(columns)
		points := random(rng, 60, columns)
		for _, p := range points {
			for _, q := range points {
				distance, seen := 0.0, 0.0
				for j := range p {
					distance = max(distance, math.Abs(p[j]-q[j]))
					if j < most {
						seen = max(seen, math.Abs(math.Min(math.Max(p[j], 0), 1)-math.Min(math.Max(q[j], 0), 1)))
					}
				}
				within := func(d float64) bool {
					low, high := l.Reach(l.Pack(p), d)
					w := l.Pack(q)
					return l.NoneAbove(low, w) && l.NoneAbove(w, high)
				}
				if !within(distance) {
					t.Fatalf("%v is beyond %g of %v", q, distance, p)
				}
				if short := seen - 4/l.most; short > 0 && within(short) {
					t.Fatalf("%v is within %g of %v", q, short, p)
				}
			}
		}
	}
}
