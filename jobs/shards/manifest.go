package shards

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/google/renameio/v2"

	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/sealed"
)

// manifest says that a shard is complete. It is published last.
type manifest struct {
	Plan    string    `json:"plan_digest"`
	Shard   int       `json:"shard"`
	Cases   []string  `json:"cases"`
	Rows    int       `json:"rows"`
	Started time.Time `json:"started"` // when the shard first ran
	Ended   time.Time `json:"ended"`
	Host    string    `json:"host"`
	Version string    `json:"version"`

	sealed bool // read from a file with a checksum; earlier versions of the program wrote none
}

const ManifestFile = "manifest.json"

func ReadManifest(dir string) (*manifest, error) {
	path := filepath.Join(dir, ManifestFile)
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	m := new(manifest)
	if m.sealed, err = sealed.Unmarshal(text, m); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return m, nil
}

// publish does nothing if another copy of the shard has published since this one began, so that the time of its end
// does not change once it was merged.
func (m *manifest) publish(dir string, began time.Time) error {
	if there, err := ReadManifest(dir); err == nil && there.Plan == m.Plan && there.Ended.After(began) {
		return nil
	}
	text, err := sealed.Marshal(m)
	if err == nil {
		err = renameio.WriteFile(filepath.Join(dir, ManifestFile), text, 0o644, renameio.WithTempDir(dir))
	}
	if err != nil {
		return fmt.Errorf("publish the shard: %w", err)
	}
	return nil
}

// published reads the manifest of a shard of the plan, and compares it with the plan.
func (p *Plan) published(out string, shard int) (*manifest, error) {
	m, err := ReadManifest(p.saved(out, shard).Dir)
	if err != nil {
		return nil, fmt.Errorf("not published: %w", err)
	}
	var names []string
	for _, i := range p.casesOf(shard) {
		names = append(names, p.Cases[i])
	}
	if m.Plan != p.Digest || m.Shard != shard || !slices.Equal(m.Cases, names) {
		return nil, fmt.Errorf("not published: %s is that of another shard (number %d, %d cases)", filepath.Join(p.saved(out, shard).Dir, ManifestFile), m.Shard, len(m.Cases))
	}
	return m, nil
}

// begunShard says when a shard first ran.
type begunShard struct {
	Digest  string // of the plan
	Started time.Time
}

// FirstStart returns when a shard of a plan first ran in a folder: the time kept there, or now, which is then kept.
func FirstStart(dir, plan string, now time.Time) (time.Time, error) {
	path := filepath.Join(dir, "begun.checkpoint")
	var b begunShard
	if err := store.Unseal(path, &b); err == nil && b.Digest == plan && !b.Started.IsZero() && !b.Started.After(now) {
		return b.Started.UTC(), nil
	}
	return now, store.Seal(path, &begunShard{plan, now})
}

// stale is the age from which a temporary file of a shard is abandoned: another copy of the shard may be running, but
// renames its files within seconds.
const stale = time.Hour

// removeStale removes temporary files that killed copies of a shard have left.
func removeStale(dir string, now time.Time) error {
	for _, pattern := range []string{ManifestFile, results.CheckpointFiles} {
		left, err := results.Leftovers(dir, pattern)
		if err != nil {
			return err
		}
		for _, name := range left {
			path := filepath.Join(dir, name)
			if about, err := os.Stat(path); err != nil || now.Sub(about.ModTime()) < stale {
				continue
			}
			if err := store.Gone(os.Remove(path)); err != nil {
				return fmt.Errorf("remove an unfinished file: %w", err)
			}
		}
	}
	return nil
}
