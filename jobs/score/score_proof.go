package score

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"forkfront/objectives"
	"forkfront/objectives/structure"
)

// unproved is what no test load on paper covers.
const unproved = "Not checked: pivot shafts, bearings, welds' local stress, lugs, brackets, buckling beyond the load cases, wear, corrosion, and\n" +
	"the real fork: margins on paper certify nothing."

// writeProof shows what each test load asks of the tubes, by which source, and what was not checked.
func (s *Scored) writeProof(w io.Writer) {
	if s.Proof == nil || len(s.Proof.Results) == 0 {
		return
	}
	fmt.Fprintln(w, "\nTest loads on paper (the tube that each stresses most, by the space frame; sides: the caliper's, or the other):")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "test\tkind\tload N\tcycles\tpart\tside\tstress MPa\tallowed MPa\tmargin")
	var notes noted
	for i := range s.Proof.Results {
		r := &s.Proof.Results[i]
		allowed, margin := "–", "–"
		if r.Missing == "" {
			allowed, margin = fmt.Sprintf("%.0f", r.AllowedMPa), objectives.Digits(r.Margin, 3)
		}
		if r.Kind == structure.ImpactTest {
			margin += " (elastic: a bound)"
		}
		fmt.Fprintf(t, "%s\t%s\t%.0f\t%s\t%s\t%s\t%.0f\t%s\t%s\n", r.Test, r.Kind, r.LoadN, given(r.Cycles, 0), r.Part, r.Side, r.StressMPa, allowed, margin)
		notes.add("load by "+r.Basis, r.Test)
		if r.Missing == "" {
			notes.add("allowed by "+r.AllowedBy, r.Test)
		} else {
			notes.add(r.Missing, r.Test)
		}
	}
	t.Flush()
	for _, n := range notes {
		fmt.Fprintf(w, "%s: %s\n", n.what, strings.Join(n.tests, ", "))
	}
	fmt.Fprintln(w, unproved)
}

// noted are statements, each with the tests that it is true of.
type noted []struct {
	what  string
	tests []string
}

// add adds a test to a statement.
func (n *noted) add(what, test string) {
	for i := range *n {
		if (*n)[i].what == what {
			(*n)[i].tests = append((*n)[i].tests, test)
			return
		}
	}
	*n = append(*n, struct {
		what  string
		tests []string
	}{what, []string{test}})
}
