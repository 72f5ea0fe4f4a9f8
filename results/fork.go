package results

import (
	"fmt"

	"forkfront/kinematics"
	"forkfront/objectives"
)

// Fork is one candidate as it can be moved and drawn.
type Fork struct {
	ID, Case, Bike string
	Conditions     *objectives.Conditions // prepared; the candidates of a case share them
	Design         objectives.Design
}

// solved is a fork moved through its travel.
type solved struct {
	*Fork
	score   objectives.Score
	subject *objectives.Subject[float64]
}

// solve moves the fork. What comes back holds until the scorer is used again.
func (f *Fork) solve(sc *objectives.Scorer) (*solved, error) {
	s := &solved{Fork: f}
	sc.Score(&s.score, &f.Design)
	s.subject = sc.Subject()
	if s.score.Fault != "" {
		return nil, fmt.Errorf("candidate %s stops at %.4g mm of its travel: %s", f.ID, s.score.ReachedMM, s.score.Fault)
	}
	return s, nil
}

// station is a state that drawings and tables show, and how its columns and layers end.
type station struct {
	name   string // as in x_sag_mm
	suffix string // of layers
	state  *kinematics.State[float64]
}

// stations are top-out, sag and bottom-out.
func (s *solved) stations() [3]station {
	states := s.subject.States
	return [3]station{{"top_out", "", &states[0]}, {"sag", "_SAG", &s.subject.Sag}, {"bottom_out", "_OUT", &states[len(states)-1]}}
}

// XZ is a point over level ground, in mm: X ahead of the rear wheel's contact point, Z up.
type XZ struct{ X, Z float64 }

// ground is where a point of the fork frame is over the ground. The frame is held by the rear axle,
// which stays one rear radius above the ground, and turns about it to the state's head angle.
func (s *solved) ground(st *kinematics.State[float64], p kinematics.Vec[float64]) XZ {
	chassis := &s.Conditions.Chassis
	rear := chassis.Rear()
	along, ahead := p.Along-rear.Along, p.Ahead-rear.Ahead
	return XZ{
		X: along*st.CosHead + ahead*st.SinHead,
		Z: chassis.RearRadiusMM - along*st.SinHead + ahead*st.CosHead,
	}
}

// places are all points of the mechanism over the ground, in its order.
func (s *solved) places(st *kinematics.State[float64]) []XZ {
	var all []XZ
	for _, p := range s.Design.Mechanism.Places(nil, st, s.Design.Layout) {
		all = append(all, s.ground(st, p))
	}
	return all
}

// link is a straight line of a body between two points of the mechanism.
type link struct{ from, to int }

// links are the members of a body as the mechanism states them, or, of a body without any, lines
// from its first point to its others.
func links(m *kinematics.Mechanism, body string) []link {
	var all []link
	for _, member := range m.Spec.Members {
		if member.Body == body {
			all = append(all, link{m.Point(member.From), m.Point(member.To)})
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
				all = append(all, link{first, point})
			}
		}
	}
	return all
}
