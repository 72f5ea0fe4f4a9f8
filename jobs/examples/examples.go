// Package examples holds the job that runs when none is named.
package examples

import _ "embed"

//go:embed demo.yaml
var demo []byte

// Demo returns the text of the built-in demo job.
func Demo() []byte { return demo }
