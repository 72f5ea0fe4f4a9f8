package process

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// Signals is a context that ends with the first interrupt or request to end, so that a run stops at a checkpoint; a
// second one ends the program at once. A terminal that closes (hang-up) and a reader of standard error or output that
// goes away (broken pipe) end nothing: an overnight run continues without them.
func Signals() context.Context {
	signal.Ignore(syscall.SIGHUP, syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx
}
