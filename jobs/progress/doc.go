// Package progress tells people and log.jsonl how far a run has come.
package progress
