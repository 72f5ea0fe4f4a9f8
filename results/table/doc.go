// Package table turns columns and rows into Parquet files that are checked before they get their name, and
// back. It knows units and what a column says about itself, and nothing about what the numbers mean.
package table
