package store

import (
	"errors"

	"forkfront/jobs/process"
	"forkfront/results"
)

// Occupied is bad usage when the folder holds results or another run is at work in it.
func Occupied(err error) error {
	var held *results.ErrOccupied
	var locked *results.ErrLocked
	if errors.As(err, &held) || errors.As(err, &locked) {
		return process.BadInput(err)
	}
	return err
}
