package figures

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// armFork is an arm on rigid legs, its places invented, on an invented bike.
func armFork(t *testing.T) *sideview.Fork {
	t.Helper()
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "arm", Ground: "legs", Bodies: []string{"legs", "arm"}, Axle: "arm", Shock: [2]string{"legs", "arm"},
		Pivots:  []scheme.PivotSpec{{Name: "pivot", Bodies: []string{"legs", "arm"}}},
		Members: []scheme.MemberSpec{{Body: "legs", From: "root", To: "pivot"}, {Body: "arm", From: "pivot", To: "shock_lower"}, {Body: "arm", From: "shock_lower", To: "axle"}},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c := objectives.NewConditions(ride.Setting{
		Chassis: stance.Chassis{
			HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38,
			CGHeightMM: 980, CGToFrontAxleMM: 850, MassKG: 170, FrontBrakeShare: 0.7,
		},
		TravelMM: 100, SagPct: 25, BrakingG: 0.5, Leverage: ride.Band{Low: 1.9, High: 2.4}, AntiDive: ride.Band{High: 50}, CoilRates: []float64{60}, Samples: 33,
	}, nil, nil)
	places := map[string]kinematics.Vec[float64]{
		"root": {Along: 25}, "pivot": {Along: 400, Ahead: -200}, "axle": {Along: 408, Ahead: 38},
		"shock_upper": {Along: 213.2, Ahead: -86.1}, "shock_lower": {Along: 423.1, Ahead: -93.1},
	}
	layout := make([]kinematics.Vec[float64], len(m.Points))
	for name, at := range places {
		layout[m.Point(name)] = at
	}
	shock := fork.Shock{Count: 2, EyeToEyeMM: 210, StrokeMM: 50}
	return &sideview.Fork{ID: "cargo/arm/1/7", Case: "cargo/arm/1", Bike: "cargo", Conditions: c, Design: objectives.Design{Mechanism: m, Layout: layout, Shock: shock}}
}

// smallFront is a front of three candidates, its numbers invented.
func smallFront(t *testing.T) *table.Table {
	t.Helper()
	columns := []table.Column{
		{Name: "candidate", Kind: table.Text},
		{Name: "case", Kind: table.Text},
		{Name: "trail_variation_mm", Unit: "mm", Sense: "low", Kind: table.Float, Source: "measure"},
		{Name: "transmission_angle_min_deg", Unit: "deg", Sense: "high", Kind: table.Float, Source: "measure"},
		{Name: "objective_trail_variation_mm", Unit: "mm", Sense: "low", Kind: table.Float, Source: "objective"},
		{Name: "objective_transmission_angle_min_deg", Unit: "deg", Sense: "low", Kind: table.Float, Source: "objective"},
	}
	path := filepath.Join(t.TempDir(), "front.parquet")
	trail, angle := []float64{12.5, 30, 20}, []float64{40, 60, 55}
	err := table.Write(path, columns, nil, 3, func(w *table.Writer, row int) {
		w.Text(0, "cargo/arm/1/7")
		w.Text(1, "cargo/girder/1")
		w.Float(2, trail[row])
		w.Float(3, angle[row])
		w.Float(4, trail[row])
		w.Float(5, -angle[row])
	})
	if err != nil {
		t.Fatal(err)
	}
	front, err := table.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return front
}

// ridden adds a tyre, a damper and events to a fork's bike.
func ridden(f *sideview.Fork) *sideview.Fork {
	s := f.Conditions.Setting
	s.Chassis.UnsprungFrontKG = 3.5
	f.Conditions = objectives.NewConditions(s, nil, &quarter.Setting{
		TyreNPerMM: 140, DampingRatio: 0.4, ReboundPerCompression: 2, Road: quarter.Road{Class: 'C', SpeedMPerS: 6},
	})
	f.Conditions.Simulated(&simulation.Setting{
		FrontTyreNPerMM: 140, RearTyreNPerMM: 160, UnsprungRearKG: 5, PitchInertia: 0.12, HandsMM: kinematics.Vec[float64]{Along: -260, Ahead: -150},
		StopMPerS: 10, DropMM: 150, Bump: simulation.Bump{HeightMM: 30, RampMM: 20, TopMM: 120, FreeMPerS: 5, BrakedMPerS: 8}, RoadClass: 'C', RoadMPerS: 6,
	})
	return f
}

// Panels of events show every fork and, once, the telescopic fork that they share, from rest to the end of the event: the stop's
// curves reach as far as the events' quantities say.
func TestEventsAreDrawnFromRestToTheEnd(t *testing.T) {
	f := ridden(armFork(t))
	var shown []*sideview.Solved
	for range 2 {
		s, err := f.Solve(objectives.NewScorer(f.Conditions))
		if err != nil {
			t.Fatal(err)
		}
		shown = append(shown, s)
	}
	all := timedForks(shown)
	if len(all) != 3 {
		t.Fatalf("%d forks, want two and a telescopic one", len(all))
	}
	p, err := eventPanel(all[:1], simulation.Stop, shownChannels[0])
	if err != nil {
		t.Fatal(err)
	}
	base := f.Conditions.Events.Telescopic()[simulation.Stop]
	peak := base.Values[simulation.PeakDiveMM]
	if off := p.Y.Max - p.Y.Min - peak; math.Abs(off) > 0.01 || p.X.Min != 0 || math.Abs(p.X.Max-1.5) > 0.01 {
		t.Errorf("travel from %.2f to %.2f mm, time to %.3f s; the telescopic fork dives by %.2f mm at most", p.Y.Min, p.Y.Max, p.X.Max, peak)
	}
	if p, err = eventPanel(all[:1], simulation.Stop, shownChannels[2]); err != nil || p.Y.Max != 0 || math.Abs(-p.Y.Min-base.Values[simulation.PitchDeg]) > 0.02 {
		t.Errorf("pitch from %.3f to %.3f: %v", p.Y.Min, p.Y.Max, err)
	}
	if figures := eventsFigure("fork-events", []*sideview.Solved{}, 1); figures != nil {
		t.Error("events are drawn of no fork")
	}
}

func TestFigures(t *testing.T) {
	dir := t.TempDir()
	front := smallFront(t)
	fork := ridden(armFork(t))
	forks := func(int) (*sideview.Fork, error) { return fork, nil }
	paths, err := Write(dir, front, forks)
	if err != nil || len(paths) != 8 {
		t.Fatalf("%v: %v", paths, err)
	}
	first := map[string][]byte{}
	for _, path := range paths {
		if ok, _ := filepath.Match(Files, filepath.Base(path)); !ok {
			t.Errorf("%s is not among the files that --replace removes", path)
		}
		if first[path], err = os.ReadFile(path); err != nil {
			t.Fatal(err)
		}
	}
	looksDrawn(t, first)
	again, err := Write(dir, front, forks)
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range again {
		if text, _ := os.ReadFile(path); !bytes.Equal(text, first[path]) {
			t.Errorf("%s differs from the one before", path)
		}
	}
}

// looksDrawn wants pictures of more than one colour and SVG with the names of what it shows, in a
// sans font.
func looksDrawn(t *testing.T, files map[string][]byte) {
	t.Helper()
	says := map[string][]string{
		"fork-front.svg": {"trail variation, mm", "smallest transmission angle, deg", "cargo/girder/1"}, "fork-curves.svg": {"travel, mm", "leverage ratio", "anti-dive, %", "wheel force, N", "telescopic"},
		"fork-events.svg": {"stop", "bump braked", "time, s", "front wheel load, N", "pitch, deg, nose up", "1: cargo/arm/1/7", "telescopic"},
		"fork-side-1.svg": {"top-out, 0 mm", "sag, 25 mm", "bottom-out, 100 mm", "legs", "100 mm"},
	}
	for path, text := range files {
		name := filepath.Base(path)
		if strings.HasSuffix(name, ".png") {
			picture, err := png.Decode(bytes.NewReader(text))
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			colours := map[uint32]bool{}
			for x := range picture.Bounds().Dx() {
				for y := 0; y < picture.Bounds().Dy(); y += 7 {
					r, g, b, _ := picture.At(x, y).RGBA()
					colours[r>>8<<16|g>>8<<8|b>>8] = true
				}
			}
			if len(colours) < 30 || picture.Bounds().Dx() < 1000 { // the edges of letters already have dozens
				t.Errorf("%s: %d colours, %v", name, len(colours), picture.Bounds())
			}
			continue
		}
		for _, want := range append(says[name], "Sans") {
			if !bytes.Contains(text, []byte(want)) {
				t.Errorf("%s does not say %q", name, want)
			}
		}
	}
}

// Ticks by hand: from 0.16 to 9.4 the widest step with three multiples is 2 (2, 4, 6, 8; 5 gives but
// one), from 1.79 to 2.33 it is 0.2 (1.8, 2, 2.2), from −25 to 33 it is 20 (−20, 0, 20).
func TestTicksAreRoundAndEnough(t *testing.T) {
	for _, x := range []struct {
		low, high float64
		want      string
	}{{0.16, 9.4, "2 4 6 8"}, {1.79, 2.33, "1.8 2 2.2"}, {-25, 33, "−20 0 20"}, {0, 100, "0 50 100"}} {
		var got []string
		for _, tick := range (roundTicks{3}).Ticks(x.low, x.high) {
			got = append(got, tick.Label)
		}
		if strings.Join(got, " ") != x.want {
			t.Errorf("from %g to %g: %v, want %s", x.low, x.high, got, x.want)
		}
	}
	if one := (roundTicks{3}).Ticks(4, 4); len(one) != 1 {
		t.Errorf("an axis without length has ticks %v", one)
	}
}

// The drawn axis ends on the ground: the trail is where it meets it, ahead of the contact point.
func TestAxisMeetsTheGroundAtTheTrail(t *testing.T) {
	f := armFork(t)
	s, err := f.Solve(objectives.NewScorer(f.Conditions))
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Ride.States {
		st := &s.Ride.States[i]
		end := s.Ground(st, kinematics.Vec[float64]{Along: axisToGround(s, st)})
		axle := s.Ground(st, kinematics.Vec[float64]{Along: st.Along, Ahead: st.Ahead})
		if math.Abs(end.Z) > 1e-9 || math.Abs(end.X-axle.X-st.TrailMM) > 1e-9 || math.Abs(axle.Z-258) > 1e-9 {
			t.Errorf("travel %g: axis ends at %v, axle at %v, trail %g", st.TravelMM, end, axle, st.TrailMM)
		}
	}
}

// By hand: of four and two, places are 1/8 3/8 5/8 7/8 and 1/4 3/4.
func TestGroupsAreMixed(t *testing.T) {
	want := []grouped{{0, 0}, {4, 1}, {1, 0}, {2, 0}, {5, 1}, {3, 0}}
	if got := mixed([][]int{{0, 1, 2, 3}, {4, 5}}); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
