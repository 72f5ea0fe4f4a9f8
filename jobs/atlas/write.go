package atlas

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"forkfront/jobs/arrangement"
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/objectives"
)

// Names of what is written into a folder.
const (
	PageFile         = "topologies.html"
	MechanismsFolder = "mechanisms"
	JobsFolder       = "jobs"
)

// WriteFiles writes a mechanism file for each linkage and, for each arrangement that it has, a job that searches it on
// the bike of the given job. It returns how many files of either kind were written.
func WriteFiles(dir string, entries []Entry, j *files.JobFile) (mechanisms, jobs int, err error) {
	room, differ := j.Room()
	if differ != "" {
		return 0, 0, fmt.Errorf("the bikes and packages of job %s differ in %s; bounds follow from one bike", j.Job, differ)
	}
	for _, folder := range []string{MechanismsFolder, JobsFolder} {
		if err := os.MkdirAll(filepath.Join(dir, folder), 0o755); err != nil {
			return 0, 0, err
		}
	}
	for i := range entries {
		e := &entries[i]
		spec := e.mechanism.Spec
		files.LeaveMembers(&spec, true)
		if err := write(filepath.Join(dir, MechanismsFolder, e.Code+".yaml"), files.FileOf(&spec)); err != nil {
			return mechanisms, jobs, err
		}
		mechanisms++
		for _, kind := range arrangement.Kinds {
			plan, reason := arrangement.Of(&e.Topology, kind, room)
			if reason != "" {
				continue
			}
			one := jobOf(e, string(kind), plan, j)
			if err := write(filepath.Join(dir, JobsFolder, e.Code+"-"+string(kind)+".yaml"), one); err != nil {
				return mechanisms, jobs, err
			}
			jobs++
		}
	}
	return mechanisms, jobs, nil
}

// jobOf is a job with one linkage in place of its mechanisms, without the measures that the linkage lacks.
func jobOf(e *Entry, kind string, plan *arrangement.Plan, j *files.JobFile) files.JobFile {
	one := *j
	one.Job = e.Code + " " + kind
	jm := files.Arranged(&e.Topology, kind, plan)
	jm.Mechanism = "../" + MechanismsFolder + "/" + e.Code + ".yaml"
	one.Mechanisms, one.Start, one.Topologies = []files.JobMechanism{jm}, nil, nil
	lacks := func(measure string) bool {
		return objectives.Measures[objectives.Index(measure)].Unavailable(e.mechanism, nil, objectives.Given{}) != ""
	}
	one.Constraints = slices.DeleteFunc(slices.Clone(j.Constraints), func(c files.JobConstraint) bool { return c.Default || !c.After && lacks(c.Measure) })
	one.Objectives = slices.DeleteFunc(slices.Clone(j.Objectives), func(o files.JobObjective) bool { return lacks(o.Measure) })
	return one
}

func write(path string, file any) error {
	text, err := document.Encode(file)
	if err != nil {
		return err
	}
	return os.WriteFile(path, text, 0o644)
}
