package jobs

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"time"

	"github.com/spf13/cobra"

	"forkfront/objectives"
	"forkfront/optimize"
	"forkfront/results"
)

func verbRun(env *Env) *cobra.Command {
	var out string
	var workers int
	var replace bool
	c := &cobra.Command{
		Use:   "run [JOB] --out DIR",
		Short: "Search and write the fronts; without JOB the built-in demo",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				return badInput(errors.New("--out DIR is needed: the folder that the results go to"))
			}
			return run(cmd.Context(), env, args, out, workers, replace)
		},
	}
	c.Flags().StringVar(&out, "out", "", "folder for the results; created when it does not exist")
	c.Flags().IntVar(&workers, "workers", 0, "candidates evaluated at once; 0: one per processor")
	c.Flags().BoolVar(&replace, "replace", false, "replace the results that the folder holds")
	return c
}

// job reads the named job, or the demo, and the SHA-256 of its text.
func (env *Env) job(args []string) (*JobFile, string, error) {
	name, text := "demo.yaml", Demo()
	if len(args) > 0 {
		name = args[0]
		in, err := env.input(name)
		if err != nil {
			return nil, "", err
		}
		defer in.Close()
		if text, err = io.ReadAll(io.LimitReader(in, tooLong)); err != nil {
			return nil, "", fmt.Errorf("read %s: %w", name, err)
		}
	}
	j, _, err := ReadJob(name, bytes.NewReader(text), knownMeasure, measureNames())
	if err != nil {
		return nil, "", inputOr(err)
	}
	return j, fmt.Sprintf("%x", sha256.Sum256(text)), nil
}

// tooLong is past the size that the decoder refuses.
const tooLong = 2 << 20

// found is what one search of one case came to.
type found struct {
	c      *Case
	seed   uint64
	result *optimize.Result
}

func run(ctx context.Context, env *Env, args []string, out string, workers int, replace bool) error {
	job, digest, err := env.job(args)
	if err != nil {
		return err
	}
	folder, err := results.Open(out, replace)
	if err != nil {
		return occupied(err)
	}
	defer folder.Close()
	record := results.NewRunRecord(time.Now())
	record.JobName, record.JobSHA256, record.Workers = job.Job, digest, workers
	var all []found
	var history []results.HistoryRow
	for _, c := range job.Cases() {
		for _, seed := range job.Seeds {
			settings := job.settings(c, seed, workers)
			began := time.Now()
			settings.Progress = func(g optimize.Generation) { history = append(history, generation(c, seed, g)) }
			r, err := optimize.Search(ctx, c.Problem(), settings)
			if err != nil {
				return fmt.Errorf("case %s: %w", c.Name, err)
			}
			all = append(all, found{c, seed, r})
			record.Cases = append(record.Cases, results.CaseRecord{
				Name: searchName(c, seed), Stop: r.Stop, Evaluations: r.Evaluations,
				Feasible: r.FeasibleEvaluations, Front: len(r.Front), Seconds: time.Since(began).Seconds(),
			})
			fmt.Fprintf(env.Err, "%s, seed %d: %d candidates; %d of %d evaluations feasible, %d by gradients; stopped: %s\n",
				c.Name, seed, len(r.Front), r.FeasibleEvaluations, r.Evaluations, r.GradientEvaluations, r.Stop)
		}
	}
	if err := writeAll(folder, all, history); err != nil {
		return err
	}
	record.Finished = time.Now().UTC()
	return summary(env, folder, &record, all)
}

// occupied is bad usage when the folder holds results or another run is at work in it.
func occupied(err error) error {
	var held *results.ErrOccupied
	var locked *results.ErrLocked
	if errors.As(err, &held) || errors.As(err, &locked) {
		return badInput(err)
	}
	return err
}

func generation(c *Case, seed uint64, g optimize.Generation) results.HistoryRow {
	row := results.HistoryRow{Case: searchName(c, seed), Generation: g.Number, Evaluations: g.Evaluations, Front: g.ArchiveSize}
	if g.Evaluations > 0 {
		row.FeasibleShare = float64(g.Feasible) / float64(g.Evaluations)
	}
	if g.ArchiveSize > 0 {
		row.Hypervolume = &g.Hypervolume
	}
	return row
}

// searchName tells the searches of a job apart.
func searchName(c *Case, seed uint64) string { return fmt.Sprintf("%s/%d", c.Name, seed) }

func writeAll(folder *results.Folder, all []found, history []results.HistoryRow) error {
	meta := map[string]string{"forkfront.caution": caution}
	if err := writeFront(folder.Path("front.parquet"), all, meta); err != nil {
		return err
	}
	if err := writeCurves(folder.Path("curves.parquet"), all, meta); err != nil {
		return err
	}
	if err := folder.WriteHistory(history, meta); err != nil {
		return fmt.Errorf("write the history: %w", err)
	}
	return nil
}

// summary says what was found; a run that found nothing feasible says so by its exit code.
func summary(env *Env, folder *results.Folder, record *results.RunRecord, all []found) error {
	rows := 0
	for _, f := range all {
		rows += len(f.result.Front)
	}
	record.Exit = results.ExitRecord{Summary: fmt.Sprintf("%d candidates of %d searches", rows, len(all))}
	if rows == 0 {
		record.Exit.Code = exitNothing
	}
	if err := folder.WriteRun(record); err != nil {
		return err
	}
	fmt.Fprintf(env.Out, "%s: %s\n", folder.Path("front.parquet"), record.Exit.Summary)
	fmt.Fprintf(env.Err, "\n%s\n", caution)
	if rows == 0 {
		return errNothing
	}
	return nil
}

// everMany bounds a search that only time or stagnation ends.
const everMany = 1 << 50

func (j *JobFile) settings(c *Case, seed uint64, workers int) optimize.Settings {
	s := optimize.Settings{Seed: caseSeed(seed, c.Name), Evaluations: everMany, Workers: workers, GradientShare: j.GradientShare}
	if e := j.Budget.Evaluations; e != nil {
		s.Evaluations = *e
	}
	if w := j.Budget.MaxWall; w != nil {
		s.MaxWall = time.Duration(w.Duration)
	}
	if g := j.Budget.StagnationGenerations; g != nil {
		s.StagnationGenerations = *g
	}
	return s
}

// caseSeed gives a case its own seed, so that it finds the same front alone or among others.
func caseSeed(seed uint64, name string) uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%d %s", seed, name)
	return h.Sum64()
}

// writeFront writes one row a candidate: what it is, its variables, every measure.
func writeFront(path string, all []found, meta map[string]string) error {
	var cases []*Case
	for _, f := range all {
		cases = append(cases, f.c)
	}
	variables := variableNames(cases)
	w, err := results.CreateTable(path, frontColumns(variables), meta)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	for _, f := range all {
		if err := f.write(w, variables); err != nil {
			return fmt.Errorf("write %s: %w", path, err)
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

func frontColumns(variables []string) []results.Column {
	columns := []results.Column{
		{Name: "candidate", Kind: results.Text, Doc: "case, seed and the order in which the candidate was proposed"},
		{Name: "case", Kind: results.Text, Doc: "bike and mechanism"},
		{Name: "bike", Kind: results.Text, Doc: "bike"},
		{Name: "mechanism", Kind: results.Text, Doc: "mechanism"},
		{Name: "seed", Kind: results.Int, Doc: "seed of the job"},
		{Name: "shock_size", Kind: results.Text, Doc: "shock chosen"},
	}
	for _, v := range variables {
		if v != "shock" {
			columns = append(columns, results.Column{Name: v, Unit: results.UnitOfName(v), Kind: results.Float, Optional: true, Doc: "variable of the search"})
		}
	}
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		columns = append(columns, results.Column{Name: m.Name, Unit: m.Unit, Doc: m.Doc, Sense: string(m.Sense), Kind: results.Float, Optional: true})
	}
	return columns
}

func (f *found) write(w *results.TableWriter, variables []string) error {
	scorer := objectives.NewScorer(f.c.Conditions)
	var d objectives.Design
	var score objectives.Score
	for i := range f.result.Front {
		x := f.result.Front[i].X
		f.c.Design(&d, x)
		scorer.Score(&score, &d)
		f.identity(w, &f.result.Front[i])
		col := 6
		for _, name := range variables {
			if name == "shock" {
				continue
			}
			if k := f.c.variable(name); k >= 0 {
				w.Float(col, x[k])
			} else {
				w.Null(col)
			}
			col++
		}
		for k := range objectives.Measures {
			if score.Missing[k] == "" {
				w.Float(col, score.Values[k])
			} else {
				w.Null(col)
			}
			col++
		}
		if err := w.EndRow(); err != nil {
			return err
		}
	}
	return nil
}

// id joins the rows of a candidate over the files.
func (f *found) id(c *optimize.Candidate) string {
	return fmt.Sprintf("%s/%d", searchName(f.c, f.seed), c.Number)
}

func (f *found) identity(w *results.TableWriter, c *optimize.Candidate) {
	w.Text(0, f.id(c))
	w.Text(1, f.c.Name)
	w.Text(2, f.c.Bike)
	w.Text(3, f.c.Mechanism.Name)
	w.Int(4, int64(f.seed))
	size := f.c.Shocks[0]
	if k := f.c.variable("shock"); k >= 0 {
		size = f.c.Shocks[int(c.X[k])]
	}
	w.Text(5, size.Name)
}

// variable finds a variable by name, or -1.
func (c *Case) variable(name string) int {
	for i := range c.Free {
		if c.Free[i].Variable.Name == name {
			return i
		}
	}
	return -1
}

// writeCurves writes one row a candidate and travel step.
func writeCurves(path string, all []found, meta map[string]string) error {
	columns := []results.Column{{Name: "candidate", Kind: results.Text, Doc: "as in front.parquet"}}
	for i := range objectives.Curves {
		c := &objectives.Curves[i]
		columns = append(columns, results.Column{Name: c.Name, Unit: c.Unit, Doc: c.Doc, Kind: results.Float, Optional: true})
	}
	w, err := results.CreateTable(path, columns, meta)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	for _, f := range all {
		if err := f.curves(w); err != nil {
			return fmt.Errorf("write %s: %w", path, err)
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

func (f *found) curves(w *results.TableWriter) error {
	scorer := objectives.NewScorer(f.c.Conditions)
	var d objectives.Design
	var score objectives.Score
	values := make([][]float64, len(objectives.Curves))
	for i := range f.result.Front {
		candidate := &f.result.Front[i]
		f.c.Design(&d, candidate.X)
		scorer.Score(&score, &d)
		for k := range values {
			values[k], _ = objectives.ReadCurve(values[k][:0], &objectives.Curves[k], scorer.Subject())
		}
		for row := range f.c.Conditions.Samples {
			w.Text(0, f.id(candidate))
			for k := range values {
				if row < len(values[k]) {
					w.Float(1+k, values[k][row])
				} else {
					w.Null(1 + k)
				}
			}
			if err := w.EndRow(); err != nil {
				return err
			}
		}
	}
	return nil
}
