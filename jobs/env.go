package jobs

import (
	"context"

	"forkfront/jobs/process"
)

// Env is all that comes from outside: arguments, streams, environment.
type Env = process.Env

// Signals is a context that ends when the process receives a signal to terminate.
func Signals() context.Context { return process.Signals() }
