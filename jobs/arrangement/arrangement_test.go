package arrangement_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/jobs/arrangement"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/topology"
)

// On any bike, every point that a search has to place has a range, and above the wheel no two links share a lane that
// are not joined.
func TestPlansAreWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 2))
	checked := 0
	for _, slide := range []bool{false, true} {
		for _, fork := range topology.Forks(topology.Options{Bodies: 6, Slide: slide}) {
			b := &arrangement.Bike{WheelRadiusMM: 200 + 180*r.Float64(), TravelMM: 40 + 120*r.Float64(), ForkOffsetMM: 30 + 25*r.Float64(), HeadTubeDiameterMM: 40 + 30*r.Float64(), HubWidthMM: 74 + 60*r.Float64()}
			b.AxleToCrownMM = b.WheelRadiusMM + b.TravelMM + 30 + 30*r.Float64()
			spec := fork.Spec()
			m, faults := mechanism.Compile(spec)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			for _, kind := range arrangement.Kinds {
				p, reason := arrangement.Of(&fork, kind, b)
				if arm := fork.Duties().Guide == 2 && !slide; (reason != "") != (arm && kind == arrangement.High) && !slide {
					t.Errorf("%s %s: %q", fork.Code(), kind, reason)
				}
				if reason != "" {
					continue
				}
				checked++
				for _, name := range append(m.RequiredPoints(), scheme.PointRoot) {
					place, ok := p.Places[name]
					if ok == (name == scheme.PointShockLower) {
						t.Errorf("%s %s: range of %s: %t", fork.Code(), kind, name, ok)
					}
					if place.Along.Low > place.Along.High || place.Ahead.Low > place.Ahead.High {
						t.Errorf("%s %s, %+v: %s is in %+v", fork.Code(), kind, b, name, place)
					}
				}
				checkLanes(t, &fork, kind, b, p)
			}
		}
	}
	if checked < 1000 {
		t.Errorf("%d plans were checked", checked)
	}
}

func checkLanes(t *testing.T, fork *topology.Topology, kind arrangement.Kind, b *arrangement.Bike, p *arrangement.Plan) {
	for body := range fork.Bodies {
		mm, ok := p.HalfWidthMM[fork.Name(body)]
		if !ok {
			t.Errorf("%s: %s has no lane", fork.Code(), fork.Name(body))
		}
		lanes := p.LanesMM[fork.Name(body)]
		if one := body == fork.Ground || body == fork.Axle || body == fork.Caliper || onSlide(fork, body); one != (len(lanes) == 0) {
			t.Errorf("%s %s: %s may be at %v", fork.Code(), kind, fork.Name(body), lanes)
		}
		for _, mm := range append(lanes, mm) {
			if beside := mm > b.HubWidthMM/2; !beside && (kind != arrangement.High || body == fork.Axle || body == fork.Caliper) {
				t.Errorf("%s %s: %s is inside the hub, at %g mm", fork.Code(), kind, fork.Name(body), mm)
			}
		}
		for other := range body {
			onCrown := fork.Joined(fork.Ground, body) && fork.Joined(fork.Ground, other) // apart in side view
			if kind == arrangement.High && !onCrown && other != fork.Ground && body < fork.Axle && !fork.Joined(body, other) && mm == p.HalfWidthMM[fork.Name(other)] {
				t.Errorf("%s: %s and %s share a lane", fork.Code(), fork.Name(body), fork.Name(other))
			}
		}
	}
	for _, slide := range fork.Spec().Slides {
		if a, b := p.HalfWidthMM[slide.Bodies[0]], p.HalfWidthMM[slide.Bodies[1]]; a != b {
			t.Errorf("%s %s: one tube of a slide is at %g mm, the other at %g", fork.Code(), kind, a, b)
		}
	}
	if slices.Contains(p.OneSided, fork.Name(fork.Axle)) || fork.Floating() != slices.Contains(p.OneSided, fork.Name(fork.Caliper)) {
		t.Errorf("%s: on one side are %v", fork.Code(), p.OneSided)
	}
}

func onSlide(fork *topology.Topology, body int) bool {
	return fork.Slide >= 0 && (fork.Pivots[fork.Slide][0] == body || fork.Pivots[fork.Slide][1] == body)
}
