package cases

import (
	"fmt"
	"math"
	"strings"
	"sync/atomic"

	"forkfront/constraints"
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/optimize"
)

// Case is one search of a job: one bike, one mechanism with bounds for its pivots, the shocks to
// choose from, and what is wanted.
type Case struct {
	Name       string
	Bike       string
	Package    string // name of the package; empty: the job has none
	Seed       uint64 // of the job
	Mechanism  *mechanism.Mechanism
	Conditions *objectives.Conditions
	Goals      []objectives.Goal
	Limits     []constraints.Limit
	Shock      fork.Shock // count; the rest comes from Shocks
	Shocks     []ShockSize
	Fixed      []kinematics.Vec[float64] // layout; positions that vary are overwritten
	Free       []Free
	Across     *fork.Across          // lateral positions of the mechanism's parts
	After      []files.JobConstraint // limits on events, for the front after the search
	Arranged   bool                  // the job gives some of these positions; otherwise all are defaults
	halfWidths map[string]float64    // by body, as the job gives them
	Assembly   *clearance.Assembly
	Materials  []fork.Material
	Choices    []sections.Material // the same as the job has them

	First        []float64                      // a candidate to begin with; nil: none
	Gate         gate                           // where evaluations of all cases queue; nil: open
	arrangements func() *clearance.Arrangements // of its parts, which the search keeps apart, found when it first asks; nil: not known
	violated     []atomic.Int64                 // evaluations that violated "works" or a limit, in the order of Constraints
	coilLimit    int                            // index in Limits of the one for coils only; −1: none
	lowerFixed   bool                           // an angle about the lower eye of the shock gives the position of the upper one
	Template     files.ConceptFile              // what all candidates share; extract puts a candidate's points into it
}

// ShockSize is an available shock.
type ShockSize struct {
	sections.JobShock
	Air *fork.AirSpring // nil: a coil
}

// Free is one variable of a case and what of the fork it sets.
type Free struct {
	Variable optimize.Variable
	Kind     FreeKind
	Point    int       // of a coordinate
	Body     int       // of a lane
	LanesMM  []float64 // to choose from, of a lane
}

// Value is the number that a variable stands for: the half width of a lane instead of its index.
func (f *Free) Value(x float64) float64 {
	if f.Kind == FreeLane {
		return f.LanesMM[int(math.Round(x))]
	}
	return x
}

// FreeKind tells what a variable sets.
type FreeKind int

// Kinds of variables. One of the shock's eyes, the lower one unless its position is given, has polar coordinates
// about the other, with the eye-to-eye length as radius, so that a shock of discrete size always fits.
const (
	FreeAlong FreeKind = iota
	FreeAhead
	FreeShockAngle // rad from along towards ahead, direction of the shock's lower eye from its upper one
	FreeShock      // index into Shocks
	FreeMaterial   // index into Materials
	FreeLane       // index into LanesMM
)

// Kind names what cases that differ only in their seed have in common: their name without the seed.
func (c *Case) Kind() string { return strings.TrimSuffix(c.Name, fmt.Sprintf("/%d", c.Seed)) }
