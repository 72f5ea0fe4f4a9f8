package process

import (
	"io"
)

// Env is everything that comes from outside, so that a test can run a whole command in its own process. Results go to
// Out, everything else to Err.
type Env struct {
	Args     []string
	In       io.Reader
	Out, Err io.Writer
	Getenv   func(string) string // nil: nothing is set
}

// Variable returns an environment variable; empty where it is not set.
func (env *Env) Variable(name string) string {
	if env.Getenv == nil {
		return ""
	}
	return env.Getenv(name)
}
