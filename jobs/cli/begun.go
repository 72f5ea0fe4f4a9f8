package cli

import (
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/optimize/arithmetic"
	"forkfront/results"
	"forkfront/results/record"
)

// finished returns the record of a finished run; nil if there is something to resume.
func finished(dir string) (*record.Run, error) {
	saved := store.Checkpoints{Dir: filepath.Join(dir, results.CheckpointDir)}
	if saved.Open() {
		return nil, nil
	}
	done, err := record.Read(filepath.Join(dir, results.RunFile))
	if err != nil || done.Finished.IsZero() {
		return nil, err
	}
	return done, nil
}

// loadBegun reads the job as the run began with it.
func loadBegun(folder *results.Folder) (*store.Begun, *files.JobFile, error) {
	b := new(store.Begun)
	saved := store.Checkpoints{Dir: folder.Path(results.CheckpointDir)}
	var other *arithmetic.Mismatch
	if err := store.Unseal(saved.JobPath(), b); errors.As(err, &other) {
		return nil, nil, process.BadInput(fmt.Errorf("%s cannot be resumed: %w", folder.Dir, err))
	} else if err != nil {
		return nil, nil, process.BadInput(fmt.Errorf("%s cannot be resumed: %w; start again with run --replace", folder.Dir, err))
	}
	job, err := b.Unpack()
	if err != nil {
		return nil, nil, process.BadInput(fmt.Errorf("%s cannot be resumed: %w", folder.Dir, err))
	}
	if again, err := store.Pack(job, "", "", 0, time.Time{}); err != nil || again.Digest != b.Digest {
		return nil, nil, process.BadInput(fmt.Errorf("%s cannot be resumed: its job is not the one it began with; start again with run --replace", folder.Dir))
	}
	return b, job, nil
}
