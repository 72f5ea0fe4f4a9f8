// Package process is what a command gets from its process and gives back: arguments, streams, environment, exit
// codes. It knows nothing of forks.
package process
