package jobs

import (
	"encoding/xml"
	"fmt"
	"html"
	"io"
	"math"
	"strings"
	"testing"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/ride"
	"forkfront/results/sideview"
)

// sketch draws one fork from the side, in mm over level ground, or a curve of it.
type sketch struct {
	s         *sideview.Solved
	text      strings.Builder
	low, high sideview.XZ
}

// sketchedFork is the concept that the pages are drawn of.
const sketchedFork = "examples/cargo-arm-floating.yaml"

// newSketch reads and moves a fork.
func newSketch(t *testing.T, concept string) *sketch {
	t.Helper()
	file, design, err := cases.ReadFork(&process.Env{Err: &strings.Builder{}}, concept)
	if err != nil {
		t.Fatal(err)
	}
	f := &sideview.Fork{ID: file.Concept, Conditions: cases.Conditions(file), Design: *design}
	s, err := f.Solve(objectives.NewScorer(f.Conditions))
	if err != nil {
		t.Fatal(err)
	}
	far := sideview.XZ{X: math.Inf(1), Z: math.Inf(1)}
	return &sketch{s: s, low: far, high: sideview.XZ{X: -far.X, Z: -far.Z}}
}

// Colours that are legible on light and dark pages.
const (
	inkStrong = "#d9480f" // what the measure is about
	inkFork   = "#4c78a8"
	inkPlain  = "#888888"
)

func (k *sketch) see(p sideview.XZ, room float64) {
	k.low = sideview.XZ{X: math.Min(k.low.X, p.X-room), Z: math.Min(k.low.Z, p.Z-room)}
	k.high = sideview.XZ{X: math.Max(k.high.X, p.X+room), Z: math.Max(k.high.Z, p.Z+room)}
}

func (k *sketch) line(a, b sideview.XZ, colour string, width float64, more string) {
	fmt.Fprintf(&k.text, `<path d="M%.1f %.1fL%.1f %.1f" stroke="%s" stroke-width="%g"%s/>`+"\n", a.X, -a.Z, b.X, -b.Z, colour, width, more)
	k.see(a, 8)
	k.see(b, 8)
}

func (k *sketch) dot(p sideview.XZ, radius float64, colour string) {
	fmt.Fprintf(&k.text, `<circle cx="%.1f" cy="%.1f" r="%g" fill="%s"/>`+"\n", p.X, -p.Z, radius, colour)
}

func (k *sketch) words(p sideview.XZ, text string) {
	fmt.Fprintf(&k.text, `<text x="%.1f" y="%.1f" fill="%s" font-size="22" font-family="sans-serif">%s</text>`+"\n", p.X, -p.Z, inkStrong, html.EscapeString(text))
	k.see(sideview.XZ{X: p.X + 13*float64(len([]rune(text))), Z: p.Z + 20}, 4)
	k.see(p, 8)
}

// arrow points from a to b.
func (k *sketch) arrow(a, b sideview.XZ) {
	k.line(a, b, inkStrong, 4, "")
	length := math.Hypot(b.X-a.X, b.Z-a.Z)
	x, z := (b.X-a.X)/length, (b.Z-a.Z)/length
	for _, side := range []float64{1, -1} {
		k.line(b, sideview.XZ{X: b.X - 14*x + side*7*z, Z: b.Z - 14*z - side*7*x}, inkStrong, 4, "")
	}
}

// svg is the picture with its title.
func (k *sketch) svg(title string) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="%.0f %.0f %.0f %.0f" width="520" fill="none" stroke-linecap="round">
<title>%s</title>
%s</svg>
`, k.low.X, -k.high.Z, k.high.X-k.low.X, k.high.Z-k.low.Z, html.EscapeString(title), k.text.String())
}

// at is the state nearest to a travel.
func (k *sketch) at(travel float64) *stance.State[float64] {
	states := k.s.Ride.States
	best := &states[0]
	for i := range states {
		if math.Abs(states[i].TravelMM-travel) < math.Abs(best.TravelMM-travel) {
			best = &states[i]
		}
	}
	return best
}

// fork draws wheel, head tube, bodies and shock at a state.
func (k *sketch) fork(st *stance.State[float64], more string) {
	m, places := k.s.Design.Mechanism, k.s.Places(st)
	axle, r := places[m.Point(scheme.PointAxle)], k.s.Conditions.Chassis.FrontRadiusMM
	fmt.Fprintf(&k.text, `<circle cx="%.1f" cy="%.1f" r="%.1f" stroke="%s" stroke-width="2"%s/>`+"\n", axle.X, -axle.Z, r, inkPlain, more)
	k.see(axle, r+6)
	k.line(k.s.Ground(st, kinematics.Vec[float64]{Along: -140}), k.s.Ground(st, kinematics.Vec[float64]{Along: -6}), inkPlain, 40, ` stroke-opacity=".35"`+more)
	for _, body := range m.Bodies {
		for _, l := range sideview.Links(m, body) {
			k.line(places[l.From], places[l.To], inkFork, 7, more)
		}
	}
	k.line(places[m.Point(scheme.PointShockUpper)], places[m.Point(scheme.PointShockLower)], inkPlain, 14, ` stroke-opacity=".6"`+more)
}

const faint = ` opacity=".3"`

// level draws the ground.
func (k *sketch) level() {
	k.line(sideview.XZ{X: k.low.X}, sideview.XZ{X: k.high.X}, inkPlain, 2, "")
}

// drawings are sketches by the names that measures have for them, each drawn of the same fork.
var drawings = map[string]struct {
	title string
	draw  func(*sketch)
}{
	"path":         {"Path of the axle over the travel, between the two parallel lines of its minimum zone (deviations 8 times as large), beside the steering axis", drawPath},
	"trail":        {"Trail: from the front contact point to where the steering axis meets the ground, at sag and, dashed, at full travel", drawTrail},
	"transmission": {"Transmission angle: between the two links at the pivot that joins them, where it is smallest", drawTransmission},
	"parts":        {"Parts of the fork at sag: tubes, pivots and shock", func(k *sketch) { k.fork(k.at(k.s.Conditions.Setting.SagMM()), ""); k.pivots(); k.level() }},
	"push":         {"Load on the fork at sag, with the shock locked; the stiffness is the force over the deflection", drawPush},
	"clearance":    {"The two parts that come closest over travel and steering angle, at the travel where they do", drawClearance},
}

// pivots marks the pivots at sag.
func (k *sketch) pivots() {
	m := k.s.Design.Mechanism
	places := k.s.Places(k.at(k.s.Conditions.Setting.SagMM()))
	for i := range m.Points {
		if len(m.Pinned(i)) > 0 {
			k.dot(places[i], 8, inkStrong)
		}
	}
}

// drawPath shows the path with its deviations from the line of the minimum zone enlarged.
func drawPath(k *sketch) {
	const enlarged = 8
	k.fork(k.at(0), faint)
	states := k.s.Ride.States
	inclination := ride.Inclination(k.s.Ride) * math.Pi / 180
	sin, cos := math.Sincos(inclination) // of the line, ahead and up the steering axis
	top := k.at(0)
	first := kinematics.Vec[float64]{Along: states[0].Along, Ahead: states[0].Ahead}
	var before sideview.XZ
	least, most := math.Inf(1), math.Inf(-1)
	for pass := range 2 {
		for i := range states {
			up, ahead := first.Along-states[i].Along, states[i].Ahead-first.Ahead
			on, off := up*cos+ahead*sin, ahead*cos-up*sin
			least, most = math.Min(least, off), math.Max(most, off)
			if pass == 0 {
				continue
			}
			off *= enlarged
			p := k.s.Ground(top, kinematics.Vec[float64]{Along: first.Along - on*cos + off*sin, Ahead: first.Ahead + on*sin + off*cos})
			if i > 0 {
				k.line(before, p, inkStrong, 4, "")
			}
			before = p
		}
	}
	travel := states[len(states)-1].TravelMM
	for _, off := range []float64{least * enlarged, most * enlarged} {
		end := func(on float64) sideview.XZ {
			return k.s.Ground(top, kinematics.Vec[float64]{Along: first.Along - on*cos + off*sin, Ahead: first.Ahead + on*sin + off*cos})
		}
		k.line(end(-20), end(travel/cos+20), inkPlain, 2, ` stroke-dasharray="8 6"`)
	}
	k.line(k.s.Ground(top, kinematics.Vec[float64]{Along: 0}), k.s.Ground(top, kinematics.Vec[float64]{Along: first.Along + 150}), inkPlain, 2, ` stroke-dasharray="2 8"`)
	k.words(sideview.XZ{X: k.low.X + 10, Z: -34}, fmt.Sprintf("straightness %.3g mm, inclination %.3g°", ride.Straightness(k.s.Ride), ride.Inclination(k.s.Ride)))
	k.level()
}

func drawTrail(k *sketch) {
	full := k.at(k.s.Conditions.Setting.TravelMM)
	sag := k.at(k.s.Conditions.Setting.SagMM())
	k.fork(sag, "")
	for i, st := range []*stance.State[float64]{sag, full} {
		axle := k.s.Places(st)[k.s.Design.Mechanism.Point(scheme.PointAxle)]
		dash, z := "", 0.0
		if i == 1 {
			dash, z = ` stroke-dasharray="8 6"`, -26
		}
		k.line(k.s.Ground(st, kinematics.Vec[float64]{Along: -160}), sideview.XZ{X: axle.X + st.TrailMM}, inkPlain, 3, dash)
		k.line(sideview.XZ{X: axle.X, Z: z - 12}, sideview.XZ{X: axle.X + st.TrailMM, Z: z - 12}, inkStrong, 5, dash)
		k.words(sideview.XZ{X: axle.X + math.Max(st.TrailMM, 0) + 12, Z: z - 18}, fmt.Sprintf("%.3g mm at %.3g mm of travel", st.TrailMM, st.TravelMM))
	}
	k.level()
}

// drawTransmission shows the smallest angle between reaction link and carrier of the fork.
func drawTransmission(k *sketch) {
	states := k.s.Ride.States
	least := &states[0]
	for i := range states {
		if states[i].SineMin < least.SineMin {
			least = &states[i]
		}
	}
	k.fork(least, "")
	m, places := k.s.Design.Mechanism, k.s.Places(least)
	joint := places[m.Point("carrier_pin")]
	for _, end := range []string{"axle", "reaction_anchor"} {
		k.line(joint, places[m.Point(end)], inkStrong, 5, "")
	}
	k.dot(joint, 9, inkStrong)
	k.words(sideview.XZ{X: joint.X + 40, Z: joint.Z + 60}, fmt.Sprintf("%.3g°", ride.TransmissionAngleMin(k.s.Ride)))
	k.level()
}

func drawPush(k *sketch) {
	st := k.at(k.s.Conditions.Setting.SagMM())
	k.fork(st, "")
	axle := k.s.Places(st)[k.s.Design.Mechanism.Point(scheme.PointAxle)]
	k.arrow(sideview.XZ{X: axle.X + 140, Z: axle.Z}, axle)
	k.words(sideview.XZ{X: axle.X + 70, Z: axle.Z + 14}, "fore and aft")
	contact := sideview.XZ{X: axle.X, Z: 0}
	fmt.Fprintf(&k.text, `<circle cx="%.1f" cy="%.1f" r="13" stroke="%s" stroke-width="4"/>`+"\n", contact.X, -contact.Z-13, inkStrong)
	k.dot(sideview.XZ{X: contact.X, Z: 13}, 4, inkStrong)
	k.words(sideview.XZ{X: contact.X + 24, Z: 6}, "to the side")
	k.level()
}

func drawClearance(k *sketch) {
	closest := k.s.Score.Closest
	st := k.at(closest.TravelMM)
	k.fork(st, "")
	places := k.s.Places(st)
	for _, part := range strings.Split(closest.Pair, " / ") {
		body, ends, _ := strings.Cut(part, " ")
		from, to, member := strings.Cut(ends, "–")
		if body == "shock" {
			from, to, member = scheme.PointShockUpper, scheme.PointShockLower, true
		}
		if m := k.s.Design.Mechanism; member {
			k.line(places[m.Point(from)], places[m.Point(to)], inkStrong, 6, "")
		}
	}
	k.words(sideview.XZ{X: k.low.X + 10, Z: -34}, fmt.Sprintf("%.3g mm apart", closest.GapMM))
	k.level()
}

// drawCurve plots a curve over the travel, with the telescopic fork's dashed and the wanted band shaded.
func drawCurve(c *objectives.Curve, s *sideview.Solved) string {
	const wide, high = 400.0, 220.0
	values, _ := objectives.ReadCurve(nil, c, s.Ride)
	var telescopic []float64
	if !c.OfLinkage {
		telescopic, _ = objectives.ReadCurve(nil, c, s.Conditions.Baseline.Ride)
	}
	low, up := math.Inf(1), math.Inf(-1)
	for _, v := range append(append([]float64(nil), values...), telescopic...) {
		low, up = math.Min(low, v), math.Max(up, v)
	}
	var band []float64
	if c.Wanted != nil {
		b := c.Wanted(&s.Conditions.Setting)
		band = []float64{b.Low, b.High}
		low, up = math.Min(low, b.Low), math.Max(up, b.High)
	}
	room := (up - low) * 0.08
	low, up = low-room, up+room
	y := func(v float64) float64 { return high * (up - v) / (up - low) }
	var w strings.Builder
	if band != nil {
		fmt.Fprintf(&w, `<rect x="0" y="%.1f" width="%g" height="%.1f" fill="%s" fill-opacity=".15"/>`+"\n", y(band[1]), wide, y(band[0])-y(band[1]), inkPlain)
	}
	fmt.Fprintf(&w, `<path d="M0 0V%gH%g" stroke="%s" stroke-width="1.5"/>`+"\n", high, wide, inkPlain)
	plot := func(values []float64, colour, more string) {
		for i, v := range values {
			command := "L"
			if i == 0 {
				fmt.Fprint(&w, `<path d="`)
				command = "M"
			}
			fmt.Fprintf(&w, "%s%.1f %.1f", command, wide*float64(i)/float64(len(values)-1), y(v))
		}
		if len(values) > 0 {
			fmt.Fprintf(&w, `" stroke="%s" stroke-width="2.5"%s/>`+"\n", colour, more)
		}
	}
	plot(telescopic, inkPlain, ` stroke-dasharray="6 5"`)
	plot(values, inkStrong, "")
	setting := &s.Conditions.Setting
	sag := wide * setting.SagMM() / setting.TravelMM
	fmt.Fprintf(&w, `<path d="M%.1f 0V%g" stroke="%s" stroke-dasharray="2 5"/>`+"\n", sag, high, inkPlain)
	words := func(x, y float64, anchor, text string) {
		fmt.Fprintf(&w, `<text x="%.1f" y="%.1f" fill="%s" font-size="13" font-family="sans-serif" text-anchor="%s">%s</text>`+"\n", x, y, inkPlain, anchor, html.EscapeString(text))
	}
	words(-6, y(values[0])+4, "end", fmt.Sprintf("%.4g", values[0]))
	words(wide+6, y(values[len(values)-1])+4, "start", fmt.Sprintf("%.4g", values[len(values)-1]))
	words(sag, high+18, "middle", "sag")
	words(wide, high+18, "end", fmt.Sprintf("%g mm of travel", setting.TravelMM))
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="-60 -12 540 260" width="520" fill="none">
<title>%s over the travel</title>
%s</svg>
`, html.EscapeString(c.Name), w.String())
}

// The sketches are XML without a reader's complaint: each element closed, no attribute twice.
func TestSketchesAreWellFormed(t *testing.T) {
	pages := sketchPages(t)
	if len(pages) < 8 {
		t.Fatalf("%d sketches", len(pages))
	}
	for name, text := range pages {
		d := xml.NewDecoder(strings.NewReader(text))
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			element, _ := token.(xml.StartElement)
			seen := map[string]bool{}
			for _, a := range element.Attr {
				if seen[a.Name.Local] || strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Errorf("%s: <%s>: %s", name, element.Name.Local, a.Name.Local)
				}
				seen[a.Name.Local] = true
			}
		}
	}
}
