package store

import "forkfront/jobs/cases"

// Found is a case whose search has ended. Its result is read when needed, so that a sweep of many cases needs the
// memory of one.
type Found struct {
	Case    *cases.Case
	Load    func() (*DoneCase, error)
	Journal JournalFile // its candidates, for a job that keeps all
}
