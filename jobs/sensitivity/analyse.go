package sensitivity

import (
	"context"

	"forkfront/jobs/cases"
	"forkfront/objectives"
	"forkfront/optimize/sensitivity"
)

// Of is what drives the measures of a case.
type Of struct {
	Case *cases.Case
	*sensitivity.Result
}

// Analyse samples every case of a job until the given number of designs work, on the given number of workers. Cases that
// differ only in their seed are sampled once. With slow, measures that take long have indices too.
func Analyse(ctx context.Context, all []*cases.Case, samples, workers int, slow bool) ([]Of, error) {
	var found []Of
	seen := map[string]bool{}
	for _, c := range all {
		kind := c.Kind()
		if seen[kind] {
			continue
		}
		seen[kind] = true
		models := make([]sensitivity.Model, max(1, workers))
		for i := range models {
			models[i] = c.Sampler(slow)
		}
		r, err := sensitivity.Analyse(ctx, models, c.Problem().Variables(), len(objectives.Measures), sensitivity.Settings{Samples: samples, Seed: c.SearchSeed(), Ranks: true})
		if err != nil {
			return nil, err
		}
		found = append(found, Of{c, r})
	}
	return found, nil
}
