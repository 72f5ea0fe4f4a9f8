package score

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"forkfront/objectives"
	"forkfront/objectives/structure/loads"
	"forkfront/results/display"
)

// writeProof shows what each test load asks of tubes and pivots, by which source, what the duty does to them, and what was
// not checked.
func (s *Scored) writeProof(w io.Writer) {
	if s.Proof == nil || len(s.Proof.Results)+len(s.Proof.Duty) == 0 {
		return
	}
	if len(s.Proof.Results) > 0 {
		s.writeTests(w)
	}
	if len(s.Proof.Duty) > 0 {
		s.writeDuty(w)
	}
	s.writePivots(w)
	fmt.Fprintf(w, "Assumed: %s.\n%s\n", s.Proof.Assumed, display.Unproved)
}

func (s *Scored) writeTests(w io.Writer) {
	fmt.Fprintln(w, "\nTest loads on paper (the tube that each stresses most, by the space frame; sides: the caliper's, or the other):")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "test\tkind\tload N\tby\tcycles\tpart\tside\tstress MPa\tallowed MPa\tby\tmargin")
	var sources numbered
	for i := range s.Proof.Results {
		r := &s.Proof.Results[i]
		allowed, margin := "–", "–"
		if r.Missing == "" {
			allowed, margin = fmt.Sprintf("%.0f", r.AllowedMPa), objectives.Digits(r.Margin, 3)
		}
		if r.Kind == loads.ImpactTest {
			margin += " (elastic: a bound)"
		}
		why := r.AllowedBy
		if r.Missing != "" {
			why = r.Missing
		}
		fmt.Fprintf(t, "%s\t%s\t%.0f\t[%d]\t%s\t%s\t%s\t%.0f\t%s\t[%d]\t%s\n",
			r.Test, r.Kind, r.LoadN, sources.of(r.Basis), given(r.Cycles, 0), r.Part, r.Side, r.StressMPa, allowed, sources.of(why), margin)
	}
	t.Flush()
	for i, source := range sources {
		fmt.Fprintf(w, "[%d] %s\n", i+1, source)
	}
}

// writeDuty shows the damage that each load of the duty does.
func (s *Scored) writeDuty(w io.Writer) {
	fmt.Fprintln(w, "\nDuty on paper (damage by Palmgren and Miner to the tube that each load stresses most; failure is expected at a sum of 1):")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "load\tcycles\tpart\tside\tstress MPa\tdamage")
	for i := range s.Proof.Duty {
		r := &s.Proof.Duty[i]
		damage := objectives.Digits(r.Damage, 3)
		if s.Proof.MissingDamage != "" {
			damage = "–"
		}
		fmt.Fprintf(t, "%s\t%.0f\t%s\t%s\t%.0f\t%s\n", r.Load, r.Cycles, r.Part, r.Side, r.StressMPa, damage)
	}
	t.Flush()
	if s.Proof.MissingDamage != "" {
		fmt.Fprintln(w, "damage:", s.Proof.MissingDamage)
	} else {
		fmt.Fprintf(w, "of the most damaged tube over all loads: %s\n", objectives.Digits(s.Proof.Damage, 3))
	}
}

// writePivots shows the pivots under tests, and the share of their bearings' life that the duty uses.
func (s *Scored) writePivots(w io.Writer) {
	fmt.Fprintln(w, "\nPivots on paper (forces on one bearing or bush, by the space frame; shafts against yield or fatigue of 4130 steel; life: of L10, ISO 281):")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "pivot\tturning body\tbearing\tforce N\tworst test\tmargin\tshaft MPa\tworst test\tmargin\tlife used %")
	for i := range s.Proof.Pivots {
		r := &s.Proof.Pivots[i]
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", r.Pivot, r.Turning, r.Bearing, given(r.ForceN, 0), r.ForceIn, digits(r.BearingMargin),
			given(r.ShaftMPa, 0), r.ShaftIn, digits(r.ShaftMargin), digits(100*r.LifeUsed))
	}
	t.Flush()
}

// digits is a number with three digits; what does not apply stays empty.
func digits(v float64) string {
	if v == 0 {
		return ""
	}
	return objectives.Digits(v, 3)
}

// numbered are sources, each told once.
type numbered []string

// of is the number of a source.
func (n *numbered) of(source string) int {
	i := slices.Index(*n, source)
	if i < 0 {
		i = len(*n)
		*n = append(*n, source)
	}
	return i + 1
}
