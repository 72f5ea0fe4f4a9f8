package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"forkfront/jobs/process"
	"forkfront/jobs/run"
	"forkfront/results/picks"
)

func flags(w *run.Work, c *cobra.Command, zero string) {
	c.Flags().IntVar(&w.Workers, "workers", 0, "candidates evaluated concurrently; 0: "+zero)
	preferFlag(&w.Prefer, c)
	c.Flags().DurationVar(&w.Every, "checkpoint-every", between, "minimum time between checkpoints of a case")
}

// preference is a flag of weights.
type preference struct{ to *picks.Preference }

func (p preference) String() string { return "" }
func (p preference) Type() string   { return "MEASURE=WEIGHT,..." }

func (p preference) Set(text string) (err error) {
	*p.to, err = picks.ParsePreference(text)
	return err
}

func preferFlag(to *picks.Preference, c *cobra.Command) {
	c.Flags().Var(preference{to}, "prefer", "weights of the ranking, such as trail_variation_mm=2,mass_g=1; by default those of the job, or all objectives alike")
}

func check(w *run.Work) error {
	switch {
	case w.Workers < 0:
		return process.BadInput(fmt.Errorf("--workers %d; must be 0 or more", w.Workers))
	case w.Every < 0:
		return process.BadInput(fmt.Errorf("--checkpoint-every %s; must be 0s (every generation) or more", w.Every))
	}
	return nil
}

// between is the default shortest time between two states of a case. With 0.1 s per state and one failure per hour
// the best is about sqrt(2 · 0.1 s · 1 h) (Young's rule, from memory); half of that loses little more.
const between = 15 * time.Second
