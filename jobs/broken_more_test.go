package jobs

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
)

// Broken mechanisms and concepts, each a built-in or an example with one thing wrong.
func TestBrokenMechanismsAndConceptsSayWhatIsWrong(t *testing.T) {
	for folder, read := range map[string]func(string, io.Reader) error{
		"broken-mechanisms": func(name string, r io.Reader) error { _, _, err := files.ReadMechanism(name, r); return err },
		"broken-concepts":   func(name string, r io.Reader) error { _, _, err := files.ReadConcept(name, r); return err },
	} {
		paths, _ := filepath.Glob("testdata/" + folder + "/*.yaml")
		if len(paths) < 5 {
			t.Fatalf("%s: %d files found; at least 5 are kept", folder, len(paths))
		}
		for _, path := range paths {
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			err = read(path, f)
			f.Close()
			var faults document.Faults
			if !errors.As(err, &faults) {
				t.Errorf("%s: got %v; faults are expected", path, err)
				continue
			}
			keep(t, strings.TrimSuffix(path, ".yaml")+".txt", filepath.ToSlash(err.Error())+"\n")
		}
	}
}
