package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/google/renameio/v2"

	"forkfront/jobs/files"
	"forkfront/results"
)

// CaseFile is a document of cases.yaml, which keeps in a results folder what the candidates of each case
// share, so that one row of front.parquet is enough to have a fork again. It is one case: its concept, in
// which the points that the search places are at some place; the shocks and materials that it chose from;
// and its mechanism, where that is not built in.
//
// A case is a document of its own, so that a sweep of thousands of them is read one by one.
type CaseFile struct {
	Version   int                  `yaml:"schema_version" jsonschema:"required"`
	Name      string               `yaml:"name" jsonschema:"required"`
	Concept   files.ConceptFile    `yaml:"concept" jsonschema:"required"`
	Shocks    []files.JobShock     `yaml:"shocks"`
	Materials []files.Material     `yaml:"materials"`
	Mechanism *files.MechanismFile `yaml:"mechanism"`
}

// WriteCases puts cases.yaml into the folder, whole or not at all.
func WriteCases(f *results.Folder, found []Found) error {
	var text bytes.Buffer
	for i, x := range found {
		one := CaseFile{Version: caseVersion, Name: x.Case.Name, Concept: x.Case.Template, Materials: x.Case.Choices}
		for _, k := range x.Case.Shocks {
			if x.Case.Mechanism.HasShock() {
				one.Shocks = append(one.Shocks, k.JobShock)
			}
		}
		if !slices.Contains(files.BuiltIns(), x.Case.Template.Mechanism) {
			own := files.FileOf(&x.Case.Template.Spec)
			one.Mechanism, one.Concept.Mechanism = &own, own.Mechanism
		}
		document, err := files.Encode(&one)
		if err != nil {
			return fmt.Errorf("write %s: %w", results.CasesFile, err)
		}
		if i > 0 {
			text.WriteString(NextCase + "\n")
		}
		text.Write(document)
	}
	if err := renameio.WriteFile(f.Path(results.CasesFile), text.Bytes(), 0o644, renameio.WithTempDir(f.Dir)); err != nil {
		return fmt.Errorf("write %s: %w", results.CasesFile, err)
	}
	return nil
}

const (
	caseVersion = 2
	NextCase    = "---" // between documents (YAML 1.2.2, 9.1.4)

	// MaxCaseBytes is what the longest job comes to where each of its short lists becomes lines of their own.
	MaxCaseBytes = 8 * files.MaxFileBytes
)

// ReadCases gives the cases of a cases.yaml to do, one after the other; their mechanisms compile.
func ReadCases(path string, do func(*CaseFile)) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("the data shared by the folder's candidates is missing: %w", err)
	}
	defer f.Close()
	lines := bufio.NewReader(f)
	for number := 1; ; number++ {
		document, more, err := UntilNextCase(lines)
		if err != nil {
			return fmt.Errorf("read %s: %w", path, err)
		}
		c, err := readCase(fmt.Sprintf("%s (document %d)", path, number), document)
		if err != nil {
			return err
		}
		do(c)
		if !more {
			return nil
		}
	}
}

// UntilNextCase reads a document, no further than it takes to see that it is too long, and tells whether another follows.
func UntilNextCase(lines *bufio.Reader) (document []byte, more bool, err error) {
	begins := true // what is read next stands at the beginning of a line
	for len(document) <= MaxCaseBytes {
		line, err := lines.ReadSlice('\n')
		switch {
		case begins && string(line) == NextCase+"\n":
			return document, true, nil
		case errors.Is(err, io.EOF):
			return append(document, line...), false, nil
		case err != nil && !errors.Is(err, bufio.ErrBufferFull):
			return nil, false, err
		}
		document, begins = append(document, line...), err == nil
	}
	return document, false, nil
}

func readCase(name string, document []byte) (*CaseFile, error) {
	s, err := files.OpenUpTo(name, bytes.NewReader(document), MaxCaseBytes)
	if err != nil {
		return nil, err
	}
	c := new(CaseFile)
	s.Decode(c)
	if s.Root != nil && c.Version != caseVersion {
		s.At("schema_version", "%d; this forkfront reads version %d", c.Version, caseVersion)
	}
	if s.Root != nil && len(c.Concept.Structure.LoadCases) == 0 {
		s.At("concept.structure.load_cases", "no load case; at least one is needed to size parts")
	}
	const at = "concept.mechanism"
	switch {
	case s.Root == nil: // said already
	case c.Mechanism != nil:
		c.Concept.Spec = c.Mechanism.Spec(s.Under("mechanism"))
		s.Compile("mechanism.", c.Concept.Spec)
	case slices.Contains(files.BuiltIns(), c.Concept.Mechanism):
		s.Mechanism(at, c.Concept.Mechanism, &c.Concept.Spec)
	default: // results hold all that they need: no other file is read for them
		s.At(at, "%q is not built in, and the file does not have it beside its concept; allowed are %s", c.Concept.Mechanism, strings.Join(files.BuiltIns(), ", "))
	}
	if s.Err() == nil {
		c.Concept.CheckShared(s, "concept")
	}
	for i := range c.Shocks {
		c.Shocks[i].Check(s, fmt.Sprintf("shocks[%d]", i))
	}
	return c, s.Err()
}
