package picks

import "forkfront/results/table"

// Trade is an exchange near a candidate: one objective gets better, another worse, and the others no worse.
type Trade struct {
	Gain, Cost string  // measures
	By, For    float64 // by how much the first gets better and the second worse, in their units
	Move       float64 // the largest change of a variable that this takes, as a share of its bounds
}

// The columns of the table of trades.
const (
	tradeRun = iota
	tradeCandidate
	tradeCase
	tradeGain
	tradeGainBy
	tradeGainUnit
	tradeCost
	tradeCostBy
	tradeCostUnit
	tradeRate
	tradeMove
)

// TradeColumns are those of the table of trades, in order.
func TradeColumns() []table.Column {
	return []table.Column{
		{Name: "run", Doc: "name of the run", Kind: table.Text},
		{Name: "candidate", Doc: "candidate, as in front.parquet", Kind: table.Text},
		{Name: "case", Doc: "case of the candidate", Kind: table.Text},
		{Name: "gain", Doc: "measure of the objective that gets better", Kind: table.Text},
		{Name: "gain_by", Doc: "by how much, as scored after the move; of a band, the distance outside it", Kind: table.Float},
		{Name: "gain_unit", Doc: "unit of gain_by", Kind: table.Text},
		{Name: "cost", Doc: "measure of the objective that gets worse", Kind: table.Text},
		{Name: "cost_by", Doc: "by how much, as scored after the move", Kind: table.Float},
		{Name: "cost_unit", Doc: "unit of cost_by", Kind: table.Text},
		{Name: "rate", Doc: "cost for each unit of gain, from the exact derivatives at the candidate", Kind: table.Float},
		{Name: "move_share", Doc: "largest change of a variable in the move, as a share of its bounds", Kind: table.Float},
	}
}

// TradeRow is one row of the table of trades.
type TradeRow struct {
	Run, Candidate, Case, GainUnit, CostUnit string
	Rate                                     float64
	Trade
}

// Set fills in a row of the table.
func (r *TradeRow) Set(w *table.Writer) {
	for col, text := range map[int]string{
		tradeRun: r.Run, tradeCandidate: r.Candidate, tradeCase: r.Case,
		tradeGain: r.Gain, tradeGainUnit: r.GainUnit, tradeCost: r.Cost, tradeCostUnit: r.CostUnit,
	} {
		w.Text(col, text)
	}
	w.Float(tradeGainBy, r.By)
	w.Float(tradeCostBy, r.For)
	w.Float(tradeRate, r.Rate)
	w.Float(tradeMove, r.Move)
}

// Trades are those of a table by candidate. It is empty for a table that is not one of trades.
func Trades(t *table.Table) map[string][]Trade {
	if !t.StartsWith(TradeColumns()) {
		return nil
	}
	all := map[string][]Trade{}
	for row, id := range t.Series[tradeCandidate].Texts {
		all[id] = append(all[id], Trade{
			t.Series[tradeGain].Texts[row], t.Series[tradeCost].Texts[row],
			t.Number(tradeGainBy, row), t.Number(tradeCostBy, row), t.Number(tradeMove, row),
		})
	}
	return all
}
