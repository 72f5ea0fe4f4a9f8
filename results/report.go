package results

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"github.com/google/renameio/v2"

	"forkfront/results/display"
	"forkfront/results/figures"
	"forkfront/results/picks"
	"forkfront/results/record"
	"forkfront/results/report"
	"forkfront/results/rounds"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// WriteReport makes report.html of the folder's tables and, where there is one, run.json: one page
// that needs no network. With forks it shows the candidates in motion, computed on the given number of processors, and the
// near misses from the side.
func (f *Folder) WriteReport(forks report.Forks, processors int) error {
	text, err := f.report(forks, processors)
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	if err := renameio.WriteFile(f.Path(ReportFile), text, 0o644, renameio.WithTempDir(f.Dir)); err != nil {
		return fmt.Errorf("write the report: %w", err)
	}
	return nil
}

func (f *Folder) report(forks report.Forks, processors int) ([]byte, error) {
	front, err := table.Read(f.Path(FrontFile))
	if err != nil {
		return nil, err
	}
	run, err := record.Read(f.Path(RunFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	history, err := f.optional(HistoryFile)
	if err != nil {
		return nil, err
	}
	nearest, err := f.optional(NearestFile)
	if err != nil {
		return nil, err
	}
	trades, err := f.optional(TradeoffsFile)
	if err != nil {
		return nil, err
	}
	events, err := f.optional(EventsFile)
	if err != nil {
		return nil, err
	}
	topologies, err := f.optional(TopologiesFile)
	if err != nil {
		return nil, err
	}
	race, err := rounds.Read(f.Path(RaceFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	return report.HTML(&report.Contents{
		Front: front, Nearest: nearest, Trades: trades, Events: events, Run: run, History: history, Topologies: topologies, Race: race, Forks: forks, Processors: processors,
	})
}

// WriteFigures draws the front, the curves of the balanced candidates and the side view of each into the
// subfolder figures. It returns the files that it wrote.
func (f *Folder) WriteFigures(forks sideview.ForkOf) ([]string, error) {
	front, err := table.Read(f.Path(FrontFile))
	if err != nil {
		return nil, fmt.Errorf("figures: %w", err)
	}
	return figures.Write(f.Path(FiguresDir), front, forks)
}

// WritePicks prints the candidates to look at first, which it writes into shortlist.parquet, and the near misses.
func (f *Folder) WritePicks(w io.Writer) error {
	front, err := table.Read(f.Path(FrontFile))
	if err != nil {
		return err
	}
	run, err := record.Read(f.Path(RunFile))
	if errors.Is(err, fs.ErrNotExist) {
		run, err = &record.Run{}, nil
	}
	if err != nil {
		return err
	}
	meta := map[string]string{"forkfront.caution": display.Caution}
	if len(run.Prefer) > 0 {
		meta["forkfront.prefer"] = picks.Preference(run.Prefer).String()
	}
	if err := picks.Write(f.Path(ShortlistFile), front, run.Prefer, meta); err != nil {
		return fmt.Errorf("write the shortlist: %w", err)
	}
	events, err := f.optional(EventsFile)
	if err != nil {
		return err
	}
	if err := picks.Print(w, front, run.Prefer, run.Telescopic(), picks.NewOutcomes(events)); err != nil {
		return err
	}
	nearest, err := f.optional(NearestFile)
	if err != nil || nearest == nil {
		return err
	}
	return picks.PrintNearest(w, nearest)
}

// Prefer changes the weights by which the candidates of the folder are ranked, for all that is made of it from now on.
func (f *Folder) Prefer(p picks.Preference) error {
	front, err := table.Read(f.Path(FrontFile))
	if err != nil {
		return err
	}
	if err := p.Fits(front); err != nil {
		return err
	}
	run, err := record.Read(f.Path(RunFile))
	if err != nil {
		return err
	}
	run.Prefer = p
	return f.WriteRun(run)
}

// optional reads a table; nil where the folder has none of that name.
func (f *Folder) optional(name string) (*table.Table, error) {
	t, err := table.Read(f.Path(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return t, err
}

// WriteRun writes run.json, whole or not at all.
func (f *Folder) WriteRun(r *record.Run) error { return r.Write(f.Path(RunFile)) }
