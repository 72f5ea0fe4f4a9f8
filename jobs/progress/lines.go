package progress

import (
	"bytes"
	"errors"
	"io"
	"os"

	"forkfront/results/sealed"
)

// lines is a file of whole lines, each added by one write.
type lines struct{ file *os.File }

// openLines opens a file to add lines to it. A line that a kill or a full disk has cut off is removed: what follows would
// be glued to it.
func openLines(path string) (*lines, error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR|os.O_APPEND, 0o644)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil {
		var end int64
		if end, err = endOfLines(f, info.Size()); err == nil && end < info.Size() {
			err = f.Truncate(end)
		}
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return &lines{f}, nil
}

// endOfLines returns the offset after the last newline of a file of that size.
func endOfLines(f io.ReaderAt, size int64) (int64, error) {
	buf := make([]byte, 4096)
	for end := size; end > 0; {
		piece := buf[:min(end, int64(len(buf)))]
		if _, err := f.ReadAt(piece, end-int64(len(piece))); err != nil {
			return 0, err
		}
		if at := bytes.LastIndexByte(piece, '\n'); at >= 0 {
			return end - int64(len(piece)-at-1), nil
		}
		end -= int64(len(piece))
	}
	return 0, nil
}

// Write adds a line of JSON with its checksum. A line that a full disk cut short is removed again, so that the next
// line is not glued to it.
func (l *lines) Write(line []byte) (int, error) {
	n, err := l.file.Write(sealed.Line(nil, line))
	if err == nil {
		return len(line), nil
	}
	if n == 0 {
		return 0, err
	}
	info, statErr := l.file.Stat()
	if statErr == nil {
		statErr = l.file.Truncate(info.Size() - int64(n))
	}
	return 0, errors.Join(err, statErr)
}

func (l *lines) Close() error { return l.file.Close() }
