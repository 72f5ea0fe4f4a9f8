// Command forkfront searches the design space of linkage suspension forks.
package main

import (
	"context"
	"os"

	"forkfront/jobs"
)

func main() {
	os.Exit(jobs.Main(context.Background(), jobs.Env{Args: os.Args[1:], In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
}
