package run

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/jobs/progress"
	"forkfront/jobs/race"
	"forkfront/jobs/store"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/record"
	"forkfront/results/rounds"
)

// raceRound is a round of a race.
type raceRound struct {
	until  int // evaluations of each case at its end
	last   bool
	before *Runner // of the round before; nil in the first

	from func(i int) (*store.AtWork, error) // what case i goes on from, where another process searched the round before
}

// InRaceRound has the runner search a round of a race whose other rounds other processes search. from gives what a case goes on from.
func (r *Runner) InRaceRound(schedule []race.Round, k int, from func(i int) (*store.AtWork, error)) {
	r.raceRound = &raceRound{until: schedule[k].Until, last: k == len(schedule)-1, from: from}
}

// inRound is the runner of a round of a race, and of those before it.
func (r *Runner) inRound(schedule []race.Round, k int) *Runner {
	one := *r
	one.Saved = r.Saved.InRound(k)
	one.raceRound = &raceRound{until: schedule[k].Until, last: k == len(schedule)-1}
	if k > 0 {
		one.raceRound.before = r.inRound(schedule, k-1)
	}
	return &one
}

// roundBefore is the state of case i at the end of the round before, nil where there was none. If it is missing, or is not to be
// trusted, the case is searched again from the last round at whose end it has one.
func (r *Runner) roundBefore(ctx context.Context, c *cases.Case, i int, p progress.CaseProgress, doubted bool) (*store.AtWork, error) {
	switch {
	case r.raceRound == nil:
		return nil, nil
	case r.raceRound.from != nil:
		return r.raceRound.from(i)
	case r.raceRound.before == nil:
		return nil, nil
	}
	before := r.raceRound.before
	if !doubted {
		w, trouble := before.Saved.LoadPaused(i)
		if err := mixed(trouble); err != nil {
			return nil, err
		}
		r.Log.Trouble(trouble)
		if w != nil {
			return w, nil
		}
	}
	if err := before.Saved.DropPaused(i); err != nil {
		return nil, err
	}
	if err := before.one(ctx, c, i, p); err != nil {
		return nil, err
	}
	w, trouble := before.Saved.LoadPaused(i)
	if w == nil {
		return nil, errors.Join(fmt.Errorf("case %s: what it goes on from is missing", c.Name), trouble)
	}
	return w, nil
}

// race searches the cases of a job in rounds, fewer from round to round. done gets where each ended.
func (r *Runner) race(ctx context.Context, all []*cases.Case, done []store.Found) error {
	schedule := r.Job.Rounds()
	course := race.NewCourse(schedule, r.Job.FirstSeed())
	kept := r.keptLines()
	left := make([]int, len(all))
	for i := range left {
		left[i] = i
	}
	for k := range schedule {
		one := r.inRound(schedule, k)
		r.Log.Racing(k+1, len(schedule), course.Joint(), race.Samples)
		if err := one.SearchAll(ctx, all, left); err != nil {
			return err
		}
		came := make([]race.Came, len(left))
		for n, i := range left {
			d, err := one.Saved.MustLoadCase(i, all[i].Name)
			if err != nil {
				return fmt.Errorf("case %s: %w", all[i].Name, err)
			}
			came[n] = CameTo(all[i], d)
		}
		before := len(course.Lines)
		on := course.Finish(came)
		if err := sameLines(course.Lines[before:], kept[min(before, len(kept)):]); err != nil {
			return err
		}
		if len(course.Lines) > len(kept) {
			if err := rounds.Write(r.Folder.Path(results.RaceFile), course.Lines); err != nil {
				return err
			}
			r.Log.Round(course.Lines[before:])
		}
		var next []int
		for _, i := range left {
			if k > 0 {
				if err := one.raceRound.before.Saved.DropPaused(i); err != nil {
					return err
				}
			}
			goesOn := slices.Contains(on, all[i].Name)
			if goesOn {
				next = append(next, i)
			} else if err := one.Saved.DropPaused(i); err != nil {
				return err
			}
			done[i].Load = LoadRaced(one.Saved, i, all[i].Name, k, len(schedule), !goesOn && !one.raceRound.last)
		}
		left = next
	}
	r.Raced = course
	return nil
}

// LoadRaced reads a case as the last of its rounds left it, and says how it ended.
func LoadRaced(saved *store.Checkpoints, i int, name string, round, rounds int, cut bool) func() (*store.DoneCase, error) {
	return func() (*store.DoneCase, error) {
		d, err := saved.MustLoadCase(i, name)
		if err == nil && cut {
			d.Record.Stop = record.CutAfter(round+1, rounds)
		}
		return d, err
	}
}

// CameTo is what a case has come to, as a race sees it.
func CameTo(c *cases.Case, d *store.DoneCase) race.Came {
	came := race.Came{Case: c.Name, Evaluations: d.Result.Evaluations, Feasible: d.Result.FeasibleEvaluations}
	for i := range d.Result.Front {
		came.Front = append(came.Front, d.Result.Front[i].F)
	}
	if len(d.Result.Front) == 0 && len(d.Result.Nearest) > 0 {
		nearest := &d.Result.Nearest[0]
		came.Violation = nearest.Violation()
		came.Unmet = unmet(c, &nearest.Outcome)
	}
	return came
}

// unmet are the constraints that an outcome violates.
func unmet(c *cases.Case, o *optimize.Outcome) (names []string) {
	for i, name := range c.Problem().Constraints() {
		if o.G[i] > 0 {
			names = append(names, name)
		}
	}
	return names
}

// keptLines are the lines that a stopped run left. Damaged ones are written again.
func (r *Runner) keptLines() []rounds.Line {
	lines, err := rounds.Read(r.Folder.Path(results.RaceFile))
	if store.Unreadable(err) {
		r.Log.Trouble(err)
	}
	return lines
}

// KeepRace writes the lines of a race that has been worked out again, unless those that were kept say otherwise. More lines than
// there are now are of later rounds and stay.
func KeepRace(path string, now []rounds.Line) error {
	kept, err := rounds.Read(path)
	if store.Unreadable(err) {
		return err
	}
	if err := sameLines(now, kept); err != nil || len(kept) >= len(now) {
		return err
	}
	return rounds.Write(path, now)
}

// sameLines compares the lines of a round with those that were kept of it.
func sameLines(now, kept []rounds.Line) error {
	for n := range min(len(now), len(kept)) {
		if !reflect.DeepEqual(now[n], kept[n]) {
			return process.BadInput(fmt.Errorf("case %s is in place %d of round %d, and %s has %s there, or with another front: the results of this round are not those that the race went on from; start again with run --replace",
				now[n].Case, now[n].Place, now[n].Round, results.RaceFile, kept[n].Case))
		}
	}
	return nil
}
