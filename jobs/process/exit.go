package process

import "errors"

// Exit codes.
const (
	Done       = 0
	Outside    = 1  // disk, permission
	Input      = 2  // bad input or usage
	Nothing    = 3  // finished, but nothing feasible was found
	Unfinished = 75 // can be continued
)

// Error is an error that knows its exit code.
type Error struct {
	Code int
	Err  error
}

// BadInput is bad input or usage: the user has to change it.
func BadInput(err error) error { return &Error{Input, err} }

// Interrupted is an end before everything is done that can be continued.
func Interrupted(err error) error { return &Error{Unfinished, err} }

// FoundNothing is the end of a command that finished without anything that works.
func FoundNothing(err error) error { return &Error{Nothing, err} }

// ErrNothing ends a command that finished but found nothing that works, after its output has said so.
var ErrNothing = &Error{Nothing, errors.New("nothing feasible was found")}

func (e *Error) Error() string { return e.Err.Error() }

func (e *Error) Unwrap() error { return e.Err }
