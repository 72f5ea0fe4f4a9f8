package files

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"forkfront/jobs/arrangement"
	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/jobs/words"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/topology"
)

// TopologiesSection has a job search enumerated linkages, with bounds that follow from the bike.
type TopologiesSection struct {
	Bodies       int      `yaml:"bodies" jsonschema:"minimum=2,maximum=8" default:"4" jsonschema_description:"at most this many bodies, the ground included; 2, 4, 6 or 8"`
	Slides       int      `yaml:"slides" jsonschema:"minimum=0,maximum=1" default:"0" jsonschema_description:"1: linkages with one slide instead of those with pivots only"`
	Trains       string   `yaml:"trains" jsonschema:"enum=short,enum=any" default:"short" jsonschema_description:"short: at most two bodies that serve only the shock, and at most two that serve only the caliper; any: any number"`
	Arrangements []string `yaml:"arrangements" jsonschema:"minItems=1,enum=high,enum=low,enum=trailing" default:"[high, low]" jsonschema_description:"high: ahead of the head tube, one shock; low: beside the wheel, pivots on the ground behind the axle, two shocks; trailing: the same, pivots on the ground ahead of the axle"`
	Lanes        string   `yaml:"lanes" json:",omitempty" jsonschema:"enum=rule,enum=chosen" default:"rule" jsonschema_description:"half widths of the bodies: by rule, or chosen by the search for each body but crown, leg, carrier and those on a slide"`
	Members      string   `yaml:"members" json:",omitempty" jsonschema:"enum=path,enum=least" default:"least" jsonschema_description:"tubes of the bodies: least, of each fork the shortest tree over the points of a body, but in the arrangement high from the crown's root to each of its pivots; or path, from the pivot nearest the ground through the shock's eye and the other pivots to the axle"`
	Only         []string `yaml:"only" jsonschema:"minItems=1" jsonschema_description:"codes of the linkages to search, such as c1-c2-1l-2l+c1, in place of bodies, slides and trains; forkfront topologies lists the codes"`
	Without      []string `yaml:"without" jsonschema:"minItems=1" jsonschema_description:"codes of linkages to leave out"`
}

// addTopologies turns the section into mechanisms, which is all that the rest of the program sees.
func (j *JobFile) addTopologies(s *document.Source) {
	const at = "topologies"
	if j.Topologies == nil || len(j.Bikes) == 0 {
		return
	}
	k := *j.Topologies
	j.Topologies = nil
	bike, differ := j.Room()
	if differ != "" {
		s.At(at, "the bounds follow from one bike and package; these differ in %s: write a job for each", differ)
		return
	}
	if s.Faulty(at) {
		return // of values that select something else
	}
	before := len(j.Mechanisms)
	listed := k.listed(s, at)
	if n := len(listed) * len(k.Arrangements); n/2 > j.Budget.MaxCases { // some have no arrangement high
		s.At(at, "about %d cases for each bike and seed (%s, %s); budget.max_cases allows %d: list some with only", n,
			words.Counted(len(listed), "linkage"), words.Counted(len(k.Arrangements), "arrangement"), j.Budget.MaxCases)
		return
	}
	for _, t := range listed {
		for _, kind := range k.Arrangements {
			plan, reason := arrangement.Of(&t, arrangement.Kind(kind), bike)
			if reason == "" {
				jm := Arranged(&t, kind, plan)
				if k.Lanes == "chosen" {
					jm.chooseLanes(plan)
				}
				if k.Members == leastMembers {
					LeaveMembers(&jm.Spec, kind == string(arrangement.High))
				}
				j.Mechanisms = append(j.Mechanisms, jm)
			}
		}
	}
	if len(j.Mechanisms) == before && s.Err() == nil {
		s.At(at, "no linkage is left to search: a single arm has no arrangement high, and without removes others")
	}
	if len(j.Mechanisms) > before && len(j.Shocks) == 0 && !s.Has("shocks") {
		s.At("shocks", "missing; the linkages of topologies drive a shock")
	}
}

// listed are the linkages that the section asks for.
func (k *TopologiesSection) listed(s *document.Source, at string) (all []topology.Topology) {
	if s.Has(at + ".only") {
		for _, key := range []string{"bodies", "slides", "trains", "without"} {
			if s.Has(at + "." + key) {
				s.At(at+"."+key, "not used with only; remove one of the two")
			}
		}
		for i, code := range k.Only {
			t, err := topology.Parse(code)
			if err != nil {
				s.At(document.Item(at+".only", i), "%v", err)
				continue
			}
			if slices.ContainsFunc(all, func(o topology.Topology) bool { return o.Code() == t.Code() }) {
				s.At(document.Item(at+".only", i), "%q is listed twice", code)
				continue
			}
			all = append(all, t)
		}
		return all
	}
	all = topology.Forks(topology.Options{Bodies: k.Bodies, Slide: k.Slides > 0, AnyTrain: k.Trains == "any"})
	for i, code := range k.Without {
		t, err := topology.Parse(code)
		same := func(o topology.Topology) bool { return o.Code() == t.Code() }
		switch {
		case err != nil:
			s.At(document.Item(at+".without", i), "%v", err)
		case !slices.ContainsFunc(all, same):
			s.At(document.Item(at+".without", i), "%q is not among the linkages that the other keys select", code)
		default:
			all = slices.DeleteFunc(all, same)
		}
	}
	return all
}

// Room are the lengths from which the bounds of enumerated linkages follow. differ names what the job's bikes and packages do not agree
// in.
func (j *JobFile) Room() (bike *arrangement.Bike, differ string) {
	packages := j.Packages
	if len(packages) == 0 {
		packages = []sections.PackageSection{j.Package}
	}
	first := roomOf(&j.Bikes[0], j.TravelMM, &packages[0])
	for i := range j.Bikes {
		for k := range packages {
			switch other := roomOf(&j.Bikes[i], j.TravelMM, &packages[k]); {
			case other.AxleToCrownMM != first.AxleToCrownMM:
				return nil, "axle_to_crown_mm"
			case other.ForkOffsetMM != first.ForkOffsetMM:
				return nil, "fork_offset_mm"
			case other.WheelRadiusMM != first.WheelRadiusMM:
				return nil, "front_radius_mm"
			case other.HeadTubeDiameterMM != first.HeadTubeDiameterMM:
				return nil, "head_tube.diameter_mm"
			case other.HubWidthMM != first.HubWidthMM:
				return nil, "hub_width_mm"
			}
		}
	}
	return &first, ""
}

func roomOf(b *sections.Bike, travelMM float64, p *sections.PackageSection) arrangement.Bike {
	return arrangement.Bike{
		AxleToCrownMM: b.AxleToCrownMM, ForkOffsetMM: b.ForkOffsetMM, WheelRadiusMM: b.FrontRadiusMM, TravelMM: travelMM,
		HeadTubeDiameterMM: p.HeadTube.DiameterMM, HubWidthMM: p.HubWidthMM,
	}
}

// Arranged is a linkage as a mechanism of a job, called by its code and its arrangement.
func Arranged(t *topology.Topology, kind string, p *arrangement.Plan) JobMechanism {
	spec := t.Spec()
	spec.Name = fmt.Sprintf("%s %s", spec.Name, kind)
	jm := JobMechanism{
		Mechanism: spec.Name, Spec: spec, ShockCount: p.Shocks, BoundsMM: map[string]Bounds{},
		ShockAngleRad: &sections.Range{Low: p.ShockAngle.Low, High: p.ShockAngle.High},
		Across:        sections.AcrossSection{HalfWidthMM: p.HalfWidthMM, OneSided: p.OneSided, ShockHalfWidthMM: p.ShockHalfWidthMM},
	}
	for point, place := range p.Places {
		jm.BoundsMM[point] = Bounds{Along: sections.Range{Low: place.Along.Low, High: place.Along.High}, Ahead: sections.Range{Low: place.Ahead.Low, High: place.Ahead.High}}
	}
	return jm
}

// LeaveMembers leaves the members of bodies to the layout: of all, or of all but the ground.
func LeaveMembers(spec *scheme.MechanismSpec, butGround bool) {
	listed := spec.Members
	spec.Least, spec.Members = true, nil
	for _, m := range listed {
		if butGround && m.Body == spec.Ground {
			spec.Members = append(spec.Members, m)
		}
	}
}

// chooseLanes leaves the half widths to the search of those bodies for which a plan has several.
func (jm *JobMechanism) chooseLanes(p *arrangement.Plan) {
	if len(p.LanesMM) == 0 {
		return // an arm has none
	}
	jm.LanesMM, jm.Across.HalfWidthMM = p.LanesMM, maps.Clone(p.HalfWidthMM)
	for body := range p.LanesMM {
		delete(jm.Across.HalfWidthMM, body)
	}
}

// enumerated is the mechanism that a code names; the error is of a text that is meant to be one.
func enumerated(name string) (t topology.Topology, isCode bool, err error) {
	if !strings.Contains(name, "+") || strings.ContainsAny(name, `/\. `) {
		return t, false, nil
	}
	t, err = topology.Parse(name)
	return t, true, err
}
