package run

import "time"

// Work is how a run goes about it; none of it changes what is found.
type Work struct {
	Workers int
	Every   time.Duration
}
