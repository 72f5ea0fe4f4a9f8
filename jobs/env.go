package jobs

import "forkfront/jobs/process"

// Env is all that comes from outside: arguments, streams, environment.
type Env = process.Env
