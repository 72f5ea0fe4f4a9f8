package files

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"

	"forkfront/jobs/examples"
	"forkfront/jobs/files/document"
	"forkfront/jobs/process"
)

// Job reads the named job, or the demo, and the SHA-256 of its text.
func Job(env *process.Env, args []string) (*JobFile, string, error) {
	name, text := DemoName, examples.Demo()
	if len(args) > 0 {
		name = args[0]
		in, err := env.Input(name)
		if err != nil {
			return nil, "", err
		}
		defer in.Close()
		if text, err = io.ReadAll(io.LimitReader(in, tooLong)); err != nil {
			return nil, "", fmt.Errorf("read %s: %w", name, err)
		}
	}
	j, _, err := ReadJob(name, bytes.NewReader(text))
	if err != nil {
		return nil, "", document.InputOr(err)
	}
	return j, fmt.Sprintf("%x", sha256.Sum256(text)), nil
}

// DemoName stands for the built-in job in messages.
const DemoName = "the built-in demo"

// tooLong is past the size that the decoder refuses.
const tooLong = document.MaxFileBytes + 1
