package process

import (
	"errors"
	"fmt"
	"io"
)

// Output remembers the first failure to write results, so that no verb has to check after each line.
type Output struct {
	To  io.Writer
	err error
}

func (o *Output) Write(b []byte) (int, error) {
	n, err := o.To.Write(b)
	if o.err == nil {
		o.err = err
	}
	return n, err
}

// Lost is how a command ended: one that succeeded but whose output was lost has failed.
func (o *Output) Lost(err error) error {
	var e *Error
	if o.err == nil || err != nil && (!errors.As(err, &e) || e.Code != Nothing) {
		return err
	}
	return &Error{Outside, fmt.Errorf("write the results to standard output: %w", o.err)}
}
