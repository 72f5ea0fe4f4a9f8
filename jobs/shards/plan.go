package shards

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"time"

	"github.com/google/renameio/v2"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/optimize/arithmetic"
	"forkfront/results"
)

// Plan fixes how a job is spread over the tasks of an array engine. It never changes once written,
// and every output carries its digest. A shard is a pure function of the plan and its number.
type Plan struct {
	Format      int             `json:"forkfront_plan"` // version of this file
	Digest      string          `json:"digest"`         // SHA-256 of the plan with this field empty
	Arithmetic  string          `json:"arithmetic"`     // of the program that made it, and so of every shard
	JobDigest   string          `json:"job_digest"`
	JobSHA256   string          `json:"job_sha256"` // of the job's file, as run has it
	Shards      int             `json:"shards"`
	IndexBase   int             `json:"index_base"` // index of the first task, as the engine counts
	Cases       []string        `json:"cases"`      // names; case i is of shard i mod shards
	Evaluations int             `json:"evaluations_per_case,omitempty"`
	Race        []raceRound     `json:"race,omitempty"` // rounds up to the one that the plan is for
	Program     string          `json:"program"`
	Job         json.RawMessage `json:"job"`
	Specs       json.RawMessage `json:"mechanisms"`

	last bool // no round follows
}

const planFormat = 3

// NewPlan spreads the cases of a job over the given number of shards.
func NewPlan(j *files.JobFile, b *store.Begun, shards, base int, program string) (*Plan, error) {
	p := &Plan{Format: planFormat, Arithmetic: arithmetic.Kind(), JobDigest: b.Digest, JobSHA256: b.Text, Shards: shards, IndexBase: base, Program: program, Job: b.Job}
	p.Cases = namesOf(j)
	if j.Race != nil {
		p.Race = []raceRound{firstRound(cases.Cases(j), shards)}
	} else {
		p.Evaluations = j.Budget.CaseEvaluations(len(p.Cases))
	}
	var err error
	if p.Specs, err = json.Marshal(b.Specs); err != nil {
		return nil, fmt.Errorf("pack the job's mechanisms: %w", err)
	}
	p.Digest, err = p.digest()
	return p, err
}

// namesOf lists the names of a job's cases.
func namesOf(j *files.JobFile) (names []string) {
	for _, c := range cases.Cases(j) {
		names = append(names, c.Name)
	}
	return names
}

func (p *Plan) digest() (string, error) {
	bare := *p
	bare.Digest = ""
	text, err := json.Marshal(&bare)
	return fmt.Sprintf("%x", sha256.Sum256(text)), err
}

// casesOf lists the cases of a shard by their number in the job.
func (p *Plan) casesOf(shard int) []int {
	var of []int
	if h := p.now(); h != nil {
		for n, i := range h.Left {
			if h.Of[n] == shard {
				of = append(of, i)
			}
		}
		return of
	}
	for i := shard; i < len(p.Cases); i += p.Shards {
		of = append(of, i)
	}
	return of
}

func (p *Plan) Write(path string) error {
	text, err := json.Marshal(p)
	if err == nil {
		err = results.RemoveLeftovers(path)
	}
	if err == nil {
		err = renameio.WriteFile(path, append(text, '\n'), 0o644, renameio.WithTempDir(filepath.Dir(path)))
	}
	if err != nil {
		return fmt.Errorf("write the plan: %w", err)
	}
	return nil
}

// maxPlanBytes bounds the size of a plan.
const maxPlanBytes = 64 << 20

// openPlan reads a named plan, or standard input for "-".
func openPlan(env *process.Env, name string) (*Plan, *files.JobFile, error) {
	in, err := env.Input(name)
	if err != nil {
		return nil, nil, err
	}
	defer in.Close()
	return ReadPlan(name, in)
}

// ReadPlan reads a plan and the job in it, and checks that neither was changed.
func ReadPlan(name string, in io.Reader) (*Plan, *files.JobFile, error) {
	text, err := io.ReadAll(io.LimitReader(in, maxPlanBytes+1))
	if err != nil {
		return nil, nil, fmt.Errorf("read the plan: %w", err)
	}
	if len(text) > maxPlanBytes {
		return nil, nil, process.BadInput(fmt.Errorf("%s: more than %d MiB; a plan is smaller", name, maxPlanBytes>>20))
	}
	p := new(Plan)
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(p); err != nil {
		return nil, nil, process.BadInput(fmt.Errorf("%s is not a plan: %w", name, err))
	}
	if err := p.sound(name); err != nil {
		return nil, nil, process.BadInput(err)
	}
	b := &store.Begun{Job: p.Job}
	if err := json.Unmarshal(p.Specs, &b.Specs); err != nil {
		return nil, nil, process.BadInput(fmt.Errorf("%s: its mechanisms cannot be read: %w", name, err))
	}
	job, err := b.Unpack()
	if err != nil {
		return nil, nil, process.BadInput(fmt.Errorf("%s: %w", name, err))
	}
	if again, err := store.Pack(job, "", "", 0, time.Time{}); err != nil || again.Digest != p.JobDigest {
		return nil, nil, process.BadInput(fmt.Errorf("%s: its job is not the one that this forkfront would pack; make the plan again", name))
	}
	if !slices.Equal(namesOf(job), p.Cases) {
		return nil, nil, process.BadInput(fmt.Errorf("%s: its cases are not those that this forkfront makes of its job; make the plan again", name))
	}
	if err := p.soundRace(job); err != nil {
		return nil, nil, process.BadInput(fmt.Errorf("%s: %w; make the plan again", name, err))
	}
	p.last = len(p.Race) == len(job.Rounds())
	return p, job, nil
}

// saved are the checkpoints of a shard.
func (p *Plan) saved(out string, shard int) *store.Checkpoints {
	if p.now() != nil {
		return p.savedIn(out, len(p.Race)-1, shard)
	}
	return &store.Checkpoints{Dir: ShardDir(out, shard), Digest: p.Digest, Shared: true}
}

func (p *Plan) sound(name string) error {
	digest, err := p.digest()
	switch {
	case err != nil:
		return err
	case p.Format != planFormat:
		return fmt.Errorf("%s is a plan of version %d; this forkfront reads version %d", name, p.Format, planFormat)
	case digest != p.Digest:
		return fmt.Errorf("%s was changed after it was made; make the plan again", name)
	case p.Shards < 1 || p.Shards > len(p.Cases):
		return fmt.Errorf("%s: %d shards of %d cases", name, p.Shards, len(p.Cases))
	}
	return arithmetic.Check(name, p.Arithmetic)
}
