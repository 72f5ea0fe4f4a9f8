package shards

import (
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/race"
	"forkfront/jobs/run"
	"forkfront/jobs/store"
	"forkfront/jobs/tables"
	"forkfront/jobs/words"
	"forkfront/kinematics/mechanism"
	"forkfront/results"
)

// raceRound is how a round of a race is spread over shards. A plan is for one round and knows those before it.
type raceRound struct {
	Plan   string   `json:"plan,omitempty"` // digest of the plan of a round before; empty: this plan's own
	Shards int      `json:"shards"`
	Left   []int    `json:"left"`             // cases, by their number in the job, ascending
	Of     []int    `json:"of"`               // shard of each
	States []string `json:"states,omitempty"` // SHA-256 of what each goes on from; none in the first round
}

// expectedCost is about how long a linkage takes to search, a four-bar 2; measured.md has the figures.
func expectedCost(m *mechanism.Mechanism) int {
	return max(2, len(m.Bodies)-4) + m.LargestGroup()/4
}

// firstRound spreads all cases over shards by what they are expected to take.
func firstRound(all []*cases.Case, shards int) raceRound {
	h := raceRound{Shards: shards}
	var cost []int
	for i, c := range all {
		h.Left = append(h.Left, i)
		cost = append(cost, expectedCost(c.Mechanism))
	}
	h.Of = spreadOver(cost, shards)
	return h
}

// spreadOver gives each case, the dearest first, to the shard with the least to do.
func spreadOver(cost []int, shards int) []int {
	order := make([]int, len(cost))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(cost[b], cost[a]) })
	of, load, held := make([]int, len(cost)), make([]int, shards), make([]int, shards)
	for _, i := range order {
		least := 0
		for s := range shards {
			if cmp.Or(cmp.Compare(load[s], load[least]), cmp.Compare(held[s], held[least])) < 0 {
				least = s
			}
		}
		of[i] = least
		load[least] += cost[i]
		held[least]++
	}
	return of
}

// now is the round that the plan is for; nil: the job has no race.
func (p *Plan) now() *raceRound {
	if len(p.Race) == 0 {
		return nil
	}
	return &p.Race[len(p.Race)-1]
}

// soundRace compares the rounds of a plan with those of its job.
func (p *Plan) soundRace(job *files.JobFile) error {
	schedule := job.Rounds()
	if (job.Race != nil) != (len(p.Race) > 0) || len(p.Race) > len(schedule) {
		return fmt.Errorf("%d rounds; its job has %d", len(p.Race), len(schedule))
	}
	for k := range p.Race {
		h := &p.Race[k]
		outside := func(i int) bool { return i < 0 || i >= len(p.Cases) }
		beyond := func(s int) bool { return s < 0 || s >= h.Shards }
		if len(h.Left) != schedule[k].Cases || len(h.Of) != len(h.Left) || k > 0 && len(h.States) != len(h.Left) || slices.ContainsFunc(h.Left, outside) || slices.ContainsFunc(h.Of, beyond) {
			return fmt.Errorf("round %d is not one of its job", k+1)
		}
	}
	return nil
}

// savedIn are the checkpoints of a shard in a round of the race.
func (p *Plan) savedIn(out string, round, shard int) *store.Checkpoints {
	digest := p.Race[round].Plan
	if round == len(p.Race)-1 {
		digest = p.Digest
	}
	return &store.Checkpoints{Dir: raceDir(out, round, shard), Digest: digest, Shared: true, Round: round}
}

// raceDir is the folder in which a shard of a round publishes.
func raceDir(out string, round, shard int) string {
	return filepath.Join(out, ShardsDir, fmt.Sprintf("round-%02d", round+1), fmt.Sprintf("%03d", shard/64), fmt.Sprintf("%05d", shard))
}

// paused is what a case of this round goes on from, by its number in the job.
func (p *Plan) paused(out string, i int) (*store.AtWork, error) {
	round := len(p.Race) - 1
	if round == 0 {
		return nil, nil
	}
	at := slices.Index(p.now().Left, i)
	before := &p.Race[round-1]
	saved := p.savedIn(out, round-1, before.Of[slices.Index(before.Left, i)])
	w, trouble := saved.LoadPaused(i)
	if w == nil {
		return nil, errors.Join(fmt.Errorf("case %s: what it goes on from is missing in %s; run that shard of the round before again", p.Cases[i], saved.Dir), trouble)
	}
	if sum := stateSum(w); sum != p.now().States[at] {
		return nil, process.BadInput(fmt.Errorf("case %s: what it would go on from in %s is not what the plan was made from", p.Cases[i], saved.Dir))
	}
	return w, nil
}

// goesOn tells whether a case of this round has left what it would go on from.
func (p *Plan) goesOn(saved *store.Checkpoints, i int) error {
	if p.now() == nil || p.last {
		return nil
	}
	if w, trouble := saved.LoadPaused(i); w == nil {
		return errors.Join(errors.New("what it goes on from is missing"), trouble)
	}
	return nil
}

func stateSum(w *store.AtWork) string { return fmt.Sprintf("%x", sha256.Sum256(w.State)) }

// course runs through the decisions of all rounds of the plan, from what their shards have published. ended tells where each case
// was last, and on which go on after this round.
func (p *Plan) course(job *files.JobFile, all []*cases.Case, out string) (course *race.Course, ended []store.Found, on []string, err error) {
	schedule := job.Rounds()
	course = race.NewCourse(schedule, job.FirstSeed())
	ended = make([]store.Found, len(all))
	for k := range p.Race {
		h := &p.Race[k]
		came := make([]race.Came, len(h.Left))
		for n, i := range h.Left {
			saved := p.savedIn(out, k, h.Of[n])
			d, err := saved.MustLoadCase(i, p.Cases[i])
			if err != nil {
				return nil, nil, nil, fmt.Errorf("case %s: %w", p.Cases[i], err)
			}
			came[n] = run.CameTo(all[i], d)
		}
		on = course.Finish(came)
		for n, i := range h.Left {
			cut := k < len(schedule)-1 && !slices.Contains(on, p.Cases[i])
			if !cut && k < len(p.Race)-1 && !slices.Contains(p.Race[k+1].Left, i) {
				return nil, nil, nil, process.BadInput(fmt.Errorf("case %s goes on after round %d by what was published, but not in the plan", p.Cases[i], k+1))
			}
			ended[i] = store.Found{Case: all[i], Load: run.LoadRaced(p.savedIn(out, k, h.Of[n]), i, p.Cases[i], k, len(schedule), cut)}
		}
	}
	return course, ended, on, nil
}

// nextPlan is the plan for the next round.
func (p *Plan) nextPlan(out string, on []string) (*Plan, error) {
	next := *p
	next.Race = slices.Clone(p.Race)
	next.now().Plan = p.Digest
	var h raceRound
	var cost []int
	before := p.now()
	for n, i := range before.Left {
		if !slices.Contains(on, p.Cases[i]) {
			continue
		}
		w, trouble := p.savedIn(out, len(p.Race)-1, before.Of[n]).LoadPaused(i)
		if w == nil {
			return nil, errors.Join(fmt.Errorf("case %s: what it goes on from is missing", p.Cases[i]), trouble)
		}
		h.Left, h.States = append(h.Left, i), append(h.States, stateSum(w))
		cost = append(cost, int(1000*w.Seconds))
	}
	h.Shards = min(p.now().Shards, len(h.Left))
	h.Of = spreadOver(cost, h.Shards)
	next.Race = append(next.Race, h)
	next.Shards = h.Shards
	var err error
	next.Digest, err = next.digest()
	return &next, err
}

// nextName is the file of the plan for the next round, beside this one.
func (p *Plan) nextName(name string) string {
	base := strings.TrimSuffix(name, filepath.Ext(name))
	base = strings.TrimSuffix(base, fmt.Sprintf("-round-%02d", len(p.Race)))
	return fmt.Sprintf("%s-round-%02d%s", base, len(p.Race)+1, filepath.Ext(name))
}

// mergeRound ends a round whose shards are complete: it writes race.jsonl and the plan for the next round, or merges the results
// after the last one.
func (p *Plan) mergeRound(ctx context.Context, env *process.Env, job *files.JobFile, planName, out string) error {
	all := cases.Cases(job)
	course, ended, on, err := p.course(job, all, out)
	if err != nil {
		return err
	}
	if err := run.KeepRace(filepath.Join(out, results.RaceFile), course.Lines); err != nil {
		return err
	}
	schedule := job.Rounds()
	if len(p.Race) == len(schedule) {
		return p.mergeAll(ctx, env, job, out, ended, course)
	}
	next, err := p.nextPlan(out, on)
	if err != nil {
		return err
	}
	if planName == "-" {
		return process.BadInput(errors.New("--plan -: a round of a race writes the next plan beside this one; give its file"))
	}
	name := p.nextName(planName)
	if there, _, err := openPlan(env, name); err == nil && there.Digest != next.Digest {
		return process.BadInput(fmt.Errorf("%s is another plan than the one for the next round; move it away", name))
	} else if err != nil {
		if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
			return process.BadInput(fmt.Errorf("%s is in the place of the plan for the next round; move it away", name))
		}
		if err := next.Write(name); err != nil {
			return err
		}
	}
	fmt.Fprintf(env.Out, "round %d of %d: together %.1f %% of the box, %s on\n%s: %s in %s\n\n", len(p.Race), len(schedule), 100*float64(course.Joint())/race.Samples,
		words.Plural(len(on), "case goes", "cases go"), name, words.Counted(len(on), "case"), words.Counted(next.Shards, "shard"))
	return submission(env.Out, next, name)
}

// refusesRace is why a job that races cannot be spread over shards.
func refusesRace(job *files.JobFile) error {
	if job.Race != nil && job.Keep == tables.KeepAll {
		return process.BadInput(errors.New("keep: all together with race: shards of a round do not have the candidates of the rounds before; use keep: front, or run the race in one process"))
	}
	return nil
}
