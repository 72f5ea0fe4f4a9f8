// Command forkfront searches the design space of linkage suspension forks.
package main

import (
	"os"

	"forkfront/jobs"
)

func main() {
	os.Exit(jobs.Main(jobs.Signals(), jobs.Env{Args: os.Args[1:], In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Getenv: os.Getenv}))
}
