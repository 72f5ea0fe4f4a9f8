package jobs

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/record"
)

// shardsDir is the subfolder of a results folder that shards publish in.
const shardsDir = "shards"

// shardDir is where a shard publishes. No more than 64 shards share a folder of folders.
func shardDir(out string, shard int) string {
	return filepath.Join(out, shardsDir, fmt.Sprintf("%03d", shard/64), fmt.Sprintf("%05d", shard))
}

// shardFiles are the names that forkfront gives to files of a shard, those of a kill among them.
var shardFiles = []string{manifestFile, results.LogFile, results.CheckpointFiles, "." + manifestFile + "[0-9]*", "." + results.CheckpointFiles + "[0-9]*"}

// shardsHeld lists the folders of a results folder in which shards have left files, relative to it.
func shardsHeld(out string) []string {
	held, _ := fs.Glob(os.DirFS(out), shardsDir+"/[0-9]*/[0-9]*") // the pattern is sound, and nothing else fails
	return slices.DeleteFunc(held, func(shard string) bool { return len(filesOfShard(out, shard)) == 0 })
}

// filesOfShard lists the files in a shard's folder that are ours.
func filesOfShard(out, shard string) (files []string) {
	dir := filepath.Join(out, shard)
	for _, pattern := range shardFiles {
		ours, _ := fs.Glob(os.DirFS(dir), pattern)
		for _, name := range ours {
			files = append(files, filepath.Join(dir, name))
		}
	}
	return files
}

// openUnsharded opens a folder for a run. Shards there are as much in its way as results: the run would be
// joined with none of them, and they could not be joined there any more.
func openUnsharded(out string, replace bool) (*results.Folder, error) {
	folder, err := results.Open(out, replace)
	if err != nil {
		return nil, occupied(err)
	}
	held := shardsHeld(out)
	switch {
	case len(held) > 0 && !replace:
		err = badInput(fmt.Errorf("%s already holds %s of a plan; join them with `forkfront merge --plan PLAN --out %s`, choose another folder, or remove them with --replace",
			out, counted(len(held), "shard"), display.ShellWord(out)))
	case len(held) > 0:
		err = removeShards(out, held)
	}
	if err != nil {
		return nil, errors.Join(err, folder.Close())
	}
	return folder, nil
}

// removeShards removes what shards have left, and of everything else nothing: a folder in which something of
// another kind lies stays.
func removeShards(out string, held []string) error {
	for _, shard := range held {
		for _, f := range filesOfShard(out, shard) {
			if err := gone(os.Remove(f)); err != nil {
				return fmt.Errorf("remove the shards that are in the way: %w", err)
			}
		}
		_ = os.Remove(filepath.Join(out, shard)) // not empty: not ours
		_ = os.Remove(filepath.Join(out, filepath.Dir(shard)))
	}
	_ = os.Remove(filepath.Join(out, shardsDir))
	return nil
}

// place refuses a folder that shards of the plan cannot be joined in: it holds a run of its own, or what was
// joined of another plan.
func (p *plan) place(out string) error {
	run, err := record.Read(filepath.Join(out, results.RunFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case run.Plan == "":
		return badInput(fmt.Errorf("%s holds a run of its own; shards need another folder", out))
	case run.Plan != p.Digest:
		return badInput(fmt.Errorf("%s holds results of another plan; shards of this one need another folder", out))
	}
	return nil
}

// own refuses a shard's folder with what a shard of another plan has published or left unfinished there. One
// file tells for all, as none was put to those of another plan. What cannot be read is no reason: it is
// searched again.
func (p *plan) own(out string, shard int) error {
	dir := shardDir(out, shard)
	if m, err := readManifest(dir); err == nil {
		return p.same(dir, m.Plan)
	}
	files, _ := fs.Glob(os.DirFS(dir), results.CheckpointFiles)
	for _, f := range files {
		var of struct{ Digest string }
		if err := unseal(filepath.Join(dir, f), &of); err == nil { // the records of candidates are not sealed
			return p.same(dir, of.Digest)
		}
	}
	return nil
}

func (p *plan) same(dir, digest string) error {
	if digest == p.Digest {
		return nil
	}
	return badInput(fmt.Errorf("%s is of another plan; shards of this one need another folder", dir))
}

// unmixed refuses to put a shard where shards of another plan are, as far as one can tell cheaply: by its own
// folder and by that of the first shard, which every plan has.
func (p *plan) unmixed(out string, shard int) error {
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
