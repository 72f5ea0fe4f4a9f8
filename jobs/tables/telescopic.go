package tables

import (
	"fmt"

	"forkfront/jobs/cases"
	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/table"
)

// writeTelescopic writes the curves of the telescopic fork with which each bike's candidates are compared: one row
// per bike and travel step, at the travels of curves.parquet. What it comes to where it is sized by the rules for all forks is the
// same in all rows of a bike.
func writeTelescopic(path, run string, all []store.Found, meta map[string]string) error {
	columns := []table.Column{results.RunColumn, {Name: "bike", Doc: "bike", Kind: table.Text}}
	for i := range objectives.Curves {
		c := &objectives.Curves[i]
		columns = append(columns, table.Column{Name: c.Name, Unit: c.Unit, Doc: c.Doc + ", of the telescopic fork", Kind: table.Float, Optional: true})
	}
	for _, i := range objectives.TelescopicSizes {
		m := objectives.At(i)
		columns = append(columns, table.Column{
			Name: "sized_" + m.Name, Unit: m.Unit, Kind: table.Float, Optional: true,
			Doc: fmt.Sprintf("%s of the telescopic fork sized by the rules for all forks, of the first material of the job, with %g g of springs and dampers assumed", m.Label(), objectives.LegInternalsG),
		})
	}
	w, err := table.Create(path, columns, meta)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	written := map[string]bool{}
	for _, f := range all {
		if written[f.Case.Bike] {
			continue
		}
		written[f.Case.Bike] = true
		if err := telescopicRows(w, run, f.Case); err != nil {
			return fmt.Errorf("write %s: %w", path, err)
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

func telescopicRows(w *table.Writer, run string, c *cases.Case) error {
	base := c.Conditions.Baseline.Ride
	values := make([][]float64, len(objectives.Curves))
	for k := range values {
		values[k], _ = objectives.ReadCurve(nil, &objectives.Curves[k], base)
	}
	sized := c.SizedTelescopic()
	for i := range c.Conditions.Samples {
		w.Text(0, run)
		w.Text(1, c.Bike)
		for k := range values {
			// The telescopic spring moves with the axle: its leverage is 1 and has no column.
			if i < len(values[k]) && !objectives.Curves[k].OfLinkage {
				w.Float(2+k, shortened(values[k][i]))
			} else {
				w.Null(2 + k)
			}
		}
		for k, measure := range objectives.TelescopicSizes {
			if at := 2 + len(values) + k; sized != nil && sized.Missing[measure] == "" {
				w.Float(at, shortened(sized.Values[measure]))
			} else {
				w.Null(at)
			}
		}
		if err := w.EndRow(); err != nil {
			return err
		}
	}
	return nil
}
