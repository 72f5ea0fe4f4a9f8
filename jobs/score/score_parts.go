package score

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"text/tabwriter"

	"forkfront/objectives"
)

// writeParts shows the contributions of all parts to mass, compliance, friction and cost. The table ends with their
// sums, so that they can be checked by hand.
func (s *Scored) writeParts(w io.Writer) {
	if len(s.Parts) == 0 {
		return
	}
	fmt.Fprintln(w, "\nParts (diameters, walls and lengths in mm; compliance at the axle, fore and aft;\nfriction in a hard stop at sag; stress by the space frame, largest over the load cases, in % of what is allowed):")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "part\tcount\tdiameter\twall\tlength\tload N\tmass g\tcompliance µm/N\tfriction N\tcost\tstress %\tgoverned by")
	var mass, compliance, friction, cost float64
	for _, p := range s.Parts {
		mass, compliance, friction, cost = mass+p.MassG, compliance+p.Compliance, friction+p.FrictionN, cost+p.Cost
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%s\t%s\t%.1f\t%s\t%s\t%.1f\t%s\t%s\n", p.Part, p.Count, given(p.DiameterMM, 1), given(p.WallMM, 2),
			given(p.LengthMM, 0), given(p.LoadN, 0), p.MassG, given(p.Compliance, 3), given(p.FrictionN, 2), p.Cost, given(100*p.Stress, 0), p.Governs)
	}
	fmt.Fprintf(t, "sum\t\t\t\t\t\t%.1f\t%.3f\t%.2f\t%.1f\t\t\n", mass, compliance, friction, cost)
	t.Flush()
}

// given is a number with the given number of decimals; what a part does not have stays empty.
func given(v float64, decimals int) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

// writeForces shows the load cases and the forces of the pins and the shock in them.
func (s *Scored) writeForces(w io.Writer) {
	if len(s.LoadCases) == 0 {
		return
	}
	fmt.Fprintln(w, "\nForces in N (at the axle along and ahead of the steering axis; pins and shocks with both sides together):")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	names := slices.Sorted(maps.Keys(s.LoadCases[0].PinsN))
	fmt.Fprint(t, "load case\ttravel mm\talong\tahead\tbrake N m\tside\tshock\t")
	for _, n := range names {
		fmt.Fprintf(t, "%s\t", n)
	}
	fmt.Fprintln(t)
	for _, c := range s.LoadCases {
		fmt.Fprintf(t, "%s\t%.4g\t%.0f\t%.0f\t%.1f\t%.0f\t%.0f\t", c.Case, c.TravelMM, c.AtAxleN[0], c.AtAxleN[1], c.TorqueNM, c.SideN, c.ShockN)
		for _, n := range names {
			fmt.Fprintf(t, "%.0f\t", c.PinsN[n])
		}
		fmt.Fprintln(t)
	}
	t.Flush()
}

// writeTolerances shows the scatter of measures, and which points and directions cause it.
func (s *Scored) writeTolerances(w io.Writer) {
	var shown []objectives.Tolerance
	for _, of := range s.Tolerances {
		if of.Why == "" {
			shown = append(shown, of)
		}
	}
	if len(shown) == 0 {
		return
	}
	fmt.Fprintln(w, "\nEffect of moving a point by 1 mm along and ahead (the larger marked *), and standard deviation for the pivot tolerance:")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "point\t")
	for _, of := range shown {
		fmt.Fprintf(t, "%s\t", of.Measure)
	}
	fmt.Fprintln(t)
	for i := range shown[0].Pivots {
		fmt.Fprintf(t, "%s\t", shown[0].Pivots[i].Point)
		for _, of := range shown {
			p := of.Pivots[i]
			mark := map[string]string{p.Matters: "*"}
			fmt.Fprintf(t, "%s%s %s%s\t", objectives.Digits(p.Along, 3), mark["along"], objectives.Digits(p.Ahead, 3), mark["ahead"])
		}
		fmt.Fprintln(t)
	}
	fmt.Fprint(t, "deviation\t")
	for _, of := range shown {
		fmt.Fprintf(t, "%s\t", objectives.Digits(of.Deviation, 3))
	}
	fmt.Fprintln(t)
	t.Flush()
}

// closest is how many pairs of parts a table lists; JSON has all.
const closest = 12

// writeClearances lists the pairs of parts that come closest.
func (s *Scored) writeClearances(w io.Writer) {
	if len(s.Clearances) == 0 {
		return
	}
	fmt.Fprintf(w, "\nThe %d closest of %d pairs of parts, and where in the travel and at which steering angle (positive to the left):\n", min(closest, len(s.Clearances)), len(s.Clearances))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "pair\tgap mm\ttravel mm\tsteer deg")
	for _, g := range s.Clearances[:min(closest, len(s.Clearances))] {
		fmt.Fprintf(t, "%s\t%.1f\t%.1f\t%.0f\n", g.Pair, g.GapMM, g.TravelMM, g.SteerDeg)
	}
	t.Flush()
}
