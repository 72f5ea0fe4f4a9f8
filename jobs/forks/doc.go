// Package forks turns a results folder back into forks: each candidate of its front as a concept and as a design.
package forks
