package store

import (
	"errors"

	"forkfront/jobs/process"
	"forkfront/results"
)

// Occupied turns an error about a folder that holds results, or in which another run is active, into bad usage.
func Occupied(err error) error {
	var held *results.ErrOccupied
	var locked *results.ErrLocked
	if errors.As(err, &held) || errors.As(err, &locked) {
		return process.BadInput(err)
	}
	return err
}
