// Command forkfront searches the design space of linkage suspension forks.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"forkfront/jobs"
)

func main() {
	// The first signal stops the run at a checkpoint, a second one ends the program at once.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	os.Exit(jobs.Main(ctx, jobs.Env{Args: os.Args[1:], In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Getenv: os.Getenv}))
}
