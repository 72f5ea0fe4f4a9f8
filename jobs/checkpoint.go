package jobs

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

	"forkfront/kinematics"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/record"
)

// checkpoints are what a run leaves to go on from: the job as it began, a file for every case that
// is done, and the last two states of the one at work.
type checkpoints struct {
	dir    string
	digest string // of the job; every file carries it
	shared bool   // another copy may be at work in the same folder
}

// begun is the job as it was when the run began, mechanisms included.
type begun struct {
	Digest  string
	Name    string // the file it came from, as it was called
	Text    string // SHA-256 of that file
	Job     []byte // JSON
	Specs   []kinematics.MechanismSpec
	Workers int
	Started time.Time
}

// doneCase is a case whose search is over.
type doneCase struct {
	Digest  string
	Result  optimize.Result
	History []results.HistoryRow
	Record  record.Case
}

// atWork is a case between two generations.
type atWork struct {
	Digest  string
	Number  int // counts the states of a case up
	Case    int
	State   []byte
	History []results.HistoryRow
	Broken  map[string]int // see record.Case
	Seconds float64        // spent on the case so far
}

func openCheckpoints(f *results.Folder, digest string) (*checkpoints, error) {
	c := &checkpoints{dir: f.Path(results.CheckpointDir), digest: digest}
	if err := os.MkdirAll(c.dir, 0o755); err != nil {
		return nil, fmt.Errorf("make the folder of checkpoints: %w", err)
	}
	return c, nil
}

func (c *checkpoints) path(name string) string { return filepath.Join(c.dir, name+".checkpoint") }

func (c *checkpoints) jobPath() string       { return c.path("job") }
func (c *checkpoints) casePath(i int) string { return c.path(fmt.Sprintf("case-%05d", i)) }
func (c *checkpoints) journalPath(i int) string {
	return c.path(fmt.Sprintf("candidates-%05d", i))
}

func (c *checkpoints) done(i int, d doneCase) error {
	d.Digest = c.digest
	if c.shared {
		if there, _ := c.loadCase(i); there != nil {
			return nil // another copy was first; it found the same
		}
	}
	if err := seal(c.casePath(i), &d); err != nil {
		return err
	}
	if !c.shared { // another copy may be reading its states
		return errors.Join(gone(os.Remove(c.statePath(i, 0))), gone(os.Remove(c.statePath(i, 1))))
	}
	return nil
}

// gone is no error for what was not there.
func gone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

func (c *checkpoints) statePath(i, n int) string {
	return c.path(fmt.Sprintf("state-%05d-%d", i, n%2))
}

// save keeps a state beside the one before it, never over it.
func (c *checkpoints) save(w atWork) error {
	w.Digest = c.digest
	return seal(c.statePath(w.Case, w.Number), &w)
}

// loadCase reads a case that is done; nil when there is none. A file that cannot be used is told
// of, and the case is searched again: it gives the same front.
func (c *checkpoints) loadCase(i int) (d *doneCase, trouble error) {
	d = new(doneCase)
	err := unseal(c.casePath(i), d)
	if err == nil && d.Digest != c.digest {
		err = fmt.Errorf("%s belongs to another job", c.casePath(i))
	}
	if err != nil {
		d = nil
	}
	if unreadable(err) {
		trouble = err
	}
	return d, trouble
}

// mustLoadCase reads a case that was done a moment ago.
func (c *checkpoints) mustLoadCase(i int) (*doneCase, error) {
	d, trouble := c.loadCase(i)
	switch {
	case trouble != nil:
		return nil, trouble
	case d == nil:
		return nil, fmt.Errorf("the case is not there any more: %w", fs.ErrNotExist)
	}
	return d, nil
}

// loadState reads the last state of a case that can be used, the one before it where that is
// damaged; nil when there is none.
func (c *checkpoints) loadState(i int) (w *atWork, trouble error) {
	for n := range 2 {
		one := new(atWork)
		err := unseal(c.statePath(i, n), one)
		switch {
		case unreadable(err):
			trouble = errors.Join(trouble, err)
			continue
		case err != nil:
			continue
		case one.Digest != c.digest:
			trouble = errors.Join(trouble, fmt.Errorf("%s belongs to another job", c.statePath(i, n)))
			continue
		}
		if one.Case == i && (w == nil || one.Number > w.Number) {
			w = one
		}
	}
	return w, trouble
}

// open tells whether there is a job to go on with. A run that was killed between its record and its
// report still has one.
func (c *checkpoints) open() bool {
	_, err := os.Stat(c.jobPath())
	return err == nil
}

// clear removes the checkpoints of a run that is done, the job first: with it gone, nobody goes on with
// what a kill may leave of the others.
func (c *checkpoints) clear() error {
	files, err := filepath.Glob(filepath.Join(c.dir, results.CheckpointFiles))
	if err != nil {
		return err
	}
	if c.open() { // a disk that is read alone refuses to remove even what is not there
		files = append([]string{c.jobPath()}, files...)
	}
	for _, f := range files {
		if err := gone(os.Remove(f)); err != nil {
			return fmt.Errorf("remove a checkpoint that is not needed any more: %w", err)
		}
	}
	return nil
}

// pack makes the job as it begins. The digest is over what the job means, mechanisms included, not
// over how its file is laid out.
func pack(j *JobFile, name, text string, workers int, now time.Time) (*begun, error) {
	b := &begun{Name: name, Text: text, Workers: workers, Started: now}
	for _, spec := range j.specs() {
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

// unpack gives the job back. Its seal only says that the bytes are those that somebody wrote, so a job that
// makes no cases is refused here.
func (b *begun) unpack() (*JobFile, error) {
	j := new(JobFile)
	d := json.NewDecoder(bytes.NewReader(b.Job))
	d.DisallowUnknownFields()
	if err := d.Decode(j); err != nil {
		return nil, fmt.Errorf("unpack the job: %w", err)
	}
	specs := j.specs()
	if len(specs) != len(b.Specs) {
		return nil, fmt.Errorf("unpack the job: %d mechanisms, %d of them known", len(specs), len(b.Specs))
	}
	for i := range specs {
		*specs[i] = b.Specs[i]
	}
	if err := j.tryCases(); err != nil {
		return nil, fmt.Errorf("unpack the job: %w", err)
	}
	return j, nil
}

// tryCases builds the cases of a job that did not come through ReadJob, and what evaluates them. All that this
// relies on was checked there and here was not, so a panic on the way is the fault of the file.
func (j *JobFile) tryCases() (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("no cases can be made of it: %v", p)
		}
	}()
	for _, c := range j.Cases() {
		c.Problem()
	}
	return nil
}

// specs are the mechanisms that a job names, those of concepts to start from last.
func (j *JobFile) specs() []*kinematics.MechanismSpec {
	var all []*kinematics.MechanismSpec
	for i := range j.Mechanisms {
		all = append(all, &j.Mechanisms[i].Spec)
	}
	for i := range j.Start {
		all = append(all, &j.Start[i].Around.Spec)
	}
	return all
}
