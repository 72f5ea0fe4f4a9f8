package jobs

import _ "embed"

// demo is the job that runs where none is given.
//
//go:embed examples/demo.yaml
var demo []byte

// Demo is the text of the built-in demo job; its paths name built-in mechanisms only.
func Demo() []byte { return demo }
