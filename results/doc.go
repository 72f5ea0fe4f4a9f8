// Package results turns what a search found into files that people and notebooks read: Parquet
// tables that are checked before they get their name, the record of the run, and the report.
package results
