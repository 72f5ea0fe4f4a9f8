// Package run searches the cases of a job side by side, keeps their states, and writes the results folder.
package run
