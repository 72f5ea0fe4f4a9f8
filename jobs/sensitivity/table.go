package sensitivity

import (
	"fmt"

	"forkfront/objectives"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/table"
)

// columns are those of the table, in order.
var columns = []table.Column{
	results.RunColumn,
	{Name: "case", Doc: "first case of those that differ only in their seed", Kind: table.Text},
	{Name: "bike", Doc: "bike", Kind: table.Text},
	{Name: "mechanism", Doc: "mechanism", Kind: table.Text},
	{Name: "measure", Doc: "measure that is driven, by its column in front.parquet", Kind: table.Text},
	{Name: "variable", Doc: "variable of the search that drives it", Kind: table.Text},
	{Name: "first_order", Doc: "first-order index: share of the variance of the measure's rank that the variable explains by itself; about 0, of either sign, where it explains none", Kind: table.Float},
	{Name: "first_order_error", Doc: "standard error of first_order; 0 where fewer than 80 designs have the measure", Kind: table.Float},
	{Name: "total", Doc: "total index: share of that variance that is left when all other variables are known", Kind: table.Float},
	{Name: "total_error", Doc: "standard error of total", Kind: table.Float},
	{Name: "rank_correlation", Doc: "Spearman's: above 0 where the measure rises with the variable", Kind: table.Float},
	{Name: "designs", Doc: "sampled designs that work and have the measure", Kind: table.Int},
	{Name: "works_share", Doc: "share of the designs within the bounds that work", Kind: table.Float},
}

// Write writes a row per case, measure and variable. Measures that no sampled design has, and those that all have the
// same value of, are left out.
func Write(path, run string, all []Of) error {
	w, err := table.Create(path, columns, map[string]string{"forkfront.caution": display.Caution})
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	for _, of := range all {
		variables := of.Case.Problem().Variables()
		for m := range objectives.Measures {
			if !of.drives(m) {
				continue
			}
			for v, k := range of.Indices[m] {
				for col, text := range []string{run, of.Case.Name, of.Case.Bike, of.Case.Mechanism.Name, objectives.Measures[m].Name, variables[v].Name} {
					w.Text(col, text)
				}
				for i, x := range []float64{k.First, k.FirstError, k.Total, k.TotalError, k.Rank} {
					w.Float(6+i, x)
				}
				w.Int(11, int64(k.Designs))
				w.Float(12, of.Works)
				if err := w.EndRow(); err != nil {
					return fmt.Errorf("write %s: %w", path, err)
				}
			}
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// drives tells whether any variable drives a measure.
func (of *Of) drives(measure int) bool {
	for _, k := range of.Indices[measure] {
		if k.Total > 0 {
			return true
		}
	}
	return false
}
