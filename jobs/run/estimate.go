package run

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/progress"
	"forkfront/jobs/store"
	"forkfront/jobs/tables"
	"forkfront/objectives"
	"forkfront/optimize"
)

// kind is what cases that differ only in their seed have in common. One is timed for all.
type kind struct {
	c     *cases.Case
	count int
	each  time.Duration // of an evaluation on one processor, search included
	event time.Duration // of the events that its objectives and constraints are about, for one fork
}

// kinds are those of a job's cases, in the order of the first case of each.
func kinds(cases []*cases.Case) (all []*kind) {
	named := map[string]*kind{}
	for _, c := range cases {
		name := c.Kind()
		if named[name] == nil {
			named[name] = &kind{c: c}
			all = append(all, named[name])
		}
		named[name].count++
	}
	return all
}

// How long a kind is timed, all of them together, and how many of them: enough for the few kinds of most jobs, and no
// longer than a user waits for an answer.
const (
	trialTime  = 50 * time.Millisecond
	trialsTime = 1500 * time.Millisecond
	mostTrials = 30
)

// tryKinds times some kinds of each mechanism, spread evenly, and assumes their average for the others.
func tryKinds(all []*kind) {
	of := map[string][]*kind{}
	for _, k := range all {
		of[k.c.Mechanism.Name] = append(of[k.c.Mechanism.Name], k)
	}
	most := max(1, mostTrials/len(of))
	tried := 0
	for _, same := range of {
		tried += min(most, len(same))
	}
	each := min(trialTime, trialsTime/time.Duration(tried))
	for _, same := range of {
		n := min(most, len(same))
		var sum time.Duration
		for i := range n {
			k := same[i*len(same)/n]
			k.each = trial(k.c, each)
			sum += k.each
		}
		for _, k := range same {
			if k.each == 0 {
				k.each = sum / time.Duration(n)
			}
		}
	}
}

// overhead is the time that a search takes beyond the evaluations themselves, as a fraction of theirs, from the
// demo's cases.
const overhead = 2

// trial measures the time of one evaluation of a case on one processor, search included, with random designs, half of
// which stop short as they do early in a search.
func trial(c *cases.Case, long time.Duration) time.Duration {
	p := c.Worker()
	o := &optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
	r := rand.New(rand.NewPCG(1, 1))
	x := make([]float64, len(c.Free))
	evaluate := func() {
		for i, f := range c.Free {
			v := &f.Variable
			x[i] = v.Low + r.Float64()*(v.High-v.Low)
			if v.Levels > 0 {
				x[i] = float64(r.IntN(v.Levels))
			}
		}
		p.Evaluate(o, x)
	}
	evaluate() // the first one makes the worker's memory
	began, n := time.Now(), 0
	for n == 0 || time.Since(began) < long {
		evaluate()
		n++
	}
	return overhead * max(time.Since(began)/time.Duration(n), 1)
}

// Time beyond the search, from runs on two processors: 4000 cases of 4 evaluations took 12 s, mostly to read what
// they share and to sync files to the disk; to score the 1000 candidates of the demo again and write them took 0.8 s
// on both. Until it is full, a front has about one candidate per 50 evaluations.
const (
	TimeOfCase      = 3 * time.Millisecond
	timeOfCandidate = 1500 * time.Microsecond // on one processor
	perCandidate    = 50
)

// Time for the events of one candidate on one processor, and for one run of each, which is what traces and the report's curves are
// read off, from the girders and arms of the demo.
const (
	timeOfEvents = 160 * time.Millisecond
	timeOfTraces = 40 * time.Millisecond
)

// simulating estimates how long one processor takes to simulate the reported candidates of a kind, in a job with a number of cases.
func simulating(j *files.JobFile, k *kind, likely, cases int) (took time.Duration) {
	if k.c.Conditions.Events == nil {
		return 0
	}
	suggested := min(likely, 2+len(k.c.Goals), tables.MostSuggested/cases+1)
	of := map[string]int{tables.EventsShortlist: suggested, tables.EventsFront: likely}
	took = time.Duration(of[j.Events])*timeOfEvents + time.Duration(of[j.Traces])*timeOfTraces
	if j.Events != tables.EventsNone {
		took += time.Duration(suggested) * timeOfTraces
	}
	return took
}

// Size of a candidate on the disk, from fronts of the demo: about 400 bytes per row of front.parquet and 60 per
// travel step of curves.parquet.
const (
	bytesOfCandidate = 400
	bytesOfStep      = 60
)

// spent is the cost of a case: evaluations, at most, and time on the machine; 0: no limit. Lanes is how many cases
// run side by side.
func spent(j *files.JobFile, k *kind, cases, lanes int) (evaluations int, took time.Duration) {
	evaluations = j.Budget.CaseEvaluations(cases)
	each := max(k.each/time.Duration(runtime.GOMAXPROCS(0)), 1)
	took = time.Duration(files.Product(evaluations, int(each)))
	if wall := j.Budget.CaseWall(cases, lanes) / time.Duration(lanes); wall > 0 && (evaluations == 0 || wall < took) {
		return int(wall / each), wall
	}
	return evaluations, took
}

// Estimate prints about how long a job takes on this machine and how much disk it needs. It goes to standard error,
// since it differs between runs of the same job.
func Estimate(j *files.JobFile, env *process.Env, cases []*cases.Case) {
	all, processors := kinds(cases), runtime.GOMAXPROCS(0)
	tryKinds(all)
	tryEvents(all)
	seconds, events, disk, endless := 0., 0., 0., false
	least := 0 // evaluations of a case with many objectives
	for _, k := range all {
		evaluations, took := spent(j, k, len(cases), min(processors, len(cases)))
		endless = endless || took == 0
		if len(k.c.Goals) >= manyObjectives && evaluations > 0 && (least == 0 || evaluations < least) {
			least = evaluations
		}
		rows, likely := j.FrontSize, j.FrontSize
		if evaluations > 0 {
			rows, likely = min(rows, evaluations), min(rows, evaluations/perCandidate)
		}
		seconds += float64(k.count) * (took.Seconds() + TimeOfCase.Seconds() + float64(likely)*timeOfCandidate.Seconds()/float64(processors))
		simulated := float64(k.count) * (simulating(j, k, likely, len(cases)) + time.Duration(mostMeasured(j, k.c, likely))*k.event).Seconds() / float64(processors)
		seconds, events = seconds+simulated, events+simulated
		disk += float64(k.count) * (tracedBytes(j, k.c, rows) + float64(rows)*float64(bytesOfCandidate+k.c.Conditions.Samples*bytesOfStep) + keptBytes(j, k.c, evaluations))
	}
	switch {
	case endless:
		fmt.Fprint(env.Err, "until the fronts stop growing")
	case seconds > 0.5:
		total := time.Duration(min(seconds, progress.Longest.Seconds()) * float64(time.Second))
		fmt.Fprintf(env.Err, "about %s on the %d processors of this machine", total.Round(time.Second), processors)
	default:
		fmt.Fprintf(env.Err, "less than a second on the %d processors of this machine", processors)
	}
	if events > 0 {
		fmt.Fprintf(env.Err, ", %.0f s of it to simulate events", math.Ceil(events))
	}
	fmt.Fprintf(env.Err, ", up to about %.0f MB of results\n", disk/(1<<20)+1)
	if least > 0 && j.Race == nil {
		fmt.Fprintln(env.Err, reachInWords(least))
	}
}

// bytesOfTraces is the size of the traces of a candidate: about 5000 samples.
const bytesOfTraces = 200_000

// tracedBytes is the disk space for the traces of a case, at most.
func tracedBytes(j *files.JobFile, c *cases.Case, rows int) float64 {
	of := map[string]int{tables.EventsShortlist: min(rows, 2+len(c.Goals)), tables.EventsFront: rows}
	if c.Conditions.Events == nil {
		return 0
	}
	return float64(of[j.Traces]) * bytesOfTraces
}

// mostMeasured is how many forks of a case are simulated, at most, if it has a front of a size.
func mostMeasured(j *files.JobFile, c *cases.Case, front int) int {
	s := Settings(j, c, 1)
	return s.MostMeasured(front)
}

// tryEvents times the events that kinds are about, by the telescopic fork: all forks take about as long.
func tryEvents(all []*kind) {
	of := map[string]time.Duration{}
	for _, k := range all {
		events := objectives.EventsOf(k.c.EventMeasures())
		if len(events) == 0 {
			continue
		}
		name := k.c.Bike
		if of[name] == 0 {
			began := time.Now()
			k.c.Conditions.SimulateTelescopic(events)
			of[name] = time.Since(began)
		}
		k.event = of[name]
	}
}

// keptBytes is the disk space for keeping every candidate of a case, at most: while it is written, candidates.parquet
// exists beside the records that it is made from.
func keptBytes(j *files.JobFile, c *cases.Case, evaluations int) float64 {
	if j.Keep != tables.KeepAll {
		return 0
	}
	return 2 * float64(evaluations) * float64(store.RecordBytes(c))
}
