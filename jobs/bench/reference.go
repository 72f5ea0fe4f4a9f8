package main

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/optimize"
	"forkfront/optimize/dominance"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
)

// reference is what many long searches of one case found together: points that do not dominate each other, in the
// search's own values (all to be minimised).
type reference struct {
	provenance []string
	objectives []string
	points     [][]float64
}

// keptPoints is how many points a file keeps: those that add most to the volume.
const keptPoints = 6000

func (o *options) path(c *cases.Case) string {
	return filepath.Join(o.references, strings.ReplaceAll(c.Mechanism.Name, " ", "-")+".csv")
}

// read returns the reference front of a case from a file: lines that begin with # are provenance, then names,
// then a line of numbers per point.
func read(path string, c *cases.Case) (*reference, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	ref := &reference{}
	for in, line := bufio.NewScanner(file), 1; in.Scan(); line++ {
		text := in.Text()
		switch {
		case strings.HasPrefix(text, "#"):
			ref.provenance = append(ref.provenance, text)
		case ref.objectives == nil:
			ref.objectives = strings.Split(text, ",")
			if want := names(c); !slices.Equal(ref.objectives, want) {
				return nil, fmt.Errorf("%s:%d: objectives %v; the job has %v", path, line, ref.objectives, want)
			}
		default:
			p, err := numbers(text, len(ref.objectives))
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", path, line, err)
			}
			ref.points = append(ref.points, p)
		}
	}
	if len(ref.points) < 2 {
		return nil, fmt.Errorf("%s: %d points; at least 2 are needed", path, len(ref.points))
	}
	return ref, nil
}

func numbers(text string, n int) ([]float64, error) {
	fields := strings.Split(text, ",")
	if len(fields) != n {
		return nil, fmt.Errorf("%d values; there are %d objectives", len(fields), n)
	}
	p := make([]float64, n)
	for i, f := range fields {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			return nil, fmt.Errorf("%q is not a number", f)
		}
		p[i] = v
	}
	return p, nil
}

// enlarge merges the archives of some searches into the reference and writes it.
func (o *options) enlarge(job *files.JobFile, of func(seed int) *cases.Case, ref *reference) error {
	all := ref.points
	for _, budget := range o.budgets {
		for i := range o.seeds {
			c := of(o.first + i)
			s := o.settings(job, c, budget)
			s.FrontSize, s.ArchiveLimit = 0, 5000
			r, err := optimize.Search(context.Background(), c.Problem(), s)
			if err != nil {
				return err
			}
			for k := range r.Front {
				all = append(all, r.Front[k].F)
			}
			all = unique(dominance.Nondominated(all))
			fmt.Fprintf(os.Stderr, "%s %d seed %d: %d points, %d together\n", c.Name, budget, o.first+i, len(r.Front), len(all))
		}
		ref.provenance = append(ref.provenance, fmt.Sprintf("# %s: seeds %d–%d of %d evaluations each", time.Now().Format(time.DateOnly), o.first, o.first+o.seeds-1, budget))
	}
	ref.points = all
	if len(all) > keptPoints {
		rng := rand.New(rand.NewPCG(2, 2))
		chosen := volume.NewCoverage(spacing.Normalised(all), rng, func(n int, do func(from, to int)) { do(0, n) }).Greedy(keptPoints)
		slices.Sort(chosen)
		ref.points = nil
		for _, i := range chosen {
			ref.points = append(ref.points, all[i])
		}
	}
	return ref.write(o.path(of(o.first)))
}

// unique leaves one of equal points.
func unique(points [][]float64) [][]float64 {
	slices.SortFunc(points, slices.Compare)
	return slices.CompactFunc(points, slices.Equal)
}

func (r *reference) write(path string) error {
	var b strings.Builder
	for _, line := range r.provenance {
		fmt.Fprintln(&b, line)
	}
	fmt.Fprintln(&b, strings.Join(r.objectives, ","))
	for _, p := range r.points {
		for i, v := range p {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(strconv.FormatFloat(v, 'g', 6, 64))
		}
		b.WriteByte('\n')
	}
	return os.WriteFile(path, []byte(b.String()), 0o644)
}
