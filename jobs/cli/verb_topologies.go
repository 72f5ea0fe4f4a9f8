package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"text/tabwriter"
	"time"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"forkfront/jobs/atlas"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/words"
	"forkfront/kinematics/topology"
)

// listing is what `topologies` was asked for.
type listing struct {
	bodies, slides int
	trains         string
	out, job       string
	replace        bool
}

// VerbTopologies lists the linkages that a fork can have.
func VerbTopologies(env *process.Env) *cobra.Command {
	var l listing
	c := &cobra.Command{
		Use:   "topologies [--bodies N] [--slides 1] [--trains any] [--out DIR]",
		Short: "List every linkage that a fork can have, up to a number of bodies",
		Long: "Lists the linkages with one degree of freedom that a fork can have: which bodies are joined, and which carry the\n" +
			"axle, the caliper and the ends of the shock. No two are the same with their bodies renamed; none has a rigid part, a\n" +
			"body that bears no load, or a carrier of the caliper that guides the axle.\n\n" +
			"The code names a linkage everywhere, also as the `mechanism` of a job or a concept: pivots by the bodies that they\n" +
			"join, then the bodies that the shock is between. c is the crown or whatever else is the ground, l the leg with\n" +
			"the axle, b a body of its own for the caliper, pinned at the axle, and digits are links. An s marks a slide.\n" +
			"Duties count the bodies that guide the axle (the ground included), those that serve only the caliper, and those that serve only the shock.\n\n" +
			"--out writes a page with a picture of each, mechanism files, and a job for each that searches it on the bike of --job. A job\n" +
			"searches them without files, too: see the key topologies in jobs/docs/job.md.",
		Example: "  forkfront topologies --bodies 4\n  forkfront topologies --bodies 6 --out atlas",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if err := l.check(); err != nil {
				return process.BadInput(err)
			}
			return list(env, &l)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.IntVar(&l.bodies, "bodies", 4, "most bodies of a linkage, the ground included: 2, 4, 6 or 8; an odd number has no linkage of its own")
	f.IntVar(&l.slides, "slides", 0, "1: linkages with one slide instead of those with pivots only")
	f.StringVar(&l.trains, "trains", "short", "short: at most two bodies that serve only the shock, and two that serve only the caliper; any: any number")
	f.StringVar(&l.out, "out", "", "folder for the page and the files; created if it does not exist")
	f.StringVar(&l.job, "job", "", "the job whose bike, shocks and objectives the page and the files take; by default the demo")
	f.BoolVar(&l.replace, "replace", false, "write into a folder that holds files")
	return c
}

// check reports everything that is wrong with the flags.
func (l *listing) check() error {
	var all []error
	if l.bodies < 2 || l.bodies > topology.MostBodies {
		all = append(all, fmt.Errorf("--bodies %d; allowed are 2 to %d", l.bodies, topology.MostBodies))
	}
	if l.slides < 0 || l.slides > 1 {
		all = append(all, fmt.Errorf("--slides %d; allowed are 0 and 1", l.slides))
	}
	if l.trains != "short" && l.trains != "any" {
		all = append(all, fmt.Errorf("--trains %q; allowed are short, any", l.trains))
	}
	if l.slides == 1 && l.bodies > mostWithSlide {
		all = append(all, fmt.Errorf("--bodies %d with --slides 1; allowed are 2 to %d", l.bodies, mostWithSlide))
	}
	if l.out == "" && (l.job != "" || l.replace) {
		all = append(all, errors.New("--job and --replace are for the files of --out DIR"))
	}
	return errors.Join(all...)
}

// mostWithSlide keeps the list short enough to read: with eight bodies, one of them on a slide, there are 50,000.
const mostWithSlide = 6

func list(env *process.Env, l *listing) error {
	began := time.Now()
	entries, err := atlas.Entries(topology.Forks(topology.Options{Bodies: l.bodies, Slide: l.slides == 1, AnyTrain: l.trains == "any"}))
	if err != nil {
		return err
	}
	table := tabwriter.NewWriter(env.Out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "code\tduties\twhat guides and drives\tshock between\tsolved by\tbuilt in")
	for i := range entries {
		e := &entries[i]
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\t%s\n", e.Code, e.Duties, e.Does(), e.Drives(), e.Solved(), e.Names())
	}
	if err := table.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(env.Err, "%s in %.3g s\n", words.Counted(len(entries), "linkage"), time.Since(began).Seconds())
	if l.out == "" {
		return nil
	}
	return writeAtlas(env, l, entries)
}

// writeAtlas writes page and files into the folder.
func writeAtlas(env *process.Env, l *listing, entries []atlas.Entry) error {
	var args []string
	if l.job != "" {
		args = []string{l.job}
	}
	job, _, err := files.Job(env, args)
	if err != nil {
		return err
	}
	if len(job.Shocks) == 0 {
		return process.BadInput(fmt.Errorf("job %s lists no shocks; the linkages drive one", job.Job))
	}
	if _, differ := job.Room(); differ != "" {
		return process.BadInput(fmt.Errorf("the bikes and packages of job %s differ in %s; bounds follow from one bike", job.Job, differ))
	}
	if held, err := os.ReadDir(l.out); err == nil && len(held) > 0 && !l.replace {
		return process.BadInput(fmt.Errorf("%s is not empty; choose another folder, or add --replace to write into it", l.out))
	}
	mechanisms, jobs, err := atlas.WriteFiles(l.out, entries, job)
	if err != nil {
		return fmt.Errorf("write %s: %w", l.out, err)
	}
	path := filepath.Join(l.out, atlas.PageFile)
	fmt.Fprintf(env.Err, "drawing %s\n", words.Counted(len(entries), "linkage"))
	file, err := renameio.NewPendingFile(path, renameio.WithPermissions(0o644), renameio.WithTempDir(l.out))
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer func() { _ = file.Cleanup() }()
	sketched, err := atlas.WritePage(file, entries, job, "forkfront topologies "+l.String())
	if err := errors.Join(err, file.CloseAtomicallyReplace()); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	fmt.Fprintf(env.Err, "%s: %s with %d sketches\n%s: %s\n%s: %s\n", path, words.Counted(len(entries), "linkage"), sketched,
		filepath.Join(l.out, atlas.MechanismsFolder), words.Counted(mechanisms, "file"), filepath.Join(l.out, atlas.JobsFolder), words.Counted(jobs, "job"))
	return nil
}

// String is the selection as flags.
func (l *listing) String() string {
	text := fmt.Sprintf("--bodies %d", l.bodies)
	if l.slides > 0 {
		text += " --slides 1"
	}
	if l.trains != "short" {
		text += " --trains " + l.trains
	}
	return text
}
