package jobs

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/atlas"
	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/run"
	"forkfront/kinematics/topology"
	"forkfront/optimize"
)

// Every built-in mechanism, and those of the examples, is in the list exactly once, under its name where it is built in.
func TestBuiltInMechanismsAreEnumerated(t *testing.T) {
	t.Parallel()
	listed := map[string]int{}
	named := map[string]string{}
	for _, slide := range []bool{false, true} {
		entries, err := atlas.Entries(topology.Forks(topology.Options{Bodies: 6, Slide: slide}))
		if err != nil {
			t.Fatal(err)
		}
		for i := range entries {
			listed[entries[i].Code]++
			for _, name := range entries[i].BuiltIn {
				if named[name] != "" {
					t.Errorf("%s is both %s and %s", name, named[name], entries[i].Code)
				}
				named[name] = entries[i].Code
			}
		}
	}
	for _, name := range append(files.BuiltIns(), "examples/own/three-links.yaml") {
		m, err := files.LoadMechanism(name, ".")
		if err != nil {
			t.Fatal(err)
		}
		of, err := topology.Of(&m.Spec)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if n := listed[of.Code()]; n != 1 {
			t.Errorf("%s: %s is listed %d times", name, of.Code(), n)
		}
		if slices.Contains(files.BuiltIns(), name) && named[name] != of.Code() {
			t.Errorf("%s is found as %q; expected %q", name, named[name], of.Code())
		}
	}
}

// Files are written for every fork with pivots up to six bodies, for a sample of those with eight, and for some with a
// slide. Every mechanism file, and a job of each fork, of its arrangements in turn, is read without a fault and is of
// the fork that it is named after.
func TestFilesOfTopologiesAreRead(t *testing.T) {
	t.Parallel()
	forks := topology.Forks(topology.Options{Bodies: 6})
	for i, fork := range slices.Concat(topology.Forks(topology.Options{Bodies: 8}), topology.Forks(topology.Options{Bodies: 4, Slide: true})) {
		if fork.Bodies == 8 && i%300 == 0 || fork.Slide >= 0 && i%7 == 0 {
			forks = append(forks, fork)
		}
	}
	entries, err := atlas.Entries(forks)
	if err != nil {
		t.Fatal(err)
	}
	demo, _, err := files.Job(&process.Env{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	mechanisms, jobs, err := atlas.WriteFiles(dir, entries, demo)
	if err != nil {
		t.Fatal(err)
	}
	if mechanisms != len(forks) || jobs < 2*mechanisms || jobs > 3*mechanisms {
		t.Errorf("%d mechanism files and %d jobs for %d forks", mechanisms, jobs, len(forks))
	}
	for i := range entries {
		code := entries[i].Code
		path := filepath.Join(dir, atlas.MechanismsFolder, code+".yaml")
		if m, _, err := files.ReadMechanism(path, opened(t, path)); err != nil || m.Name != code {
			t.Errorf("%s: %v", path, err)
		}
		written := globbed(t, filepath.Join(dir, atlas.JobsFolder, code+"-*.yaml"))
		path = written[i%len(written)]
		job, _, err := files.ReadJob(path, opened(t, path))
		if err != nil {
			t.Error(err)
			continue
		}
		if of, err := topology.Of(&job.Mechanisms[0].Spec); err != nil || of.Code() != code {
			t.Errorf("%s searches %s, %v", path, of.Code(), err)
		}
	}
}

// check accepts a written job, and run finds its way through one: the whole commands, on one fork of each size.
func TestAJobOfATopologyRuns(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "atlas")
	code, out, said := command(t, "topologies", "--bodies", "4", "--out", dir)
	if code != process.Done || strings.Count(out, "\n") != 17 || !strings.Contains(said, "16 linkages") {
		t.Fatalf("exit %d: %s%s", code, out, said)
	}
	page := fileText(t, filepath.Join(dir, atlas.PageFile))
	if graphs, sides := strings.Count(page, `<svg class="graph"`), strings.Count(page, `<svg class="side"`); graphs != 16 || sides < 12 {
		t.Errorf("%d graphs and %d sketches of 16", graphs, sides)
	}
	for _, bad := range []string{"NaN", "Inf", "ZgotmplZ", "<no value>"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page contains %q", bad)
		}
	}
	job := filepath.Join(dir, atlas.JobsFolder, "c1-c2-1l-2l+cl-high.yaml")
	text := fileText(t, job)
	const demos = "evaluations: 200000"
	if strings.Count(text, demos) != 1 {
		t.Fatalf("not with the %s of the demo:\n%s", demos, text)
	}
	text = strings.Replace(text, demos, "evaluations: 1500", 1)
	if err := os.WriteFile(job, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, out, said := command(t, "check", job); code != process.Done || !strings.Contains(out, "c1-c2-1l-2l+cl/1: 12 variables") {
		t.Errorf("check: exit %d: %s%s", code, out, said)
	}
	results := filepath.Join(dir, "out")
	if code, _, said := command(t, "run", job, "--out", results); code != process.Done && code != process.Nothing {
		t.Errorf("run: exit %d: %s", code, said)
	}
	if code, _, said := command(t, "topologies", "--out", dir); code != process.Input || !strings.Contains(said, "--replace") {
		t.Errorf("into a folder with files: exit %d: %s", code, said)
	}
}

// A job with enumerated linkages is searched as one with the mechanisms that they become, which a state keeps: it can be
// packed and checked again. Beside others, all have names of their own, and codes name mechanisms too.
func TestAJobWithTopologies(t *testing.T) {
	t.Parallel()
	demo := plainDemo()
	text := strings.Replace(demo, "mechanisms:\n", "topologies: {bodies: 4, arrangements: [high, low, trailing]}\nmechanisms:\n", 1)
	text = strings.Replace(text, "mechanism: girder", "mechanism: c2-c1-1l-2l+c1", 1)
	text = strings.NewReplacer("lower_rear:", "crown_link_1:", "lower_front:", "link_1_leg:", "upper_rear:", "crown_link_2:", "upper_front:", "link_2_leg:",
		"lower_link:", "link_1:", "upper_link:", "link_2:", "blade:", "leg:").Replace(text)
	job, _, err := files.ReadJob("all.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, c := range cases.Cases(job) {
		if seen[c.Name] {
			t.Errorf("two cases are called %s", c.Name)
		}
		seen[c.Name] = true
	}
	// 16 linkages low and trailing; the arms, 12 of them, are not high.
	if want := 2 + 16 + 16 + 4; len(seen) != want {
		t.Errorf("%d cases; expected %d", len(seen), want)
	}
	for _, name := range []string{"mid-tail cargo/c1-c2-1l-2l+c1/1", "mid-tail cargo/c1-c2-1l-2l+c1 high/1", "mid-tail cargo/cl+cl trailing/1"} {
		if !seen[name] {
			t.Errorf("no case is called %s", name)
		}
	}
	if err := job.Recheck(); err != nil {
		t.Errorf("as it comes from a state: %v", err)
	}
}

// A short search of each linkage with up to four bodies, in each arrangement, on the demo's bike. Within 2,500 evaluations
// some find forks that satisfy the demo's constraints; the page topologies.md has a longer search.
func TestFourBodyLinkagesAreFound(t *testing.T) {
	t.Parallel()
	demo := plainDemo()
	begin, end := strings.Index(demo, "mechanisms:\n"), strings.Index(demo, "objectives:\n")
	job, _, err := files.ReadJob("four.yaml", strings.NewReader(demo[:begin]+"topologies: {bodies: 4}\n"+demo[end:]))
	if err != nil {
		t.Fatal(err)
	}
	all, found := cases.Cases(job), 0
	for _, c := range all {
		s := run.Settings(job, c, 0)
		s.Evaluations = 2500
		r, err := optimize.Search(context.Background(), c.Problem(), s)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%-40s %4d candidates, %d of %d evaluations feasible", c.Name, len(r.Front), r.FeasibleEvaluations, s.Evaluations)
		if len(r.Front) > 0 {
			found++
		}
	}
	t.Logf("found feasible: %d of %d", found, len(all))
	if len(all) != 20 || found < 5 {
		t.Errorf("%d of %d cases were found feasible", found, len(all))
	}
}

func TestTopologiesRefusesWhatItCannotList(t *testing.T) {
	t.Parallel()
	for args, want := range map[string]string{
		"--bodies 10":             "--bodies 10; allowed are 2 to 8",
		"--bodies 1 --slides 2":   "--bodies 1; allowed are 2 to 8\n--slides 2; allowed are 0 and 1",
		"--bodies 8 --slides 1":   "--bodies 8 with --slides 1; allowed are 2 to 6",
		"--trains long":           `--trains "long"; allowed are short, any`,
		"--job x.yaml":            "--job and --replace are for the files of --out DIR",
		"--out o --job gone.yaml": "gone.yaml",
		"girder":                  "unknown command",
	} {
		code, _, said := command(t, append([]string{"topologies"}, strings.Fields(args)...)...)
		if code == process.Done || !strings.Contains(said, want) {
			t.Errorf("%s: exit %d, %s\nwant %s", args, code, said, want)
		}
	}
}
