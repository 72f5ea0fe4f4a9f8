package structure

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/sides"
)

// Item is one kind of part of a sized fork and what it adds to the measures. What a part does not
// have is 0.
type Item struct {
	Part       string  `json:"part"`
	Count      int     `json:"count"`
	DiameterMM float64 `json:"diameter_mm,omitempty"` // of tubes and shafts, outside
	WallMM     float64 `json:"wall_mm,omitempty"`
	LengthMM   float64 `json:"length_mm,omitempty"`
	Governs    string  `json:"governs,omitempty"` // what asked for the diameter
	LoadN      float64 `json:"load_n,omitempty"`  // largest pin force
	MassG      float64 `json:"mass_g"`            // all of them
	Compliance float64 `json:"compliance_um_per_n,omitempty"`
	Stress     float64 `json:"stress_of_allowed,omitempty"` // largest over the load cases, by the space frame
	FrictionN  float64 `json:"friction_braking_n,omitempty"`
	Cost       float64 `json:"cost"`
}

// Parts lists the parts of a sized fork, without their stresses, which take a space frame to find. Masses add up to mass_g, costs to cost_index times the
// telescopic fork's, compliances to the inverse of fore_aft_stiffness_n_per_mm, frictions to friction_braking_n.
func Parts(z *Sized[float64]) []Item {
	var all []Item
	for i := range z.Members {
		item := tubeItem(z, i)
		if z.Path.Continues(i) {
			all[len(all)-1].extend(&item)
			continue
		}
		all = append(all, item)
	}
	for i := range z.Pivots {
		if s := z.Path.SlideOf(i); s != nil {
			all = append(all, bushItem(z, s))
			continue
		}
		all = append(all, pivotItem(z, i))
	}
	costs := &z.Rules.Costs
	count := float64(z.Ride.Shock.Count)
	all = append(all, Item{
		Part: "shock", Count: z.Ride.Shock.Count, LengthMM: z.Ride.Shock.EyeToEyeMM, MassG: z.shockG, Cost: costs.Shock * count,
		FrictionN: z.Ride.Sag.ShockRate * count * z.Rules.ShockNewton, Compliance: z.shaftShare(sides.EyeShaft),
	})
	all = append(all, Item{Part: "bending of the wheel axle", Count: 1, DiameterMM: parts.WheelAxleMM, Compliance: z.shaftShare(sides.WheelAxle)})
	fixed := z.Rules.Fixed
	for i := range fixed {
		all = append(all, Item{Part: fixed[i].Name, Count: 1, MassG: fixed[i].MassG, Cost: costs.Fixed / float64(len(fixed))})
	}
	return all
}

// extend adds another part of the same tube to an item.
func (it *Item) extend(by *Item) {
	if by.Governs != Fit.String() {
		it.Governs = by.Governs
	}
	it.LengthMM += by.LengthMM
	it.MassG += by.MassG
	it.Compliance += by.Compliance
	it.Cost += by.Cost
}

// shaftShare is what a shaft adds to the compliance at the axle, in µm/N.
func (z *Sized[T]) shaftShare(shaft int) float64 {
	sum := 0.0
	for i, s := range z.symmetric.Segments {
		if s.Shaft == shaft {
			sum += 1000 * kinematics.Real(z.outOfPlane.compliances[i])
		}
	}
	return sum
}

func tubeItem(z *Sized[float64], i int) Item {
	costs := &z.Rules.Costs
	t := &z.Members[i]
	size := parts.TubeSection(&z.Rules.Tubes, t.DiameterMM)
	mass := z.Members[i].MassG
	governs := t.Governs.String()
	if t.Governs == Strength || t.Governs == Buckling {
		governs += ", " + z.governing(t).Name
	}
	cost := mass / 1000 * costs.TubePerKG
	if !z.Path.Continues(i) {
		cost = t.Count*costs.TubePart + mass/1000*costs.TubePerKG
	}
	return Item{
		Part: z.Path.TubeName(i), Count: int(t.Count),
		DiameterMM: t.DiameterMM, WallMM: t.WallMM, LengthMM: z.lengths[i], Governs: governs, MassG: mass,
		Compliance: 1000 * (z.flexibilities[i].axial/size.Area + z.flexibilities[i].bending/size.Inertia),
		Cost:       cost,
	}
}

func pivotItem(z *Sized[float64], i int) Item {
	costs := &z.Rules.Costs
	p := &z.Pivots[i]
	_, _, point := z.Path.Mechanism.Joint(i)
	compliance := 0.0
	if pin := slices.IndexFunc(z.Path.Pivots, func(p loadpath.Pin) bool { return slices.Index(p.Joints, i) == 0 }); pin >= 0 {
		compliance = z.shaftShare(pin)
	}
	kind := ", bushes"
	if p.Rolling {
		kind = ", bearings"
	}
	return Item{
		Part: "pivot " + z.Path.Mechanism.Points[point] + kind, Count: 1, DiameterMM: p.ShaftMM, LengthMM: p.ShaftLengthMM, LoadN: p.LoadN,
		MassG: p.MassG, FrictionN: pivotFriction(z, 1, i), Cost: float64(p.Shafts)*costs.Shaft + 2*costs.Each(p.Rolling),
		Governs: z.cases[z.pinCases[i]].Name, Compliance: compliance,
	}
}

// bushItem lists the bushes of a slide.
func bushItem(z *Sized[float64], s *loadpath.Slide) Item {
	p := &z.Pivots[s.Joint]
	count := z.bearings(s.Joint)
	return Item{
		Part: "slide " + z.Path.Mechanism.SlideName(&s.Slide) + ", bushes", Count: int(count), DiameterMM: p.ShaftMM, LengthMM: p.ShaftMM * parts.SlideBushLength, LoadN: p.LoadN,
		MassG: p.MassG, FrictionN: pivotFriction(z, 1, s.Joint), Cost: count * z.Rules.Costs.Bush, Governs: z.cases[z.pinCases[s.Joint]].Name,
	}
}

// CaseForces are the forces in a fork in one load case, in N.
type CaseForces struct {
	Case     string             `json:"case"`
	TravelMM float64            `json:"travel_mm"`
	AtAxleN  [2]float64         `json:"at_axle_n"`       // along and ahead
	TorqueNM float64            `json:"brake_torque_nm"` // on the caliper's body, positive from along to ahead
	SideN    float64            `json:"side_n"`          // at the contact point
	ShockN   float64            `json:"shock_n"`         // all shocks together, in compression
	PinsN    map[string]float64 `json:"pins_n"`          // both sides together
}

// Forces works the load cases of a sized fork through once more, for people to check.
func Forces(z *Sized[float64]) []CaseForces {
	var all []CaseForces
	for k := range z.Rules.Cases {
		c := &z.Rules.Cases[k]
		sd := &z.AtStance[c.At]
		a := loads.Apply(c, z.Ride.Setting, sd.State)
		push := z.statics.Solve(sd, &a)
		z.statics.OnTurningBodies(z.ShaftBodies)
		f := CaseForces{
			Case: c.Name, TravelMM: sd.State.TravelMM, AtAxleN: [2]float64{a.Force.Along + 0, a.Force.Ahead + 0},
			TorqueNM: a.Couple/1000 + 0, SideN: a.Side, ShockN: push + 0, PinsN: map[string]float64{},
		}
		for j := range z.statics.Pins {
			_, _, point := z.Path.Mechanism.Joint(j)
			if point < 0 {
				continue
			}
			name := z.Path.Mechanism.Points[point]
			if _, twice := f.PinsN[name]; twice { // a pin through several bodies
				name += "_2"
			}
			f.PinsN[name] = kinematics.Distance(plane.Vec[float64]{}, z.statics.Pins[j].Force)
		}
		for i := range z.Path.Slides {
			name := z.Path.Mechanism.SlideName(&z.Path.Slides[i].Slide)
			f.PinsN[name+" mouth"], f.PinsN[name+" end"] = math.Abs(z.statics.Bushes[i].AtMouth), math.Abs(z.statics.Bushes[i].AtEnd)
		}
		all = append(all, f)
	}
	return all
}
