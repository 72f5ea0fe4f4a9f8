package jobs

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/objectives"
	"forkfront/results/fem"
)

var everyFrame = flag.Bool("every-frame", false, "compare every example with the finite-element solver; otherwise a third of them")

// solvedInput is an input file of a finite-element model as read back from its text, with what the solver found.
type solvedInput struct {
	places map[int][3]float64
	about  map[int]string // the comment above a node or a set's elements
	beams  []solvedBeam
	steps  []solvedStep
}

// solvedBeam is a beam's elements in its first plane.
type solvedBeam struct {
	set, part       string
	outside, inside float64
	nodes           []int
}

// solvedStep is a load and the displacements under it, by node.
type solvedStep struct {
	name  string
	moved map[int][6]float64
}

// solve runs the solver on an input file.
func solve(t *testing.T, solver, text string) *solvedInput {
	t.Helper()
	s := &solvedInput{places: map[int][3]float64{}, about: map[int]string{}}
	comment, keyword := "", ""
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "** "):
			comment = line[3:]
		case strings.HasPrefix(line, "*"):
			keyword = line
			if set, in := strings.CutPrefix(line, "*ELEMENT, TYPE=U1, ELSET="); in && strings.HasSuffix(set, "_1") {
				b := solvedBeam{set: set}
				part, sizes, _ := strings.Cut(comment, ": ")
				if _, err := fmt.Sscanf(sizes, "outside %g mm, inside %g mm", &b.outside, &b.inside); err != nil {
					t.Fatalf("%q: %v", comment, err)
				}
				b.part = part
				s.beams = append(s.beams, b)
			}
			if line == "*STEP" {
				s.steps = append(s.steps, solvedStep{comment, map[int][6]float64{}})
			}
		case strings.HasPrefix(keyword, "*NODE,"):
			var n int
			var at [3]float64
			if _, err := fmt.Sscanf(line, "%d, %g, %g, %g", &n, &at[0], &at[1], &at[2]); err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			s.places[n], s.about[n] = at, comment
		case strings.HasPrefix(keyword, "*ELEMENT") && strings.HasSuffix(keyword, "_1"):
			var number, from, to int
			if _, err := fmt.Sscanf(line, "%d, %d, %d", &number, &from, &to); err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			b := &s.beams[len(s.beams)-1]
			if len(b.nodes) == 0 {
				b.nodes = append(b.nodes, from)
			}
			b.nodes = append(b.nodes, to)
		}
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "fork.inp"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(solver, "fork")
	run.Dir = dir
	said, err := run.CombinedOutput()
	if err != nil || bytes.Contains(said, []byte("*ERROR")) || bytes.Contains(said, []byte("*WARNING")) {
		t.Fatalf("%v\n%s", err, said)
	}
	s.readDisplacements(t, filepath.Join(dir, "fork.dat"))
	return s
}

var nodeLine = regexp.MustCompile(`^\s+\d+\s`)

func (s *solvedInput) readDisplacements(t *testing.T, path string) {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	step := -1
	for lines := bufio.NewScanner(file); lines.Scan(); {
		switch line := lines.Text(); {
		case strings.Contains(line, "displacements"):
			step++
		case nodeLine.MatchString(line):
			words := strings.Fields(line)
			n, _ := strconv.Atoi(words[0])
			var moved [6]float64
			for i := range moved {
				if moved[i], err = strconv.ParseFloat(words[1+i], 64); err != nil {
					t.Fatal(err)
				}
			}
			s.steps[step].moved[n] = moved
		}
	}
	if step != len(s.steps)-1 {
		t.Fatalf("%d of %d steps were solved", step+1, len(s.steps))
	}
}

// stress is the largest stress in MPa at the ends of a tube: N/A + √(M² + ¾ T²)/Z. Forces and moments follow from how
// the nodes of its pieces move towards and rotate against each other; moments grow linearly along it.
func (s *solvedInput) stress(b *solvedBeam, step int, young float64) float64 {
	area := math.Pi / 4 * (b.outside*b.outside - b.inside*b.inside)
	inertia := math.Pi / 64 * (math.Pow(b.outside, 4) - math.Pow(b.inside, 4))
	var axial, twist float64
	var bending [fem.Pieces][3]float64
	for i := range fem.Pieces {
		from, to := s.places[b.nodes[i]], s.places[b.nodes[i+1]]
		a, z := s.steps[step].moved[b.nodes[i]], s.steps[step].moved[b.nodes[i+1]]
		var along, turned [3]float64
		length, stretched, twisted := 0.0, 0.0, 0.0
		for k := range along {
			along[k], turned[k] = to[k]-from[k], z[3+k]-a[3+k]
			length += along[k] * along[k]
		}
		length = math.Sqrt(length)
		for k := range along {
			along[k] /= length
			stretched += along[k] * (z[k] - a[k])
			twisted += along[k] * turned[k]
		}
		axial, twist = young*area*stretched/length, young/2.6*2*inertia*twisted/length
		for k := range along {
			bending[i][k] = young * inertia * (turned[k] - twisted*along[k]) / length
		}
	}
	worst := 0.0
	for _, end := range [2][2]int{{0, 1}, {fem.Pieces - 1, fem.Pieces - 2}} {
		square := 0.75 * twist * twist
		for k := range 3 {
			at := 1.5*bending[end[0]][k] - 0.5*bending[end[1]][k]
			square += at * at
		}
		worst = max(worst, math.Abs(axial)/area+math.Sqrt(square)*b.outside/2/inertia)
	}
	return worst
}

func (s *solvedInput) step(t *testing.T, name string) int {
	t.Helper()
	i := slices.IndexFunc(s.steps, func(st solvedStep) bool { return strings.HasSuffix(st.name, ", "+name) })
	if i < 0 {
		t.Fatalf("no step %q", name)
	}
	return i
}

// hub is the node of the wheel's hub at sag: of those at the axle the one in the mid-plane.
func (s *solvedInput) hub(t *testing.T) int {
	t.Helper()
	for n, at := range s.places {
		if at[2] == 0 && s.about[n] == "axle" && n > fem.Stances[1].First && n < fem.Stances[2].First {
			return n
		}
	}
	t.Fatal("no hub")
	return 0
}

// tilting is a concept with self-aligning bearings in its pivots; "" for one whose mechanism is a file.
func tilting(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(text, []byte("mechanism: own/")) || bytes.Contains(text, []byte("\nstructure:")) {
		return ""
	}
	path = filepath.Join(t.TempDir(), "tilting-"+filepath.Base(path))
	if err := os.WriteFile(path, append(text, "structure: {pivots: {tilt: free}}\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Stiffness and tube stresses of all examples with sizes against a finite-element solver: CalculiX CrunchiX, from Debian.
// Fore and aft the shock counts as rigid, so what its rod takes up is subtracted (energy: force times shortening).
func TestStructureAgainstFiniteElements(t *testing.T) {
	t.Parallel()
	solver, err := exec.LookPath("ccx")
	if err != nil {
		t.Skip("no ccx (Debian: calculix-ccx)")
	}
	paths := conceptFiles(t)
	for _, path := range conceptFiles(t) {
		if path = tilting(t, path); path != "" {
			paths = append(paths, path)
		}
	}
	compared, least := 0, 6
	if *everyFrame {
		least = 17
	}
	for i, path := range paths {
		if !*everyFrame && i%3 > 0 {
			continue
		}
		d, st, score := sizedExample(t, path)
		if objectives.Sizes(st) == nil {
			continue
		}
		code, text, said := command(t, "extract", path, "--as", "frame")
		if code != process.Done {
			t.Fatalf("%s: %s", path, said)
		}
		compared++
		s := solve(t, solver, text)
		hub := s.hub(t)
		sag, radius := &st.Ride().Sag, st.Ride().Setting.Chassis.FrontRadiusMM

		back := s.steps[s.step(t, "fore-aft stiffness")].moved
		soft := -(back[hub][0]*sag.CosHead + back[hub][1]*sag.SinHead) / 100
		for i := range s.beams {
			if b := &s.beams[i]; b.part == "shock" && strings.HasPrefix(b.set, "AT_SAG") {
				from, to := s.places[b.nodes[0]], s.places[b.nodes[1]]
				length, stretched := math.Hypot(to[0]-from[0], to[1]-from[1]), 0.0
				for k := range 2 {
					stretched += (to[k] - from[k]) / length * (back[b.nodes[1]][k] - back[b.nodes[0]][k])
				}
				soft -= shaftMPa * math.Pi * 25 / length * (stretched / 100) * (stretched / 100)
			}
		}
		side := s.steps[s.step(t, "lateral stiffness")].moved[hub]
		gone := (side[2] - radius*sag.CosHead*side[3] - radius*sag.SinHead*side[4]) / 100
		turned := s.steps[s.step(t, "torsional stiffness")].moved[hub][3] * 180 / math.Pi / 10
		for name, want := range map[string]float64{"fore_aft_stiffness_n_per_mm": 1 / soft, "lateral_stiffness_n_per_mm": 1 / gone, "torsional_stiffness_nm_per_deg": 1 / turned} {
			got := score.Values[objectives.Index(name)]
			t.Logf("%s: %s %.6g, by finite elements %.6g, off by %.4f %%", filepath.Base(path), name, got, want, 100*(got/want-1))
			if !(math.Abs(got-want) < 0.005*want) {
				t.Errorf("%s: %s is %.6g, by finite elements %.6g", path, name, got, want)
			}
		}

		allowed := d.Material.YieldMPa / 1.5
		furthest := 0.0 // relative difference
		for _, item := range st.BillOfMaterials() {
			if item.Stress == 0 {
				continue
			}
			worst, found := 0.0, false
			for i := range s.beams {
				b := &s.beams[i]
				if b.part != strings.ReplaceAll(item.Part, "–", "-") {
					continue
				}
				found = true
				for k := range s.steps {
					if stance, name, _ := strings.Cut(s.steps[k].name, ", "); strings.HasPrefix(b.set, stance) && !strings.HasSuffix(name, "stiffness") {
						worst = max(worst, s.stress(b, k, d.Material.YoungMPa)/allowed)
					}
				}
			}
			furthest = max(furthest, math.Abs(worst/item.Stress-1))
			if !found || !(math.Abs(worst-item.Stress) < 0.005*item.Stress) {
				t.Errorf("%s: %s at %.4f of the allowed stress, by finite elements %.4f", path, item.Part, item.Stress, worst)
			}
		}
		t.Logf("%s: stresses within %.4f %%", filepath.Base(path), 100*furthest)
	}
	if compared < least {
		t.Errorf("only %d forks compared", compared)
	}
}

// An input file that any solver of its kind would take, checked without one: names of sets as long as are read, each
// displacement held or set equal at most once, and elements between nodes that exist.
func TestFiniteElementInputIsSound(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"cargo-girder", "cargo-arm-floating", "cargo-six-bar"} {
		code, text, said := command(t, "extract", "examples/"+name+".yaml", "--as", "frame")
		if code != process.Done {
			t.Fatal(said)
		}
		nodes, taken, elements := map[string]bool{}, map[string]bool{}, map[string]bool{}
		keyword, equation := "", 0
		take := func(node, freedom string) {
			if key := node + " " + freedom; taken[key] {
				t.Errorf("%s: displacement %s is held or set equal twice", name, key)
			} else {
				taken[key] = true
			}
			if !nodes[node] {
				t.Errorf("%s: there is no node %s", name, node)
			}
		}
		for line := range strings.Lines(text) {
			line = strings.TrimSpace(line)
			words := strings.Split(line, ", ")
			switch {
			case strings.HasPrefix(line, "**"):
			case strings.HasPrefix(line, "*"):
				keyword, equation = line, 0
				for _, w := range words {
					if _, set, is := strings.Cut(w, "SET="); is && len(set) > 20 {
						t.Errorf("%s: %s is longer than 20 characters", name, set)
					}
				}
			case strings.HasPrefix(keyword, "*NODE,"):
				nodes[words[0]] = true
			case strings.HasPrefix(keyword, "*ELEMENT"):
				if elements[words[0]] || !nodes[words[1]] || !nodes[words[2]] || words[1] == words[2] {
					t.Errorf("%s: element %s", name, line)
				}
				elements[words[0]] = true
			case keyword == "*BOUNDARY":
				take(words[0], words[1])
			case keyword == "*EQUATION":
				if equation++; equation == 2 {
					take(words[0], words[1])
				}
			}
		}
		if len(nodes) < 100 || len(elements) < 200 || len(taken) < 50 {
			t.Errorf("%s: %d nodes, %d elements, %d displacements held or equal", name, len(nodes), len(elements), len(taken))
		}
	}
}
