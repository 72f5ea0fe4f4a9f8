package atlas

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"runtime"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/arrangement"
	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// sketch is a linkage at positions at which it moves through the whole travel, and its shock shortens all the way.
type sketch struct {
	kind   arrangement.Kind
	points []kinematics.Vec[float64] // at top-out, in the fork frame
	full   []kinematics.Vec[float64] // at full travel
	path   []kinematics.Vec[float64] // of the axle
}

const (
	tries   = 2000 // layouts drawn for each arrangement
	enough  = 5    // that move; the clearest of these is shown
	samples = 9    // travels at which a layout is tried

	leastSine    = 0.3  // of the transmission angle
	leastShock   = 0.05 // compression of the shock per travel
	steepestPath = 0.7  // how far the axle moves ahead or back per travel, at most
)

// allSketches looks for sketches on all processors: with eight bodies there are thousands.
func allSketches(entries []Entry, j *files.JobFile, room *arrangement.Bike) []*sketch {
	all := make([]*sketch, len(entries))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range entries {
		group.Go(func() error {
			all[i] = sketchOf(&entries[i], j, room)
			return nil
		})
	}
	_ = group.Wait() // none fails
	return all
}

// sketchOf looks for such positions in the arrangements of a linkage, in turn; nil where none of those drawn moves so. The
// same linkage gets the same positions.
func sketchOf(e *Entry, j *files.JobFile, room *arrangement.Bike) *sketch {
	h := fnv.New64a()
	_, _ = h.Write([]byte(e.Code))
	r := rand.New(rand.NewPCG(h.Sum64(), 0))
	for _, kind := range arrangement.Kinds {
		plan, reason := arrangement.Of(&e.Topology, kind, room)
		if reason != "" {
			continue
		}
		if s := drawn(e.mechanism, plan, j, r); s != nil {
			s.kind = kind
			return s
		}
	}
	return nil
}

// drawn is the best of the layouts that are drawn within the ranges of a plan.
func drawn(m *mechanism.Mechanism, plan *arrangement.Plan, j *files.JobFile, r *rand.Rand) *sketch {
	chassis := j.Bikes[0].Chassis(j.Level())
	layout := make([]kinematics.Vec[float64], len(m.Points))
	var mo kinematics.Motion
	var best *sketch
	most, found := 0.0, 0
	for range tries {
		place(m, plan, j, r, layout)
		// At top-out first, where most layouts fail, and at little cost.
		if clear, ok := clarity(&mo, m, &chassis, layout, 1, 2); !ok || clear <= most {
			continue
		}
		clear, ok := clarity(&mo, m, &chassis, layout, j.TravelMM, samples)
		if !ok {
			continue
		}
		if clear > most {
			most, best = clear, &sketch{points: append([]kinematics.Vec[float64](nil), layout...)}
			for i := range mo.States {
				best.path = append(best.path, kinematics.Vec[float64]{Along: mo.States[i].Along, Ahead: mo.States[i].Ahead})
			}
			best.full = mechanism.Positions(m, nil, &mo.States[samples-1], layout)
		}
		if found++; found == enough {
			break
		}
	}
	return best
}

// clarity moves a layout and says how well it can be read: the smallest sine of a transmission angle, less where the
// axle's path is far from straight up. It is false where the layout does not move through, its shock does not shorten,
// or links come close to line.
func clarity(mo *kinematics.Motion, m *mechanism.Mechanism, c *stance.Chassis, layout []kinematics.Vec[float64], travelMM float64, samples int) (float64, bool) {
	mo.Sweep(m, c, layout, travelMM, samples)
	if mo.Fault != "" {
		return 0, false
	}
	sine, steep := 1.0, 0.0
	for i := range mo.States {
		s := &mo.States[i]
		if s.ShockRate <= leastShock {
			return 0, false
		}
		sine, steep = math.Min(sine, s.SineMin), math.Max(steep, math.Abs(s.AheadRate))
	}
	return sine * (1 - 0.5*steep/steepestPath), sine >= leastSine && steep <= steepestPath
}

// place draws a layout: all points within their ranges, and the lower eye at the length of one of the job's shocks.
func place(m *mechanism.Mechanism, plan *arrangement.Plan, j *files.JobFile, r *rand.Rand, layout []kinematics.Vec[float64]) {
	within := func(s arrangement.Span) float64 { return s.Low + r.Float64()*(s.High-s.Low) }
	for i, name := range m.Points {
		p, ok := plan.Places[name]
		if ok {
			layout[i] = kinematics.Vec[float64]{Along: within(p.Along), Ahead: within(p.Ahead)}
		}
	}
	layout[m.Point(scheme.PointAxle)] = kinematics.Vec[float64]{Along: j.Bikes[0].AxleToCrownMM, Ahead: j.Bikes[0].ForkOffsetMM}
	upper := layout[m.Point(scheme.PointShockUpper)]
	length := j.Shocks[r.IntN(len(j.Shocks))].EyeToEyeMM
	sin, cos := math.Sincos(within(plan.ShockAngle))
	layout[m.Point(scheme.PointShockLower)] = kinematics.Vec[float64]{Along: upper.Along + length*cos, Ahead: upper.Ahead + length*sin}
}
