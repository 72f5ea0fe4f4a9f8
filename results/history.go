package results

// HistoryRow is one generation of one case. Hypervolume has no value until a feasible candidate
// was found.
type HistoryRow struct {
	Case          string
	Generation    int     // from 1
	Evaluations   int     // spent so far in this case, gradients included at their cost
	FeasibleShare float64 // of the evaluations so far, 0 to 1
	Front         int     // candidates in the archive
	Hypervolume   *float64
}

// field is a column together with how a row of type R fills it.
type field[R any] struct {
	column Column
	set    func(w *TableWriter, col int, r *R)
}

// historyFields is where each column of history.parquet is declared, once.
var historyFields = []field[HistoryRow]{
	{Column{Name: "case", Doc: "name of the case", Kind: Text}, func(w *TableWriter, c int, r *HistoryRow) { w.Text(c, r.Case) }},
	{Column{Name: "generation", Doc: "generation, from 1", Kind: Int}, func(w *TableWriter, c int, r *HistoryRow) { w.Int(c, int64(r.Generation)) }},
	{Column{Name: "evaluations", Doc: "evaluations spent so far: candidates evaluated, and what gradients took, counted as evaluations", Kind: Int}, func(w *TableWriter, c int, r *HistoryRow) { w.Int(c, int64(r.Evaluations)) }},
	{Column{Name: "feasible_share", Doc: "candidates so far that met every constraint, as a share of evaluations, 0 to 1", Kind: Float}, func(w *TableWriter, c int, r *HistoryRow) { w.Float(c, r.FeasibleShare) }},
	{Column{Name: "front_size", Doc: "candidates in the archive", Kind: Int}, func(w *TableWriter, c int, r *HistoryRow) { w.Int(c, int64(r.Front)) }},
	{Column{Name: "hypervolume", Doc: "share of the objective box that the archive dominates; NULL before anything is feasible", Sense: "high", Kind: Float, Optional: true}, setHypervolume},
}

func setHypervolume(w *TableWriter, col int, r *HistoryRow) {
	w.FloatOrNull(col, r.Hypervolume)
}

// FloatOrNull sets column col of the current row to *v, or to NULL where v is nil.
func (w *TableWriter) FloatOrNull(col int, v *float64) {
	if v == nil {
		w.Null(col)
		return
	}
	w.Float(col, *v)
}

// HistoryColumns returns the columns of history.parquet.
func HistoryColumns() []Column {
	columns := make([]Column, len(historyFields))
	for i := range historyFields {
		columns[i] = historyFields[i].column
	}
	return columns
}

// WriteHistory writes history.parquet into the folder, rows in the order given.
func (f *Folder) WriteHistory(rows []HistoryRow, meta map[string]string) error {
	return WriteTable(f.Path(HistoryFile), HistoryColumns(), meta, len(rows), func(w *TableWriter, row int) {
		for col := range historyFields {
			historyFields[col].set(w, col, &rows[row])
		}
	})
}

// WriteTable writes a table of so many rows, each set by a call of set, and closes it. The first
// row that is refused ends it, and leaves no file.
func WriteTable(path string, columns []Column, meta map[string]string, rows int, set func(w *TableWriter, row int)) error {
	w, err := CreateTable(path, columns, meta)
	if err != nil {
		return err
	}
	defer w.Abort() // after Close it does nothing
	for row := range rows {
		set(w, row)
		if err := w.EndRow(); err != nil {
			return err
		}
	}
	return w.Close()
}
