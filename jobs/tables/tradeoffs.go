package tables

import (
	"fmt"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/optimize/tradeoff"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// MostSuggested bounds the suggested candidates whose trades are found and that are simulated: a sweep of thousands of cases
// suggests one of each.
const MostSuggested = 300

// WriteTradeoffs finds what the suggested candidates of the front can gain in one objective at the cost of another and
// writes it. Where there is nothing to trade, it writes no file.
func WriteTradeoffs(folder *results.Folder, all []store.Found, run string, wanted Suggested, processors int) error {
	rows := make([][]picks.TradeRow, len(all))
	var group errgroup.Group
	group.SetLimit(processors)
	for i := range all {
		if ids := wanted[all[i].Case.Name]; ids != nil {
			group.Go(func() (err error) {
				rows[i], err = tradesOf(&all[i], ids, run)
				return err
			})
		}
	}
	if err := group.Wait(); err != nil {
		return err
	}
	return writeTrades(folder.Path(results.TradeoffsFile), rows)
}

// Suggested are the candidates of a front to look at first, by case and identity.
type Suggested map[string]map[string]bool

// ReadSuggested finds those of the front that a folder holds.
func ReadSuggested(folder *results.Folder, prefer picks.Preference) (Suggested, error) {
	front, err := table.Read(folder.Path(results.FrontFile))
	if err != nil {
		return nil, err
	}
	of, id := front.Index("case"), front.Index("candidate")
	wanted, n := Suggested{}, 0
	for _, p := range picks.Choose(front, picks.Criteria(front), prefer) {
		if n == MostSuggested {
			break
		}
		name := front.Series[of].Texts[p.Row]
		if wanted[name] == nil {
			wanted[name] = map[string]bool{}
		}
		wanted[name][front.Series[id].Texts[p.Row]] = true
		n++
	}
	return wanted, nil
}

// tradesOf finds the trades of some candidates of a case.
func tradesOf(f *store.Found, ids map[string]bool, run string) (rows []picks.TradeRow, err error) {
	d, err := f.Load()
	if err != nil {
		return nil, err
	}
	finder := tradeoff.NewFinder(f.Case.Problem(), tradeoff.Move)
	for i := range d.Result.Front {
		c := &d.Result.Front[i]
		if !ids[candidateID(f.Case, c)] {
			continue
		}
		for _, k := range finder.Trades(c.X) {
			gain, cost := objectives.At(f.Case.Goals[k.Gain].Measure), objectives.At(f.Case.Goals[k.Cost].Measure)
			rows = append(rows, picks.TradeRow{
				Run: run, Candidate: candidateID(f.Case, c), Case: f.Case.Name, GainUnit: gain.Unit, CostUnit: cost.Unit, Rate: k.Rate,
				Trade: picks.Trade{Gain: gain.Name, Cost: cost.Name, By: k.By, For: k.For, Move: k.Move},
			})
		}
	}
	return rows, nil
}

func writeTrades(path string, all [][]picks.TradeRow) error {
	var rows []picks.TradeRow
	for _, of := range all {
		rows = append(rows, of...)
	}
	if len(rows) == 0 {
		return nil
	}
	err := table.Write(path, picks.TradeColumns(), map[string]string{"forkfront.caution": display.Caution}, len(rows), func(w *table.Writer, row int) {
		rows[row].Set(w)
	})
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
