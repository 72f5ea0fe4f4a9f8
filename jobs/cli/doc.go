// Package cli has one file per verb of the command line: its flags, its help and what it prints.
package cli
