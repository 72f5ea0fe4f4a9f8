package cases

import (
	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/process"
	"forkfront/objectives"
)

// ReadFork reads a concept file and its fork.
func ReadFork(env *process.Env, name string) (*files.ConceptFile, *objectives.Design, error) {
	in, err := env.Input(name)
	if err != nil {
		return nil, nil, err
	}
	defer in.Close()
	file, source, err := files.ReadConcept(name, in)
	if err != nil {
		return nil, nil, document.InputOr(err)
	}
	design, err := Design(file, source, env.Err)
	if err != nil {
		return nil, nil, document.InputOr(err)
	}
	return file, design, nil
}
