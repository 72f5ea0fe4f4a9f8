package run

import (
	"time"

	"forkfront/results/picks"
)

// Work is how a run uses the machine; none of it changes which candidates are found.
type Work struct {
	Workers int
	Every   time.Duration
	Prefer  picks.Preference // weights of the ranking at the end; nil: those of the job
}
