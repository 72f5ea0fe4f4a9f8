package cli

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/forks"
	"forkfront/jobs/process"
	"forkfront/results/cad"
	"forkfront/results/display"
	"forkfront/results/fem"
	"forkfront/results/picks"
	"forkfront/results/sideview"
)

// extracted is a fork that can be exported in several forms: a candidate of results, or that of a concept file.
type extracted struct {
	from    string // the folder or file, as people read it
	isFile  bool   // a concept file, whose mechanism is a file too or built in
	stem    string // how its files are named, up to the ending
	own     string // the file of a mechanism that is not built in, to be written too; or empty
	concept *files.ConceptFile
	fork    func() (*sideview.Fork, error) // ready to be moved through its travel
}

// candidateToExtract is a candidate of a results folder.
func candidateToExtract(env *process.Env, dir, id string, prefer picks.Preference) (*extracted, error) {
	all, err := forks.Open(dir, env.Err)
	if err != nil {
		return nil, err
	}
	if prefer != nil {
		if err := all.Prefer(prefer); err != nil {
			return nil, process.BadInput(fmt.Errorf("--prefer: %w", err))
		}
	}
	s, row, err := all.Find(id)
	if err != nil {
		return nil, err
	}
	shared, err := s.CaseOf(row)
	if err != nil {
		return nil, err
	}
	x := &extracted{from: dir, stem: fileName(id), fork: func() (*sideview.Fork, error) { return s.Fork(row) }}
	if x.concept, err = s.Concept(row); err == nil && shared.Mechanism != nil {
		x.own = fileName(shared.Mechanism.Mechanism) + ".mechanism.yaml"
		if shared.Mechanism.Members.Least { // each candidate has its own
			x.own = x.stem + ".mechanism.yaml"
		}
	}
	return x, err
}

// conceptToExtract is the fork of a concept file. In drawings and messages it has the file's name behind its
// own: a concept that was changed by hand may still have the name of the candidate that it once was.
func conceptToExtract(env *process.Env, name string) (*extracted, error) {
	file, design, err := cases.ReadFork(env, name)
	if err != nil {
		return nil, err
	}
	file.Spec = design.Mechanism.Spec
	id := fmt.Sprintf("%s (%s)", file.Concept, process.FileShown(filepath.Base(name)))
	x := &extracted{from: process.FileShown(name), isFile: true, stem: fileName(file.Concept), concept: file}
	if name != "-" {
		x.stem = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	}
	x.fork = func() (*sideview.Fork, error) {
		return &sideview.Fork{ID: id, Bike: file.Bike.Name, Conditions: cases.Conditions(file), Design: *design}, nil
	}
	return x, nil
}

// fileName is an id as a name that any file system accepts.
func fileName(id string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '.' {
			return r
		}
		return '-'
	}, id)
}

// writeConcept writes a candidate as a concept file that refers to its mechanism as the folder of all forms
// has it.
func (x *extracted) writeConcept(w io.Writer) error {
	c := *x.concept
	head := fmt.Sprintf("# A candidate of %s. `forkfront score` reads it.\n", inOneLine(x.from))
	if x.own != "" {
		c.Mechanism = x.own
		head += "# Its mechanism is not built in; `forkfront extract --as mechanism` prints it.\n"
	}
	text, err := conceptText(head, &c)
	if err == nil {
		_, err = w.Write(text)
	}
	return err
}

// conceptText is a concept as a file, below a head of comments and the caution.
func conceptText(head string, c *files.ConceptFile) ([]byte, error) {
	for _, line := range strings.Split(display.Caution, ". ") {
		head += "# " + strings.TrimSuffix(line, ".") + ".\n"
	}
	text, err := document.Encode(c)
	return append([]byte(head), text...), err
}

func (x *extracted) writeMechanism(w io.Writer) error {
	file := files.FileOf(&x.concept.Spec)
	text, err := document.Encode(&file)
	if err == nil {
		_, err = w.Write(text)
	}
	return err
}

func (x *extracted) writePivots(w io.Writer) error {
	return x.move(cad.WritePivotTable, w)
}

func (x *extracted) writeDrawing(w io.Writer) error {
	return x.move(cad.WriteDrawing, w)
}

func (x *extracted) writeDrawing12(w io.Writer) error {
	return x.move(cad.WriteDrawing12, w)
}

func (x *extracted) writeFrame(w io.Writer) error {
	return x.move(fem.WriteInput, w)
}

// move writes a form that shows the fork at several travels. A fork that stops short of full travel has a drawing up to
// there, but no table; one that does not move at all has neither.
func (x *extracted) move(write func(io.Writer, *sideview.Fork) error, w io.Writer) error {
	f, err := x.fork()
	if err != nil {
		return err
	}
	if err := write(w, f); err != nil {
		return process.FoundNothing(err)
	}
	return nil
}
