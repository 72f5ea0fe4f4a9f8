package store

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"sync"

	"forkfront/jobs/files/document"
	"forkfront/results"
)

// CasesIndex says where each case of a cases.yaml begins. A case is read when it is first requested, so that a
// candidate of a sweep of thousands is available at once.
type CasesIndex struct {
	path  string
	cases map[string]*caseDocument
}

// caseDocument is one document of cases.yaml.
type caseDocument struct {
	number int // from 1
	offset int64
	length int
	sum    [sha256.Size]byte
	read   func() (*CaseFile, error) // once
}

// OpenCases finds the cases of a cases.yaml whose SHA-256 is seal, in hexadecimal; an empty seal is not compared.
func OpenCases(path, seal string) (*CasesIndex, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("the data shared by the folder's candidates is missing: %w", err)
	}
	defer f.Close()
	hash := sha256.New()
	lines := bufio.NewReaderSize(io.TeeReader(f, hash), 1<<16)
	x, err := indexOf(path, lines)
	if _, end := io.Copy(io.Discard, lines); end != nil {
		return nil, fmt.Errorf("read %s: %w", path, end)
	}
	if sum := hex.EncodeToString(hash.Sum(nil)); seal != "" && sum != seal {
		return nil, fmt.Errorf("%s is %w: it is not the one that %s was written with", path, errDamaged, results.FrontFile)
	}
	return x, err
}

func indexOf(path string, lines *bufio.Reader) (*CasesIndex, error) {
	x := &CasesIndex{path: path, cases: map[string]*caseDocument{}}
	offset := int64(0)
	for number, more := 1, true; more; number++ {
		document, next, err := UntilNextCase(lines)
		if err != nil {
			return nil, fmt.Errorf("read %s: %w", path, err)
		}
		if err := x.add(&caseDocument{number: number, offset: offset, length: len(document), sum: sha256.Sum256(document)}, document); err != nil {
			return nil, err
		}
		offset, more = offset+int64(len(document)+len(NextCase)+1), next
	}
	return x, nil
}

// add takes a document by the name that stands in its head.
func (x *CasesIndex) add(d *caseDocument, document []byte) error {
	name, err := nameOfCase(x.named(d), document)
	if err != nil {
		return err
	}
	if other := x.cases[name]; other != nil {
		return fmt.Errorf("%s: case %q is there already, as document %d", x.named(d), name, other.number)
	}
	d.read = sync.OnceValues(func() (*CaseFile, error) { return x.read(d) })
	x.cases[name] = d
	return nil
}

// named is how messages name a document.
func (x *CasesIndex) named(d *caseDocument) string {
	return fmt.Sprintf("%s (document %d)", x.path, d.number)
}

// Case returns a case by its name, or nil if there is none. Many goroutines may ask at once.
func (x *CasesIndex) Case(name string) (*CaseFile, error) {
	d := x.cases[name]
	if d == nil {
		return nil, nil
	}
	return d.read()
}

func (x *CasesIndex) read(d *caseDocument) (*CaseFile, error) {
	f, err := os.Open(x.path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	document := make([]byte, d.length)
	if _, err := f.ReadAt(document, d.offset); err != nil || sha256.Sum256(document) != d.sum {
		return nil, errors.Join(fmt.Errorf("%s was changed while it was being read", x.path), err)
	}
	c, err := readCase(x.named(d), document)
	if err == nil && x.cases[c.Name] != d {
		err = fmt.Errorf("%s: its only name must be %q", x.named(d), c.Name)
	}
	return c, err
}

// caseHead is how every document begins.
type caseHead struct {
	Version int    `yaml:"schema_version" jsonschema:"required"`
	Name    string `yaml:"name" jsonschema:"required"`
}

// headEnd is the key after the head.
const headEnd = "\nconcept:"

func nameOfCase(shown string, text []byte) (string, error) {
	if len(text) > MaxCaseBytes {
		return "", fmt.Errorf("%s is longer than %d MiB", shown, MaxCaseBytes>>20)
	}
	head := text
	if end := bytes.Index(text, []byte(headEnd)); end >= 0 {
		head = text[:end+1]
	}
	s, err := document.OpenUpTo(shown, bytes.NewReader(head), MaxCaseBytes)
	if err != nil {
		return "", err
	}
	h := new(caseHead)
	s.Decode(h)
	if s.Root != nil && h.Version != caseVersion {
		s.At("schema_version", "%d; this forkfront reads version %d", h.Version, caseVersion)
	}
	return h.Name, s.Err()
}

// NextCase separates the documents (YAML 1.2.2, 9.1.4).
const NextCase = "---"

// UntilNextCase reads a document, only as far as needed to see that it is too long, and tells whether another
// follows.
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
