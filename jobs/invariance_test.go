package jobs

import (
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/objectives"
)

// Every example is scored a second time after a change that must not matter, or must in a known way.
// Sizes are left out but for the order of a file's lists: loads and prices do not scale with lengths.

// eachConcept reads every example twice, hands the second to change and both scores to compare.
func eachConcept(t *testing.T, sized bool, attitude string, change func(c *files.ConceptFile), compare func(t *testing.T, c *files.ConceptFile, before, after *objectives.Score)) {
	t.Helper()
	for _, path := range conceptFiles(t) {
		t.Run(strings.TrimSuffix(strings.TrimPrefix(path, "examples/"), ".yaml"), func(t *testing.T) {
			var scores [2]objectives.Score
			var first *files.ConceptFile
			for i := range scores {
				c, source, err := files.ReadConcept(path, opened(t, path))
				if err != nil {
					t.Fatal(err)
				}
				c.Shock.Spring = "coil" // what the atmosphere pushes with does not scale
				c.CoilRatesNPerMM, c.Attitude = []float64{50}, attitude
				if i == 0 {
					first = c
				} else {
					change(c)
				}
				d, err := cases.Design(c, source, io.Discard)
				if err != nil {
					t.Fatal(err)
				}
				conditions := cases.Conditions(c)
				if !sized {
					conditions.Structure = nil
				}
				sc := objectives.NewScorer(conditions)
				sc.Score(&scores[i], d).Complete(&scores[i])
				if scores[i].Fault != "" {
					t.Fatal(scores[i].Fault)
				}
			}
			compare(t, first, &scores[0], &scores[1])
		})
	}
}

// expected tells what a measure comes to after a change, given what it was before; false: it may be
// anything.
type expected func(m *objectives.Measure, before float64) (float64, bool)

// held compares all measures that both scores have.
func held(t *testing.T, before, after *objectives.Score, want expected) {
	t.Helper()
	checked := 0
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		if (before.Missing[i] == "") != (after.Missing[i] == "") {
			t.Errorf("%s: %q before, %q after", m.Name, before.Missing[i], after.Missing[i])
		}
		w, any := want(m, before.Values[i])
		if before.Missing[i] != "" || !any {
			continue
		}
		checked++
		// Sag and rest are solved to 1e-10 mm; how deep parts overlap is only as exact as it is found.
		slop := 1e-7 * (math.Abs(w) + m.Scale)
		if strings.HasSuffix(m.Name, "clearance_mm") && w < 0 {
			slop = 0.01
		}
		if !(math.Abs(after.Values[i]-w) <= slop) {
			t.Errorf("%s: %.12g, want %.12g", m.Name, after.Values[i], w)
		}
	}
	if checked < 20 {
		t.Errorf("only %d measures", checked)
	}
}

// moveAll moves all that there is in the fork frame.
func moveAll(c *files.ConceptFile, move func(along, ahead float64) (float64, float64)) {
	c.Bike.AxleToCrownMM, c.Bike.ForkOffsetMM = move(c.Bike.AxleToCrownMM, c.Bike.ForkOffsetMM)
	points := map[string]sections.Point{}
	for name, p := range c.Points() {
		if name != "axle" {
			x, y := move(p.Along, p.Ahead)
			points[name] = sections.Point{x, y}
		}
	}
	c.PointsMM = points
}

// The linkage and its axle moved along the ground: only the steering axis stays behind, and with it
// trail, unless that runs through balls of the linkage.
func TestExamplesMovedAlongTheGround(t *testing.T) {
	const by = 40
	eachConcept(t, false, "pitching", func(c *files.ConceptFile) {
		sin, cos := math.Sincos(c.Bike.HeadAngleDeg * math.Pi / 180)
		moveAll(c, func(along, ahead float64) (float64, float64) { return along + by*cos, ahead + by*sin })
	}, func(t *testing.T, c *files.ConceptFile, before, after *objectives.Score) {
		held(t, before, after, func(m *objectives.Measure, v float64) (float64, bool) {
			trail := strings.HasPrefix(m.Name, "trail_")
			return v, !strings.HasSuffix(m.Name, "clearance_mm") && (!trail || len(c.Spec.Steering) == 2 && m.Name != "trail_vs_telescopic_mm")
		})
	})
}

// Front and rear exchanged, on a bike that stays level: lengths, ratios and anti-dive do not notice, what
// points forward points back.
func TestExamplesMirrored(t *testing.T) {
	eachConcept(t, false, "level", func(c *files.ConceptFile) {
		moveAll(c, func(along, ahead float64) (float64, float64) { return along, -ahead })
		c.Bike.HeadAngleDeg = 180 - c.Bike.HeadAngleDeg
		c.Bike.WheelbaseMM, c.Bike.CGToFrontAxleMM, c.BrakingG = -c.Bike.WheelbaseMM, -c.Bike.CGToFrontAxleMM, -c.BrakingG
		for _, p := range []*sections.Point{&c.Package.HeadTube.From, &c.Package.HeadTube.To, &c.Package.DownTube.From, &c.Package.DownTube.To} {
			p[1] = -p[1]
		}
	}, func(t *testing.T, _ *files.ConceptFile, before, after *objectives.Score) {
		held(t, before, after, func(m *objectives.Measure, v float64) (float64, bool) {
			switch m.Name {
			case "path_inclination_deg", "axle_path_angle_at_sag_deg", "trail_loss_braking_mm", "trail_at_sag_mm":
				return -v, true
			case "trail_min_mm": // what was the largest
				return -(v + before.Values[objectives.Index("trail_variation_mm")]), true
			}
			return v, true
		})
	})
}

// Twice the size: lengths double, rates halve, all else stays.
func TestExamplesOfTwiceTheSize(t *testing.T) {
	eachConcept(t, false, "pitching", func(c *files.ConceptFile) {
		moveAll(c, func(along, ahead float64) (float64, float64) { return 2 * along, 2 * ahead })
		b, p, a := &c.Bike, &c.Package, &c.Across
		for _, x := range []*float64{
			&b.WheelbaseMM, &b.FrontRadiusMM, &b.RearRadiusMM, &b.CGHeightMM, &b.CGToFrontAxleMM, &c.TravelMM, &c.Shock.StrokeMM,
			&p.TyreWidthMM, &p.RimWidthMM, &p.HubWidthMM, &p.RotorRadiusMM, &p.CrownRadiusMM, &p.ShockRadiusMM, &p.ShaftRadiusMM,
			&p.HeadTube.From[0], &p.HeadTube.From[1], &p.HeadTube.To[0], &p.HeadTube.To[1], &p.HeadTube.DiameterMM,
			&p.DownTube.From[0], &p.DownTube.From[1], &p.DownTube.To[0], &p.DownTube.To[1], &p.DownTube.DiameterMM, &a.ShockHalfWidthMM,
		} {
			*x *= 2
		}
		wide := map[string]float64{}
		m := files.Compile(c.Spec)
		for b, half := range a.Model(m).HalfWidthMM { // those by default too
			wide[m.Bodies[b]] = 2 * half
		}
		a.HalfWidthMM = wide
		c.CoilRatesNPerMM = []float64{25}
		if c.Damping != nil {
			softer := *c.Damping
			softer.FrontTyreNPerMM /= 2
			c.Damping = &softer
		}
	}, func(t *testing.T, c *files.ConceptFile, before, after *objectives.Score) {
		held(t, before, after, func(m *objectives.Measure, v float64) (float64, bool) {
			if strings.HasPrefix(m.Name, "road_") || m.Name == "damper_misfit_pct" {
				return v, false // the road and the dampers on sale do not grow
			}
			switch m.Unit {
			case "Hz", "N s/m":
				return v / math.Sqrt2, true
			case "mm":
				return 2 * v, true
			case "N/mm":
				return v / 2, true
			}
			return v, true
		})
	})
}

// A mechanism whose file lists bodies, pivots, slides and members in another order has the same scores to
// the bit, sizes and all.
func TestExamplesListedInAnotherOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 31))
	eachConcept(t, true, "pitching", func(c *files.ConceptFile) {
		s := cloned(c.Spec)
		r.Shuffle(len(s.Bodies), func(i, k int) { s.Bodies[i], s.Bodies[k] = s.Bodies[k], s.Bodies[i] })
		r.Shuffle(len(s.Pivots), func(i, k int) { s.Pivots[i], s.Pivots[k] = s.Pivots[k], s.Pivots[i] })
		r.Shuffle(len(s.Slides), func(i, k int) { s.Slides[i], s.Slides[k] = s.Slides[k], s.Slides[i] })
		r.Shuffle(len(s.Members), func(i, k int) { s.Members[i], s.Members[k] = s.Members[k], s.Members[i] })
		for i := range s.Pivots {
			slices.Reverse(s.Pivots[i].Bodies)
		}
		for i := range s.Members {
			if r.IntN(2) == 0 {
				s.Members[i].From, s.Members[i].To = s.Members[i].To, s.Members[i].From
			}
		}
		c.Spec = s
	}, func(t *testing.T, _ *files.ConceptFile, before, after *objectives.Score) {
		for i := range objectives.Measures {
			if before.Values[i] != after.Values[i] || before.Missing[i] != after.Missing[i] {
				t.Errorf("%s: %v %q, in another order %v %q", objectives.Measures[i].Name, before.Values[i], before.Missing[i], after.Values[i], after.Missing[i])
			}
		}
	})
}
