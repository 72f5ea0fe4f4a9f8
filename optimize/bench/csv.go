package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

// save writes a final set, where a folder was given: f1…fM, x1…xN, a line a candidate.
func (o *options) save(p *testbed.Problem, seed int, front []optimize.Candidate) error {
	if o.csv == "" {
		return nil
	}
	if err := os.MkdirAll(o.csv, 0o755); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(o.csv, fileName(p, seed)), csvOf(p, front), 0o644)
}

func fileName(p *testbed.Problem, seed int) string {
	name := strings.ReplaceAll(strings.ReplaceAll(p.Name, ",", ""), " ", "-")
	return fmt.Sprintf("%s_%d_seed%d.csv", name, p.M, seed)
}

func csvOf(p *testbed.Problem, front []optimize.Candidate) []byte {
	var b []byte
	for i := range p.M {
		b = fmt.Appendf(b, "f%d,", i+1)
	}
	for i := range p.Vars {
		b = fmt.Appendf(b, "x%d,", i+1)
	}
	b[len(b)-1] = '\n'
	for _, c := range front {
		for _, v := range append(append([]float64(nil), c.F...), c.X...) {
			b = append(strconv.AppendFloat(b, v, 'g', -1, 64), ',')
		}
		b[len(b)-1] = '\n'
	}
	return b
}

// commit is what the program was built from, as far as the build knows.
func commit() string {
	info, _ := debug.ReadBuildInfo()
	revision, changed := "unknown", ""
	if info == nil {
		return revision
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			revision = s.Value[:min(7, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = " with changes"
		}
	}
	return revision + changed
}
