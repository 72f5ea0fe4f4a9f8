package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"forkfront/jobs/files"
	"forkfront/kinematics/scheme"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/record"
)

// Checkpoints are what a run can be continued from: the job as it began, a file for every finished case, and the last
// two states of each case in progress.
type Checkpoints struct {
	Dir    string
	Digest string // of the job; every file carries it
	Shared bool   // another copy may be running in the same folder
	Round  int    // of a race, from 0; each has cases and states of its own
}

// InRound are the checkpoints of a round of a race in the same folder.
func (c *Checkpoints) InRound(round int) *Checkpoints {
	other := *c
	other.Round = round
	return &other
}

// Begun is the job as it was when the run began, including its mechanisms.
type Begun struct {
	Digest  string
	Name    string // name of the file it came from
	Text    string // SHA-256 of that file
	Job     []byte // JSON
	Specs   []scheme.MechanismSpec
	Workers int
	Started time.Time
}

// DoneCase is a case whose search has ended.
type DoneCase struct {
	Digest  string
	Result  optimize.Result
	History []results.HistoryRow
	Record  record.Case
}

// AtWork is a case between two generations.
type AtWork struct {
	Digest   string
	Number   int // of the state, counted per case
	Case     int
	State    []byte
	History  []results.HistoryRow
	Violated map[string]int // see record.Case
	Seconds  float64        // spent on the case so far
}

func OpenCheckpoints(f *results.Folder, digest string) (*Checkpoints, error) {
	c := &Checkpoints{Dir: f.Path(results.CheckpointDir), Digest: digest}
	if err := os.MkdirAll(c.Dir, 0o755); err != nil {
		return nil, fmt.Errorf("create the checkpoint folder: %w", err)
	}
	return c, nil
}

func (c *Checkpoints) path(name string) string { return filepath.Join(c.Dir, name+".checkpoint") }

func (c *Checkpoints) JobPath() string       { return c.path("job") }
func (c *Checkpoints) casePath(i int) string { return c.path(c.rounded(fmt.Sprintf("case-%05d", i))) }

// rounded is a name in a round; the first one, like a run without a race, adds nothing.
func (c *Checkpoints) rounded(name string) string {
	if c.Round == 0 {
		return name
	}
	return fmt.Sprintf("%s-round-%02d", name, c.Round+1)
}

// Done keeps case i, whose name is in its record, and drops its states.
func (c *Checkpoints) Done(i int, d DoneCase) error {
	d.Digest = c.Digest
	if c.Shared {
		if there, _ := c.LoadCase(i, d.Record.Name); there != nil {
			return nil // another copy was first, with the same result
		}
	}
	if err := Seal(c.casePath(i), &d); err != nil {
		return err
	}
	if !c.Shared { // another copy may be reading its states
		return errors.Join(Gone(os.Remove(c.statePath(i, 0))), Gone(os.Remove(c.statePath(i, 1))))
	}
	return nil
}

// gone ignores the error for a file that did not exist.
func Gone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

func (c *Checkpoints) statePath(i, n int) string {
	return c.path(c.rounded(fmt.Sprintf("state-%05d-%d", i, n%2)))
}

// Save writes a state beside the previous one, never over it.
func (c *Checkpoints) Save(w AtWork) error {
	w.Digest = c.Digest
	return Seal(c.statePath(w.Case, w.Number), &w)
}

// LoadCase reads case i; nil when it is not finished. A file that cannot be used, such as that of another job or
// case, is reported, and the case is searched again: it gives the same front.
func (c *Checkpoints) LoadCase(i int, name string) (d *DoneCase, trouble error) {
	d = new(DoneCase)
	err := Unseal(c.casePath(i), d)
	switch {
	case err == nil && d.Digest != c.Digest:
		err = fmt.Errorf("%s belongs to another job", c.casePath(i))
	case err == nil && d.Record.Name != name:
		err = fmt.Errorf("%s belongs to case %q; expected case %q", c.casePath(i), d.Record.Name, name)
	}
	if err != nil {
		d = nil
	}
	if Unreadable(err) {
		trouble = err
	}
	return d, trouble
}

// MustLoadCase reads a case that has just been finished.
func (c *Checkpoints) MustLoadCase(i int, name string) (*DoneCase, error) {
	d, trouble := c.LoadCase(i, name)
	switch {
	case trouble != nil:
		return nil, trouble
	case d == nil:
		return nil, fmt.Errorf("the case no longer exists: %w", fs.ErrNotExist)
	}
	return d, nil
}

// LoadState reads the last state of a case, or the one before it where that is damaged; nil when there is none.
func (c *Checkpoints) LoadState(i int) (w *AtWork, trouble error) {
	for n := range 2 {
		one, err := c.loadState(i, n)
		switch {
		case Unreadable(err):
			trouble = errors.Join(trouble, err)
		case err == nil && (w == nil || one.Number > w.Number):
			w = one
		}
	}
	return w, trouble
}

func (c *Checkpoints) loadState(i, n int) (*AtWork, error) {
	w := new(AtWork)
	path := c.statePath(i, n)
	err := Unseal(path, w)
	switch {
	case err != nil:
		return nil, err
	case w.Digest != c.Digest:
		return nil, fmt.Errorf("%s belongs to another job", path)
	case w.Case != i || w.Number%2 != n:
		return nil, fmt.Errorf("%s is state %d of case %d of the job, under another name", path, w.Number, w.Case+1)
	}
	return w, nil
}

// Open tells whether there is a job to continue. A run that was killed between its record and its report still has
// one.
func (c *Checkpoints) Open() bool {
	_, err := os.Stat(c.JobPath())
	return err == nil
}

// Clear removes the checkpoints of a finished run, the job first: without it, nothing continues from what a kill may
// leave of the others.
func (c *Checkpoints) Clear() error {
	files, err := filepath.Glob(filepath.Join(c.Dir, results.CheckpointFiles))
	if err != nil {
		return err
	}
	if c.Open() { // a read-only file system refuses to remove even what does not exist
		files = append([]string{c.JobPath()}, files...)
	}
	for _, f := range files {
		if err := Gone(os.Remove(f)); err != nil {
			return fmt.Errorf("remove an obsolete checkpoint: %w", err)
		}
	}
	return nil
}

// Pack makes the job as it begins. The digest is over what the job means, including its mechanisms, not over how its
// file is laid out.
func Pack(j *files.JobFile, name, text string, workers int, now time.Time) (*Begun, error) {
	b := &Begun{Name: name, Text: text, Workers: workers, Started: now}
	for _, spec := range j.Specs() {
		b.Specs = append(b.Specs, *spec)
	}
	var err error
	if b.Job, err = json.Marshal(j); err != nil {
		return nil, fmt.Errorf("pack the job: %w", err)
	}
	specs, err := json.Marshal(b.Specs)
	if err != nil {
		return nil, fmt.Errorf("pack the job's mechanisms: %w", err)
	}
	b.Digest = fmt.Sprintf("%x", sha256.Sum256(append(b.Job, specs...)))
	return b, nil
}

// Unpack returns the job. Its seal only says that the bytes are those that somebody wrote, so a job without cases is
// refused here.
func (b *Begun) Unpack() (*files.JobFile, error) {
	j := new(files.JobFile)
	d := json.NewDecoder(bytes.NewReader(b.Job))
	d.DisallowUnknownFields()
	if err := d.Decode(j); err != nil {
		return nil, fmt.Errorf("unpack the job: %w", err)
	}
	specs := j.Specs()
	if len(specs) != len(b.Specs) {
		return nil, fmt.Errorf("unpack the job: %d mechanisms, %d of them known", len(specs), len(b.Specs))
	}
	for i := range specs {
		*specs[i] = b.Specs[i]
	}
	if err := j.Recheck(); err != nil {
		return nil, fmt.Errorf("unpack the job: %w", err)
	}
	return j, nil
}
