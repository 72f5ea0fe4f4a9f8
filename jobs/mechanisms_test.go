package jobs

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/kinematics/scheme"
)

func conceptFiles(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob("examples/*-*.yaml")
	if err != nil || len(paths) < len(files.BuiltIns()) {
		t.Fatalf("%d example concepts for %d built-in mechanisms: %v", len(paths), len(files.BuiltIns()), err)
	}
	return paths
}

// What score prints of every example agrees with Newton on all joints, written above from the
// mechanism's file only, and anti-dive with the construction by the instant centre.
func TestScoresAgreeWithAnotherSolution(t *testing.T) {
	for _, path := range conceptFiles(t) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".yaml"), func(t *testing.T) {
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			c, _, err := files.ReadConcept(path, f)
			if err != nil {
				t.Fatal(err)
			}
			code, said, errs := command(t, "score", path, "--json")
			if code != process.Done {
				t.Fatalf("exit %d: %s", code, errs)
			}
			var s score.Scored
			if err := json.Unmarshal([]byte(said), &s); err != nil {
				t.Fatal(err)
			}
			agrees(t, c, s.Curves)
		})
	}
}

func agrees(t *testing.T, c *files.ConceptFile, curves map[string][]float64) {
	t.Helper()
	p := newPlanar(&c.Spec, c.Points())
	before := 0.0
	for i, travel := range curves["travel_mm"] {
		for k := range 4 { // small steps keep the branch
			p.solve(t, before+(travel-before)*float64(k+1)/4)
		}
		before = travel
		along, ahead, _ := p.place(c.Spec.Axle, scheme.PointAxle)
		if d := math.Hypot(along-curves["axle_along_mm"][i], ahead-curves["axle_ahead_mm"][i]); !(d < 1e-9) {
			t.Errorf("at %g mm the axle is %g mm off", travel, d)
		}
		want := p.antiDive(c, along, ahead)
		// Rounding of positions over the least vertical velocity of a mm per mm.
		if got := curves["anti_dive_pct"][i]; !(math.Abs(got-want) < 1e-7*(1+math.Abs(want))) {
			t.Errorf("at %g mm anti-dive is %.9g %%, by the instant centre %.9g %%", travel, got, want)
		}
	}
}

// antiDive is read off the drawing: the line from the contact point to the instant centre of the
// caliper's body, its height at β L behind the contact point over that of the centre of gravity.
func (p *planar) antiDive(c *files.ConceptFile, along, ahead float64) float64 {
	b := &c.Bike
	head := p.headAngle(c, along, ahead)
	sin, cos := math.Sincos(head)
	brake := c.Spec.Brake
	if brake == "" {
		brake = c.Spec.Axle
	}
	s := p.slot[brake]
	// The axle's velocity and the body's turn per mm, in the fork frame and then on the ground.
	turn := p.speed[s+2]
	_, _, by := p.place(brake, scheme.PointAxle)
	v, w := p.speed[s]+by[0]*turn, p.speed[s+1]+by[1]*turn
	vx, vz := v*cos+w*sin, -v*sin+w*cos
	// From the contact point; the axle stands above it.
	rise := -vx / vz // of a body that does not turn: its centre is infinitely far across its velocity
	if math.Abs(turn) > 1e-12 {
		// A point at rest: the velocity of the axle is that of a turn about it. Turns from along to
		// ahead go from x to z as both frames have the same handedness.
		x, z := -vz/turn, b.FrontRadiusMM+vx/turn
		rise = z / x
	}
	return 100 * -rise * b.FrontBrakeShare * b.WheelbaseMM / b.CGHeightMM
}

// headAngle stands the bike on its wheels: the rear axle fixed in the fork frame, both wheels on
// level ground.
func (p *planar) headAngle(c *files.ConceptFile, along, ahead float64) float64 {
	b := &c.Bike
	given := b.HeadAngleDeg * math.Pi / 180
	sin, cos := math.Sincos(given)
	rise := b.FrontRadiusMM - b.RearRadiusMM
	rear := [2]float64{b.AxleToCrownMM - (b.WheelbaseMM*cos - rise*sin), b.ForkOffsetMM - (b.WheelbaseMM*sin + rise*cos)}
	// The front axle from the rear one lies at an angle in the fork frame, and at asin(rise/length)
	// on the ground; the fork frame's along points down by the head angle there.
	u, v := along-rear[0], ahead-rear[1]
	return math.Atan2(v, u) - math.Asin(rise/math.Hypot(u, v))
}

// Every built-in mechanism, and the user's own, has a job that runs in about a second and finds
// forks that keep all its limits.
func TestShortJobs(t *testing.T) {
	t.Parallel()
	paths, err := filepath.Glob("examples/short/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]bool{}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		shown[name] = true
		t.Run(name, func(t *testing.T) {
			code, said, errs := command(t, "check", path)
			if code != process.Done {
				t.Fatalf("check: exit %d: %s", code, errs)
			}
			if !strings.Contains(said, "driver: ") {
				t.Errorf("check does not say how the motion is solved: %s", said)
			}
			if name == "own-three-links" && !strings.Contains(said, "group: front_link, leg, rear_link and stay, solved together by Newton's method") {
				t.Errorf("check does not say that a group is solved by Newton: %s", said)
			}
			// Exit code 3 would say that nothing feasible was found.
			doneExample(t, path)
		})
	}
	for _, name := range append(files.BuiltIns(), "own-three-links") {
		if !shown[name] {
			t.Errorf("no short job for %s", name)
		}
	}
}

func globbed(t testing.TB, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		t.Fatalf("no file matches %s: %v", pattern, err)
	}
	return files
}

func opened(t testing.TB, path string) *os.File {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// The examples are forks that can be built: their parts keep clear of each other, of tyre and frame.
// What gets no sizes has no clearance.
func TestExamplesKeepClear(t *testing.T) {
	checked := 0
	for _, path := range conceptFiles(t) {
		code, said, errs := command(t, "score", path, "--json")
		if code != process.Done {
			t.Fatalf("%s: exit %d: %s", path, code, errs)
		}
		var s score.Scored
		if err := json.Unmarshal([]byte(said), &s); err != nil {
			t.Fatal(err)
		}
		gap, hub := s.Measures["clearance_mm"], s.Measures["hub_clearance_mm"]
		if gap == nil || hub == nil {
			t.Logf("%s: %s", path, s.Reasons["clearance_mm"])
			continue
		}
		checked++
		if !(*gap >= 6) || !(*hub >= 1) {
			t.Errorf("%s: %g mm apart, beside the hub %g", path, *gap, *hub)
		}
	}
	if checked < 11 {
		t.Errorf("only %d examples have a clearance", checked)
	}
}
