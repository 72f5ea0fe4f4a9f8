// Package sideview turns a candidate into where its points are over level ground as it moves through its
// travel, seen from the side. Drawings, figures and the report are made of it.
package sideview

import (
	"fmt"
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/ride"
)

// Fork is one candidate as it can be moved and drawn.
type Fork struct {
	ID, Case, Bike string
	Conditions     *objectives.Conditions // the candidates of a case share them
	Design         objectives.Design
}

// ForkOf gives the candidate of a row of a front. Several goroutines may call it at once.
type ForkOf func(row int) (*Fork, error)

// Solved is a fork moved through its travel.
type Solved struct {
	*Fork
	Score objectives.Score
	Study objectives.Study
	Ride  *ride.Ride[float64]

	Stopped string // why the fork does not reach its whole travel; empty: it does
}

// Solve moves the fork. The result is valid until the scorer is used again.
func (f *Fork) Solve(sc *objectives.Scorer) (*Solved, error) {
	s := &Solved{Fork: f}
	s.Study = sc.Score(&s.Score, &f.Design)
	s.Ride = s.Study.Ride()
	if s.Score.Fault != "" {
		return nil, fmt.Errorf("candidate %s stops at %.4g mm of its travel: %s", f.ID, s.Score.ReachedMM, s.Score.Fault)
	}
	return s, nil
}

// beforeStopMM is how far before the end of its motion a fork that stops short is shown: there, links lock.
const beforeStopMM = 0.01

// SolveReached is Solve for a fork that may stop short of its travel: such a fork is moved as far as it goes, and Stopped
// says why it stops. The error is that of Solve for one that does not move at all.
func (f *Fork) SolveReached(sc *objectives.Scorer) (*Solved, error) {
	s, err := f.Solve(sc)
	if err == nil {
		return s, nil
	}
	var whole objectives.Score
	sc.Score(&whole, &f.Design)
	setting := f.Conditions.Setting
	setting.TravelMM = whole.ReachedMM - beforeStopMM
	if !(setting.TravelMM > 0) {
		return nil, err
	}
	short := *f
	short.Conditions = objectives.NewConditions(setting, f.Conditions.Structure, f.Conditions.Quarter)
	if s, _ = short.Solve(objectives.NewScorer(short.Conditions)); s == nil {
		return nil, err
	}
	s.Stopped = fmt.Sprintf("stops at %.4g of %g mm of travel: %s", whole.ReachedMM, f.Conditions.TravelMM, whole.Fault)
	return s, nil
}

// Station is a state that drawings and tables show, and how its columns and layers end.
type Station struct {
	Name   string // as in x_sag_mm
	Suffix string // of layers
	State  *stance.State[float64]
}

// Reached are the stations of a fork that may stop short of its travel: then top-out and where it stops.
func (s *Solved) Reached() []Station {
	if s.Stopped == "" {
		all := s.Stations()
		return all[:]
	}
	states := s.Ride.States
	return []Station{{"top_out", "", &states[0]}, {"stop", "_STOP", &states[len(states)-1]}}
}

// Stations are top-out, sag and bottom-out.
func (s *Solved) Stations() [3]Station {
	states := s.Ride.States
	return [3]Station{{"top_out", "", &states[0]}, {"sag", "_SAG", &s.Ride.Sag}, {"bottom_out", "_OUT", &states[len(states)-1]}}
}

// XZ is a point over level ground, in mm: X ahead of the rear wheel's contact point, Z up.
type XZ struct{ X, Z float64 }

// Ground is where a point of the fork frame is over the ground. The rear axle stays one rear radius above
// the ground, and the frame turns about it to the state's head angle.
func (s *Solved) Ground(st *stance.State[float64], p kinematics.Vec[float64]) XZ {
	chassis := &s.Conditions.Chassis
	rear := chassis.RearAxle()
	along, ahead := p.Along-rear.Along, p.Ahead-rear.Ahead
	return XZ{
		X: along*st.CosHead + ahead*st.SinHead,
		Z: chassis.RearRadiusMM - along*st.SinHead + ahead*st.CosHead,
	}
}

// FromGround is the point of the fork frame that is at a point over the ground at top-out: the inverse of Ground there.
func FromGround(c *stance.Chassis, at XZ) kinematics.Vec[float64] {
	sin, cos := math.Sincos(c.HeadAngle)
	rear := c.RearAxle()
	down := c.RearRadiusMM - at.Z
	return kinematics.Vec[float64]{Along: rear.Along + at.X*cos + down*sin, Ahead: rear.Ahead + at.X*sin - down*cos}
}

// Places are all points of the mechanism over the ground, in its order.
func (s *Solved) Places(st *stance.State[float64]) []XZ {
	var all []XZ
	for _, p := range mechanism.Positions(s.Design.Mechanism, nil, st, s.Design.Layout) {
		all = append(all, s.Ground(st, p))
	}
	return all
}

// Link is a straight line of a body between two points of the mechanism.
type Link struct{ From, To int }

// Links are the members of a body as the mechanism states them, or, of a body without any, lines
// from its first point to its others.
func Links(m *mechanism.Mechanism, body string) []Link {
	var all []Link
	for _, member := range m.Spec.Members {
		if member.Body == body {
			all = append(all, Link{m.Point(member.From), m.Point(member.To)})
		}
	}
	if all != nil {
		return all
	}
	first := -1
	for point := range m.Points {
		for _, b := range m.PointBodies(point) {
			switch {
			case b != body:
			case first < 0:
				first = point
			default:
				all = append(all, Link{first, point})
			}
		}
	}
	return all
}
