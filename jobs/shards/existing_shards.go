package shards

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/jobs/words"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

// ShardsDir is the subfolder of a results folder that shards publish in.
const ShardsDir = "shards"

// ShardDir is the folder in which a shard publishes. At most 64 shards share a parent folder.
func ShardDir(out string, shard int) string {
	return filepath.Join(out, ShardsDir, fmt.Sprintf("%03d", shard/64), fmt.Sprintf("%05d", shard))
}

// shardFiles are the names that forkfront gives to files of a shard.
var shardFiles = []string{ManifestFile, results.LogFile, results.CheckpointFiles}

// ShardsIn lists the folders of a results folder in which shards have left files, relative to it.
func ShardsIn(out string) []string {
	shards, _ := fs.Glob(os.DirFS(out), ShardsDir+"/[0-9]*/[0-9]*") // the pattern is sound, and nothing else fails
	raced, _ := fs.Glob(os.DirFS(out), ShardsDir+"/round-[0-9]*/[0-9]*/[0-9]*")
	shards = append(shards, raced...)
	return slices.DeleteFunc(shards, func(shard string) bool { return len(filesOfShard(out, shard)) == 0 })
}

// filesOfShard lists the files in a shard's folder that are ours, including partly written ones.
func filesOfShard(out, shard string) (files []string) {
	dir := filepath.Join(out, shard)
	for _, pattern := range shardFiles {
		ours, _ := fs.Glob(os.DirFS(dir), pattern)
		left, _ := results.Leftovers(dir, pattern)
		for _, name := range append(ours, left...) {
			files = append(files, filepath.Join(dir, name))
		}
	}
	return files
}

// OpenUnsharded opens a folder for a run. It refuses a folder with shards as it does one with results: the run would
// not be merged with them, and they could no longer be merged there.
func OpenUnsharded(out string, replace bool) (*results.Folder, error) {
	if err := process.CheckFolder(out); err != nil {
		return nil, err
	}
	folder, err := results.Open(out, replace)
	if err != nil {
		return nil, store.Occupied(err)
	}
	shards := ShardsIn(out)
	switch {
	case len(shards) > 0 && !replace:
		err = process.BadInput(fmt.Errorf("%s already holds %s of a plan; merge them with `forkfront merge --plan PLAN --out %s`, choose another folder, or remove them with --replace",
			out, words.Counted(len(shards), "shard"), display.ShellWord(out)))
	case len(shards) > 0:
		err = removeShards(out, shards)
	}
	if err != nil {
		return nil, errors.Join(err, folder.Close())
	}
	return folder, nil
}

// removeShards removes the files of shards and nothing else: a folder that contains anything else stays.
func removeShards(out string, shards []string) error {
	for _, shard := range shards {
		for _, f := range filesOfShard(out, shard) {
			if err := store.Gone(os.Remove(f)); err != nil {
				return fmt.Errorf("remove the old shards: %w", err)
			}
		}
		_ = os.Remove(filepath.Join(out, shard)) // not empty: not ours
		_ = os.Remove(filepath.Join(out, filepath.Dir(shard)))
		_ = os.Remove(filepath.Join(out, filepath.Dir(filepath.Dir(shard)))) // of a round
	}
	_ = os.Remove(filepath.Join(out, ShardsDir))
	return nil
}

// place refuses a folder in which shards of the plan cannot be merged: it holds an ordinary run, or merged results of
// another plan.
func (p *Plan) place(out string) error {
	if err := process.CheckFolder(out); err != nil {
		return err
	}
	if _, err := os.Stat(filepath.Join(out, results.JobCheckpoint)); err == nil {
		return process.BadInput(fmt.Errorf("%s holds an unfinished run; shards need another folder", out))
	}
	done, err := record.Read(filepath.Join(out, results.RunFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case done.Plan == "":
		return process.BadInput(fmt.Errorf("%s holds an ordinary run; shards need another folder", out))
	case done.Plan != p.Digest:
		return process.BadInput(fmt.Errorf("%s holds results of another plan; shards of this one need another folder", out))
	}
	return nil
}

// own refuses a shard's folder in which a shard of another plan has published or left files. One file is enough to
// tell, since shards of different plans never share a folder. A file that cannot be read is no reason to refuse: its
// case is searched again.
func (p *Plan) own(out string, shard int) error {
	dir := p.saved(out, shard).Dir
	if m, err := ReadManifest(dir); err == nil {
		return p.same(dir, m.Plan)
	}
	files, _ := fs.Glob(os.DirFS(dir), results.CheckpointFiles)
	for _, f := range files {
		var of struct{ Digest string }
		if err := store.Unseal(filepath.Join(dir, f), &of); err == nil { // the records of candidates are not sealed
			return p.same(dir, of.Digest)
		}
	}
	return nil
}

func (p *Plan) same(dir, digest string) error {
	if digest == p.Digest {
		return nil
	}
	return process.BadInput(fmt.Errorf("%s belongs to another plan; shards of this one need another folder", dir))
}

// unmixed refuses to run a shard among shards of another plan, as far as can be found cheaply: from its own folder and
// from that of the first shard, which every plan has.
func (p *Plan) unmixed(out string, shard int) error {
	if err := p.place(out); err != nil {
		return err
	}
	for _, s := range slices.Compact([]int{shard, 0}) {
		if err := p.own(out, s); err != nil {
			return err
		}
	}
	return nil
}
