package process

import (
	"fmt"
	"io"
	"os"
)

// Input opens a named file, or standard input for "-".
func (env *Env) Input(name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(env.In), nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, BadInput(err)
	}
	if about, err := f.Stat(); err == nil && about.IsDir() {
		f.Close()
		return nil, BadInput(fmt.Errorf("%s is a folder; expected a file, or - for standard input", name))
	}
	return f, nil
}

// FileShown is the name of a file as people read it.
func FileShown(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}
