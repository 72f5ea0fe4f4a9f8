// Package shards spreads the cases of a job over the tasks of an array engine and merges what they publish.
package shards
