package objectives

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
	"forkfront/objectives/trial"
)

const deg = math.Pi / 180

func conditions() *Conditions {
	return NewConditions(trial.Setting(), structure.DefaultRules(), nil)
}

// prepare works out the telescopic fork once more, of conditions that a test has changed.
func prepare(c *Conditions) { *c = *NewConditions(c.Setting, c.Structure, c.Quarter) }

// study is the fork scored last.
func (sc *scorer) study(d *Design) Study { return Study{sc, d, sc.studies} }

// The figures of the demo's telescopic baseline, computed outside the project by a plain script.
func TestTelescopicBaseline(t *testing.T) {
	c := conditions()
	for _, x := range []struct {
		what            string
		got, want, slop float64
	}{
		{"static load", c.StaticLoadN(), 577, 0.5},
		{"pitch-over", ride.PitchOverG(&c.Chassis), 0.867, 0.0005},
		{"trail at 0", c.Baseline.Ride.States[0].TrailMM, 53.47, 0.005},
		{"trail at 25", c.Baseline.Ride.States[8].TrailMM, 48.44, 0.005},
		{"trail at 50", c.Baseline.Ride.States[16].TrailMM, 43.41, 0.005},
		{"trail at 100", c.Baseline.Ride.States[32].TrailMM, 33.30, 0.005},
		{"anti-dive at top-out", ride.AntiDive(&c.Chassis, &c.Baseline.Ride.States[0]), -33.8, 0.05},
		{"anti-dive at full travel", ride.AntiDive(&c.Chassis, &c.Baseline.Ride.States[32]), -26.2, 0.05},
		{"brake dive", c.Baseline.BrakeDiveMM, 35.7, 0.05},
		{"spring", c.Baseline.SpringNPerMM, 21.8, 0.05},
	} {
		if math.Abs(x.got-x.want) > x.slop { // the last printed digit
			t.Errorf("%s: %.4f, want %g", x.what, x.got, x.want)
		}
	}
}

func girder(testing.TB) *mechanism.Mechanism { return trial.Girder() }

func randomDesign(m *mechanism.Mechanism, r *rand.Rand) *Design {
	return &Design{
		Mechanism: m, Layout: trial.Layout(m, r), Shock: fork.Shock{Count: 1, EyeToEyeMM: 165, StrokeMM: 45},
		Across: fork.DefaultAcross(m), Material: fork.MaterialNamed("7075-T6"),
	}
}

// The exact derivative of every measure against central differences, along random directions.
func TestSlopesAgreeWithCentralDifferences(t *testing.T) {
	c := damped()
	m := girder(t)
	r := rand.New(rand.NewPCG(7, 8))
	sc, other := newScorer(c), newScorer(c)
	checked := make([]int, len(Measures))
	for k := range 400 {
		d := clearGirder(c, m, r)
		if k%4 == 0 {
			d.Shock.Air = &fork.AirSpring{BoreMM: 38, ChamberMM: 120, Exponent: 1.3}
		}
		var s Score
		sc.Score(&s, d)
		if s.Missing[Index("brake_dive_mm")] != "" {
			continue
		}
		direction := make([]kinematics.Vec[float64], len(d.Layout))
		for i := range direction {
			if m.Points[i] != "axle" {
				direction[i] = kinematics.Vec[float64]{Along: r.NormFloat64(), Ahead: r.NormFloat64()}
			}
		}
		slopes := make([]float64, len(Measures))
		sc.study(d).Slope(slopes, direction, nil)
		const h = 1e-4
		moved := func(by float64) Score {
			e := *d
			e.Layout = append([]kinematics.Vec[float64](nil), d.Layout...)
			for i := range direction {
				e.Layout[i].Along += by * direction[i].Along
				e.Layout[i].Ahead += by * direction[i].Ahead
			}
			var out Score
			other.Score(&out, &e)
			return out
		}
		high, low := moved(h), moved(-h)
		for i := range Measures {
			if high.Missing[i] != "" || low.Missing[i] != "" || i == Index("clearance_mm") && s.Values[i] < 0 {
				continue // axes that cross stay crossed; how deep parts overlap is only as exact as it is found
			}
			central := (high.Values[i] - low.Values[i]) / (2 * h)
			left, right := (s.Values[i]-low.Values[i])/h, (high.Values[i]-s.Values[i])/h
			if math.Abs(left-right) > 1e-3*(1+math.Abs(central)) {
				continue // a kink of a largest or smallest value lies within the difference
			}
			slop := 1e-5
			if i == DampingVariation {
				slop = 1e-2 // of the values, divided by h; see TestSlopeOfDampingVariation
			}
			if math.Abs(central-slopes[i]) > slop*(1+math.Abs(central)) {
				t.Fatalf("%s: exact slope %g, central difference %g; closest %s", Measures[i].Name, slopes[i], central, s.Closest.Pair)
			}
			checked[i]++
		}
	}
	for i, n := range checked {
		if n < 20 && !Measures[i].Slow() {
			t.Errorf("%s was checked %d times only", Measures[i].Name, n)
		}
	}
}

func TestScoreAllocatesNothing(t *testing.T) {
	c := damped()
	m := girder(t)
	r := rand.New(rand.NewPCG(7, 8))
	sc := newScorer(c)
	var s Score
	for range 100 {
		d := clearGirder(c, m, r)
		if sc.Score(&s, d); s.Missing[Index("brake_dive_mm")] != "" {
			continue
		}
		if n := testing.AllocsPerRun(20, func() { sc.Score(&s, d) }); n > 0 {
			t.Fatalf("%v allocations a design", n)
		}
	}
}
