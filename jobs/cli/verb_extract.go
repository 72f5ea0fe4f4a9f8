package cli

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

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/picks"
)

// extractForm is a form in which a fork can be exported: the flag's word, the ending of its file, and how it is
// written.
type extractForm struct {
	as, ending string // no ending: it is printed only
	write      func(x *extracted, w io.Writer) error
}

var extractForms = []extractForm{
	{"concept", ".yaml", (*extracted).writeConcept},
	{"table", ".csv", (*extracted).writePivots},
	{"drawing", ".dxf", (*extracted).writeDrawing},
	{"drawing-r12", "", (*extracted).writeDrawing12},
	{"frame", ".inp", (*extracted).writeFrame},
	{"mechanism", ".mechanism.yaml", (*extracted).writeMechanism},
}

func VerbExtract(env *process.Env) *cobra.Command {
	var as, out string
	var replace bool
	var words []string
	var prefer picks.Preference
	for _, f := range extractForms {
		words = append(words, f.as)
	}
	c := &cobra.Command{
		Use:   "extract {DIR ID | CONCEPT}",
		Short: "Export a candidate as a concept, pivot table, drawing or finite-element model; or draw a concept",
		Long: "Exports the candidate ID (column candidate of front.parquet) from the results in DIR: prints it as a\n" +
			"concept file that `forkfront score` reads, as a table of its pivots (CSV), as a side view at 1:1 in mm\n" +
			"(DXF of release 2000 with units and dimensions; drawing-r12: release 12), as a space frame of its tubes and\n" +
			"shafts with all loads (input file of CalculiX, a finite-element solver), or its mechanism as a file. With\n" +
			"--out, all of them are written to a folder, the drawing in release 2000.\n\n" +
			"The part of an ID after a slash is enough if it is unique, as are balanced (CASE/balanced among several\n" +
			"cases), knee, preferred and best-MEASURE (BIKE/knee among several bikes) for the suggested candidates, and\n" +
			"CASE/nearest, CASE/nearest-2 and so on for the nearest misses of a case in which hardly anything is feasible.\n\n" +
			"A concept file, such as an exported one that was edited by hand, has no ID. Its table, drawing, frame or\n" +
			"mechanism is printed; with --out, all but the mechanism are written to a folder, named after the concept file.",
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case !slices.Contains(words, as):
				return process.BadInput(fmt.Errorf("--as %q; allowed are %s", as, strings.Join(words, ", ")))
			case out != "" && cmd.Flags().Changed("as"):
				return process.BadInput(errors.New("--as prints one form and --out writes all of them; use one of the two"))
			case replace && out == "":
				return process.BadInput(errors.New("--replace requires --out DIR"))
			}
			x, err := toExtract(env, args, prefer)
			switch {
			case err != nil:
				return err
			case out != "":
				return x.writeAll(env, out, replace)
			}
			return x.print(env, as)
		},
	}
	c.Flags().StringVar(&as, "as", "concept", "what to print: "+strings.Join(words, ", "))
	c.Flags().StringVar(&out, "out", "", "folder to write all forms to, instead of printing one; created if it does not exist")
	c.Flags().BoolVar(&replace, "replace", false, "overwrite files in the --out folder that have other content")
	preferFlag(&prefer, c)
	return c
}

// toExtract is the fork that the arguments name: a folder and an id, or only a concept file.
func toExtract(env *process.Env, args []string, prefer picks.Preference) (*extracted, error) {
	name := args[0]
	about, err := os.Stat(name)
	dir := err == nil && about.IsDir()
	switch {
	case dir && len(args) == 1:
		return nil, process.BadInput(fmt.Errorf("%s is a folder; name one of its candidates: extract %s ID, such as balanced", name, display.ShellWord(name)))
	case len(args) == 1 && prefer != nil:
		return nil, process.BadInput(errors.New("--prefer ranks the candidates of a results folder; a concept file has none"))
	case len(args) == 1:
		return conceptToExtract(env, name)
	case name == "-", err == nil && !dir:
		return nil, process.BadInput(fmt.Errorf("%s is not a results folder, and a concept file has no candidate %q; omit the ID", process.FileShown(name), args[1]))
	}
	return candidateToExtract(env, name, args[1], prefer)
}

// print writes one form.
func (x *extracted) print(env *process.Env, as string) error {
	if as == "concept" && x.isFile {
		return process.BadInput(fmt.Errorf("%s is already a concept file; --as table, drawing, frame or mechanism prints it in another form, --out DIR writes table, drawing and frame", x.from))
	}
	i := slices.IndexFunc(extractForms, func(f extractForm) bool { return f.as == as })
	var text bytes.Buffer
	if err := extractForms[i].write(x, &text); err != nil {
		return err
	}
	_, err := env.Out.Write(text.Bytes())
	return err
}

// writeAll writes every form into a folder, named after the ID as given or after the concept file, and prints the
// names of the files. Without replace it writes none if one of them exists with other content: a concept may have
// been edited by hand.
func (x *extracted) writeAll(env *process.Env, out string, replace bool) error {
	if err := process.CheckFolder(out); err != nil {
		return err
	}
	files, err := x.files(env, out)
	if err != nil {
		return err
	}
	for _, f := range files {
		if there, err := os.ReadFile(f.path); !replace && err == nil && !bytes.Equal(there, f.text) {
			return process.BadInput(fmt.Errorf("%s already exists with other content; overwrite it with --replace, or choose another folder", f.path))
		}
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return fmt.Errorf("create the candidate's folder: %w", err)
	}
	for _, f := range files {
		err := results.RemoveLeftovers(f.path)
		if err == nil {
			err = renameio.WriteFile(f.path, f.text, 0o644, renameio.WithTempDir(out))
		}
		if err != nil {
			return fmt.Errorf("write %s: %w", f.path, err)
		}
		fmt.Fprintln(env.Out, f.path)
	}
	return nil
}

// formFile is a form of a fork as a file.
type formFile struct {
	path string
	text []byte
}

// files are the forms that go to a folder: all except those that are files already, built-in mechanisms, and forms that
// a fork that stops short does not have, which is said.
func (x *extracted) files(env *process.Env, out string) (all []formFile, err error) {
	for _, f := range extractForms {
		name := x.stem + f.ending
		switch {
		case f.ending == "", f.as == "concept" && x.isFile, f.as == "mechanism" && x.own == "":
			continue
		case f.as == "mechanism":
			name = x.own
		}
		var text bytes.Buffer
		if err := f.write(x, &text); err != nil {
			var without *process.Error
			if errors.As(err, &without) && without.Code == process.Nothing {
				fmt.Fprintf(env.Err, "no %s: %v\n", f.as, err)
				continue
			}
			return nil, err
		}
		all = append(all, formFile{filepath.Join(out, name), text.Bytes()})
	}
	return all, nil
}
