package run

import "time"

// Work is how a run uses the machine; none of it changes what is found.
type Work struct {
	Workers int
	Every   time.Duration
}
