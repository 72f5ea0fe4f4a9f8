package results

import (
	"errors"
	"fmt"
	"io/fs"

	"forkfront/results/record"
	"forkfront/results/table"
)

// tableFiles are the tables of a results folder that a run writes, except the shortlist, which the report writes again.
var tableFiles = []string{FrontFile, CurvesFile, HistoryFile, TelescopicFile, AllFile, NearestFile, TradeoffsFile, EventsFile, TracesFile, DroppedFile, TopologiesFile, SensitivityFile}

// CheckWhole verifies that no table of the folder was damaged, and that all of them and run.json, as far as they are
// there, are of one run: a file copied from another folder would be shown as this run's.
func (f *Folder) CheckWhole() error {
	known, knownFrom := "", ""
	agree := func(run, file string) error {
		switch {
		case run == "" || run == known:
		case known == "":
			known, knownFrom = run, file
		default:
			return fmt.Errorf("%s is of run %s and %s of run %s: the files of two runs are mixed", f.Path(knownFrom), known, f.Path(file), run)
		}
		return nil
	}
	for _, name := range tableFiles {
		run, err := table.FirstText(f.Path(name), RunColumn.Name)
		if err == nil {
			err = agree(run, name)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	r, err := record.Read(f.Path(RunFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	}
	return agree(r.Name, RunFile)
}
