// Package readers tries forkfront's tables with DuckDB, arrow-go and hyparquet, and runs the SQL of
// the notebook. It is a module of its own, so that cgo and some 570 MB of DuckDB stay out of
// forkfront. The tests read the results folder that FORKFRONT_RESULTS names.
package readers
