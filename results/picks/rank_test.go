package picks

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// Hwang and Yoon 1981, the choice of a fighter aircraft, from memory: speed, range, payload, cost (low is better),
// reliability and manoeuvrability of four aircraft; closeness 0.643, 0.268, 0.613, 0.312.
func TestClosenessOfPublishedExample(t *testing.T) {
	criteria := [][]float64{
		{-2.0, -2.5, -1.8, -2.2},
		{-1500, -2700, -2000, -1800},
		{-20000, -18000, -21000, -20000},
		{5.5, 6.5, 4.5, 5.0},
		{-5, -3, -7, -5},
		{-9, -5, -7, -5},
	}
	got := Closeness(criteria, []float64{.2, .1, .1, .1, .2, .3})
	for i, want := range []float64{0.643, 0.268, 0.613, 0.312} {
		if math.Abs(got[i]-want) > 0.0015 { // three digits were published, computed from rounded ones
			t.Errorf("aircraft %d: %.4f, published %.3f", i+1, got[i], want)
		}
	}
}

// Of two alternatives that are each the better one in one of two criteria, closed form: the first has the closeness
// a / (a + b), a and b being weight · difference / root of the sum of squares of the criterion that it wins and of the
// one that it loses.
func TestClosenessOfTwo(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		v := [4]float64{rng.Float64(), rng.Float64(), rng.NormFloat64(), rng.NormFloat64()}
		wins, loses := []float64{v[0], v[0] + 1 + v[1]}, []float64{max(v[2], v[3]), min(v[2], v[3])}
		w := []float64{0.1 + rng.Float64(), 0.1 + rng.Float64()}
		a := w[0] * (wins[1] - wins[0]) / math.Hypot(wins[0], wins[1])
		b := w[1] * (loses[0] - loses[1]) / math.Hypot(loses[0], loses[1])
		got := Closeness([][]float64{wins, loses}, w)
		if want := a / (a + b); math.Abs(got[0]-want) > 1e-12 || math.Abs(got[1]-(1-want)) > 1e-12 {
			t.Fatalf("%v, want %v", got, want)
		}
	}
}

// Units do not matter, nor whether all weights are doubled; and a candidate that dominates another is closer.
func TestClosenessProperties(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		criteria, weights := make([][]float64, 4), []float64{1, 2, 0.5, 3}
		scaled, doubled := make([][]float64, 4), []float64{2, 4, 1, 6}
		for k := range criteria {
			for range 10 {
				criteria[k] = append(criteria[k], rng.NormFloat64())
			}
			criteria[k][1] = criteria[k][0] + rng.Float64() // 0 dominates 1
			for _, v := range criteria[k] {
				scaled[k] = append(scaled[k], 25.4*v)
			}
		}
		got, other := Closeness(criteria, weights), Closeness(scaled, doubled)
		for i := range got {
			if math.Abs(got[i]-other[i]) > 1e-12 || !(got[i] >= 0 && got[i] <= 1) {
				t.Fatalf("%v and %v", got, other)
			}
		}
		if got[0] < got[1] {
			t.Fatalf("dominating %v, dominated %v", got[0], got[1])
		}
	}
}

// A weighted preference moves the preferred candidate, here towards the lightest of the bike and back.
func TestPreferenceMovesThePreferred(t *testing.T) {
	front := twoBikes()
	for text, want := range map[string]int{"mass_g=1000,trail_variation_mm=1": 2, "mass_g=1,trail_variation_mm=1000": 0} {
		p, err := ParsePreference(text)
		if err != nil || p.Fits(front) != nil {
			t.Fatal(err, p.Fits(front))
		}
		if got, ok := Named(front, p)["a/wide/preferred"]; !ok || got != want {
			t.Errorf("%s: row %d (%v), want %d", text, got, ok, want)
		}
	}
	if _, there := Named(front, nil)["a/wide/preferred"]; there {
		t.Error("preferred without a preference")
	}
}

func TestPreferenceFaults(t *testing.T) {
	for text, want := range map[string]string{
		"mass_g":              "expected MEASURE=WEIGHT",
		"mass_g=heavy":        "not a number",
		"mass_g=1,mass_g=2":   "given twice",
		"weight=1":            "not a measure",
		"mass_g=0":            "greater than 0",
		"mass_g=NaN":          "greater than 0",
		"mass_g=1e300":        "at most",
		"mass_g=1,":           "expected MEASURE=WEIGHT",
		"mass_g=-1,":          "expected MEASURE=WEIGHT",
		"clearance_mm=-1":     "greater than 0",
		"clearance_mm=+Inf":   "at most",
		"trail_variation=1":   "not a measure",
		"trail_variation_mm=": "not a number",
	} {
		if _, err := ParsePreference(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
	if err := (Preference{"clearance_mm": 1}).Fits(twoBikes()); err == nil {
		t.Error("a measure that the front does not have fits")
	}
}

// On an eighth of a sphere around (1, 1, 1) that bulges towards 0, the knee is the point on the diagonal, whatever the
// units; on a straight line, where all points lie in the hyperplane, it is one of them.
func TestKneeOfASphere(t *testing.T) {
	front := make([][]float64, 3)
	add := func(a, b float64) {
		x := [3]float64{math.Cos(a) * math.Cos(b), math.Cos(a) * math.Sin(b), math.Sin(a)}
		for k, unit := range []float64{1, 1000, 0.01} {
			front[k] = append(front[k], unit*(1-x[k])+unit)
		}
	}
	for i := range 21 {
		for j := range 21 {
			add(math.Pi/40*float64(i), math.Pi/40*float64(j))
		}
	}
	add(math.Asin(1/math.Sqrt(3)), math.Pi/4)
	if got, want := Knee(front), len(front[0])-1; got != want {
		t.Errorf("point %d, want %d", got, want)
	}
}

// By hand: the best of the objectives are (0, 1) and (1, 0); sums are 1, 0.7, 0.9, 1. With the first also the best in
// a third objective, the extreme points are dependent, and the plane through 1 on every axis decides: the second.
func TestKneeByHand(t *testing.T) {
	for _, front := range [][][]float64{
		{{0, 0.2, 0.5, 1}, {1, 0.5, 0.4, 0}},
		{{0, 0.2, 0.5, 1}, {1, 0.5, 0.4, 0}, {0, 0.2, 0.5, 1}},
		{{0, 20, 50, 100}, {1, 0.5, 0.4, 0}, {7, 7, 7, 7}},
	} {
		if got := Knee(front); got != 1 {
			t.Errorf("%v: point %d", front, got)
		}
	}
	for _, none := range [][][]float64{nil, {{1, 2}, {2, 1}}, {{1, 2, 3}}, {{1, 2, 3}, {4, 4, 4}}} {
		if got := Knee(none); got != -1 {
			t.Errorf("%v: point %d, want none", none, got)
		}
	}
}

// Kilograms beside the telescopic fork, and the mechanism that is best in nothing. By hand: k has one candidate,
// dominated by none, with trail variation 26 where g reaches 20, and mass 2250 where g reaches 2200.
func TestListComparesAndExplains(t *testing.T) {
	front := twoBikes()
	mechanism := front.Columns[2]
	mechanism.Name = "mechanism"
	front.Columns = append(front.Columns, mechanism)
	names := front.Series[2]
	names.Texts = []string{"g", "g", "g", "g", "g", "k"}
	front.Series = append(front.Series, names)
	criteria := Criteria(front)
	telescopic := TelescopicOf{"a/g/1": {"trail_variation_mm": 22}, "a/k/1": {"trail_variation_mm": 22}}
	list := NewList(front, criteria, Choose(front, criteria, nil), nil, telescopic)
	both := TelescopicOf{"a/g/1": telescopic["a/g/1"], "b/g/1": {"trail_variation_mm": 30}}
	var above []string // the telescopic forks, each with the candidate that it stands above
	for _, row := range NewList(front, criteria, Choose(front, criteria, nil), nil, both).Rows {
		if r := row.Telescopic; r != nil {
			above = append(above, r.Name+" "+strings.Join(r.Values, " ")+" "+row.ID[:1])
		}
	}
	if !slices.Equal(above, []string{"a/wide/telescopic 22 – a", "b/no package/telescopic 30 – b"}) {
		t.Errorf("telescopic: %q", above)
	}
	said := map[string]string{}
	for _, row := range list.Rows {
		said[row.ID] = row.Against
	}
	if said["a/g/1/1"] != "gives trail variation -2 mm" && said["a/g/1/1"] != "gives trail variation -2" || !strings.HasPrefix(said["a/g/1/3"], "costs trail variation +8") || said["b/g/1/1"] != "" {
		t.Errorf("%q", said)
	}
	if len(list.Mechanisms) != 1 {
		t.Fatalf("%q", list.Mechanisms)
	}
	for _, part := range []string{"a/wide/k is best in nothing", "no other mechanism dominates", " of 4; furthest behind in trail variation (at best 26, others reach 20)"} {
		if !strings.Contains(list.Mechanisms[0], part) {
			t.Errorf("%q lacks %q", list.Mechanisms[0], part)
		}
	}
}
