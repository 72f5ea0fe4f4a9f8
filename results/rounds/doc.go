// Package rounds has what a race leaves behind: race.jsonl, a line for each case and round, and topologies.parquet, a row for
// each linkage.
package rounds
