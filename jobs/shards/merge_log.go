package shards

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"

	"forkfront/jobs/store"
	"forkfront/results"
)

// mergeLogs joins the logs of all shards into one, shard after shard, each line with the number of its
// shard: the same shards give the same log. A line that a kill cut off is left out. It needs the memory of
// one line.
func (p *Plan) mergeLogs(folder *results.Folder, out string) error {
	to, err := renameio.NewPendingFile(folder.Path(results.LogFile), renameio.WithPermissions(0o644), renameio.WithTempDir(folder.Dir))
	if err != nil {
		return fmt.Errorf("merge the logs: %w", err)
	}
	defer func() { _ = to.Cleanup() }()
	w := bufio.NewWriter(to)
	for shard := range p.Shards {
		if err := MergeLog(w, filepath.Join(ShardDir(out, shard), results.LogFile), shard); err != nil {
			return fmt.Errorf("merge the logs: %w", err)
		}
	}
	if err := errors.Join(w.Flush(), to.CloseAtomicallyReplace()); err != nil {
		return fmt.Errorf("merge the logs: %w", err)
	}
	return nil
}

// LongestLine bounds what is held of a log; lines of ours are far shorter.
const LongestLine = 1 << 20

// MergeLog adds one shard's log. A shard without a log adds nothing.
func MergeLog(w *bufio.Writer, path string, shard int) error {
	f, err := os.Open(path)
	if err != nil {
		return store.Gone(err)
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
			continue
		case err != nil:
			return err
		}
		if fields, is := bytes.CutPrefix(bytes.TrimSpace(line), []byte("{")); is && json.Valid(line) {
			comma := ","
			if len(bytes.TrimSpace(fields)) == 1 {
				comma = "" // no fields
			}
			fmt.Fprintf(w, "{\"shard\":%d%s%s\n", shard, comma, fields)
		}
	}
}

// skipLine goes on behind the end of a line that is too long.
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
