// Package jobs turns files into cases and cases into results: the job, concept and mechanism files,
// their checks, and the command line.
package jobs
