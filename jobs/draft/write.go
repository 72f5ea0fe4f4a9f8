package draft

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"forkfront/jobs/files"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives"
)

// page is a job file that is being written. Comments behind the lines of one section stand in one column.
type page struct {
	bytes.Buffer
	section [][2]string
}

// widest is the longest line that the comments of its section still move right for.
const widest = 72

// line adds a line to the section and says what it means.
func (p *page) line(means, format string, values ...any) {
	p.section = append(p.section, [2]string{fmt.Sprintf(format, values...), means})
}

// end writes the section.
func (p *page) end() {
	column := 0
	for _, l := range p.section {
		if n := utf8.RuneCountInString(l[0]); l[1] != "" && n <= widest {
			column = max(column, n)
		}
	}
	for _, l := range p.section {
		if l[1] != "" {
			l[0] = fmt.Sprintf("%-*s  # %s", column, l[0], l[1])
		}
		p.WriteString(l[0] + "\n")
	}
	p.section = nil
}

// note writes a comment before a section.
func (p *page) note(format string, values ...any) {
	for line := range strings.Lines(fmt.Sprintf(format, values...) + "\n") {
		p.WriteString(strings.TrimRight("# "+line, " \n") + "\n")
	}
}

// Job is the text of a job for built-in mechanisms that can share one (see Together), on a bike that was checked. command
// is how it was asked for, and given tells which of its flags were stated.
func Job(mechanisms []string, b *Bike, command string, given func(flag string) bool) ([]byte, error) {
	var all []*mechanism.Mechanism
	var plans []plan
	for _, name := range mechanisms {
		m, err := files.LoadMechanism(name, ".")
		if err != nil {
			return nil, err
		}
		all, plans = append(all, m), append(plans, planFor(name, b))
	}
	about := "one mechanism, " + mechanisms[0] + ": " + plans[0].about
	if len(mechanisms) > 1 {
		about = fmt.Sprintf("%d mechanisms, each searched by itself: %s", len(mechanisms), strings.Join(mechanisms, ", "))
	}
	shared := common(plans)
	var p page
	p.note(`A job for %s.
Written by: %s

  forkfront check FILE          reports every mistake, and tries the job briefly
  forkfront run FILE --out DIR  searches it

Change first what is assumed (marked below), then objectives and constraints. The bounds of the pivots follow from
wheel, travel, axle to crown and offset: where these change, write another file.`, about, command)
	p.line("a name of your choice", "job: %s", strings.Join(mechanisms, " and "))
	p.bike(b, given)
	p.springs(&shared)
	p.surroundings(b, &shared, given)
	p.mechanisms(mechanisms, plans)
	p.objectives(all, &shared)
	p.constraints(all, &shared)
	p.line("of each search; a first look, for a night 2000000 or max_wall: 8h", "budget: {evaluations: 20000}")
	p.end()
	return p.Bytes(), nil
}

// mm is a length to a tenth.
func mm(x float64) string { return fmt.Sprintf("%g", math.Round(10*x)/10) }

// spot is a point in the mid-plane.
func spot(p [2]float64) string { return "[" + mm(p[0]) + ", " + mm(p[1]) + "]" }

func (s span) String() string {
	if s.low == s.high {
		return mm(s.low)
	}
	return fmt.Sprintf("[%.0f, %.0f]", s.low, s.high)
}

// assumed marks what a number means where it was not given.
func assumed(given bool, means string) string {
	if given {
		return means
	}
	return "assumed: " + means
}

func (p *page) bike(b *Bike, given func(string) bool) {
	p.end()
	p.WriteString("\n")
	p.note("The bike, as it stands with the fork at top-out. Lengths in mm.")
	p.line("", "bikes:")
	p.line("a name of your choice", "  - name: bike")
	p.line("between the steering axis and the ground", "    head_angle_deg: %s", mm(b.HeadAngleDeg))
	p.line(assumed(given("wheelbase"), "from axle to axle"), "    wheelbase_mm: %s", mm(b.WheelbaseMM))
	p.line("wheel with tyre, from "+b.Wheel.Given, "    front_radius_mm: %s", mm(b.Wheel.RadiusMM))
	p.line("assumed: the same wheel", "    rear_radius_mm: %s", mm(b.Wheel.RadiusMM))
	p.line("from the crown race to the front axle, along the steering axis", "    axle_to_crown_mm: %s", mm(b.AxleToCrownMM))
	p.line(assumed(given("offset"), "of the front axle ahead of the steering axis"), "    fork_offset_mm: %s", mm(b.OffsetMM))
	p.line("assumed: of the centre of gravity, over the ground", "    cg_height_mm: %s", mm(cgHeightMM))
	p.line(fmt.Sprintf("assumed: %.0f %% of the weight is on the front wheel", 100*frontShare), "    cg_to_front_axle_mm: %s", mm(b.toCG()))
	p.line(assumed(given("mass"), "rider, bike and load"), "    mass_kg: %s", mm(b.MassKG))
	p.line("assumed: part of the braking force", "    front_brake_share: %g", brakeShare)
	p.line("of the axle, up along the steering axis", "travel_mm: %s", mm(b.TravelMM))
	p.line("assumed: part of the travel that the weight takes", "sag_pct: %.0f", 100*sag)
	p.line("assumed: a hard stop", "braking_g: %g", b.braking())
	p.line("what to aim for: at 0 % only the spring resists the dive, at 100 % there is none", "anti_dive_band: [0, 50]")
	p.end()
}

func (p *page) springs(plan *plan) {
	p.WriteString("\n")
	if !plan.legs {
		p.note("Shocks. The leverage ratio (travel of the axle per compression of the shock) is the one at which coils on sale\ncarry this weight at sag. The search chooses a size: list those that you can get.")
	} else {
		p.note("Springs in the legs: their leverage ratio is near 1.")
	}
	p.line("", "leverage_band: [%.2f, %.2f]", 0.85*plan.ratios.low, 1.15*plan.ratios.high)
	p.line("", "shocks:")
	for _, s := range plan.sizes {
		p.line("", "  - {name: %gx%g, eye_to_eye_mm: %g, stroke_mm: %g}", s.eyeToEye, s.stroke, s.eyeToEye, s.stroke)
	}
	p.end()
}

func (p *page) surroundings(b *Bike, plan *plan, given func(string) bool) {
	head, what := plan.strut, "assumed: a strut of the frame behind the wishbones"
	if head == nil {
		head, what = &strut{[2]float64{headTubeTopMM, 0}, [2]float64{headTubeBottomMM, 0}}, "assumed"
	}
	start := head.to
	start[0] -= 14
	p.WriteString("\n")
	p.note("The space around the fork. Points are [along, ahead]: mm down the steering axis from the crown race, and ahead of it.")
	p.line("", "package:")
	p.line(b.Wheel.widthFrom(), "  tyre_width_mm: %s", mm(b.Wheel.TyreWidthMM))
	p.line("assumed: rim and spokes", "  rim_width_mm: %s", mm(math.Min(30, 0.8*b.Wheel.TyreWidthMM)))
	p.line(assumed(given("hub-width"), "between the faces that legs are clamped to"), "  hub_width_mm: %s", mm(b.HubWidthMM))
	p.line(assumed(given("lock"), "steering angle to either side"), "  lock_deg: %s", mm(b.LockDeg))
	if r := b.crownRadiusMM(); r < 25 && plan.strut == nil {
		p.line("a low crown: there is little room above the tyre", "  crown_radius_mm: %s", mm(r))
	}
	p.line(what, "  head_tube: {from_mm: %s, to_mm: %s, diameter_mm: %g}", spot(head.from), spot(head.to), headTubeDiameterMM)
	p.line("assumed", "  down_tube: {from_mm: %s, to_mm: %s, diameter_mm: %g}", spot(start), spot(b.bottomBracket(start)), downTubeDiameterMM)
	p.end()
}

func (p *page) mechanisms(names []string, plans []plan) {
	p.WriteString("\n")
	p.note("Where each pivot may be at top-out; a range is searched, a number is fixed. To see a pivot, extract a candidate as a\ndrawing. Wider ranges find more, and take longer.")
	p.line("", "mechanisms:")
	for i := range plans {
		p.mechanism(names[i], &plans[i])
	}
	p.end()
}

func (p *page) mechanism(name string, plan *plan) {
	p.line(plan.about, "  - mechanism: %s", name)
	p.line("", "    shock_count: %d", plan.shocks)
	p.across(plan)
	p.line("", "    bounds_mm:")
	for _, l := range plan.places {
		p.line(l.why, "      %s: {along: %s, ahead: %s}", l.point, l.along, l.ahead)
	}
	p.line("from shock_upper to shock_lower; 0: along the steering axis, positive: ahead", "    shock_angle_rad: [%g, %g]", plan.angle.low, plan.angle.high)
}

// across writes the lateral positions of parts.
func (p *page) across(plan *plan) {
	list := func(means, key, open, shut string, all []string) {
		if len(all) > 0 {
			p.line(means, "      %s: %s%s%s", key, open, strings.Join(all, ", "), shut)
		}
	}
	var lanes, shafts []string
	for _, l := range plan.lanes {
		lanes = append(lanes, l.body+": "+mm(l.mm))
	}
	for _, s := range plan.shafts {
		shafts = append(shafts, s[0]+": "+s[1])
	}
	p.line("how far to either side of the mid-plane the parts of each body lie", "    across:")
	list("", "half_width_mm", "{", "}", lanes)
	list("only on the side of the brake", "one_sided", "[", "]", plan.oneSided)
	list("one on either side in place of one through the mid-plane", "shafts", "{", "}", shafts)
	if plan.shocks > 1 {
		p.line("", "      shock_half_width_mm: %s", mm(plan.shockLane))
	}
}

// aim is an objective that a job has where the mechanism has the measure.
type aim struct {
	measure, how string
}

var (
	leverageAim = aim{"leverage_band_error_pct", "sense: min, resolution: 0.1"}
	diveAim     = aim{"brake_dive_mm", "sense: min, resolution: 0.1"}
	otherAims   = []aim{
		{"path_straightness_mm", "sense: min, resolution: 0.02"},
		{"trail_variation_mm", "sense: min, resolution: 0.05"},
		{"anti_dive_band_error_pct", "sense: min, resolution: 0.5"},
		{"clearance_mm", "sense: max, enough: 20, resolution: 0.1"},
		{"mass_g", "sense: min, resolution: 2"},
	}
)

// have tells whether forks of all the mechanisms have a measure.
func have(all []*mechanism.Mechanism, measure string) bool {
	return !slices.ContainsFunc(all, func(m *mechanism.Mechanism) bool {
		return objectives.Measures[objectives.Index(measure)].Unavailable(m, nil, objectives.Given{}) != ""
	})
}

func (p *page) objectives(all []*mechanism.Mechanism, plan *plan) {
	third := leverageAim
	if plan.legs {
		third = diveAim // the leverage ratio of springs in the legs hardly varies
	}
	p.WriteString("\n")
	p.note("What the search trades off. `forkfront help measures` lists all measures; remove what does not matter to you.")
	p.line("", "objectives:")
	for _, a := range slices.Insert(slices.Clone(otherAims), 2, third) {
		if have(all, a.measure) {
			p.line(objectives.Measures[objectives.Index(a.measure)].Doc, "  - {measure: %s, %s}", a.measure, a.how)
		}
	}
	p.end()
}

func (p *page) constraints(all []*mechanism.Mechanism, plan *plan) {
	p.WriteString("\n")
	p.note("What every fork must meet. Further limits hold by default (stroke used, spring rate, transmission angle, stiffness ...):\n`forkfront check` lists them, and a line here replaces one.")
	p.line("", "constraints:")
	if have(all, "clearance_mm") {
		p.line("between all parts, the tyre and the frame, at any travel and steering angle", "  - {measure: clearance_mm, min: %g}", clearMM)
		p.line("beside hub and rotor", "  - {measure: hub_clearance_mm, min: %g}", hubClearMM)
	}
	for _, o := range plan.off {
		p.line(o.why, "  - {measure: %s, off: true}", o.measure)
	}
	p.end()
	p.WriteString("\n")
}
