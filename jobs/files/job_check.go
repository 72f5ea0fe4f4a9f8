package files

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/words"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
	"forkfront/results/picks"
)

// check notes values of a job that contradict each other.
func (j *JobFile) check(s *document.Source) {
	if !s.Has("coil_rates_n_per_mm") {
		j.CoilRatesNPerMM = sections.CoilsOnSale()
	}
	for i := range j.Start {
		j.Start[i].check(s, document.Item("start", i), j)
	}
	j.Aims.Check(s)
	j.Dynamics.Check(s, &j.Aims)
	if j.Damping == nil && !s.Packed && j.Events == "front" {
		s.At("events", "%q; needs a ride section, such as ride: {kind: trail}", j.Events)
	}
	if j.Damping == nil && !s.Packed && s.Has("traces") && j.Traces != "none" {
		s.At("traces", "%q; needs a ride section, such as ride: {kind: trail}", j.Traces)
	}
	j.LeverageBand.CheckRatio(s, "leverage_band")
	j.Structure.Check(s, "structure")
	j.Proof.Check(s, "proof", j.Structure.LoadCases, &j.Dynamics)
	j.AntiDiveBand.Check(s, "anti_dive_band")
	for i := range j.Bikes {
		b := &j.Bikes[i]
		b.Check(s, document.Item("bikes", i))
		b.CheckRide(s, " of "+document.Item("bikes", i), j.TravelMM, j.BrakingG)
		j.CheckUnsprung(s, document.Item("bikes", i)+".unsprung_front_kg", b)
		j.checkRoom(s, b.FrontRadiusMM)
	}
	for i := range j.Shocks {
		j.Shocks[i].Check(s, document.Item("shocks", i))
	}
	for i := range j.Mechanisms {
		j.Mechanisms[i].check(s, document.Item("mechanisms", i), len(j.Shocks) > 0)
	}
	if !s.Packed && !s.Has("mechanisms") && !s.Has("start") && !s.Has("topologies") {
		s.At("mechanisms", "missing; give at least one of mechanisms, topologies and start")
	}
	j.checkPackages(s)
	for i, list := range j.Sweep {
		if list == sweepShocks && len(j.Shocks) == 0 {
			s.At(document.Item("sweep", i), "%q; the job lists none", list)
		}
	}
	j.checkNames(s)
	j.addShockPairs(s)
	j.addTopologies(s)
	j.checkWants(s)
	j.checkRace(s)
	if err := j.CheckPrefer(j.Prefer); err != nil {
		s.At("prefer", "%s", err)
	}
	if b := j.Budget; s.Has("budget") && j.Race == nil && b.Evaluations == nil && b.MaxWall == nil && b.StagnationGenerations == nil && b.TotalEvaluations == nil && b.TotalWall == nil {
		s.At("budget", "no limit; give at least one of evaluations, max_wall, stagnation_generations, total_evaluations, total_wall")
	}
}

// checkPackages notes packages of one name, and the key package beside packages.
func (j *JobFile) checkPackages(s *document.Source) {
	if !s.Packed && s.Has("package") && s.Has("packages") {
		s.At("package", "use either package or packages, not both")
	}
	for i := range j.Packages {
		if path := document.Item("packages", i) + ".name"; !s.Has(path) {
			s.At(path, "missing; each of the packages needs one")
		}
	}
}

// checkRoom compares the packages with the wheel of a bike.
func (j *JobFile) checkRoom(s *document.Source, wheel float64) {
	for i := range j.Packages {
		j.Packages[i].Check(s, document.Item("packages", i), wheel)
	}
	if len(j.Packages) == 0 {
		j.Package.Check(s, "package", wheel)
	}
}

// checkNames notes what is listed twice: two equal cases would be searched for one front.
func (j *JobFile) checkNames(s *document.Source) {
	document.Twice(s, "bikes", "name", len(j.Bikes), func(i int) any { return j.Bikes[i].Name })
	document.Twice(s, "shocks", "name", len(j.Shocks), func(i int) any { return j.Shocks[i].Name })
	document.Twice(s, "materials", "name", len(j.Materials), func(i int) any { return j.Materials[i].Name })
	document.Twice(s, "packages", "name", len(j.Packages), func(i int) any { return j.Packages[i].Name })
	document.Twice(s, "mechanisms", "mechanism", len(j.Mechanisms), func(i int) any { return j.Mechanisms[i].label() })
	document.Twice(s, "start", "concept", len(j.Start), func(i int) any { return j.Start[i].Concept })
	document.Twice(s, "objectives", "measure", len(j.Objectives), func(i int) any { return j.Objectives[i].Measure })
	document.Twice(s, "sweep", "", len(j.Sweep), func(i int) any { return j.Sweep[i] })
	document.Twice(s, "seeds", "", len(j.Seeds), func(i int) any { return j.Seeds[i] })
}

// check compares the bounds given with the points of the mechanism.
func (jm *JobMechanism) check(s *document.Source, path string, shocks bool) {
	m := mechanismOf(s, path, jm.Mechanism, &jm.Spec)
	if m == nil {
		return
	}
	jm.Across.Check(s, path+".across", m)
	jm.checkLanes(s, path, m)
	bounds, angle := path+".bounds_mm", path+".shock_angle_rad"
	free := slices.DeleteFunc(m.RequiredPoints(), func(name string) bool { return name == scheme.PointShockLower })
	for _, name := range free {
		if !s.Has(bounds + "." + name) {
			s.At(bounds+"."+name, "missing; required by mechanism %q", m.Name)
		}
	}
	for _, name := range s.Keys(bounds) {
		at := bounds + "." + name
		switch {
		case name == scheme.PointAxle:
			s.At(at, "the axle's position follows from the bike; remove it")
		case name == scheme.PointShockLower && m.HasShock():
			s.At(at, "shock_lower follows from shock_upper, shock_angle_rad and the shock's length; remove it")
		case name != scheme.PointRoot && !slices.Contains(free, name):
			s.At(at, "unknown point; %s", document.Suggest(name, free))
		}
	}
	switch given := s.Has(angle); {
	case m.HasShock() && !given:
		s.At(angle, "missing; mechanism %q drives a shock", m.Name)
	case !m.HasShock() && given:
		s.At(angle, "mechanism %q drives no shock; remove it", m.Name)
	}
	jm.checkSteering(s, bounds, m)
	if m.HasShock() && !shocks && !s.Has("shocks") {
		s.At("shocks", "missing; mechanism %q drives a shock", m.Name)
	}
}

// checkLanes checks the half widths to choose from. In the mid-plane a body has one tube instead of two, and is another fork.
func (jm *JobMechanism) checkLanes(s *document.Source, path string, m *mechanism.Mechanism) {
	for _, body := range s.Keys(path + ".lanes_mm") {
		at, lanes := path+".lanes_mm."+body, jm.LanesMM[body]
		i := slices.Index(m.Bodies, body)
		switch {
		case i < 0:
			s.At(at, "unknown body; %s", document.Suggest(body, m.Bodies))
			continue
		case s.Has(path + ".across.half_width_mm." + body):
			s.At(at, "%q has a half width under across; remove one of the two", body)
		case slices.ContainsFunc(m.Slides(), func(k mechanism.Slide) bool { return k.Guide == i || k.Slider == i }):
			s.At(at, "%q is on a slide, whose two bodies are at one half width; give it under across", body)
		case len(lanes) < 2:
			s.At(at, "%s; at least two to choose from are required", words.Counted(len(lanes), "half width"))
		}
		for k, mm := range lanes {
			switch {
			case !(mm > 0):
				s.At(document.Item(at, k), "%g; must be more than 0", mm)
			case slices.Contains(lanes[:k], mm):
				s.At(document.Item(at, k), "%g is listed twice", mm)
			}
		}
	}
}

// checkWants compares objectives and constraints with the measures of the registry.
func (j *JobFile) checkWants(s *document.Source) {
	all := j.Choices()
	named := func(path, name string, off bool) {
		if name != "" && !knownMeasure(name) {
			s.At(path+".measure", "%q is not a measure; %s", name, document.Suggest(name, MeasureNames()))
		} else if !off {
			checkNever(s, path, name, all)
		}
	}
	for i, o := range j.Objectives {
		path := document.Item("objectives", i)
		named(path, o.Measure, false)
		if s.Has(path+".sense") == s.Has(path+".band") {
			s.At(path, "expected exactly one of sense (min or max) and band [low, high]")
		}
		if o.Band != nil {
			o.Band.Check(s, path+".band")
		}
		if o.Band != nil && o.Enough != nil {
			s.At(path+".enough", "%g; not used with a band; remove it", *o.Enough)
		}
	}
	for i, c := range j.Constraints {
		path := document.Item("constraints", i)
		if c.After {
			j.checkAfter(s, path, &c)
		} else {
			named(path, c.Measure, c.Off)
		}
		first := slices.IndexFunc(j.Constraints, func(other JobConstraint) bool { return other.Measure == c.Measure })
		switch {
		case first < i && s.Has(path+".measure"):
			s.At(path+".measure", "%q; already limited by %s, which can have both min and max", c.Measure, document.Item("constraints", first))
		case c.Off && !c.After:
			j.checkOff(s, path, c.Measure)
		case !s.Has(path+".min") && !s.Has(path+".max"):
			s.At(path, "no limit; give min, max or both")
		case c.Min != nil && c.Max != nil && *c.Min > *c.Max:
			s.At(path+".min", "%g is above max %g; swap them?", *c.Min, *c.Max)
		}
	}
}

// checkAfter notes what is wrong with a limit on a quantity of an event.
func (j *JobFile) checkAfter(s *document.Source, path string, c *JobConstraint) {
	_, of := simulation.ReadingNamed(c.Measure)
	switch {
	case c.Measure == "": // said already
	case knownMeasure(c.Measure) && !of:
		s.At(path+".after", "true; %q is known during the search, which keeps to its limits; remove after", c.Measure)
	case !of:
		s.At(path+".measure", "%q is not a quantity of an event; %s", c.Measure, document.Suggest(c.Measure, readingNames()))
	case c.Off:
		s.At(path+".off", "true together with after; remove the constraint")
	case j.Damping == nil && !s.Packed:
		s.At(path+".after", "true; needs a ride section, such as ride: {kind: trail}")
	case j.Events == "none":
		s.At(path+".after", "true; the job has events: none; allowed are shortlist and front, and all of the front is simulated for the limit")
	}
}

// checkOff compares what is switched off with the defaults that exist.
func (j *JobFile) checkOff(s *document.Source, path, measure string) {
	switch names := j.defaultNames(); {
	case s.Has(path+".min") || s.Has(path+".max"):
		s.At(path+".off", "true together with a limit; give one or the other")
	case !slices.Contains(names, measure):
		s.At(path+".off", "%q has no default limit; remove the constraint; measures with a default limit are %s", measure, strings.Join(names, ", "))
	}
}

// CheckPrefer reports the first weight by which the candidates of the job cannot be ranked.
func (j *JobFile) CheckPrefer(p picks.Preference) error {
	if err := p.Check(); err != nil {
		return err
	}
	for name := range p {
		aimed := slices.ContainsFunc(j.Objectives, func(o JobObjective) bool { return o.Measure == name })
		m := objectives.At(objectives.Index(name))
		if m.OfEvent() && !aimed {
			return fmt.Errorf("%s: candidates have a value of it only if it is an objective; make it one", name)
		}
		if m.Sense == objectives.Neutral && !aimed {
			return fmt.Errorf("%s: %w; give it an objective with a sense or a band", name, picks.ErrNoDirection)
		}
	}
	return nil
}

// checkRace notes what does not go together with a race.
func (j *JobFile) checkRace(s *document.Source) {
	if j.Race == nil {
		return
	}
	b := &j.Budget
	for _, limit := range []struct {
		key   string
		given bool
		why   string
	}{
		{"evaluations", b.Evaluations != nil, "a race shares total_evaluations among its rounds; remove it"},
		{"stagnation_generations", b.StagnationGenerations != nil, "a race shares total_evaluations among its rounds; remove it"},
		{"max_wall", b.MaxWall != nil, "which cases go on must not depend on the machine; give total_evaluations, for which check estimates the time"},
		{"total_wall", b.TotalWall != nil, "which cases go on must not depend on the machine; give total_evaluations, for which check estimates the time"},
	} {
		if limit.given {
			s.At("budget."+limit.key, "not used with race: %s", limit.why)
		}
	}
	if n := len(j.Bikes); n > 1 {
		s.At("bikes", "%d bikes; a race compares forks for one bike: write a job for each", n)
	}
	for i := range j.Objectives {
		j.notInRace(s, document.Item("objectives", i), j.Objectives[i].Measure)
	}
	for i := range j.Constraints {
		if !j.Constraints[i].After {
			j.notInRace(s, document.Item("constraints", i), j.Constraints[i].Measure)
		}
	}
	cases, _ := j.Size()
	switch {
	case b.TotalEvaluations == nil:
		s.At("budget.total_evaluations", "missing; a race shares it among its cases")
	case s.Err() == nil && cases <= b.MaxCases && len(j.Rounds()) == 0:
		s.At("budget.total_evaluations", "%d; the first round alone takes %d (%s of %s)", *b.TotalEvaluations,
			Product(cases, j.Race.FirstEvaluations), words.Counted(cases, "case"), words.Counted(j.Race.FirstEvaluations, "evaluation"))
	}
}

// notInRace notes a measure of an event, which the search would have to simulate for all fronts of all rounds.
func (j *JobFile) notInRace(s *document.Source, path, measure string) {
	if knownMeasure(measure) && objectives.At(objectives.Index(measure)).OfEvent() {
		s.At(path+".measure", "%q is known only once events are simulated, which a race leaves to its end; limit it with after", measure)
	}
}
