// Package store keeps what a run leaves behind to be continued or read again: sealed checkpoints, the journal of
// candidates and cases.yaml. It does not run anything.
package store
