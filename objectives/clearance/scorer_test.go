package clearance

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

// conditions are what the forks of a test have in common. Without rules, members are not sized and have the radius of
// the package.
type conditions struct {
	ride.Setting
	rules *structure.Rules
}

func sizedConditions() *conditions { return &conditions{trial.Setting(), structure.DefaultRules()} }

type design struct {
	mechanism *mechanism.Mechanism
	layout    []kinematics.Vec[float64]
	shock     fork.Shock
	across    *fork.Across
	material  *fork.Material
	assembly  *Assembly
}

// scorer sweeps forks, sizes them and searches their assemblies.
type scorer struct {
	conditions *conditions
	baseline   *ride.Baseline
	motion     kinematics.Motion
	ride       ride.Ride[float64]
	sizer      structure.Sizer
	search     Search
	radii      []float64
}

func newScorer(c *conditions) *scorer {
	return &scorer{conditions: c, baseline: ride.NewBaseline(&c.Setting)}
}

// score is the result; why is the reason for which there is no clearance.
type score struct {
	clearance, hub float64
	closest        Gap
	why            string
}

func (sc *scorer) score(dst *score, d *design) {
	c := sc.conditions
	*dst = score{}
	sc.motion.Sweep(d.mechanism, &c.Chassis, d.layout, c.TravelMM, c.Samples)
	ride.Study(&sc.ride, &c.Setting, sc.baseline, &d.shock, &sc.motion, d.mechanism)
	if dst.why = sc.ride.Missing[ride.NeedTravel]; dst.why == "" {
		dst.why = d.assembly.Missing
	}
	var radii []float64
	if c.rules != nil && dst.why == "" {
		var z *structure.Sized[float64]
		if dst.why = sc.ride.Missing[ride.NeedDive]; dst.why == "" {
			z, dst.why = sc.sizer.Size(c.rules, &sc.ride, d.mechanism, d.layout, d.across, d.material)
		}
		if dst.why == "" {
			sc.radii = sc.radii[:0]
			for i := range z.Members {
				sc.radii = append(sc.radii, z.Members[i].DiameterMM*0.5)
			}
			radii = sc.radii
		}
	}
	if dst.why == "" {
		sc.search.Find(d.assembly, &sc.motion, d.mechanism, d.layout, radii)
		dst.clearance, dst.hub, dst.closest = sc.search.Clearance(), sc.search.HubClearance(), sc.search.Closest()
	}
}

func randomDesign(m *mechanism.Mechanism, layout []kinematics.Vec[float64]) *design {
	return &design{
		mechanism: m, layout: layout, shock: fork.Shock{Count: 1, EyeToEyeMM: 165, StrokeMM: 45}, across: fork.DefaultAcross(m),
		material: fork.MaterialNamed("7075-T6"),
	}
}

// into puts a fork into a package.
func (d *design) into(c *conditions, p *fork.Package) {
	d.across.Settle(d.mechanism, &c.Chassis, c.TravelMM, d.layout, &d.shock, p)
	d.assembly = NewAssembly(p, d.mechanism, d.across, &c.Chassis, &d.shock)
}

// spaciousDesign draws a girder whose parts mostly keep clear of each other.
func spaciousDesign(c *conditions, m *mechanism.Mechanism, r *rand.Rand) *design {
	d := randomDesign(m, trial.RoomyLayout(m, r))
	p := trial.Package(m)
	p.LockRad = 50 * deg
	d.into(c, p)
	return d
}

// forks draws girders that have a clearance, and returns their scorer.
func forks(t testing.TB, n int) (*scorer, []*design) {
	t.Helper()
	c, m := sizedConditions(), trial.Girder()
	r := rand.New(rand.NewPCG(5, 1))
	sc := newScorer(c)
	var s score
	var all []*design
	for tries := 0; len(all) < n; tries++ {
		if tries > 100*n {
			t.Fatalf("only %d forks", len(all))
		}
		d := spaciousDesign(c, m, r)
		if sc.score(&s, d); s.why == "" {
			all = append(all, d)
		}
	}
	return sc, all
}
