package jobs

import (
	"errors"
	"fmt"
	"io"
	"os"
	"reflect"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"forkfront/kinematics"
	"forkfront/objectives"
)

func verbScore(env *Env) *cobra.Command {
	var asJSON bool
	var job, before string
	c := &cobra.Command{
		Use:   "score CONCEPT",
		Short: "Score one fork beside the telescopic one",
		Long: "Scores the fork of a concept file beside the telescopic one that it would replace. It ends with which of\n" +
			"the limits that hold unless a job says otherwise are broken, and which parts overlap; with --job with what\n" +
			"the job's objectives come to and which of its constraints are broken.",
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if before != "" && (asJSON || job != "") {
				return badInput(errors.New("--before compares two forks in a table; leave out --json and --job"))
			}
			if before != "" {
				return compareForks(env, before, args[0])
			}
			return score(env, args[0], job, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON with all measures and curves")
	c.Flags().StringVar(&before, "before", "", "compare with this concept: what got better, what was paid")
	c.Flags().StringVar(&job, "job", "", "judge the fork by this job's bands, objectives and constraints too")
	return c
}

// input opens a named file, or standard input for "-".
func (env *Env) input(name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(env.In), nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, badInput(err)
	}
	if about, err := f.Stat(); err == nil && about.IsDir() {
		f.Close()
		return nil, badInput(fmt.Errorf("%s is a folder; the name of a file is needed, or - for standard input", name))
	}
	return f, nil
}

// readFork reads a concept file and its fork.
func (env *Env) readFork(name string) (*ConceptFile, *objectives.Design, error) {
	in, err := env.input(name)
	if err != nil {
		return nil, nil, err
	}
	defer in.Close()
	file, source, err := ReadConcept(name, in)
	if err != nil {
		return nil, nil, inputOr(err)
	}
	design, err := file.design(source, env.Err)
	if err != nil {
		return nil, nil, inputOr(err)
	}
	return file, design, nil
}

// score prints what one concept does. A fork that stops short still prints all that it has.
func score(env *Env, name, jobName string, asJSON bool) error {
	file, design, err := env.readFork(name)
	if err != nil {
		return err
	}
	conditions := file.conditions()
	var judge *Case
	if jobName != "" {
		if judge, err = env.judge(jobName, file, conditions, design); err != nil {
			return err
		}
	}
	out, result := examine(file.Concept, conditions, design)
	if judge != nil {
		out.judge(judge, result)
	} else {
		out.hold(file.expected(conditions, design), result)
	}
	write := out.writeTable
	if asJSON {
		write = out.writeJSON
	}
	if err := write(env.Out); err != nil {
		return err
	}
	if result.Fault != "" {
		return &exit{exitNothing, fmt.Errorf("%s: %s", file.Concept, result.Missing[0])}
	}
	return nil
}

// judge reads the goals and limits of a job, for a fork of any mechanism, and has its bands and coils
// replace those of the fork's own file.
func (env *Env) judge(name string, file *ConceptFile, c *objectives.Conditions, d *objectives.Design) (*Case, error) {
	job, _, err := env.job([]string{name})
	if err != nil {
		return nil, err
	}
	if other := job.unlike(file); len(other) > 0 {
		fmt.Fprintf(env.Err, "the fork's own file has another %s than the job, and the fork is judged by its own\n", strings.Join(other, ", "))
	}
	c.Leverage = objectives.Band{Low: job.LeverageBand[0], High: job.LeverageBand[1]}
	c.AntiDive = objectives.Band{Low: job.AntiDiveBand[0], High: job.AntiDiveBand[1]}
	c.CoilRates = job.CoilRatesNPerMM
	c.Prepare()
	judge := file.caseFor(c, d)
	judge.wants(job)
	return judge, nil
}

// unlike lists what a job says otherwise than a concept of it, but for its bands and coils.
func (j *JobFile) unlike(c *ConceptFile) (other []string) {
	here := func(b Bike) bool {
		b.Name = c.Bike.Name
		return b == c.Bike
	}
	for _, x := range []struct {
		key  string
		same bool
	}{
		{"bike", slices.ContainsFunc(j.Bikes, here)},
		{"travel_mm", j.TravelMM == c.TravelMM},
		{"sag_pct", j.SagPct == c.SagPct},
		{"braking_g", j.BrakingG == c.BrakingG},
		{"attitude", j.Attitude == c.Attitude},
		{"material", slices.Contains(j.Materials, c.Material)},
		{"package", j.hasRoom(c)},
		{"structure", reflect.DeepEqual(j.Structure, c.Structure)},
		{"telescopic", j.Telescopic == c.Telescopic},
	} {
		if !x.same {
			other = append(other, x.key)
		}
	}
	return other
}

// hasRoom tells whether the concept's package is one of the job's.
func (j *JobFile) hasRoom(c *ConceptFile) bool {
	all := j.Packages
	if len(all) == 0 {
		all = []PackageSection{j.Package}
	}
	return slices.ContainsFunc(all, func(p PackageSection) bool {
		p.Name = c.Package.Name
		return reflect.DeepEqual(p, c.Package)
	})
}

// samples is how many travels people read, from top-out to full travel.
const samples = 33

// conditions are those of a concept's own file, with the telescopic fork that it would replace.
func (c *ConceptFile) conditions() *objectives.Conditions {
	conditions := &objectives.Conditions{
		Chassis: c.Chassis(), TravelMM: c.TravelMM, SagPct: c.SagPct, BrakingG: c.BrakingG,
		Leverage:  objectives.Band{Low: c.LeverageBand[0], High: c.LeverageBand[1]},
		AntiDive:  objectives.Band{Low: c.AntiDiveBand[0], High: c.AntiDiveBand[1]},
		CoilRates: c.CoilRatesNPerMM, Samples: samples, Structure: c.Structure.model(&c.Telescopic),
	}
	conditions.Prepare()
	return conditions
}

// strokeShare is the stroke of a shock that states none, as a part of its eye-to-eye length.
const strokeShare = 0.30

// design is the concept's fork. A shock without a stroke gets one, and notes says so.
func (c *ConceptFile) design(s *Source, notes io.Writer) (*objectives.Design, error) {
	return c.designOf(compile(c.Spec), c.conditions(), s, notes)
}

func (c *ConceptFile) designOf(m *kinematics.Mechanism, conditions *objectives.Conditions, s *Source, notes io.Writer) (*objectives.Design, error) {
	d := &objectives.Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points))}
	d.Across, d.Material = c.Across.model(m), c.Material.model()
	for name, p := range c.Points() {
		d.Layout[m.Point(name)] = kinematics.Vec[float64](p)
	}
	if m.HasShock() {
		c.shock(&d.Shock, d.Layout[m.Point(kinematics.PointShockUpper)], d.Layout[m.Point(kinematics.PointShockLower)], s, notes)
	}
	d.Room = c.Package.room(m, conditions, d.Across, d.Layout, &d.Shock)
	return d, s.Err()
}

// eyesAgree is how exactly a stated eye-to-eye length must be that of the shock's points, in mm:
// drawings give tenths.
const eyesAgree = 0.1

func (c *ConceptFile) shock(dst *objectives.Shock, upper, lower kinematics.Vec[float64], s *Source, notes io.Writer) {
	between := kinematics.Distance(upper, lower)
	dst.Count, dst.EyeToEyeMM = 1, between
	if k := c.Shock; k != nil {
		dst.Count, dst.StrokeMM, dst.PreloadMM, dst.MassG = k.Count, k.StrokeMM, k.PreloadMM, k.MassG
		dst.Air = k.air()
		if off := k.EyeToEyeMM - between; k.EyeToEyeMM > 0 && (off > eyesAgree || off < -eyesAgree) {
			s.At("shock.eye_to_eye_mm", "%g; the shock's points are %.4g mm apart", k.EyeToEyeMM, between)
		}
	}
	if k := c.Shock; k != nil && k.EyeToEyeMM > 0 {
		dst.EyeToEyeMM = k.EyeToEyeMM
	}
	if dst.StrokeMM == 0 {
		dst.StrokeMM = strokeShare * between
		fmt.Fprintf(notes, "the shock states no stroke; taken as %.2f of its %.4g mm: %.4g mm\n", strokeShare, between, dst.StrokeMM)
	}
}
