package picks

import (
	"strings"

	"forkfront/results/table"
)

// shortlistColumns are those of the table of picks, in order.
var shortlistColumns = []table.Column{
	{Name: "run", Doc: "name of the run", Kind: table.Text, Optional: true},
	{Name: "candidate", Doc: "candidate, as in front.parquet", Kind: table.Text, Optional: true},
	{Name: "case", Doc: "case of the candidate", Kind: table.Text, Optional: true},
	{Name: "bike", Doc: "bike", Kind: table.Text, Optional: true},
	{Name: "name", Doc: "by which extract knows the candidate", Kind: table.Text},
	{Name: "reason", Doc: "why it is suggested: balanced, preferred, knee, or best in a measure", Kind: table.Text},
	{Name: "rank", Doc: "rank among the candidates for the same bike and package by closeness, 1 for the best", Kind: table.Int},
	{Name: "closeness", Doc: "closeness to the ideal by TOPSIS, 0 to 1; weights in the footer as forkfront.prefer, all objectives alike without", Sense: "high", Kind: table.Float},
}

// Write writes the picks of a front as a table: one row per candidate and reason, in the order in which they are
// listed.
func Write(path string, t *table.Table, prefer Preference, meta map[string]string) error {
	type row struct {
		of           int
		name, reason string
	}
	var rows []row
	criteria := Criteria(t)
	ranked := Rank(t, criteria, prefer)
	for _, p := range Choose(t, criteria, prefer) {
		for _, why := range p.Why {
			rows = append(rows, row{p.Row, p.name(t, why), why})
		}
	}
	return table.Write(path, shortlistColumns, meta, len(rows), func(w *table.Writer, i int) {
		r := &rows[i]
		for col, c := range shortlistColumns[:4] {
			if from := t.Index(c.Name); from >= 0 && t.Columns[from].Kind == table.Text && !t.Null(from, r.of) {
				w.Text(col, t.Series[from].Texts[r.of])
			} else {
				w.Null(col)
			}
		}
		w.Text(4, r.name)
		w.Text(5, r.reason)
		w.Int(6, int64(ranked[r.of].Rank))
		w.Float(7, ranked[r.of].Closeness)
	})
}

// name is by what a pick is asked for: CASE/balanced for the balanced one of a case (without the seed where a job has several), and
// SETTING/preferred, SETTING/knee and SETTING/best-MEASURE, with a dash for each space, without the setting where there is only one.
func (p *Pick) name(t *table.Table, why string) string {
	name, within := strings.ReplaceAll(why, " ", "-"), p.Setting
	if why == "balanced" {
		within = p.of
	}
	if within != "" {
		name = within + "/" + name
	}
	return name
}
