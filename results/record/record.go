// Package record turns the record of a run into run.json and back, and into words. It knows nothing about
// forks or folders.
package record

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/google/renameio/v2"

	"forkfront/objectives/naming"
	"forkfront/optimize/arithmetic"
	"forkfront/results/build"
	"forkfront/results/display"
	"forkfront/results/sealed"
	"forkfront/results/table"
)

// Run is what run.json says about a run.
type Run struct {
	Program       string             `json:"program"`
	Version       string             `json:"version"`
	Revision      string             `json:"revision,omitempty"` // of the source, "+" behind it for changes not committed
	GoVersion     string             `json:"go_version"`
	Platform      string             `json:"platform"`
	Arithmetic    string             `json:"arithmetic,omitempty"` // see package arithmetic; runs of one kind can be continued and joined
	Modules       map[string]string  `json:"modules"`              // module path → version
	SchemaVersion int                `json:"schema_version"`
	Name          string             `json:"run,omitempty"` // short digest of the job and its seeds, the column run of every table
	JobSHA256     string             `json:"job_sha256"`
	JobName       string             `json:"job_name,omitempty"`
	Plan          string             `json:"plan,omitempty"` // digest of the plan whose shards were joined
	Seed          uint64             `json:"seed"`
	Started       time.Time          `json:"started"`           // UTC
	Finished      time.Time          `json:"finished,omitzero"` // UTC; absent while the run is active
	Host          string             `json:"host"`
	Workers       int                `json:"workers"`
	Cases         []Case             `json:"cases"`
	Exit          Exit               `json:"exit"`
	Prefer        map[string]float64 `json:"prefer,omitempty"` // weights of the shortlist's ranking by measure; without, all objectives count alike
	Caution       string             `json:"caution"`

	sealed bool // see Sealed
}

// Case is the result of one case of the job.
type Case struct {
	Name        string  `json:"name"`
	Stop        string  `json:"stop"` // why its search ended
	Evaluations int     `json:"evaluations"`
	Feasible    int     `json:"feasible"`              // evaluations that met every constraint
	Front       int     `json:"front"`                 // candidates kept
	Known       int     `json:"known,omitempty"`       // that they were chosen from; none dominates another
	CoveredPct  float64 `json:"covered_pct,omitempty"` // of the volume that those dominate, what the candidates kept dominate
	Seconds     float64 `json:"seconds"`
	Simulated   int     `json:"simulated,omitempty"` // forks put through events by the search, where it asks for measures of these

	Predicted []Predicted `json:"predicted,omitempty"` // by measure of an event

	Constraints []Constraint       `json:"constraints,omitempty"` // what its candidates meet
	Telescopic  map[string]float64 `json:"telescopic,omitempty"`  // measures of the fork to replace, those that it has
	Violated    map[string]int     `json:"violated,omitempty"`    // evaluations that violated each; "works": no fork at all
	Dropped     map[string]int     `json:"dropped,omitempty"`     // candidates of its front that were outside each limit on events, and are not reported
}

const cutAfter = "cut after round "

// CutAfter is why the search of a case ended that a race cut after one of its rounds, counted from 1.
func CutAfter(round, of int) string { return fmt.Sprintf("%s%d of %d", cutAfter, round, of) }

// WasCut tells whether a race cut the case.
func (c *Case) WasCut() bool { return strings.HasPrefix(c.Stop, cutAfter) }

// Predicted says how well the search of a case predicted a measure of an event for the forks that it simulated later.
type Predicted struct {
	Measure         string  `json:"measure"`
	Count           int     `json:"count"`            // of forks
	RankCorrelation float64 `json:"rank_correlation"` // Spearman's; 0 for fewer than two
	RMSError        float64 `json:"rms_error"`        // in the measure's unit
}

// Predictions tells how many forks of a case were simulated and how well they had been predicted; empty where its search
// simulates none.
func (c *Case) Predictions() string {
	if c.Simulated == 0 {
		return ""
	}
	text := fmt.Sprintf("%d forks simulated", c.Simulated)
	for _, p := range c.Predicted {
		if p.Count > 0 {
			text += fmt.Sprintf("; %s of %d of them had been predicted with a rank correlation of %.3f, RMS error %.2g", naming.Label(p.Measure), p.Count, p.RankCorrelation, p.RMSError)
		}
	}
	return text
}

// works is the constraint that there is a fork at all.
const works = "works"

// MostViolated names up to n of the constraints that the most evaluations violated, with their share of all.
func (c *Case) MostViolated(n int) string {
	names := c.violatedNames()
	var all []string
	for _, name := range names[:min(n, len(names))] {
		share := 100 * float64(c.Violated[name]) / float64(max(c.Evaluations, 1))
		said := naming.Label(name)
		if name == works {
			said = "does not work"
		}
		all = append(all, fmt.Sprintf("%s (%.0f %%)", said, share))
	}
	return strings.Join(all, ", ")
}

// violatedNames are the constraints that evaluations violated, the most violated first.
func (c *Case) violatedNames() []string {
	return slices.SortedFunc(maps.Keys(c.Violated), func(a, b string) int {
		return cmp.Or(cmp.Compare(c.Violated[b], c.Violated[a]), cmp.Compare(a, b))
	})
}

// Constraint is a limit that the candidates of a case meet, in its measure's unit.
type Constraint struct {
	Measure string   `json:"measure"`
	Min     *float64 `json:"min,omitempty"`
	Max     *float64 `json:"max,omitempty"`
	Default bool     `json:"default,omitempty"` // not from the job, but since it has none of its own
	After   bool     `json:"after,omitempty"`   // on an event: applied to the front after the search
	Coils   bool     `json:"coils,omitempty"`   // applies to coils only, where a case chooses among air springs too
}

// Exit sums a run up.
type Exit struct {
	Code    int    `json:"code"`
	Summary string `json:"summary"`
}

// New returns the record of a run that starts now, with what the program knows of itself.
func New(now time.Time) Run {
	b := build.This()
	r := Run{
		Program: "forkfront", Version: b.Version, Revision: b.Revision, GoVersion: runtime.Version(),
		Platform: runtime.GOOS + "/" + runtime.GOARCH, Arithmetic: arithmetic.Kind(), Modules: b.Modules,
		SchemaVersion: table.SchemaVersion, Started: now.UTC(), Caution: display.Caution,
	}
	if host, err := os.Hostname(); err == nil {
		r.Host = host
	}
	return r
}

// Telescopic has the measures of the fork to replace by name of the case, for those of which they are known.
func (r *Run) Telescopic() map[string]map[string]float64 {
	all := map[string]map[string]float64{}
	for i := range r.Cases {
		if c := &r.Cases[i]; c.Telescopic != nil {
			all[c.Name] = c.Telescopic
		}
	}
	return all
}

// NameOf is the name of the run of a job with this digest (SHA-256 in hexadecimal). Runs of equal jobs, however
// they were spread or interrupted, find the same candidates and have the same name.
func NameOf(jobDigest string) string { return jobDigest[:min(len(jobDigest), 12)] }

// Write writes the record to a file, whole or not at all.
func (r *Run) Write(path string) error {
	text, err := sealed.Marshal(r)
	if err == nil {
		err = renameio.WriteFile(path, text, 0o644, renameio.WithTempDir(filepath.Dir(path)))
	}
	if err != nil {
		return fmt.Errorf("write the run record: %w", err)
	}
	return nil
}

// Read reads a run.json. Keys that it does not know are refused: they are of another version. So is a record that does
// not match its checksum.
func Read(path string) (*Run, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("read the run record: %w", err)
	}
	r := &Run{}
	if r.sealed, err = sealed.Unmarshal(text, r); err != nil {
		return nil, fmt.Errorf("read the run record %s: %w", path, err)
	}
	if r.SchemaVersion != table.SchemaVersion {
		return nil, fmt.Errorf("%s: schema version %d; this forkfront reads version %d", path, r.SchemaVersion, table.SchemaVersion)
	}
	return r, nil
}

// Sealed reports whether the record was read from a file with a checksum; earlier versions of the program wrote none.
func (r *Run) Sealed() bool { return r.sealed }
