// Package tables turns finished cases into the rows of front, curves, candidates and telescopic tables.
package tables
