package shards

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"

	"forkfront/jobs/store"
	"forkfront/jobs/words"
	"forkfront/results"
	"forkfront/results/sealed"
)

// mergeLogs joins the logs of all shards into one, shard after shard, each line with the number of its shard: the same
// shards give the same log. A line that is damaged is left out, and said is how many are. It needs the memory of one line.
func (p *Plan) mergeLogs(folder *results.Folder, out string, said io.Writer) error {
	to, err := renameio.NewPendingFile(folder.Path(results.LogFile), renameio.WithPermissions(0o644), renameio.WithTempDir(folder.Dir))
	if err != nil {
		return fmt.Errorf("merge the logs: %w", err)
	}
	defer func() { _ = to.Cleanup() }()
	w := bufio.NewWriter(to)
	var paths []string
	for round := range p.Race[:max(0, len(p.Race)-1)] {
		for shard := range p.Race[round].Shards {
			paths = append(paths, filepath.Join(raceDir(out, round, shard), results.LogFile))
		}
	}
	for shard := range p.Shards {
		paths = append(paths, filepath.Join(p.saved(out, shard).Dir, results.LogFile))
	}
	for n, path := range paths {
		damaged, err := MergeLog(w, path, n)
		if err != nil {
			return fmt.Errorf("merge the logs: %w", err)
		}
		if damaged > 0 {
			fmt.Fprintf(said, "%s: %s damaged and left out\n", path, words.Plural(damaged, "line is", "lines are"))
		}
	}
	if err := errors.Join(w.Flush(), to.CloseAtomicallyReplace()); err != nil {
		return fmt.Errorf("merge the logs: %w", err)
	}
	return nil
}

// LongestLine bounds how much of a log is in memory at once; our lines are far shorter.
const LongestLine = 1 << 20

// MergeLog adds one shard's log, and returns how many of its lines are damaged and left out. A last line that a kill cut
// off is none of them, and a shard without a log adds nothing. Earlier versions of the program wrote lines without
// checksums: a log of such lines is taken as it is.
func MergeLog(w *bufio.Writer, path string, shard int) (damaged int, err error) {
	whole := 0
	err = eachLine(path, func(line []byte) {
		if _, ok := sealed.Unline(line); ok {
			whole++
		}
	})
	if err != nil {
		return 0, store.Gone(err)
	}
	err = eachLine(path, func(line []byte) {
		object, ok := sealed.Unline(line)
		if object == nil || !ok && whole > 0 {
			damaged++
			return
		}
		fields := bytes.TrimSpace(object)[1:]
		comma := ","
		if len(bytes.TrimSpace(fields)) == 1 {
			comma = "" // there are no fields
		}
		_, _ = w.Write(sealed.Line(nil, fmt.Appendf(nil, "{\"shard\":%d%s%s", shard, comma, fields))) // Flush returns its error
	})
	return damaged, err
}

// eachLine calls take for every line of a file that ends in a newline: with nothing where it is longer than any of ours.
func eachLine(path string, take func(line []byte)) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	in := bufio.NewReaderSize(f, LongestLine)
	for {
		line, err := in.ReadSlice('\n')
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case errors.Is(err, bufio.ErrBufferFull):
			if err := skipLine(in); err != nil {
				return err
			}
			line = nil
		case err != nil:
			return err
		}
		take(line)
	}
}

// skipLine skips the rest of a line that is too long.
func skipLine(in *bufio.Reader) error {
	for {
		_, err := in.ReadSlice('\n')
		if errors.Is(err, io.EOF) {
			return nil
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return err
		}
	}
}
