package objectives

import "forkfront/kinematics"

// ready tells why a fork cannot be given sizes, or is empty.
func (sc *Scorer) ready(d *Design) string {
	switch {
	case sc.conditions.Structure == nil:
		return "no structure is asked for"
	case d.Mechanism.Unsized() != "":
		return d.Mechanism.Unsized()
	case !d.Mechanism.HasShock():
		return "a fork without a shock has nothing to stand on"
	case d.Across == nil || d.Material == nil:
		return "no half widths or no material are given"
	}
	if sc.path == nil || sc.path.m != d.Mechanism {
		sc.path = newLoadPath(d.Mechanism)
	}
	return ""
}

// structure sizes the fork that was studied.
func (sc *Scorer) structure(d *Design) {
	s := &sc.plain
	s.design, s.layout = d, d.Layout
	if s.Missing[NeedStructure] != "" {
		return
	}
	if reason := sc.ready(d); reason != "" {
		s.Missing[NeedStructure] = reason
		return
	}
	rules := s.Conditions.Structure
	z := &s.Sized
	z.set(sc.path, len(rules.Cases))
	if !z.measure(s.layout) {
		s.Missing[NeedStructure] = "a member has no length"
		return
	}
	z.stand(s)
	z.load(s)
	strength(z, s)
	z.yield(s)
	z.eagerness(&rules.Tubes)
	stiffen(z, &rules.Tubes, rules.ForeAftNPerMM*onTheStiffSide)
	z.finish(s)
}

// structureSlopes gives the sizes their derivatives along the direction at hand.
func (sc *Scorer) structureSlopes() {
	s, plain := &sc.tangent, &sc.plain
	s.design, s.layout = plain.design, sc.trace.layout
	if s.Missing[NeedStructure] != "" {
		return
	}
	rules := s.Conditions.Structure
	z := &s.Sized
	z.set(sc.path, len(rules.Cases))
	z.idling(&plain.Sized, len(rules.Cases))
	z.measure(s.layout)
	z.stand(s)
	z.load(s)
	strengthSlopes(z, plain.Sized.least, s)
	z.yield(s)
	z.eagerness(&rules.Tubes)
	stiffSlopes(z, &rules.Tubes, rules.ForeAftNPerMM*onTheStiffSide, plain.Sized.scale)
	z.finish(s)
}

// stand places the fork where it is loaded.
func (z *Sized[T]) stand(s *Subject[T]) {
	z.stands[TopOut].at(z.path, s.at(0), s.layout, z.inverse)
	z.stands[AtSag].at(z.path, &s.Sag, s.layout, z.inverse)
	z.stands[FullTravel].at(z.path, s.full(), s.layout, z.inverse)
}

// finish is what follows from the diameters: walls, pivots, forces at sag.
func (z *Sized[T]) finish(s *Subject[T]) {
	r := &s.Conditions.Structure.Tubes
	for i := range z.Members {
		t := &z.Members[i]
		t.WallMM = kinematics.Lift[T](r.MinWallMM)
		if r.WallShare*kinematics.Real(t.DiameterMM) > r.MinWallMM {
			t.WallMM = t.DiameterMM * kinematics.Lift[T](r.WallShare)
		}
	}
	for i := range z.Members {
		z.Members[i].MassG = tubeMass(s, i)
	}
	z.shockG = shockMass(s)
	for j := range z.Pivots {
		z.pivot(s, j)
	}
}

// replace fills in what is known of the telescopic fork: its mass as given, its friction.
func (c *Conditions) replace() {
	b, r := &c.Baseline, c.Structure
	for i := range Measures {
		if Measures[i].Needs != NeedStructure {
			continue
		}
		b.Values[i], b.Missing[i] = 0, "not known of the telescopic fork"
		if r == nil {
			continue
		}
		brake := c.Chassis.FrontBrakeShare * c.BrakingN()
		switch Measures[i].Name {
		case "mass_g":
			b.Values[i], b.Missing[i] = r.Replaced.MassG, ""
		case "cost_index":
			b.Values[i], b.Missing[i] = 1, ""
		case "friction_static_n":
			b.Values[i], b.Missing[i] = telescopicFriction(c, &r.Replaced, &b.Subject.Sag, 0, c.StaticLoadN()), ""
		case "friction_braking_n":
			b.Values[i], b.Missing[i] = telescopicFriction(c, &r.Replaced, &b.Subject.Sag, brake, c.StaticLoadN()+c.TransferN()), ""
		}
	}
}
