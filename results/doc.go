// Package results turns the results of a search into a folder of files that people and notebooks read, one run at a
// time. The rooms below it make the files: table (Parquet), record (run.json), picks (candidates to look at first),
// cad, figures and report. None of them knows of folders.
package results
