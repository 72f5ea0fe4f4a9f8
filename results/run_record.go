package results

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/google/renameio/v2"
)

// RunRecord is what run.json says about a run.
type RunRecord struct {
	Program       string            `json:"program"`
	Version       string            `json:"version"`
	Revision      string            `json:"revision,omitempty"` // of the source, "+" behind it for changes not committed
	GoVersion     string            `json:"go_version"`
	Platform      string            `json:"platform"`
	Modules       map[string]string `json:"modules"` // module path → version
	SchemaVersion int               `json:"schema_version"`
	JobSHA256     string            `json:"job_sha256"`
	JobName       string            `json:"job_name,omitempty"`
	Plan          string            `json:"plan,omitempty"` // digest of the plan whose shards were joined
	Seed          uint64            `json:"seed"`
	Started       time.Time         `json:"started"`           // UTC
	Finished      time.Time         `json:"finished,omitzero"` // UTC; absent while the run is at work
	Host          string            `json:"host"`
	Workers       int               `json:"workers"`
	Cases         []CaseRecord      `json:"cases"`
	Exit          ExitRecord        `json:"exit"`
	Caution       string            `json:"caution"`
}

// CaseRecord is what became of one case of the job.
type CaseRecord struct {
	Name        string  `json:"name"`
	Stop        string  `json:"stop"` // why its search ended
	Evaluations int     `json:"evaluations"`
	Feasible    int     `json:"feasible"` // evaluations that met every constraint
	Front       int     `json:"front"`    // candidates kept
	Seconds     float64 `json:"seconds"`

	Constraints []ConstraintRecord `json:"constraints,omitempty"` // what its candidates keep
	Broken      map[string]int     `json:"broken,omitempty"`      // evaluations that broke each; "works": no fork at all
}

// works is the constraint that there is a fork at all.
const works = "works"

// MostBroken names up to n of the constraints that the most evaluations broke, with their share of all.
func (c *CaseRecord) MostBroken(n int) string {
	return c.mostBroken(n, func(name string) string { return name })
}

func (c *CaseRecord) mostBroken(n int, named func(string) string) string {
	names := c.brokenNames()
	var all []string
	for _, name := range names[:min(n, len(names))] {
		share := 100 * float64(c.Broken[name]) / float64(max(c.Evaluations, 1))
		if name == works {
			name = "working at all"
		}
		all = append(all, fmt.Sprintf("%s (%.0f %%)", named(name), share))
	}
	return strings.Join(all, ", ")
}

// brokenNames are the constraints that evaluations broke, the most broken first.
func (c *CaseRecord) brokenNames() []string {
	return slices.SortedFunc(maps.Keys(c.Broken), func(a, b string) int {
		return cmp.Or(cmp.Compare(c.Broken[b], c.Broken[a]), cmp.Compare(a, b))
	})
}

// ConstraintRecord is a limit that the candidates of a case keep, in its measure's unit.
type ConstraintRecord struct {
	Measure string   `json:"measure"`
	Min     *float64 `json:"min,omitempty"`
	Max     *float64 `json:"max,omitempty"`
	Default bool     `json:"default,omitempty"` // not from the job, but for want of another
	Coils   bool     `json:"coils,omitempty"`   // asked of coils alone, where a case chooses among air springs too
}

// ExitRecord sums a run up.
type ExitRecord struct {
	Code    int    `json:"code"`
	Summary string `json:"summary"`
}

// NewRunRecord returns the record of a run that starts now, with what the program knows of itself.
func NewRunRecord(now time.Time) RunRecord {
	r := RunRecord{
		Program: "forkfront", Version: "unknown", GoVersion: runtime.Version(),
		Platform: runtime.GOOS + "/" + runtime.GOARCH, Modules: map[string]string{},
		SchemaVersion: SchemaVersion, Started: now.UTC(), Caution: Caution,
	}
	if host, err := os.Hostname(); err == nil {
		r.Host = host
	}
	if info, ok := debug.ReadBuildInfo(); ok {
		r.addBuild(info)
	}
	return r
}

func (r *RunRecord) addBuild(info *debug.BuildInfo) {
	if info.Main.Version != "" {
		r.Version = info.Main.Version
	}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		r.Modules[m.Path] = m.Version
	}
	modified := false
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			r.Revision = s.Value
		case "vcs.modified":
			modified = s.Value == "true"
		}
	}
	if modified && r.Revision != "" {
		r.Revision += "+"
	}
}

// WriteRun writes the record to run.json, whole or not at all.
func (f *Folder) WriteRun(r *RunRecord) error {
	text, err := json.MarshalIndent(r, "", "  ")
	if err == nil {
		err = renameio.WriteFile(f.Path(RunFile), append(text, '\n'), 0o644, renameio.WithTempDir(f.Dir))
	}
	if err != nil {
		return fmt.Errorf("write the run record: %w", err)
	}
	return nil
}

// ReadRun reads a run.json. Keys that it does not know are refused: they are of another version.
func ReadRun(path string) (*RunRecord, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("read the run record: %w", err)
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	r := &RunRecord{}
	if err := decoder.Decode(r); err != nil {
		return nil, fmt.Errorf("read the run record %s: %w", path, err)
	}
	if r.SchemaVersion != SchemaVersion {
		return nil, fmt.Errorf("%s: schema version %d; this forkfront reads version %d", path, r.SchemaVersion, SchemaVersion)
	}
	return r, nil
}
