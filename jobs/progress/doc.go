// Package progress reports the progress of a run to people and to log.jsonl.
package progress
