package results

import "forkfront/results/table"

// RunColumn tells runs apart in every table: candidates of different runs may have the same name.
var RunColumn = table.Column{Name: "run", Doc: "name of the run: a short digest of the job and its seeds", Kind: table.Text}

// HistoryRow is one generation of one case. Hypervolume has no value until a feasible candidate
// was found.
type HistoryRow struct {
	Run           string
	Case          string
	Generation    int     // from 1
	Evaluations   int     // spent so far in this case, gradients included at their cost
	FeasibleShare float64 // of the evaluations so far, 0 to 1
	Front         int     // candidates in the archive
	Hypervolume   *float64
}

// field is a column together with how a row of type R fills it.
type field[R any] struct {
	column table.Column
	set    func(w *table.Writer, col int, r *R)
}

// historyFields is where each column of history.parquet is declared, once.
var historyFields = []field[HistoryRow]{
	{RunColumn, func(w *table.Writer, c int, r *HistoryRow) { w.Text(c, r.Run) }},
	{table.Column{Name: "case", Doc: "name of the case", Kind: table.Text}, func(w *table.Writer, c int, r *HistoryRow) { w.Text(c, r.Case) }},
	{table.Column{Name: "generation", Doc: "generation, from 1", Kind: table.Int}, func(w *table.Writer, c int, r *HistoryRow) { w.Int(c, int64(r.Generation)) }},
	{table.Column{Name: "evaluations", Doc: "evaluations spent so far: candidates, plus the cost of gradients in evaluations", Kind: table.Int}, func(w *table.Writer, c int, r *HistoryRow) { w.Int(c, int64(r.Evaluations)) }},
	{table.Column{Name: "feasible_share", Doc: "candidates so far that met every constraint, as a share of evaluations, 0 to 1", Kind: table.Float}, func(w *table.Writer, c int, r *HistoryRow) { w.Float(c, r.FeasibleShare) }},
	{table.Column{Name: "front_size", Doc: "candidates in the archive", Kind: table.Int}, func(w *table.Writer, c int, r *HistoryRow) { w.Int(c, int64(r.Front)) }},
	{table.Column{Name: "hypervolume", Doc: "share of the objective box that the archive dominates; NULL until a candidate is feasible", Sense: "high", Kind: table.Float, Optional: true}, setHypervolume},
}

func setHypervolume(w *table.Writer, col int, r *HistoryRow) {
	w.FloatOrNull(col, r.Hypervolume)
}

// HistoryColumns returns the columns of history.parquet.
func HistoryColumns() []table.Column {
	columns := make([]table.Column, len(historyFields))
	for i := range historyFields {
		columns[i] = historyFields[i].column
	}
	return columns
}

// WriteHistory writes history.parquet of a run into the folder, rows in the order given.
func (f *Folder) WriteHistory(run string, rows []HistoryRow, meta map[string]string) error {
	return table.Write(f.Path(HistoryFile), HistoryColumns(), meta, len(rows), func(w *table.Writer, row int) {
		r := rows[row]
		r.Run = run
		for col := range historyFields {
			historyFields[col].set(w, col, &r)
		}
	})
}
