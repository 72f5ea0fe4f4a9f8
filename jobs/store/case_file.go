package store

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/google/renameio/v2"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/results"
)

// CaseFile is a document of cases.yaml, which keeps in a results folder what the candidates of each case share, so
// that one row of front.parquet is enough to rebuild a fork. It is one case: its concept, in which the points that
// vary are at some position; the shocks and materials that it chose from; and its mechanism, where that is not built
// in.
//
// Each case is a document of its own, so that one case of a sweep of thousands is read without the others.
type CaseFile struct {
	Version   int                  `yaml:"schema_version" jsonschema:"required"`
	Name      string               `yaml:"name" jsonschema:"required"`
	Concept   files.ConceptFile    `yaml:"concept" jsonschema:"required"`
	Shocks    []sections.JobShock  `yaml:"shocks"`
	Materials []sections.Material  `yaml:"materials"`
	Mechanism *files.MechanismFile `yaml:"mechanism"`
}

// CasesSeal is the footer key of front.parquet that has the SHA-256 of the cases.yaml beside it. Results of earlier
// versions of the program lack it.
const CasesSeal = "forkfront.cases_sha256"

// WriteCases writes cases.yaml into the folder, whole or not at all, and returns its SHA-256 in hexadecimal.
func WriteCases(f *results.Folder, found []Found) (sum string, err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("write %s: %w", results.CasesFile, err)
		}
	}()
	file, err := renameio.NewPendingFile(f.Path(results.CasesFile), renameio.WithPermissions(0o644), renameio.WithTempDir(f.Dir))
	if err != nil {
		return "", err
	}
	defer func() { _ = file.Cleanup() }()
	hash := sha256.New()
	w := bufio.NewWriter(io.MultiWriter(file, hash))
	for i, x := range found {
		document, err := document.Encode(caseFileOf(x.Case))
		if err != nil {
			return "", err
		}
		if i > 0 {
			document = append([]byte(NextCase+"\n"), document...)
		}
		if _, err := w.Write(document); err != nil {
			return "", err
		}
	}
	if err := errors.Join(w.Flush(), file.CloseAtomicallyReplace()); err != nil {
		return "", err
	}
	return hex.EncodeToString(hash.Sum(nil)), nil
}

func caseFileOf(c *cases.Case) *CaseFile {
	one := &CaseFile{Version: caseVersion, Name: c.Name, Concept: c.Template, Materials: c.Choices}
	for _, k := range c.Shocks {
		if c.Mechanism.HasShock() {
			one.Shocks = append(one.Shocks, k.JobShock)
		}
	}
	if !slices.Contains(files.BuiltIns(), c.Template.Mechanism) {
		own := files.FileOf(&c.Template.Spec)
		one.Mechanism, one.Concept.Mechanism = &own, own.Mechanism
	}
	return one
}

const caseVersion = 2

// MaxCaseBytes is the size of the longest job when each of its short lists is written one item per line.
const MaxCaseBytes = 8 * document.MaxFileBytes

func readCase(name string, text []byte) (*CaseFile, error) {
	s, err := document.OpenUpTo(name, bytes.NewReader(text), MaxCaseBytes)
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
		files.CompileAt(s, "mechanism.", c.Concept.Spec)
	case slices.Contains(files.BuiltIns(), c.Concept.Mechanism):
		files.MechanismAt(s, at, c.Concept.Mechanism, &c.Concept.Spec)
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
