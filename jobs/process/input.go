package process

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// Input opens a named file, or standard input for "-".
func (env *Env) Input(name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(env.In), nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, notOpened(err)
	}
	if about, err := f.Stat(); err == nil && about.IsDir() {
		f.Close()
		return nil, BadInput(fmt.Errorf("%s is a folder; expected a file, or - for standard input", name))
	}
	return f, nil
}

// notOpened is bad input for a file that does not exist; a file without permission to read is a failure outside.
func notOpened(err error) error {
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return BadInput(err)
	}
	return err
}

// CheckFolder refuses a path that cannot become a folder because it, or one of its parents, is a file.
func CheckFolder(path string) error {
	for at := filepath.Clean(path); ; at = filepath.Dir(at) {
		about, err := os.Stat(at)
		switch {
		case err == nil && !about.IsDir():
			return BadInput(fmt.Errorf("%s is a file; expected a folder", at))
		case err == nil || at == filepath.Dir(at):
			return nil
		}
	}
}

// FileShown is the name of a file as people read it.
func FileShown(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}
