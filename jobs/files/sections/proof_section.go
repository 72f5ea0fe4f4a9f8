package sections

import (
	"fmt"
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/objectives/simulation"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/loads"
)

// ProofSection is the section of a job or concept on test loads. They are checked on sized forks, and size nothing.
type ProofSection struct {
	Preset     string      `yaml:"preset" jsonschema:"enum=none,enum=iso-4210-6-mountain,enum=astm-f2899" default:"none" jsonschema_description:"test loads of a standard; what is from memory is marked where margins are shown"`
	Scale      float64     `yaml:"scale" jsonschema:"exclusiveMinimum=0" default:"1" jsonschema_description:"factor on the preset's forces and drop heights; standards have none for loads of cargo, so it is your number, and printed"`
	SizeTubes  bool        `yaml:"size_tubes" default:"false" jsonschema_description:"size tubes for the tests too, except impacts"`
	Tests      []ProofTest `yaml:"tests" jsonschema_description:"further tests"`
	Duty       []DutyLoad  `yaml:"duty" jsonschema_description:"what the fork bears in its life, for fatigue_damage and for the life of bearings; without it the damage is that of all fatigue tests, each once"`
	Joint      string      `yaml:"joint" jsonschema:"enum=notch,enum=smooth,enum=weld" default:"notch" jsonschema_description:"how tubes are joined, for fatigue: notch (stress concentration of 2), smooth, or weld"`
	WeldClass  float64     `yaml:"weld_class_mpa" jsonschema:"minimum=0" default:"0" jsonschema_description:"stress range that a weld withstands for 2 million cycles (FAT class); 0: 22 for aluminium, 63 for steel"`
	Deviations float64     `yaml:"deviations" jsonschema:"minimum=0" default:"2" jsonschema_description:"standard deviations of the logarithm of life by which fatigue strength stays below the median"`
}

// ProofTest is one test load; its forces act together on the hub.
type ProofTest struct {
	Name       string  `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	Kind       string  `yaml:"kind" jsonschema:"required,enum=static,enum=reversed,enum=pulsating,enum=impact" jsonschema_description:"static; reversed: between the load and its opposite; pulsating: between nothing and the load; impact: a striker falls on the fork rearwards"`
	At         string  `yaml:"at" jsonschema:"enum=top_out,enum=sag,enum=full_travel" default:"top_out" jsonschema_description:"position in the travel, the shock locked"`
	RearwardN  float64 `yaml:"rearward_n" default:"0" jsonschema_description:"rearward force at the hub, perpendicular to the steering axis"`
	AlongN     float64 `yaml:"along_n" default:"0" jsonschema_description:"force at the hub along the steering axis; positive pulls the wheel away from the crown"`
	Braked     bool    `yaml:"braked" default:"false" jsonschema_description:"rearward_n acts at an arm about the axle, and the caliper's body bears the torque"`
	BrakeArmMM float64 `yaml:"brake_arm_mm" jsonschema:"minimum=0" default:"0" jsonschema_description:"that arm; 0: the front wheel's radius"`
	Cycles     float64 `yaml:"cycles" jsonschema:"minimum=0" default:"0" jsonschema_description:"of a reversed or pulsating test"`
	DropMM     float64 `yaml:"drop_mm" jsonschema:"minimum=0" default:"0" jsonschema_description:"of an impact"`
	StrikerKG  float64 `yaml:"striker_kg" jsonschema:"minimum=0" default:"0" jsonschema_description:"of an impact"`
}

// DutyLoad is a load or an event that a fork bears many times: one of the two.
type DutyLoad struct {
	Load   string  `yaml:"load" default:"" jsonschema_description:"the name of a load case, which comes and goes, or of a test"`
	Event  string  `yaml:"event" default:"" jsonschema_description:"in its place, the name of an event of the ride section, whose loads over time are counted by rainflow"`
	Cycles float64 `yaml:"cycles" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"how many times"`
}

// Check notes tests that cannot be made, and loads of the duty that are not known.
func (v *ProofSection) Check(s *document.Source, path string, cases []LoadCase, dynamics *Dynamics) {
	v.checkDuty(s, path+".duty", cases, dynamics)
	path += ".tests"
	document.Twice(s, path, "name", len(v.Tests), func(i int) any { return v.Tests[i].Name })
	for i, t := range v.Tests {
		at := document.Item(path, i)
		repeats := t.Kind == string(loads.ReversedTest) || t.Kind == string(loads.PulsatingTest)
		switch {
		case t.Kind == string(loads.ImpactTest):
			if t.DropMM == 0 || t.StrikerKG == 0 {
				s.At(at, "an impact without drop_mm or striker_kg; give both")
			}
		case t.RearwardN == 0 && t.AlongN == 0:
			s.At(at, "no load; give at least one of rearward_n, along_n")
		case repeats && t.Cycles == 0:
			s.At(at, "a %s test without cycles", t.Kind)
		}
	}
}

func (v *ProofSection) checkDuty(s *document.Source, path string, cases []LoadCase, dynamics *Dynamics) {
	var known []string
	for _, c := range cases {
		known = append(known, c.Name)
	}
	for _, t := range v.all() {
		if t.Kind != loads.ImpactTest {
			known = append(known, t.Name)
		}
	}
	events := simulation.EventNames()
	for i, d := range v.Duty {
		at := document.Item(path, i)
		switch {
		case (d.Load == "") == (d.Event == ""):
			s.At(at, "give either load or event")
		case d.Load != "" && !slices.Contains(known, d.Load):
			s.At(document.Join(at, "load"), "%q is neither a load case nor a test other than an impact; %s", d.Load, document.Suggest(d.Load, known))
		case d.Event != "" && !slices.Contains(events, d.Event):
			s.At(document.Join(at, "event"), "%q is not an event; %s", d.Event, document.Suggest(d.Event, events))
		case d.Event != "" && dynamics.Damping == nil:
			s.At(document.Join(at, "event"), "%q is simulated only with a ride section; add one", d.Event)
		}
	}
}

// asked tells whether anything is to be checked.
func (v *ProofSection) asked() bool { return len(v.all()) > 0 || len(v.Duty) > 0 }

// all are the tests in the model's terms.
func (v *ProofSection) all() (tests []loads.Test) {
	for _, t := range loads.TestPresets[v.Preset] {
		if v.Scale != 1 {
			t.RearwardN, t.AlongN, t.DropMM = v.Scale*t.RearwardN, v.Scale*t.AlongN, v.Scale*t.DropMM
			t.Source += fmt.Sprintf(", times %g", v.Scale)
		}
		tests = append(tests, t)
	}
	for _, t := range v.Tests {
		tests = append(tests, loads.Test{
			Name: t.Name, Kind: loads.TestKind(t.Kind), At: loads.Stance(slices.Index(stances, t.At)), RearwardN: t.RearwardN, AlongN: t.AlongN,
			Braked: t.Braked, BrakeArmMM: t.BrakeArmMM, Cycles: t.Cycles, DropMM: t.DropMM, StrikerKG: t.StrikerKG, Source: "as given",
		})
	}
	return tests
}

// Model is the section in the model's terms, with the load cases that its duty may name; nil where nothing is to be
// checked.
func (v *ProofSection) Model(cases []loads.Case) *structure.ProofRules {
	if !v.asked() {
		return nil
	}
	p := &structure.ProofRules{Tests: v.all(), Joint: fatigue.Joint(v.Joint), WeldClass: v.WeldClass, Deviations: v.Deviations}
	for i := range p.Tests {
		cases = append(cases, p.Tests[i].AsCase())
	}
	for _, d := range v.Duty {
		if d.Event != "" {
			p.Events = append(p.Events, loads.DutyEvent{Event: d.Event, Repeats: d.Cycles})
			continue
		}
		i := slices.IndexFunc(cases, func(c loads.Case) bool { return c.Name == d.Load })
		p.Duty = append(p.Duty, loads.Duty{Case: cases[i], Cycles: d.Cycles})
	}
	return p
}
