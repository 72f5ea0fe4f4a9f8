package jobs

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"
)

// extractForms is what a candidate can be had as: the flag's word, how a file of it ends, and how it
// is written.
var extractForms = []struct {
	as, ending string
	write      func(s *shelf, row int, w io.Writer) error
}{
	{"concept", ".yaml", (*shelf).writeConcept},
	{"table", ".csv", (*shelf).writePivots},
	{"drawing", ".dxf", (*shelf).writeDrawing},
	{"mechanism", ".mechanism.yaml", (*shelf).writeMechanism},
}

func verbExtract(env *Env) *cobra.Command {
	var as, out string
	var words []string
	for _, f := range extractForms {
		words = append(words, f.as)
	}
	c := &cobra.Command{
		Use:   "extract DIR ID",
		Short: "Take a candidate out of results, as a concept, pivot table or drawing",
		Long: "Takes the candidate ID (column candidate of front.parquet) out of the results in DIR and prints it\n" +
			"as a concept file that `forkfront score` reads, as a table of its pivots (CSV), as a side view at\n" +
			"1:1 in mm (DXF, release 12), or its mechanism as a file. With --out all of them go to a folder.\n\n" +
			"The end of an ID behind a slash will do where no other ends so, as will balanced (CASE/balanced among\n" +
			"several cases) and best-MEASURE for the candidates to begin with.",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if !slices.Contains(words, as) {
				return badInput(fmt.Errorf("--as %q; allowed are %s", as, strings.Join(words, ", ")))
			}
			if out != "" && cmd.Flags().Changed("as") {
				return badInput(errors.New("--as prints one form and --out writes all of them; give one of the two"))
			}
			return extract(env, args[0], args[1], as, out)
		},
	}
	c.Flags().StringVar(&as, "as", "concept", "what to print: "+strings.Join(words, ", "))
	c.Flags().StringVar(&out, "out", "", "folder to write all forms to, instead of printing one; created when it does not exist")
	return c
}

func extract(env *Env, dir, id, as, out string) error {
	s, err := openShelf(dir)
	if err != nil {
		return err
	}
	row, err := s.row(id)
	if err != nil {
		return err
	}
	if out != "" {
		return s.extractAll(env, row, id, out)
	}
	for _, f := range extractForms {
		if f.as == as {
			if err := f.write(s, row, env.Out); err != nil {
				return err
			}
		}
	}
	return nil
}

// extractAll writes every form into a folder, named as the candidate was asked for, and prints the names of
// the files.
func (s *shelf) extractAll(env *Env, row int, id, out string) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return fmt.Errorf("make the folder of the candidate: %w", err)
	}
	shared, err := s.caseOf(row)
	if err != nil {
		return err
	}
	for _, f := range extractForms {
		name := fileName(id) + f.ending
		if f.as == "mechanism" {
			if shared.Mechanism == nil {
				continue // built in
			}
			name = ownMechanism(shared)
		}
		var text bytes.Buffer
		if err := f.write(s, row, &text); err != nil {
			return err
		}
		path := filepath.Join(out, name)
		if err := renameio.WriteFile(path, text.Bytes(), 0o644, renameio.WithTempDir(out)); err != nil {
			return fmt.Errorf("write %s: %w", path, err)
		}
		fmt.Fprintln(env.Out, path)
	}
	return nil
}

// fileName is an id as a name that any file system takes.
func fileName(id string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '.' {
			return r
		}
		return '-'
	}, id)
}

// ownMechanism is the file name by which an extracted concept refers to a mechanism that is not
// built in.
func ownMechanism(c *caseFile) string { return fileName(c.Mechanism.Mechanism) + ".mechanism.yaml" }

func (s *shelf) writeConcept(row int, w io.Writer) error {
	c, err := s.concept(row)
	if err != nil {
		return err
	}
	shared, err := s.caseOf(row)
	if err != nil {
		return err
	}
	head := fmt.Sprintf("# A candidate of %s. `forkfront score` reads it.\n", strings.Join(strings.Fields(s.dir), " "))
	if shared.Mechanism != nil {
		c.Mechanism = ownMechanism(shared)
		head += "# Its mechanism is not built in; `forkfront extract --as mechanism` prints it.\n"
	}
	for _, line := range strings.Split(caution, ". ") {
		head += "# " + strings.TrimSuffix(line, ".") + ".\n"
	}
	text, err := Encode(c)
	if err == nil {
		_, err = w.Write(append([]byte(head), text...))
	}
	return err
}

func (s *shelf) writeMechanism(row int, w io.Writer) error {
	shared, err := s.caseOf(row)
	if err != nil {
		return err
	}
	file := mechanismFile(&shared.Concept.Spec)
	text, err := Encode(&file)
	if err == nil {
		_, err = w.Write(text)
	}
	return err
}

func (s *shelf) writePivots(row int, w io.Writer) error {
	f, err := s.fork(row)
	if err != nil {
		return err
	}
	return f.WritePivotTable(w)
}

func (s *shelf) writeDrawing(row int, w io.Writer) error {
	f, err := s.fork(row)
	if err != nil {
		return err
	}
	return f.WriteDrawing(w)
}
