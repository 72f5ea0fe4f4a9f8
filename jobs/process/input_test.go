package process

import (
	"errors"
	"io/fs"
	"syscall"
	"testing"
)

// A file that is not there was named wrongly; one that may not be read, or a disk that fails, is not the fault of who
// named it.
func TestWhyAFileDoesNotOpen(t *testing.T) {
	for _, x := range []struct {
		why   error
		input bool
	}{
		{syscall.ENOENT, true},
		{syscall.ENOTDIR, true},
		{syscall.EACCES, false},
		{syscall.EIO, false},
	} {
		var coded *Error
		err := notOpened(&fs.PathError{Op: "open", Path: "job.yaml", Err: x.why})
		if got := errors.As(err, &coded) && coded.Code == Input; got != x.input || !errors.Is(err, x.why) {
			t.Errorf("%v: bad input %v, want %v", x.why, got, x.input)
		}
	}
}
