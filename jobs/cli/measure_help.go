package cli

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"forkfront/jobs/process"
	"forkfront/objectives"
)

// TopicMeasures is the page of help on the measures that objectives and constraints can name.
func TopicMeasures() *cobra.Command {
	return &cobra.Command{
		Use:   topicMeasures,
		Short: "List the measures for objectives and constraints: names, units, which direction is better",
		Long:  measureList(),
	}
}

const topicMeasures = "measures"

// helpOnMeasure prints what there is to say about one measure.
func helpOnMeasure(w io.Writer, name string) error {
	i := objectives.Index(name)
	if i < 0 {
		return process.BadInput(fmt.Errorf("no measure %q; `forkfront help measures` lists them", name))
	}
	m := objectives.At(i)
	_, err := fmt.Fprintf(w, "%s: %s\n\nunit: %s\nbetter: %s\nformula: %s\ngood: %s\nresolution: %g\n",
		m.Name, m.Doc, cmp.Or(m.Unit, "–"), betterWords[m.Sense], m.Formula, m.Good, m.Resolution)
	return err
}

// betterWords say in which direction a measure is better.
var betterWords = map[objectives.Sense]string{objectives.Low: "low", objectives.High: "high", objectives.Neutral: "–"}

// measureList is the registry as a table.
func measureList() string {
	var text strings.Builder
	text.WriteString("Measures of a fork. Each is a column of front.parquet and a row of a score, and can be used in the\n" +
		"objectives and constraints of a job. Unit – means dimensionless; better – means no preferred\n" +
		"direction, for bands and limits. `forkfront help measures NAME` has the formula and what is good.\n" +
		"A quantity of an event can be used in the same way, by both names: see the end of the list.\n\n")
	t := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "measure\tunit\tbetter\twhat it is")
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", m.Name, cmp.Or(m.Unit, "–"), betterWords[m.Sense], m.Doc)
	}
	t.Flush()
	text.WriteString("\nQuantities of events, in jobs with a ride section; a column of front.parquet where the job names them:\n")
	for i := range objectives.EventMeasures {
		fmt.Fprintf(&text, "  %s\n", objectives.EventMeasures[i].Name)
	}
	return text.String()
}
