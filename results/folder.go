package results

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/gofrs/flock"

	"forkfront/results/display"
	"forkfront/results/figures"
)

// The files of a results folder.
const (
	FrontFile      = "front.parquet"
	CurvesFile     = "curves.parquet"
	HistoryFile    = "history.parquet"
	TelescopicFile = "telescopic.parquet"
	AllFile        = "candidates.parquet"
	NearestFile    = "nearest.parquet"
	ShortlistFile  = "shortlist.parquet"
	TradeoffsFile  = "tradeoffs.parquet"
	EventsFile     = "events.parquet"
	TracesFile     = "traces.parquet"
	DroppedFile    = "dropped.parquet"

	SensitivityFile = "sensitivity.parquet" // of a job's bounds, not of its candidates

	CasesFile      = "cases.yaml"
	RunFile        = "run.json"
	RaceFile       = "race.jsonl"
	TopologiesFile = "topologies.parquet"
	ReportFile     = "report.html"
	LogFile        = "log.jsonl"
	lockFile       = ".forkfront.lock"
)

// ownFiles lists what forkfront writes into a results folder, which is all that --replace removes there; checkpoints
// have a list of their own.
var ownFiles = []string{FrontFile, CurvesFile, HistoryFile, TelescopicFile, AllFile, NearestFile, ShortlistFile, TradeoffsFile, EventsFile, TracesFile, DroppedFile, SensitivityFile, CasesFile, RunFile, RaceFile, TopologiesFile, ReportFile, LogFile}

// CheckpointDir is the subfolder of checkpoints. Files there whose names match CheckpointFiles are
// forkfront's own.
const (
	CheckpointDir   = "checkpoint"
	CheckpointFiles = "*.checkpoint"
)

// JobCheckpoint is the checkpoint without which a run cannot be resumed: the first that a run writes and the first that
// it removes.
const JobCheckpoint = CheckpointDir + "/job.checkpoint"

// FiguresDir is the subfolder of pictures. Files there whose names match figures.Files are forkfront's own.
const FiguresDir = "figures"

// ErrOccupied says that a folder already holds results.
type ErrOccupied struct {
	Dir       string
	Holds     []string // the files found, relative to Dir
	Resumable bool     // they are those of an unfinished run
}

// mostNamed is how many files a message names.
const mostNamed = 6

func (e *ErrOccupied) Error() string {
	named := strings.Join(e.Holds[:min(len(e.Holds), mostNamed)], ", ")
	if more := len(e.Holds) - mostNamed; more > 0 {
		named += fmt.Sprintf(" and %d more", more)
	}
	if e.Resumable {
		return fmt.Sprintf("%s already holds an unfinished run (%s); continue it with `forkfront resume %s`, or start again and remove it with --replace", e.Dir, named, display.ShellWord(e.Dir))
	}
	return fmt.Sprintf("%s already holds results (%s); choose another folder, or start again and remove them with --replace", e.Dir, named)
}

// ErrLocked says that another run is active in a folder.
type ErrLocked struct{ Dir string }

func (e *ErrLocked) Error() string {
	return fmt.Sprintf("another forkfront is running in %s; wait for it to end or choose another folder", e.Dir)
}

// Folder is a results folder that only this run may write to, until Close.
type Folder struct {
	Dir  string
	lock *flock.Flock
}

// Open makes the folder, locks it, and refuses with *ErrOccupied one that holds results, or with *ErrLocked one in
// which another run is active. With replace the results are removed, and nothing else in the folder.
func Open(dir string, replace bool) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the results folder: %w", err)
	}
	f, err := lockFolder(dir)
	if err != nil {
		return nil, err
	}
	if err := f.claim(replace); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// Reuse is Open for a folder that may hold one of forkfront's files already, which is about to be replaced, and no
// others.
func Reuse(dir, file string) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the results folder: %w", err)
	}
	f, err := lockFolder(dir)
	if err != nil {
		return nil, err
	}
	found, err := f.results()
	found = slices.DeleteFunc(found, func(name string) bool { return name == file })
	if err == nil && len(found) > 0 {
		err = &ErrOccupied{f.Dir, found, slices.Contains(found, JobCheckpoint)}
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// Reopen locks a folder that holds a run, finished or not, to continue it, and removes partly written files of killed
// runs.
func Reopen(dir string) (*Folder, error) {
	_, err := os.Stat(filepath.Join(dir, RunFile))
	if errors.Is(err, fs.ErrNotExist) { // one that was killed before it could write its record has its job
		if _, job := os.Stat(filepath.Join(dir, JobCheckpoint)); job == nil {
			err = nil
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s holds no run to continue: %w", dir, err)
	}
	f, err := lockFolder(dir)
	if err != nil {
		return nil, err
	}
	left, err := f.unfinished()
	if err == nil {
		err = f.remove(left)
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

func lockFolder(dir string) (*Folder, error) {
	lock := flock.New(filepath.Join(dir, lockFile))
	held, err := lock.TryLock()
	if err != nil {
		return nil, fmt.Errorf("lock the results folder %s: %w", dir, err)
	}
	if !held {
		return nil, &ErrLocked{dir}
	}
	return &Folder{Dir: dir, lock: lock}, nil
}

// claim makes sure that no results are left in the folder.
func (f *Folder) claim(replace bool) error {
	found, err := f.results()
	if err != nil {
		return err
	}
	if len(found) > 0 && !replace {
		return &ErrOccupied{f.Dir, found, slices.Contains(found, JobCheckpoint)}
	}
	left, err := f.unfinished()
	if err != nil {
		return err
	}
	return f.remove(append(found, left...))
}

func (f *Folder) remove(names []string) error {
	for _, name := range names {
		if err := os.Remove(f.Path(name)); err != nil {
			return fmt.Errorf("remove what is in the way in %s: %w", f.Dir, err)
		}
	}
	return nil
}

// results lists forkfront's files in the folder. A folder or link by such a name counts as found:
// better to stop at it than to write over it.
func (f *Folder) results() ([]string, error) {
	var found []string
	for _, name := range ownFiles {
		_, err := os.Lstat(f.Path(name))
		if err == nil {
			found = append(found, name)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("look into the results folder: %w", err)
		}
	}
	checkpoints, err := f.matching(CheckpointDir, CheckpointFiles)
	if err != nil {
		return nil, err
	}
	pictures, err := f.matching(FiguresDir, figures.Files)
	return append(append(found, checkpoints...), pictures...), err
}

// Path returns the path of a file in the folder.
func (f *Folder) Path(name string) string { return filepath.Join(f.Dir, name) }

// Close lets other runs have the folder. The lock file stays: removing it would let two runs hold
// locks on two files of one name.
func (f *Folder) Close() error { return f.lock.Close() }
