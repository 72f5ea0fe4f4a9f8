package cases

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/objectives"
	"forkfront/optimize"
)

// leastCase is a four-bar above the wheel whose members follow from its points.
func leastCase(t *testing.T, lanes string) *Case {
	t.Helper()
	name := "../examples/short/girder.yaml"
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(text), "mechanisms:")
	_, tail, _ := strings.Cut(rest, "objectives:")
	head += "topologies: {only: [c1-c2-1l-2l+cl], arrangements: [high], members: least, lanes: " + lanes + "}\nobjectives:"
	job, _, err := files.ReadJob(name, strings.NewReader(head+tail))
	if err != nil {
		t.Fatal(err)
	}
	return Cases(job)[0]
}

// working draws the variables of forks that move through their travel and can be sized.
func working(t *testing.T, c *Case, forks int) (all [][]float64) {
	t.Helper()
	p, r := c.Worker(), rand.New(rand.NewPCG(5, 11))
	for range 4000 {
		x := drawn(c, r)
		p.designer.Design(&p.design, x)
		if p.scorer.Score(&p.score, &p.design); p.score.Missing[objectives.Index("mass_g")] == "" && p.score.Missing[objectives.Clearance] == "" {
			if all = append(all, x); len(all) == forks {
				return all
			}
		}
	}
	t.Fatalf("only %d of %d forks work", len(all), forks)
	return nil
}

// Derivatives of forks whose tree follows from their points, against differences of forks that each find their own: those that meet
// another tree show a jump and are left out.
func TestSlopesOfLeastMembers(t *testing.T) {
	c := leastCase(t, "rule")
	d := &differing{p: c.Worker(), other: c.Worker()}
	tallies, trees := make([]tally, len(objectives.Measures)), map[string]bool{}
	for _, x := range working(t, c, 6) {
		trees[string(c.Mechanism.AppendTree(nil, designed(c, x).Layout))] = true
		d.compare(t, x, tallies)
	}
	checkTallies(t, tallies)
	if len(trees) < 3 {
		t.Errorf("%d trees", len(trees))
	}
}

func designed(c *Case, x []float64) (d objectives.Design) {
	c.Design(&d, x)
	return d
}

// One worker's memory has no say in what a fork is worth: forks with trees and lanes of all kinds, evaluated in turn and once more, have
// the outcomes that each has by itself. Once all of them have been met, evaluating
// them takes no memory.
func TestTreesMetBeforeChangeNothing(t *testing.T) {
	c := leastCase(t, "chosen")
	all := working(t, c, 24)
	p := c.Worker()
	outcome := func(p *problem, x []float64) (o optimize.Outcome) {
		o = optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
		p.Evaluate(&o, x)
		return o
	}
	trees := map[string]bool{}
	for round := range 2 {
		for i, x := range all {
			got, want := outcome(p, x), outcome(c.Worker(), x)
			if !slices.Equal(got.F, want.F) || !slices.Equal(got.G, want.G) {
				t.Fatalf("round %d, fork %d: %v; by itself %v", round, i, got, want)
			}
			trees[string(p.designer.tree)] = true
		}
	}
	if len(trees) < 4 {
		t.Errorf("%d trees of %d forks", len(trees), len(all))
	}
	o := optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
	if n := testing.AllocsPerRun(2, func() {
		for _, x := range all {
			p.Evaluate(&o, x)
		}
	}); n > 0 {
		t.Errorf("%g allocations", n)
	}
	w := c.Designer()
	for i := range 3 * mostShapes {
		w.keep(strings.Repeat("x", i), &shape{})
	}
	if len(w.shapes) != mostShapes || len(w.order) != mostShapes || w.shapes[strings.Repeat("x", 3*mostShapes-1)] == nil {
		t.Errorf("%d shapes are kept", len(w.shapes))
	}
}
